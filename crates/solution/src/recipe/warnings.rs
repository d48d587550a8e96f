//! What a reader should know before mixing.

use super::answer::NitrogenForms;
use super::case::Case;
use super::request::TargetMeaning;
use super::target::Target;
use crate::conduct::precipitates;
use crate::meter::urea_notice;
use crate::notice::{Notice, NoticeCode};
use guardcell_error::Error;
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::quantity::{ThermodynamicTemperature, in_mg_per_l};
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

pub(super) fn all(
    case: &Case<'_>,
    units: &[f64],
    forms: &NitrogenForms,
    feasible: bool,
) -> Result<Vec<Notice>, Error> {
    let mut list = Vec::new();
    if forms.urea > 0.0 {
        list.push(urea_notice(forms.urea, forms.total()));
    }
    if !feasible {
        list.push(Notice::new(
            NoticeCode::TargetsNotMet,
            "No mixture of these products meets every target within the ceilings; this is the \
             nearest. Drop a target, give it a range, or add a product.",
        ));
    }
    let strength: f64 =
        case.products.iter().zip(units).map(|(p, u)| in_mg_per_l(p.strength_of_units(*u))).sum();
    if strength > parameter::STRENGTH_VALIDITY.mg_per_l() {
        list.push(Notice::new(
            NoticeCode::AboveValidity,
            format!(
                "{strength:.0} mg/L is a stock, not a feed: EC and precipitation are less certain \
                 above {:.0} mg/L.",
                parameter::STRENGTH_VALIDITY.mg_per_l()
            ),
        ));
    }
    let used = case.products.iter().zip(units).filter(|(_, u)| **u > 0.0);
    for p in used.flat_map(|(p, _)| core::iter::once(p).chain(p.beside(1.0).map(|(p, ..)| p))) {
        let name = &p.label().name;
        match p.label().foliar {
            Some(false) => list.push(Notice::new(
                NoticeCode::NotForLeaves,
                format!("The label of {name:?} does not allow use on leaves."),
            )),
            None => list.push(Notice::new(
                NoticeCode::LeavesNotStated,
                format!("The label of {name:?} does not say whether it may be used on leaves."),
            )),
            Some(true) => {}
        }
        if let Some(s) = &p.label().shelf {
            list.push(Notice::new(NoticeCode::Shelf, format!("{name}: {s}")));
        }
    }
    if case.request.target_meaning == TargetMeaning::Total
        && case.request.targets.iter().any(|t| matches!(t, Target::FeedStrength { .. }))
    {
        list.push(Notice::new(
            NoticeCode::FeedStrengthNeverCountsWater,
            "Feed strength counts what comes from the feed alone, also where targets are totals.",
        ));
    }
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(case.temp_c);
    let mixture = case.mixture(&case.mean, units);
    list.extend(precipitates(&mixture, temperature).map_err(|e| case.outside(&e))?);
    Ok(list)
}

/// What the water's completion assumed, as one notice.
pub(super) fn water_assumptions(case: &Case<'_>) -> Option<Notice> {
    let assumed = case.water.assumed();
    if assumed.is_empty() {
        return None;
    }
    Some(Notice::new(
        NoticeCode::WaterFiguresAssumed,
        format!("Not in the water report and assumed: {}.", crate::water::in_words(assumed)),
    ))
}
