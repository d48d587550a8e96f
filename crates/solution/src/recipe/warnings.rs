//! What a reader should know before mixing.

use super::answer::NitrogenForms;
use super::case::Case;
use super::request::{Target, TargetMeaning};
use crate::conduct::precipitates;
use crate::error::SolutionError;
use crate::meter::urea_notice;
use crate::notice::Notice;
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::quantity::{ThermodynamicTemperature, in_mg_per_l};
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

pub(super) fn all(
    case: &Case<'_>,
    units: &[f64],
    forms: &NitrogenForms,
    feasible: bool,
) -> Result<Vec<Notice>, SolutionError> {
    let mut list = Vec::new();
    if forms.urea > 0.0 {
        list.push(urea_notice(forms.urea, super::solve::total(forms)));
    }
    if !feasible {
        list.push(Notice::new(
            "targets-not-met",
            "No mixture of these products meets every target within the ceilings; this is the \
             nearest. Drop a target, give it a range, or add a product.",
        ));
    }
    let strength: f64 =
        case.products.iter().zip(units).map(|(p, u)| in_mg_per_l(p.strength_of_units(*u))).sum();
    if strength > parameter::STRENGTH_VALIDITY.value {
        list.push(Notice::new(
            "above-validity",
            format!(
                "{strength:.0} mg/L is a stock, not a feed: EC and precipitation are less certain \
                 above {:.0} mg/L.",
                parameter::STRENGTH_VALIDITY.value
            ),
        ));
    }
    for (p, _) in case.products.iter().zip(units).filter(|(_, u)| **u > 0.0) {
        match p.label().foliar {
            Some(false) => list.push(Notice::new(
                "not-for-leaves",
                format!("The label of {:?} does not allow use on leaves.", p.name()),
            )),
            None => list.push(Notice::new(
                "leaves-not-stated",
                format!(
                    "The label of {:?} does not say whether it may be used on leaves.",
                    p.name()
                ),
            )),
            Some(true) => {}
        }
        if let Some(s) = &p.label().shelf {
            list.push(Notice::new("shelf", format!("{}: {s}", p.name())));
        }
    }
    if case.request.target_meaning == TargetMeaning::Total
        && case.request.targets.iter().any(|t| matches!(t, Target::FeedStrength { .. }))
    {
        list.push(Notice::new(
            "feed-strength-never-counts-water",
            "Feed strength counts what comes from the feed alone, also where targets are totals.",
        ));
    }
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(case.temp_c);
    let mixture = case.mixture(&case.mean, units);
    list.extend(precipitates(&mixture, temperature)?);
    Ok(list)
}

/// What the water's completion assumed, as one notice.
pub(super) fn water_assumptions(case: &Case<'_>) -> Option<Notice> {
    let assumed = case.water.assumed();
    if assumed.is_empty() {
        return None;
    }
    Some(Notice::new(
        "water-figures-assumed",
        format!("Not in the water report and assumed: {}.", crate::water::in_words(assumed)),
    ))
}
