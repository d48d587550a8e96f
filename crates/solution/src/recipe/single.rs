//! One product, one target: the exact amount.

use super::case::Case;
use super::request::{Target, TargetMeaning};
use crate::product::{Product, lacks};
use guardcell_error::{Code, Error};

/// Units (g or mL) per litre.
pub(super) fn units(case: &Case<'_>, product: &Product, target: &Target) -> Result<f64, Error> {
    let wanted = target.wanted();
    match target {
        Target::Nutrient { basis, .. } => {
            let per_unit = case.coefficient(target, product).unwrap_or(0.0);
            if per_unit <= 0.0 {
                return Err(lacks(product, basis.symbol(), "/targets/0"));
            }
            let from_water = case.water_part(target);
            if case.request.target_meaning == TargetMeaning::Total && from_water >= wanted {
                return Err(already(&format!(
                    "the water alone holds {from_water:.1} mg/L {}, the total wanted is \
                     {wanted}",
                    basis.symbol()
                )));
            }
            Ok((wanted - from_water) / per_unit)
        }
        Target::FeedStrength { .. } => {
            Ok(wanted / case.coefficient(target, product).unwrap_or(1000.0))
        }
        Target::Ec25 { .. } | Target::Ec25AboveWater { .. } => {
            let water = case.water_ec25();
            let ec25 = if matches!(target, Target::Ec25 { .. }) { wanted } else { wanted + water };
            if water >= ec25 {
                return Err(already(&format!(
                    "the water alone reads {water:.0} µS/cm, the reading wanted is {wanted}"
                )));
            }
            let strength = crate::meter::strength_at_ec(product, &case.water, ec25, 0.0)?;
            // Where two closures bound the strength, the mean of their ions meets the reading.
            let (mut low, mut high) = (strength.low, strength.high);
            let to_units = |s: f64| product.units_per_l(guardcell_units::quantity::mg_per_l(s));
            for _ in 0..60 {
                let middle = f64::midpoint(low, high);
                if case.ec25(&case.mean, &[to_units(middle)])? < ec25 {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            Ok(to_units(f64::midpoint(low, high)))
        }
    }
}

fn already(what: &str) -> Error {
    Error::new(
        Code::Unreachable,
        what,
        "blend the water with rain or reverse-osmosis water, raise the target, or state it as \
         added feed",
    )
    .at("/targets/0")
}
