//! A year of conditions at the invented Fernhollow Conservatory: `demo-data/conditions.csv`.
//!
//! Nothing in it was measured. Weather is drawn from slowly varying random series with a fixed
//! seed; what follows from it is computed: sun height from the clock, clear-sky radiation after
//! Haurwitz (1945) and its loss to cloud after Kasten & Czeplak (1980), saturation pressure from
//! the film crate, and heat and vapour balances of a shaded, vented, fogged house and of a
//! lamp-lit shelf room, stepped every ten minutes. The numbers below describe that place and are
//! as invented as the place.

use crate::Generated;
use guardcell::clock::{Latitude, Location, Longitude, sun_elevation};
use guardcell::film::MoistAir;
use guardcell::units::uom::si::angle::radian;
use guardcell::units::uom::si::pressure::pascal;
use jiff::civil;
use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;

const STEP_H: f64 = 1.0 / 6.0;
const STEPS_AN_HOUR: i64 = 6;
const HOURS: i64 = 8760;
/// The shelf room changes slowly: a line every third hour keeps the file under a megabyte.
const SHELF_EVERY_H: i64 = 3;
const LAMPS_ON_H: i8 = 22;
const LAMPS_OFF_H: i8 = 12;
/// Days run in before the first line, so that the state has forgotten where it started.
const RUN_IN_H: i64 = 14 * 24;

type Fallible<T> = Result<T, Box<dyn Error>>;

/// Writes the file.
pub(crate) fn made(_: &Path) -> Fallible<Vec<Generated>> {
    Ok(vec![("demo-data/conditions.csv", table()?.into_bytes())])
}

fn table() -> Fallible<String> {
    let place = Location::new(
        Latitude::from_degrees(38.5)?,
        Longitude::from_degrees(-28.0)?,
        "Atlantic/Azores",
    )?;
    let first = civil::date(2026, 1, 1).to_zoned_datetime(place.zone().clone())?.timestamp();
    let mut text = String::from("time,area,temp_c,rh_percent,air_m_s,radiation_w_m2\n");
    let mut weather = Weather::new();
    let (mut house, mut shelf) = (House::new(), Shelf::new());
    for hour in -RUN_IN_H..HOURS {
        weather.next_hour();
        for step in 0..STEPS_AN_HOUR {
            let seconds = first.as_second() + hour * 3600 + step * 3600 / STEPS_AN_HOUR;
            let local =
                jiff::Timestamp::from_second(seconds)?.to_zoned_datetime(place.zone().clone());
            let height = sun_elevation(&place, local.timestamp())?.get::<radian>();
            weather.step(f64::from(local.day_of_year()), height)?;
            house.step(&weather, local.hour(), local.minute())?;
            let lit = local.hour() >= LAMPS_ON_H || local.hour() < LAMPS_OFF_H;
            shelf.step(&weather, lit)?;
            if step == 0 && hour >= 0 {
                let time = local.timestamp().display_with_offset(local.offset());
                let mut line = |area: &str, air: Air| -> Fallible<()> {
                    writeln!(
                        text,
                        "{time},{area},{:.1},{:.0},{:.2},{:.0}",
                        air.temp_c, air.rh_percent, air.air_m_s, air.radiation_w_m2
                    )?;
                    Ok(())
                };
                line("house", house.air(&weather)?)?;
                line("trees", weather.under_trees()?)?;
                if hour % SHELF_EVERY_H == 0 {
                    line("shelf", shelf.air(lit)?)?;
                }
            }
        }
    }
    Ok(text)
}

/// One line of the file.
struct Air {
    temp_c: f64,
    rh_percent: f64,
    air_m_s: f64,
    radiation_w_m2: f64,
}

/// Saturation vapour pressure over water in hPa.
fn saturation_hpa(temp_c: f64) -> Fallible<f64> {
    Ok(MoistAir::from_celsius_percent(temp_c, 50.0)?.saturation_pressure().get::<pascal>() / 100.0)
}

fn rh_percent(temp_c: f64, vapour_hpa: f64) -> Fallible<f64> {
    Ok((100.0 * vapour_hpa / saturation_hpa(temp_c)?).clamp(20.0, 99.0))
}

/// A random series that forgets over `memory_h` hours, with unit spread.
struct Drift {
    random: Random,
    keep: f64,
    value: f64,
}

impl Drift {
    fn new(seed: u64, memory_h: f64) -> Self {
        Self { random: Random(seed), keep: (-1.0 / memory_h).exp(), value: 0.0 }
    }

    fn next(&mut self) {
        let fresh = (1.0 - self.keep * self.keep).sqrt();
        self.value = self.keep * self.value + fresh * self.random.normal();
    }
}

/// SplitMix64 (Steele et al. 2014).
struct Random(u64);

impl Random {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Close to normal: the sum of twelve uniforms, which stays within six spreads.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// The weather outside.
struct Weather {
    front: Drift,
    sky: Drift,
    moisture: Drift,
    gust: Drift,
    fans: Drift,
    temp_c: f64,
    vapour_hpa: f64,
    global_w_m2: f64,
    season: f64,
}

impl Weather {
    fn new() -> Self {
        Self {
            front: Drift::new(11, 60.0),
            sky: Drift::new(23, 9.0),
            moisture: Drift::new(37, 36.0),
            gust: Drift::new(53, 12.0),
            fans: Drift::new(71, 3.0),
            temp_c: 14.0,
            vapour_hpa: 12.0,
            global_w_m2: 0.0,
            season: 0.0,
        }
    }

    fn next_hour(&mut self) {
        for d in
            [&mut self.front, &mut self.sky, &mut self.moisture, &mut self.gust, &mut self.fans]
        {
            d.next();
        }
    }

    /// Cloud cover, 0 … 1.
    fn cloud(&self) -> f64 {
        1.0 / (1.0 + (-(0.6 + 1.7 * self.sky.value)).exp())
    }

    fn step(&mut self, day: f64, sun_height: f64) -> Fallible<()> {
        // mid-August is warmest, as by the sea
        self.season = (2.0 * std::f64::consts::PI * (day - 228.0) / 365.25).cos();
        let cloud = self.cloud();
        let sine = sun_height.sin().max(0.0);
        let clear = if sine > 0.0 { 1098.0 * sine * (-0.057 / sine).exp() } else { 0.0 };
        self.global_w_m2 = clear * (1.0 - 0.75 * cloud.powf(3.4));
        let mean = 17.2 + 4.3 * self.season;
        let toward =
            mean + 1.7 * self.front.value - 2.0 * (1.0 - cloud) + 0.0070 * self.global_w_m2;
        self.temp_c += (toward - self.temp_c) * STEP_H / 2.5;
        let dew_c =
            mean - 3.4 + 1.2 * self.front.value + 1.7 * self.moisture.value + 2.2 * (cloud - 0.6);
        // the air mass cannot hold more than it can: fog under a wet sky
        let vapour = saturation_hpa(dew_c)?.min(0.985 * saturation_hpa(self.temp_c)?);
        self.vapour_hpa += (vapour - self.vapour_hpa) * STEP_H / 1.5;
        self.vapour_hpa = self.vapour_hpa.min(0.99 * saturation_hpa(self.temp_c)?);
        Ok(())
    }

    fn wind_m_s(&self) -> f64 {
        3.2 * (0.5 * self.gust.value).exp()
    }

    /// Under the trees on the south side: shade, and the wind broken.
    fn under_trees(&self) -> Fallible<Air> {
        Ok(Air {
            temp_c: self.temp_c - 0.0012 * self.global_w_m2,
            rh_percent: rh_percent(self.temp_c - 0.0012 * self.global_w_m2, self.vapour_hpa)?,
            air_m_s: (0.22 * self.wind_m_s()).clamp(0.1, 6.0),
            radiation_w_m2: 0.30 * self.global_w_m2,
        })
    }
}

/// The glasshouse: shaded, vented above 21 °C, heated below 14 °C, fogged by day when dry.
struct House {
    temp_c: f64,
    vapour_hpa: f64,
    changes_an_h: f64,
    fogging: bool,
}

impl House {
    const SHADE: f64 = 0.40;

    fn new() -> Self {
        Self { temp_c: 16.0, vapour_hpa: 15.0, changes_an_h: 0.3, fogging: false }
    }

    fn step(&mut self, w: &Weather, hour: i8, minute: i8) -> Fallible<()> {
        self.changes_an_h = 0.6 + 6.0 * ((self.temp_c - 21.0) / 3.0).clamp(0.0, 1.0);
        let saturated = saturation_hpa(self.temp_c)?;
        let rh = 100.0 * self.vapour_hpa / saturated;
        // humidistat with a wide switching band, on by day; a round with the hose each morning
        self.fogging = (8..18).contains(&hour) && (rh < 72.0 || (self.fogging && rh < 86.0));
        let hose = hour == 7 && minute >= 30;
        let deficit = (saturated - self.vapour_hpa).max(0.0);
        // leaves and floor give off little in the dark
        let leaves = 0.12 + 0.0014 * Self::SHADE * w.global_w_m2;
        let sprays = if self.fogging { 1.6 } else { 0.0 } + if hose { 1.2 } else { 0.0 };
        let evaporated = (leaves + sprays) * deficit;
        let glass_c = 0.65 * w.temp_c + 0.35 * self.temp_c;
        let on_glass = 1.5 * (self.vapour_hpa - saturation_hpa(glass_c)?).max(0.0);
        // a little heat also dries the air when it nears saturation
        let drying = 0.25 * (rh - 91.0).clamp(0.0, 6.0);
        let heating = (3.0 * (14.0 - self.temp_c)).clamp(0.0, 4.0).max(drying);
        // 1 hPa evaporated into a cubic metre takes about 1.5 K from its air; the wet floor, leaves
        // and staging give back most of it
        let warming = 0.030 * Self::SHADE * w.global_w_m2 + heating - 0.45 * evaporated
            + 0.45 * on_glass
            + (0.6 + self.changes_an_h) * (w.temp_c - self.temp_c);
        self.temp_c += warming * STEP_H;
        self.vapour_hpa +=
            (evaporated - on_glass + self.changes_an_h * (w.vapour_hpa - self.vapour_hpa)) * STEP_H;
        self.vapour_hpa = self.vapour_hpa.min(0.985 * saturation_hpa(self.temp_c)?);
        Ok(())
    }

    fn air(&self, w: &Weather) -> Fallible<Air> {
        let fans = 0.22 + 0.05 * self.changes_an_h;
        Ok(Air {
            temp_c: self.temp_c,
            rh_percent: rh_percent(self.temp_c, self.vapour_hpa)?,
            air_m_s: (fans * (1.0 + 0.2 * w.fans.value)).clamp(0.08, 1.0),
            radiation_w_m2: Self::SHADE * w.global_w_m2,
        })
    }
}

/// The shelf room: heated, lamps through the night, a small humidifier and dehumidifier.
struct Shelf {
    temp_c: f64,
    vapour_hpa: f64,
}

impl Shelf {
    fn new() -> Self {
        Self { temp_c: 20.0, vapour_hpa: 14.0 }
    }

    fn step(&mut self, w: &Weather, lit: bool) -> Fallible<()> {
        let toward = 19.0 + 1.6 * w.season + 0.3 * w.front.value + if lit { 3.8 } else { 0.0 };
        self.temp_c += (toward - self.temp_c) * STEP_H / 1.5;
        let saturated = saturation_hpa(self.temp_c)?;
        let short = (0.68 - self.vapour_hpa / saturated).clamp(0.0, 0.2);
        let over = (self.vapour_hpa / saturated - 0.75).max(0.0);
        let made = 18.0 * (short - over) + 0.2;
        self.vapour_hpa += (0.35 * (w.vapour_hpa - self.vapour_hpa) + made) * STEP_H;
        self.vapour_hpa = self.vapour_hpa.min(0.95 * saturated);
        Ok(())
    }

    fn air(&self, lit: bool) -> Fallible<Air> {
        Ok(Air {
            temp_c: self.temp_c,
            rh_percent: rh_percent(self.temp_c, self.vapour_hpa)?,
            air_m_s: if lit { 0.25 } else { 0.15 },
            radiation_w_m2: if lit { 32.0 } else { 0.0 },
        })
    }
}
