//! From a label in percent to grams for a can of water: `cargo run -p guardcell --example label_to_recipe`.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

use guardcell::solution::recipe::{BasisName, ScaleResolution, Target};
use guardcell::solution::{Label, RecipeRequest, WaterReport, recipe};

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
    let water = WaterReport { ec_us_cm: Some(60.0), ..WaterReport::default() };
    let scale = ScaleResolution { mass_g: Some(0.1), ..ScaleResolution::default() };
    let targets = vec![Target::nutrient(BasisName::N, 45.0)];
    let request = RecipeRequest::new(labels, 4.0, targets).with_water(water).with_resolution(scale);
    let answer = recipe(&request)?;
    for product in &answer.products {
        println!("{}: {} g in 4 L", product.name, product.mass_g.unwrap_or_default());
    }
    println!("the meter reads {:.0} µS/cm", answer.ec25_us_cm.middle());
    Ok(())
}
