//! The air where there is no reading: assumed from the readings around, and marked so.
//!
//! After the last reading the last full day repeats: the temperature and the vapour pressure of the
//! same hour of that day, moved by as much as the last reading differs from it, which fades within
//! hours. Where there is no full day, the temperature follows a day's course by shelter and light
//! and the vapour pressure is kept. In a gap the same is pulled to the reading at its end. The
//! uncertainty of the humidity grows with the time from the nearest reading. All of it is common
//! practice without a source; the numbers are in `data/practice.csv`.

use crate::air::{Air, AirBasis, KnownAir};
use crate::request::Shelter;
use crate::series::{Neighbours, Series};
use guardcell_clock::LightHours;
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use guardcell_units::quantity::Pressure;
use jiff::{SignedDuration, Timestamp};
use std::f64::consts::PI;

/// The air of an area at any time from the readings it has.
#[derive(Debug)]
pub(crate) struct AreaAir {
    series: Series,
    course: DayCourse,
    repeats: bool,
    /// Readings after this moment are a forecast.
    now: Timestamp,
    pressure: Pressure,
}

impl AreaAir {
    pub(crate) fn new(
        series: Series,
        shelter: Shelter,
        light: &LightHours,
        now: Timestamp,
        pressure: Pressure,
    ) -> Self {
        let repeats = series.ends_in_a_full_day();
        Self { series, course: DayCourse::new(shelter, light), repeats, now, pressure }
    }

    /// The last reading.
    pub(crate) fn known_until(&self) -> Option<Timestamp> {
        self.series.last().map(|(t, _)| t)
    }

    /// The air at a time; `None` only without any reading.
    pub(crate) fn at(&self, t: Timestamp) -> Result<Option<KnownAir>, Error> {
        let around = self.series.neighbours(t);
        if let Some(air) = self.series.read(t) {
            // Between two readings, the later one decides whether it is a forecast.
            let by = around.after.map_or(t, |(t, _)| t);
            let forecast = t > self.now && by > self.now;
            let (basis, rh_sd) = if forecast {
                (AirBasis::Forecast, forecast_spread(t.duration_since(self.now)))
            } else {
                (AirBasis::Reading, 0.0)
            };
            return Ok(Some(KnownAir { air, basis, rh_sd, hours_away: 0.0 }));
        }
        let air = match around {
            Neighbours { before: None, after: None } => return Ok(None),
            Neighbours { before: Some(from), after: None } => self.after(from, t)?,
            Neighbours { before: None, after: Some(from) } => self.carried(from, t)?,
            Neighbours { before: Some(from), after: Some(to) } => self.between(from, to, t)?,
        };
        let hours_away = [around.before, around.after]
            .into_iter()
            .flatten()
            .map(|(r, _)| r.duration_since(t).as_secs_f64().abs() / 3600.0)
            .fold(f64::INFINITY, f64::min);
        let basis = if hours_away <= p::READING_AGE_MOST.hours() {
            AirBasis::Reading
        } else {
            AirBasis::Assumed
        };
        Ok(Some(KnownAir { air, basis, rh_sd: spread(hours_away), hours_away }))
    }

    /// After the last reading.
    fn after(&self, last: (Timestamp, Air), t: Timestamp) -> Result<Air, Error> {
        if !self.repeats {
            return self.carried(last, t);
        }
        let day = SignedDuration::from_hours(24);
        let whole_days = t.duration_since(last.0).as_secs() / day.as_secs() + 1;
        let back = |t: Timestamp, days: i64| {
            t.saturating_sub(SignedDuration::from_hours(24 * days)).unwrap_or(t)
        };
        let (Some(then), Some(same_hour)) =
            (self.series.read(back(t, whole_days)), self.series.read(back(last.0, 1)))
        else {
            return self.carried(last, t);
        };
        let age = t.duration_since(last.0).as_secs_f64() / 3600.0;
        let fades = (-age / p::ASSUMED_DEPARTURE_FADES.hours()).exp();
        let warmer = (last.1.temp_c - same_hour.temp_c) * fades;
        let vapour = |a: Air| a.vapour_pa(self.pressure);
        let moister = (vapour(last.1)? - vapour(same_hour)?) * fades;
        then.holding(then.temp_c + warmer, vapour(then)? + moister, self.pressure)
    }

    /// From one reading, by the day's course; the vapour pressure is kept.
    fn carried(&self, from: (Timestamp, Air), t: Timestamp) -> Result<Air, Error> {
        let warmer = self.course.departure(t) - self.course.departure(from.0);
        let vapour = from.1.vapour_pa(self.pressure)?;
        // The sun of one moment says nothing of that of another.
        Air { radiation_w_m2: None, ..from.1 }.holding(
            from.1.temp_c + warmer,
            vapour,
            self.pressure,
        )
    }

    /// In a gap: carried on from the reading before, and pulled to the one after.
    fn between(
        &self,
        from: (Timestamp, Air),
        to: (Timestamp, Air),
        t: Timestamp,
    ) -> Result<Air, Error> {
        let share =
            t.duration_since(from.0).as_secs_f64() / to.0.duration_since(from.0).as_secs_f64();
        let (on, end) = (self.carried(from, t)?, self.carried(from, to.0)?);
        let vapour = |a: Air| a.vapour_pa(self.pressure);
        let moister = (vapour(to.1)? - vapour(end)?) * share;
        let moved = Air { air_m_s: from.1.towards(to.1, share).air_m_s, ..on };
        moved.holding(
            on.temp_c + (to.1.temp_c - end.temp_c) * share,
            vapour(on)? + moister,
            self.pressure,
        )
    }
}

/// Standard deviation of the assumed humidity, so many hours from the nearest reading.
fn spread(hours_away: f64) -> f64 {
    (p::ASSUMED_HUMIDITY_SD.percent()
        + p::ASSUMED_HUMIDITY_SD_GROWTH.percent_per_hour() * hours_away)
        .min(p::ASSUMED_HUMIDITY_SD_MOST.percent())
}

/// Standard deviation of a forecast humidity, so long after now: no more than that of assumed air.
fn forecast_spread(ahead: SignedDuration) -> f64 {
    spread(ahead.as_secs_f64() / 3600.0).min(p::FORECAST_HUMIDITY_SD.percent())
}

/// How the temperature goes over a day: coldest when the light comes, warmest some time after the
/// middle of the light, by the swing of the shelter.
#[derive(Debug)]
struct DayCourse {
    swing_k: f64,
    lit: Vec<(Timestamp, Timestamp)>,
}

impl DayCourse {
    fn new(shelter: Shelter, light: &LightHours) -> Self {
        let swing_k = match shelter {
            Shelter::Room => p::DAY_SWING_ROOM.coefficient(),
            Shelter::Glass => p::DAY_SWING_GLASS.coefficient(),
            Shelter::Outdoors => p::DAY_SWING_OUTDOORS.coefficient(),
        };
        let lit = light.lit().iter().map(|s| (s.start.timestamp(), s.end.timestamp())).collect();
        Self { swing_k, lit }
    }

    /// Kelvin above the mean of the day.
    fn departure(&self, t: Timestamp) -> f64 {
        let next = self.lit.partition_point(|(start, _)| *start <= t);
        let Some((start, end)) = next.checked_sub(1).and_then(|i| self.lit.get(i)) else {
            return 0.0;
        };
        let seconds = |a: Timestamp, b: Timestamp| b.duration_since(a).as_secs_f64();
        let to_warmest = seconds(*start, *end) * p::DAY_WARMEST_SHARE.number();
        let since = seconds(*start, t);
        let phase = if since <= to_warmest {
            -(PI * since / to_warmest.max(1.0)).cos()
        } else {
            let Some((again, _)) = self.lit.get(next) else { return 0.0 };
            let whole = seconds(*start, *again) - to_warmest;
            (PI * (since - to_warmest) / whole.max(1.0)).cos()
        };
        0.5 * self.swing_k * phase
    }
}

#[cfg(test)]
mod tests;
