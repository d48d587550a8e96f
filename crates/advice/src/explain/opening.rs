//! Openings as they go over the wire, and why practice takes one first.

use super::window::three_digits;
use crate::answer::PlantOpening;
use crate::moment::rfc3339;
use crate::reason::Reason;
use guardcell_clock::Opening;
use guardcell_units::uom::si::ratio::ratio;

/// Why practice ranks an opening as it does.
pub(super) fn preference(opening: &Opening) -> Reason {
    let clock = guardcell_clock::Reason::new(opening.preference.code);
    Reason::from(&clock).with("choice", opening.preference.rank)
}

pub(super) fn plant_opening(o: &Opening) -> PlantOpening {
    PlantOpening {
        start: rfc3339(&o.start),
        end: rfc3339(&o.end),
        phase: o.phase,
        probability: three_digits(o.probability.get::<ratio>()),
    }
}
