//! Whether to feed a Cattleya tonight, how strong, and why: `cargo run -q -p guardcell --example tonight`.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

use guardcell::advice::{AdviceRequest, advise};
use guardcell::jiff::{ToSpan as _, civil::date};
use serde_json::{Value, json};

/// A mild evening that cools by half a degree an hour while the air grows damper.
fn readings() -> Result<Vec<Value>, guardcell::jiff::Error> {
    let start = date(2026, 6, 21).at(18, 0, 0, 0).in_tz("Atlantic/Azores")?;
    (0..=14)
        .map(|hour| {
            let time = start.checked_add(i64::from(hour).hours())?;
            Ok(json!({
                "time": time.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string(),
                "temp_c": 22.0 - 0.5 * f64::from(hour),
                "rh_percent": 70 + hour,
                "air_m_s": 0.3
            }))
        })
        .collect()
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let request: AdviceRequest = serde_json::from_value(json!({
        "site": {
            "name": "Fernhollow Conservatory",
            "latitude_deg": 38.5, "longitude_deg": -28.0, "time_zone": "Atlantic/Azores",
            "areas": [{ "id": "house", "name": "Cloud-forest house", "shelter": "glass", "light": "sun" }]
        },
        "plants": [{
            "id": "FH-001", "name": "Cattleya labiata", "area": "house", "setting": "mounted",
            "standing": "established", "size": "large", "growth": "active"
        }],
        "readings": readings()?,
        "feed": {
            "name": "Example 20-10-20",
            "guaranteed": {
                "n_percent": 20, "nitrate_n_percent": 12, "ammoniacal_n_percent": 8,
                "p2o5_percent": 10, "k2o_percent": 20
            },
            "derived_from": ["ammonium nitrate", "potassium nitrate", "monoammonium phosphate"]
        },
        "water": { "name": "rain tank", "ec_us_cm": 35, "ph": 6.4 },
        "at": "2026-06-21T18:00:00+00:00",
        "hours": 14
    }))?;
    let advice = serde_json::to_value(advise(&request)?)?;
    let plant = &advice["plants"][0];
    println!("{}: {}", plant["name"].as_str().unwrap_or_default(), plant["verdict"]);
    for reason in plant["reasons"].as_array().into_iter().flatten() {
        println!(
            "- {}",
            reason["message"].as_str().or(reason["says"].as_str()).unwrap_or_default()
        );
    }
    Ok(())
}
