//! From a request to a recipe.

use super::answer::{MeterPpm, RecipeProduct, RecipeResponse, RecipeSupplement, TargetReached};
use super::blocking::blocking;
use super::case::Case;
use super::ceilings::{Ceiling, reachable};
use super::profile::{self, Brought};
use super::request::RecipeRequest;
use super::rounding::{Measured, measure};
use super::target::Target;
use super::{programme, single, warnings};
use crate::conduct::conductance_of;
use crate::notice::{Bounds, Notice};
use crate::product::{Product, conductance_bounds};
use guardcell_error::Error;
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::quantity::{ThermodynamicTemperature, in_mg_per_l, in_us_per_cm};
use guardcell_units::tds_scale::Scale;
use guardcell_units::uom::si::{
    mass::gram, thermodynamic_temperature::degree_celsius, volume::milliliter,
};

/// The amounts of the products that reach the targets in this water.
///
/// One product with one target is exact. Several of either are a convex quadratic programme:
/// relative distance from each target (from its range, where one is given) is made as small as
/// possible, no amount is negative and no ceiling is passed; `feasible` says whether every target
/// was met, `blocking` which ceiling is in the way and by how much.
///
/// # Errors
/// [`Error`] with a JSON Pointer into the request for a wrong label, water or target;
/// [`Code::Unreachable`](guardcell_error::Code::Unreachable) if no amount reaches a single
/// product's target, a litre cannot hold the amounts, or no amounts keep a ceiling.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::{Label, RecipeRequest, recipe};
/// use guardcell::solution::recipe::{BasisName, Target};
/// let label = Label::from_csv("name,n_percent,p2o5_percent,k2o_percent\nX,15,5,15\n")?.remove(0);
/// let target = Target::FeedStrength { mg_l: 300.0 };
/// let r = recipe(&RecipeRequest::single(label, 5.0, target))?;
/// assert!((r.products[0].mass_g.unwrap_or(0.0) - 1.5).abs() < 1e-9);
/// assert!((r.n_mg_l - 45.0).abs() < 1e-9);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
pub fn recipe(request: &RecipeRequest) -> Result<RecipeResponse, Error> {
    let case = Case::of(request)?;
    let ceilings = Ceiling::all(&request.ceilings);
    reachable(&case, &ceilings)?;
    let units = match (&case.products[..], &request.targets[..]) {
        ([product], [target]) if ceilings.is_empty() => {
            vec![single::units(&case, product, target)?]
        }
        _ => polished(&case, programme::solve(&case, &ceilings)?)?,
    };
    case.check_amounts(&units)?;
    let mut notices = Vec::new();
    let measured: Vec<Measured> = case
        .products
        .iter()
        .zip(&units)
        .map(|(p, u)| measure(&case, p, *u, &mut notices))
        .collect();
    let exact_met = all_met(&case, &units)?;
    let blocking = if exact_met || ceilings.is_empty() {
        Vec::new()
    } else {
        blocking(&case, &ceilings, &|x| all_met(&case, x))?
    };
    let rounded: Vec<f64> = measured.iter().map(|m| m.units_per_l).collect();
    assemble(&case, &measured, &rounded, exact_met, blocking, notices)
}

/// Drops the specks that an interior-point solver leaves of products it does not need: an amount
/// goes where omitting it moves no target by a ten-thousandth.
fn polished(case: &Case<'_>, mut units: Vec<f64>) -> Result<Vec<f64>, Error> {
    let speck = parameter::RECIPE_SPECK.percent() / 100.0;
    for i in 0..units.len() {
        guardcell_call::checkpoint();
        let mut without = units.clone();
        if let Some(u) = without.get_mut(i) {
            *u = 0.0;
        }
        let mut needed = false;
        for t in &case.request.targets {
            guardcell_call::checkpoint();
            let moved = case.figure(t, &without)? - case.figure(t, &units)?;
            needed |= moved.abs() > speck * t.wanted();
        }
        if !needed {
            units = without;
        }
    }
    Ok(units)
}

fn reached(case: &Case<'_>, target: &Target, units: &[f64]) -> Result<TargetReached, Error> {
    let figure = case.figure(target, units)?;
    let wanted = target.wanted();
    let (low, high) = target.range();
    let met = parameter::TARGET_MET.percent() / 100.0;
    Ok(TargetReached {
        target: *target,
        reached: figure,
        deviation_percent: 100.0 * (figure - wanted) / wanted,
        met: figure >= low - met * wanted && figure <= high + met * wanted,
    })
}

fn all_met(case: &Case<'_>, units: &[f64]) -> Result<bool, Error> {
    for t in &case.request.targets {
        guardcell_call::checkpoint();
        if !reached(case, t, units)?.met {
            return Ok(false);
        }
    }
    Ok(true)
}

fn assemble(
    case: &Case<'_>,
    measured: &[Measured],
    units: &[f64],
    feasible: bool,
    blocking: Vec<super::answer::Blocking>,
    mut notices: Vec<Notice>,
) -> Result<RecipeResponse, Error> {
    let targets = case
        .request
        .targets
        .iter()
        .map(|t| reached(case, t, units))
        .collect::<Result<Vec<_>, _>>()?;
    let brought = Brought::of(case, units);
    let profile_mg_l = brought.elements(&case.water.composition());
    let n_forms_mg_l = profile::nitrogen_forms(case, units);
    let (ec25_us_cm, ec_us_cm) = readings(case, units)?;
    let strengths: Vec<f64> = case
        .products
        .iter()
        .zip(units)
        .map(|(p, u)| in_mg_per_l(p.strength_of_units(*u)))
        .collect();
    let feed_ions = case.mixture(&case.mean, units) + case.water.composition() * -1.0;
    let mut assumptions = Vec::new();
    for p in &case.products {
        for a in p.assumptions() {
            let mut a = a.clone();
            if case.products.len() > 1 {
                a.message = format!("{}: {}", p.name(), a.message);
            }
            assumptions.push(a);
        }
    }
    assumptions.extend(warnings::water_assumptions(case));
    notices.extend(warnings::all(case, units, &n_forms_mg_l, feasible)?);
    let products = case
        .products
        .iter()
        .zip(measured)
        .zip(units.iter().zip(&strengths))
        .enumerate()
        .map(|(i, ((p, m), (u, s)))| RecipeProduct {
            name: p.label().name.clone(),
            mass_g: m.mass_g,
            volume_ml: m.volume_ml,
            spoons: m.spoons,
            rounding: m.rounding,
            per_litre: *u,
            feed_strength_mg_l: *s,
            share_percent: brought.shares(i),
            with: supplements(p, *u, case.request.volume_l),
        })
        .collect();
    Ok(RecipeResponse {
        target_meaning: case.request.target_meaning,
        volume_l: case.request.volume_l,
        products,
        targets,
        feed_strength_mg_l: strengths.iter().sum(),
        feed_ions_mg_l: in_mg_per_l(feed_ions.dissolved_mass()),
        n_mg_l: profile_mg_l.get("n").map_or(0.0, |n| n.from_products),
        profile_mg_l,
        n_forms_mg_l,
        ec25_us_cm,
        ec_us_cm,
        water_ec25_us_cm: case.water_ec25(),
        meter_ppm: MeterPpm {
            scale_500: ec25_us_cm.map(|k| k * Scale::S500.ppm_per_us_cm()),
            scale_640: ec25_us_cm.map(|k| k * Scale::S640.ppm_per_us_cm()),
            scale_700: ec25_us_cm.map(|k| k * Scale::S700.ppm_per_us_cm()),
        },
        feasible,
        blocking,
        assumptions,
        warnings: notices,
    })
}

/// The supplements of a product of which so many units go into each litre.
fn supplements(product: &Product, units_per_l: f64, volume_l: f64) -> Vec<RecipeSupplement> {
    product
        .beside(units_per_l * volume_l)
        .map(|(supplement, amount, mg)| RecipeSupplement {
            name: supplement.name().to_owned(),
            mass_g: amount.mass.map(|m| m.get::<gram>()),
            volume_ml: amount.volume.map(|v| v.get::<milliliter>()),
            feed_strength_mg_l: mg / volume_l,
        })
        .collect()
}

/// Conductivity at 25 °C and at the solution's temperature, with bounds.
fn readings(case: &Case<'_>, units: &[f64]) -> Result<(Bounds, Bounds), Error> {
    let known = case.products.iter().all(|p| p.ions().len() == 1);
    let sets = if known { vec![&case.mean] } else { vec![&case.least, &case.most] };
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(case.temp_c);
    let mut at_25 = Vec::new();
    let mut at_temperature = Vec::new();
    for ions in sets {
        let c = case.mixture(ions, units);
        let here = in_us_per_cm(conductance_of(&c, temperature).map_err(|e| case.outside(&e))?);
        let k25 = case.ec25(ions, units)?;
        let plain = k25 - case.water.ec_offset_us_cm();
        at_25.push(k25);
        // The water's offset was seen at 25 °C: it goes with temperature as the whole does.
        at_temperature.push(if plain > 0.0 { here * k25 / plain } else { here });
    }
    Ok((conductance_bounds(&at_25), conductance_bounds(&at_temperature)))
}
