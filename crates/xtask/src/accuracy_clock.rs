//! How far the sun of the clock is from pvlib's SPA and from the Naval Observatory's tables.

use guardcell::clock::{
    Latitude, Location, Longitude, SunEventKind, sun_elevation, sun_events, sun_on,
};
use guardcell::units::uom::si::angle::degree;
use jiff::{SignedDuration, Timestamp, ZonedDateTime, civil};
use std::error::Error;
use std::path::Path;

/// Seconds within which the sun must agree with pvlib.
const BOUND_S: i64 = 1;
/// Seconds within which it must agree with times printed to the minute.
const PRINTED_BOUND_S: i64 = 60;
/// Degrees within which the elevation must agree with pvlib: 2.4 s of the daily motion.
const BOUND_DEG: f64 = 0.01;

/// Prints the table.
pub(crate) fn print(root: &Path) -> Result<bool, Box<dyn Error>> {
    println!("clock: largest difference, its bound, number of values");
    let pvlib = against_pvlib(&root.join("tests/oracle/sun_pvlib.csv"))?;
    let printed = against_printed(&root.join("tests/oracle/usno_sun.csv"))?;
    Ok(pvlib && printed)
}

#[derive(Default)]
struct Worst {
    off_s: i64,
    n: u32,
}

impl Worst {
    fn take(&mut self, off_s: i64) {
        self.off_s = self.off_s.max(off_s.abs());
        self.n += 1;
    }

    fn print(&self, what: &str, bound_s: i64) -> bool {
        let holds = self.off_s <= bound_s && self.n > 0;
        let mark = if holds { "" } else { "  BROKEN" };
        println!("  {what:<44} {:>4} s  <= {bound_s} s  n = {}{mark}", self.off_s, self.n);
        holds
    }
}

fn place(row: &csv::StringRecord, zone: &str) -> Result<Location, Box<dyn Error>> {
    Ok(Location::new(
        Latitude::from_degrees(field(row, 0)?.parse()?)?,
        Longitude::from_degrees(field(row, 1)?.parse()?)?,
        zone,
    )?)
}

fn field(row: &csv::StringRecord, i: usize) -> Result<&str, String> {
    row.get(i).ok_or_else(|| format!("{row:?}: no column {i}"))
}

fn records(path: &Path) -> Result<Vec<csv::StringRecord>, Box<dyn Error>> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path)?;
    Ok(reader.records().collect::<Result<_, _>>()?)
}

fn against_pvlib(path: &Path) -> Result<bool, Box<dyn Error>> {
    let kinds = [
        (2, SunEventKind::Noon, "meridian passage, pvlib"),
        (3, SunEventKind::Sunrise, "sunrise, pvlib"),
        (4, SunEventKind::Sunset, "sunset, pvlib"),
        (5, SunEventKind::CivilDawn, "civil dawn, pvlib"),
        (6, SunEventKind::CivilDusk, "civil dusk, pvlib"),
    ];
    let mut worst: [Worst; 5] = Default::default();
    let (mut worst_deg, mut n) = (0.0_f64, 0);
    for row in records(path)? {
        let place = place(&row, "Etc/UTC")?;
        for ((column, kind, _), worst) in kinds.iter().zip(&mut worst) {
            let text = field(&row, *column)?;
            if text.is_empty() {
                continue;
            }
            let at: Timestamp = text.parse()?;
            let half = SignedDuration::from_hours(12);
            let nearest = sun_events(&place, at.checked_sub(half)?, at.checked_add(half)?)?
                .iter()
                .filter(|e| e.kind == *kind)
                .map(|e| (e.time.as_second() - at.as_second()).abs())
                .min()
                .ok_or_else(|| format!("{row:?}: no {kind:?}"))?;
            worst.take(nearest);
        }
        let at: Timestamp = field(&row, 7)?.parse()?;
        let expected: f64 = field(&row, 8)?.parse()?;
        let off = (sun_elevation(&place, at)?.get::<degree>() - expected).abs();
        worst_deg = worst_deg.max(off);
        n += 1;
    }
    let mut holds = worst_deg <= BOUND_DEG && n > 0;
    for ((_, _, what), worst) in kinds.iter().zip(&worst) {
        holds &= worst.print(what, BOUND_S);
    }
    println!("  {:<44} {worst_deg:.4}° <= {BOUND_DEG}°  n = {n}", "elevation, pvlib");
    Ok(holds)
}

fn against_printed(path: &Path) -> Result<bool, Box<dyn Error>> {
    let mut worst = Worst::default();
    for row in records(path)? {
        let place = place(&row, field(&row, 2)?)?;
        let date: civil::Date = field(&row, 3)?.parse()?;
        let sun = sun_on(&place, date)?;
        let mut take =
            |column: usize, found: &Option<ZonedDateTime>| -> Result<(), Box<dyn Error>> {
                let text = field(&row, column)?;
                if text.is_empty() {
                    return Ok(());
                }
                let clock: civil::Time = text.parse()?;
                let printed = date.to_datetime(clock).to_zoned_datetime(place.zone().clone())?;
                let found =
                    found.as_ref().ok_or_else(|| format!("{row:?}: column {column} missing"))?;
                worst.take(found.timestamp().as_second() - printed.timestamp().as_second());
                Ok(())
            };
        take(5, &sun.sunrise)?;
        take(6, &sun.sunset)?;
        take(7, &sun.civil_dawn)?;
        take(8, &sun.civil_dusk)?;
    }
    Ok(worst.print("rise, set, twilight, printed to the minute", PRINTED_BOUND_S))
}
