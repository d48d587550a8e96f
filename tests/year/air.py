"""The air of a year in three areas: as it was, as the logger showed it, as it was forecast.

All of it is invented and follows from a seed. The course of a day and of the seasons is that of a mild
coast; weather comes and goes over some days (autoregressive, so that no two days are alike), with a
heat wave, a week of fog and a cold snap on top. Nothing here comes from the program under test.
"""

import datetime as dt
import math
import random

HOUR = dt.timedelta(hours=1)
LATITUDE, LONGITUDE = 38.5, -28.0
AREAS = ("house", "shelf", "trees")

# Spans of days of the year, with what they add to temperature (K) and dew point depression (K).
EVENTS = {
    "cold snap": (range(38, 44), -6.0, 1.0),
    "heat wave": (range(196, 205), 7.0, 5.0),
    "fog week": (range(288, 295), -1.0, -9.0),
}
# What is wrong with the logger, by day of the year.
DRIFT = range(120, 160)
DRIFT_A_DAY = 0.2  # % humidity, upwards, until it is checked against salt
STOPPED = range(221, 224)
GAP_DAY = 250


def saturation_kpa(temp_c):
    """Alduchov and Eskridge 1996, eq. 21 (doi:10.1175/1520-0450(1996)035<0601:IMFAOS>2.0.CO;2); from
    memory. It only makes invented air agree with itself."""
    return 0.61094 * math.exp(17.625 * temp_c / (243.04 + temp_c))


def humidity(temp_c, dew_c):
    return min(99.0, max(15.0, 100.0 * saturation_kpa(dew_c) / saturation_kpa(temp_c)))


def sun_height(time):
    """Sine of the height of the sun, to a degree or so (declination of Cooper 1969, as the
    documentation of pvlib-python gives it)."""
    day = time.timetuple().tm_yday
    declination = math.radians(23.45) * math.sin(2 * math.pi * (284 + day) / 365)
    hours = time.hour + time.minute / 60 + LONGITUDE / 15
    latitude = math.radians(LATITUDE)
    angle = math.pi * (hours - 12) / 12
    return math.sin(latitude) * math.sin(declination) + math.cos(latitude) * math.cos(
        declination
    ) * math.cos(angle)


class Reading:
    __slots__ = ("air_m_s", "radiation_w_m2", "rh", "temp_c")

    def __init__(self, temp_c, rh, air_m_s, radiation_w_m2):
        self.temp_c, self.rh = temp_c, rh
        self.air_m_s, self.radiation_w_m2 = air_m_s, radiation_w_m2


class Air:
    """The true air of every hour of a span (UTC), by area."""

    def __init__(self, seed, first, days):
        rng = random.Random(f"air {seed}")
        # Some houses stand in drier places than others.
        self.dry = random.Random(f"place {seed}").uniform(-1.0, 4.0)
        self.first = first
        self.hours = {area: [] for area in AREAS}
        warm, moist, wind = 0.0, 0.0, 0.0
        for hour in range(days * 24):
            time = first + hour * HOUR
            day = time.timetuple().tm_yday
            # weather of about three days' memory
            warm = 0.986 * warm + rng.gauss(0, 0.30)
            moist = 0.98 * moist + rng.gauss(0, 0.35)
            wind = 0.95 * wind + rng.gauss(0, 0.12)
            season = math.cos(2 * math.pi * (day - 222) / 365)
            up = max(0.0, sun_height(time))
            temp = 17.0 + 4.5 * season + warm + 5.0 * (up - 0.3)
            depression = max(0.2, 3.6 + self.dry + 4.5 * (up - 0.2) - moist)
            for span, kelvin, dry in EVENTS.values():
                if day in span:
                    temp += kelvin
                    depression = max(0.2, depression + dry)
            dew = temp - depression
            cloud = 0.35 + 0.65 / (1 + math.exp(-(depression - 2.5)))
            radiation = 950.0 * up * cloud
            moving = max(0.05, 0.8 + wind + 0.6 * up)
            self.hours["trees"].append(Reading(temp, humidity(temp, dew), moving, radiation))
            # Heated above 13 °C, damped down with water.
            inside = max(13.0, temp + 1.0 + 2.0 * up * cloud)
            self.hours["house"].append(
                Reading(inside, min(97.0, humidity(inside, dew + 2.0)), 0.3, radiation * 0.45)
            )
            # Lamps from 22 to 12 of the local clock, about an hour behind UTC.
            lamps = (time.hour - 1) % 24 >= 22 or (time.hour - 1) % 24 < 12
            room = 19.0 + 1.5 * season + (1.5 if lamps else 0.0) + 0.2 * warm
            self.hours["shelf"].append(
                Reading(room, min(85.0, max(35.0, 66.0 - 3.0 * self.dry + 2.0 * moist
                                            - (4.0 if lamps else 0.0))),
                        0.25, 32.0 if lamps else 0.0)
            )

    def at(self, area, time):
        hour = int((time - self.first) / HOUR)
        return self.hours[area][max(0, min(hour, len(self.hours[area]) - 1))]

    def driest(self, area, start, hours=24):
        """The lowest humidity of the hours that follow."""
        return min(self.at(area, start + h * HOUR).rh for h in range(hours))


class Forecast:
    """A forecast that is wrong by a stated error: 5 % humidity and 1.2 K, over half a day alike."""

    HUMIDITY_SD, TEMPERATURE_SD = 5.0, 1.2

    def __init__(self, seed, air):
        self.air, self.seed = air, seed

    def rows(self, now, hours=60):
        rng = random.Random(f"forecast {self.seed} {now.isoformat()}")
        keep = math.exp(-1 / 12)
        new = math.sqrt(1 - keep * keep)
        for area in AREAS:
            warm, moist = rng.gauss(0, 1), rng.gauss(0, 1)
            for hour in range(1, hours):
                warm = keep * warm + new * rng.gauss(0, 1)
                moist = keep * moist + new * rng.gauss(0, 1)
                time = now.replace(minute=0, second=0) + hour * HOUR
                true = self.air.at(area, time)
                rh = min(99.0, max(15.0, true.rh + self.HUMIDITY_SD * moist))
                yield time, area, Reading(true.temp_c + self.TEMPERATURE_SD * warm, rh,
                                          true.air_m_s, true.radiation_w_m2)


class Logger:
    """What the loggers of the areas show up to now; they drift, stop and lose hours."""

    def __init__(self, air):
        self.air = air

    def rows(self, now, days=8):
        start = now.replace(minute=0, second=0) - dt.timedelta(days=days)
        for hour in range(days * 24 + 1):
            time = start + hour * HOUR
            day = time.timetuple().tm_yday
            if time < self.air.first or day in STOPPED or (day == GAP_DAY and 8 <= time.hour < 14):
                continue
            for area in AREAS:
                true = self.air.at(area, time)
                wrong = DRIFT_A_DAY * (day - DRIFT.start) if day in DRIFT else 0.0
                yield time, area, Reading(true.temp_c, min(99.0, true.rh + wrong), true.air_m_s,
                                          true.radiation_w_m2)


def write(path, rows):
    with open(path, "w", encoding="utf-8") as file:
        file.write("time,area,temp_c,rh_percent,air_m_s,radiation_w_m2\n")
        for time, area, r in rows:
            file.write(f"{time:%Y-%m-%dT%H:%M:%SZ},{area},{r.temp_c:.1f},{r.rh:.0f},"
                       f"{r.air_m_s:.2f},{r.radiation_w_m2:.0f}\n")
