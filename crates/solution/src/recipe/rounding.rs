//! What the grower's scale, syringe and spoons can show.

use super::answer::{Rounding, Spoons};
use super::case::Case;
use crate::label::Form;
use crate::notice::{Notice, NoticeCode};
use crate::product::Product;
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::quantity::Volume;
use guardcell_units::round::significant;
use guardcell_units::uom::si::mass::gram;
use guardcell_units::uom::si::volume::{milliliter, teaspoon};

/// One product's amount for the whole volume.
pub(super) struct Measured {
    pub(super) mass_g: Option<f64>,
    pub(super) volume_ml: Option<f64>,
    pub(super) spoons: Option<Spoons>,
    pub(super) rounding: Option<Rounding>,
    /// What the rounded amount is in units per litre.
    pub(super) units_per_l: f64,
}

pub(super) fn measure(
    case: &Case<'_>,
    product: &Product,
    units_per_l: f64,
    warnings: &mut Vec<Notice>,
) -> Measured {
    let volume_l = case.request.volume_l;
    let exact = product.amount_of_units(units_per_l * volume_l);
    let mass = exact.mass.map(|m| m.get::<gram>());
    let millilitres = exact.volume.map(|v| v.get::<milliliter>());
    // A liquid is measured by volume where that is known, everything else is weighed.
    let by_volume = product.label().form == Form::Liquid && millilitres.is_some();
    let (amount, step, unit) = if by_volume {
        (millilitres, case.request.resolution.volume_ml, "mL")
    } else {
        (mass, case.request.resolution.mass_g, "g")
    };
    let mut measured = Measured {
        mass_g: mass,
        volume_ml: millilitres,
        spoons: mass.and_then(|g| spoons(product, g)),
        rounding: None,
        units_per_l,
    };
    let (Some(amount), Some(step)) = (amount, step) else {
        return measured;
    };
    if amount <= 0.0 {
        return measured;
    }
    // Without the noise of the product: 1.2 g, not 1.2000000000000002 g.
    let rounded = significant((amount / step).round() * step, 12);
    let error = 100.0 * (rounded - amount) / amount;
    if rounded <= 0.0 || error.abs() > parameter::ROUNDING_WARNING.percent() {
        warnings.push(stock_instead(product.name(), amount, step, unit, rounded <= 0.0));
    }
    if rounded <= 0.0 {
        return measured; // the exact amount stands; the notice says how to reach it
    }
    let factor = rounded / amount;
    measured.mass_g = mass.map(|m| m * factor);
    measured.volume_ml = millilitres.map(|v| v * factor);
    measured.units_per_l = units_per_l * factor;
    measured.rounding = Some(Rounding { exact: amount, step, error_percent: error });
    measured
}

/// How to reach an amount the scale cannot show: a weak stock, and a volume of that.
fn stock_instead(name: &str, amount: f64, step: f64, unit: &str, nothing: bool) -> Notice {
    // So much that one step of the scale is 1 % of it.
    let weigh = 100.0 * step;
    let draw = amount / weigh * 1000.0;
    let cause = if nothing {
        format!("{amount:.3} {unit} of {name:?} is below one step of {step} {unit}")
    } else {
        format!("{amount:.3} {unit} of {name:?} is too little for steps of {step} {unit}")
    };
    Notice::new(
        NoticeCode::BelowTheScale,
        format!(
            "{cause}. Dissolve {} {unit} in water to make 1000 mL and use {draw:.1} mL of that, \
             within the day.",
            significant(weigh, 6)
        ),
    )
}

fn spoons(product: &Product, grams: f64) -> Option<Spoons> {
    let bulk = product.label().bulk_density_kg_l?;
    if product.label().form != Form::Powder {
        return None;
    }
    let ml = grams / bulk; // kg/L is g/mL
    let metric = ml / parameter::METRIC_TEASPOON.ml();
    let us = Volume::new::<milliliter>(ml).get::<teaspoon>();
    let rounded = (metric * 8.0).round() / 8.0;
    Some(Spoons {
        metric_tsp: metric,
        us_tsp: us,
        metric_tsp_rounded: rounded,
        rounding_error_percent: if metric > 0.0 {
            100.0 * (rounded - metric) / metric
        } else {
            0.0
        },
    })
}
