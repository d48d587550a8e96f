//! One product, one target: the exact amount.

use super::case::Case;
use super::request::TargetMeaning;
use super::target::Target;
use crate::product::Product;
use guardcell_error::{Code, Error};
use guardcell_units::round::significant;

/// Units (g or mL) per litre.
pub(super) fn units(case: &Case<'_>, product: &Product, target: &Target) -> Result<f64, Error> {
    let wanted = target.wanted();
    match target {
        Target::Nutrient { basis, .. } => {
            let per_unit = case.coefficient(target, product).unwrap_or(0.0);
            if per_unit <= 0.0 {
                return Err(lacks(product, basis.symbol()));
            }
            let from_water = case.water_part(target);
            if case.request.target_meaning == TargetMeaning::Total && from_water > over(wanted) {
                return Err(already(&format!(
                    "the water alone holds {from_water:.1} mg/L {}, the total wanted is {}",
                    basis.symbol(),
                    significant(wanted, 6)
                )));
            }
            Ok((wanted - from_water).max(0.0) / per_unit)
        }
        Target::FeedStrength { .. } => {
            Ok(wanted / case.coefficient(target, product).unwrap_or(1000.0))
        }
        Target::Ec25 { .. } | Target::Ec25AboveWater { .. } => {
            let water = case.water_ec25();
            let ec25 = if matches!(target, Target::Ec25 { .. }) { wanted } else { wanted + water };
            if water > over(ec25) {
                return Err(already(&format!(
                    "the water alone reads {water:.0} µS/cm, the reading wanted is {}",
                    significant(wanted, 6)
                )));
            }
            let strength = crate::meter::strength_at_ec(product, &case.water, ec25)
                .map_err(|e| case.outside(&e))?;
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

/// Rounding may carry a water that equals its target over it.
fn over(wanted: f64) -> f64 {
    wanted * (1.0 + 1e-9)
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

/// The error where a product cannot serve a target.
fn lacks(product: &Product, what: &str) -> Error {
    Error::new(
        Code::Unreachable,
        format!("{:?} has no {what}", product.name()),
        format!("choose a product with {what}, or another target"),
    )
    .at("/targets/0")
}
