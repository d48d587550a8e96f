//! Whether to feed a Cattleya tonight, how strong, and why: `cargo run -q -p guardcell --example tonight`.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

use guardcell::advice::{
    AdviceRequest, AreaDescription, Growth, PlantEntry, Reading, Setting, Shelter, SiteDescription,
    SizeClass, Standing, advise,
};
use guardcell::jiff::{self, ToSpan as _, civil::date};
use guardcell::solution::{Label, WaterReport};

/// An invented label, as it is typed from a bag.
const LABEL: &str = "\
Example 20-10-20
GUARANTEED ANALYSIS
Total Nitrogen (N) ............ 20%
  8.0% Ammoniacal Nitrogen
  12.0% Nitrate Nitrogen
Available Phosphate (P2O5) .... 10%
Soluble Potash (K2O) .......... 20%
Derived from: ammonium nitrate, potassium nitrate, ammonium phosphate.
";

/// A mild evening that cools by half a degree an hour while the air grows damper.
fn readings() -> Result<Vec<Reading>, jiff::Error> {
    let start = date(2026, 6, 21).at(18, 0, 0, 0).in_tz("Atlantic/Azores")?;
    (0_i32..=14)
        .map(|hour| {
            let time = start.checked_add(hour.hours())?.strftime("%FT%T%:z").to_string();
            let hour = f64::from(hour);
            Ok(Reading::new(time, 22.0 - 0.5 * hour, 70.0 + hour).with_air_m_s(0.3))
        })
        .collect()
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let house = AreaDescription::new("house", "Cloud-forest house", Shelter::Glass);
    let site = SiteDescription::new(
        "Fernhollow Conservatory",
        38.5,
        -28.0,
        "Atlantic/Azores",
        vec![house],
    );
    let plant = PlantEntry::new(
        "FH-001",
        "Cattleya labiata",
        "house",
        Setting::Mounted,
        Standing::Established,
    )
    .with_size(SizeClass::Large)
    .with_growth(Growth::Active);
    let feed = Label::from_text(LABEL)?;
    let water = WaterReport { ec_us_cm: Some(35.0), ph: Some(6.4), ..WaterReport::default() };
    let request = AdviceRequest::new(site, readings()?, vec![plant], "2026-06-21T18:00:00Z")
        .with_feed(feed)
        .with_water(water)
        .with_hours(14);
    for plant in &advise(&request)?.plants {
        println!("{}: {:?}", plant.name, plant.verdict);
        for reason in &plant.reasons {
            println!("- {}", reason.message);
        }
    }
    Ok(())
}
