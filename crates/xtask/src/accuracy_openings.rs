//! `cargo xtask accuracy openings`: predicted openings against published daily courses.
//!
//! For each published statement the mean predicted probability inside its hours is held against
//! the mean outside them ("open", "widest") or the other way round ("shut"). The overlap is the
//! share of the published hours in which the prediction is at least half its highest value (for
//! "shut": below half).

use guardcell::clock::{
    AirHour, Lamps, Latitude, Light, Location, Longitude, Openings, Pathway, Shelter, Site,
    TraitView, WaterStatus, openings,
};
use guardcell::units::quantity::{Pressure, ThermodynamicTemperature, Time};
use guardcell::units::uom::si::{
    pressure::kilopascal, ratio::ratio, thermodynamic_temperature::degree_celsius, time::hour,
};
use jiff::{SignedDuration, Timestamp};
use std::error::Error;
use std::path::Path;

/// The start of a light period; any will do.
const START: &str = "2026-03-01T06:00:00Z";
/// Minutes between two looks at the prediction.
const STEP_MINUTES: i64 = 10;
/// Bounds: the mean overlap, and the share of statements where the prediction leans the right way.
const MEAN_OVERLAP: f64 = 0.75;
const RIGHT_WAY: f64 = 0.85;

/// One published statement.
struct Statement {
    taxon: String,
    pathway: Pathway,
    water: WaterStatus,
    /// Lit by the sun of the equator at an equinox, which gives 12 h within minutes.
    sun: bool,
    light_h: f64,
    dark_h: f64,
    air: Option<(f64, f64)>,
    kind: Kind,
    from_h: f64,
    to_h: f64,
    source: String,
}

#[derive(Clone, Copy, PartialEq, Debug)]
enum Kind {
    Open,
    Widest,
    Shut,
}

/// Prints the table; `false` if a bound is broken.
pub(crate) fn print(root: &Path) -> Result<bool, Box<dyn Error>> {
    let statements = read(&root.join("tests/oracle/openings.csv"))?;
    println!(
        "openings: predicted probability inside and outside the published hours, and the overlap"
    );
    let (mut overlaps, mut right, mut taxa) = (0.0, 0, std::collections::BTreeSet::new());
    for s in &statements {
        let course = predicted(s)?;
        let period = s.light_h + s.dark_h;
        let inside = |t: f64| {
            let t = t.rem_euclid(period);
            (s.from_h..s.to_h).contains(&t) || (s.from_h..s.to_h).contains(&(t + period))
        };
        let mean = |want: bool| {
            let all: Vec<f64> =
                course.iter().filter(|(t, _)| inside(*t) == want).map(|(_, p)| *p).collect();
            all.iter().sum::<f64>() / (all.len() as f64).max(1.0)
        };
        let (within, outside) = (mean(true), mean(false));
        let highest = course.iter().map(|(_, p)| *p).fold(0.0, f64::max);
        let share = course.iter().filter(|(t, p)| inside(*t) && *p >= 0.5 * highest).count() as f64
            / course.iter().filter(|(t, _)| inside(*t)).count() as f64;
        let (overlap, leans) = match s.kind {
            Kind::Shut => (1.0 - share, within < outside),
            Kind::Open | Kind::Widest => (share, within > outside),
        };
        let mark = if leans { "" } else { "  wrong way" };
        println!(
            "  {:<34} {:<11} {:>4}/{:<4} {:<6} {:>4.1}-{:<5.1} {within:.2} {outside:.2}  {overlap:.2}  {}{mark}",
            s.taxon,
            s.pathway.word(),
            s.light_h,
            s.dark_h,
            format!("{:?}", s.kind).to_lowercase(),
            s.from_h,
            s.to_h,
            s.source
        );
        overlaps += overlap;
        right += u32::from(leans);
        taxa.insert((s.taxon.clone(), s.light_h.to_bits(), s.water as u8));
    }
    let n = statements.len() as f64;
    let (mean, way) = (overlaps / n, f64::from(right) / n);
    let holds = mean >= MEAN_OVERLAP && way >= RIGHT_WAY;
    println!(
        "  mean overlap {mean:.2} >= {MEAN_OVERLAP}, right way {way:.2} >= {RIGHT_WAY}, {} taxa and \
         conditions, {n} statements{}",
        taxa.len(),
        if holds { "" } else { "  BROKEN" }
    );
    Ok(holds)
}

/// The predicted probability over one whole cycle, with the hours since the light came on.
fn predicted(s: &Statement) -> Result<Vec<(f64, f64)>, Box<dyn Error>> {
    let start: Timestamp = START.parse()?;
    let h = Time::new::<hour>;
    let location =
        Location::new(Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
    let light = if s.sun {
        Light::Sun
    } else {
        Light::Lamps(Lamps::cycle(start, h(s.light_h), h(s.dark_h))?)
    };
    let site = Site { location, light, shelter: Shelter::UnderCover };
    let period = s.light_h + s.dark_h;
    let minutes = |m: f64| SignedDuration::from_secs((m * 60.0).round() as i64);
    // The second cycle of the window, so that the one before it is known.
    let from = start.checked_add(minutes(60.0 * period))?;
    let to = from.checked_add(minutes(60.0 * period))?;
    let air: Vec<AirHour> = s
        .air
        .map(|(temp_c, vpd_kpa)| {
            (0..(period.ceil() as i64 + 1))
                .map(|i| {
                    Ok(AirHour {
                        start: from.checked_add(SignedDuration::from_hours(i))?,
                        temperature: ThermodynamicTemperature::new::<degree_celsius>(temp_c),
                        vpd: Pressure::new::<kilopascal>(vpd_kpa),
                    })
                })
                .collect::<Result<_, jiff::Error>>()
        })
        .transpose()?
        .unwrap_or_default();
    let zoned = |t: Timestamp| t.to_zoned_datetime(site.location.zone().clone());
    let plant = TraitView::of(s.pathway);
    let found = openings(&plant, &site, &zoned(from), &zoned(to), &air, s.water)?;
    let steps = (60.0 * period / STEP_MINUTES as f64) as i64;
    (0..steps)
        .map(|i| {
            let hours = (i * STEP_MINUTES) as f64 / 60.0;
            Ok((hours, at(&found, from.checked_add(minutes(60.0 * hours))?)))
        })
        .collect()
}

fn at(found: &Openings, t: Timestamp) -> f64 {
    found
        .openings
        .iter()
        .find(|o| o.start.timestamp() <= t && t < o.end.timestamp())
        .map_or(0.0, |o| o.probability.get::<ratio>())
}

fn read(path: &Path) -> Result<Vec<Statement>, Box<dyn Error>> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path)?;
    let mut out = Vec::new();
    for record in reader.records() {
        let r = record?;
        let field = |i: usize| r.get(i).ok_or_else(|| format!("{r:?}: no column {i}"));
        let number = |i: usize| -> Result<f64, Box<dyn Error>> { Ok(field(i)?.parse()?) };
        let word = |i: usize| -> Result<serde_json::Value, Box<dyn Error>> {
            Ok(serde_json::Value::String(field(i)?.to_owned()))
        };
        let air = match (field(6)?, field(7)?) {
            ("", "") => None,
            _ => Some((number(6)?, number(7)?)),
        };
        let kind = match field(8)? {
            "open" => Kind::Open,
            "widest" => Kind::Widest,
            "shut" => Kind::Shut,
            other => return Err(format!("{r:?}: kind {other:?}").into()),
        };
        out.push(Statement {
            taxon: field(0)?.to_owned(),
            pathway: serde_json::from_value(word(1)?)?,
            water: serde_json::from_value(word(2)?)?,
            light_h: number(3)?,
            dark_h: number(4)?,
            sun: field(5)? == "sun",
            air,
            kind,
            from_h: number(9)?,
            to_h: number(10)?,
            source: field(11)?.to_owned(),
        });
    }
    Ok(out)
}
