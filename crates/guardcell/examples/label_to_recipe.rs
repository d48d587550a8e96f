//! From a label in percent to grams for a can of water: `cargo run -p guardcell --example label_to_recipe`.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

use guardcell::solution::{Label, RecipeRequest, recipe};

/// An invented label, as it is typed from a bag.
const LABEL: &str = r#"
name = "Fernhollow Mist 15-5-15"
derived_from = ["potassium nitrate", "calcium nitrate", "ammonium nitrate", "monoammonium phosphate"]

[guaranteed]
n_percent = 15
nitrate_n_percent = 11.8
ammoniacal_n_percent = 3.2
p2o5_percent = 5
k2o_percent = 15
ca_percent = 4
"#;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let labels = Label::from_toml(LABEL)?;
    let request: RecipeRequest = serde_json::from_value(serde_json::json!({
        "products": labels,
        "volume_l": 4,
        "targets": [{ "feed_strength": { "mg_l": 300 } }],
        "water": { "name": "rain and some tap", "ec_us_cm": 60 },
        "resolution": { "mass_g": 0.1 }
    }))?;
    let answer = recipe(&request)?;
    println!("{}", serde_json::to_string_pretty(&answer)?);
    Ok(())
}
