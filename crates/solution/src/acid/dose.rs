//! How much acid reaches a target, and what the treated water can lay down.

use crate::notice::{Notice, NoticeCode};
use crate::speciation::closed::{Closed, root};
use crate::speciation::solve::{Solved, too_concentrated};
use guardcell_error::Error;
use guardcell_reference::acid::Acid;
use guardcell_reference::aqueous::{Component, Phase};
use guardcell_reference::parameters::solution as parameter;

/// The water with `mol_kg` of the acid.
pub(super) fn treat(water: &Closed, acid: &Acid, mol_kg: f64) -> Closed {
    water.with(acid.ligand, mol_kg).with(Component::H, mol_kg * f64::from(acid.protons))
}

/// mol of acid per kg of water that bring it to a pH below its own.
pub(super) fn to_ph(water: &Closed, acid: &Acid, ph: f64) -> Result<f64, Error> {
    until(|dose| treat(water, acid, dose).acid_to(ph))
}

/// mol of acid per kg of water that leave an alkalinity, in eq/kg, below its own.
pub(super) fn to_alkalinity(water: &Closed, acid: &Acid, left: f64) -> Result<f64, Error> {
    until(|dose| Ok(treat(water, acid, dose).alkalinity()? - left))
}

/// The dose at which a quantity that falls with the dose reaches zero.
fn until(short: impl Fn(f64) -> Result<f64, Error>) -> Result<f64, Error> {
    let mut short = short;
    let mut high = short(0.0)?.max(1e-7);
    while short(high)? > 0.0 {
        high *= 2.0;
        if high > 10.0 {
            return Err(too_concentrated());
        }
    }
    root(0.0, high, &mut short)
}

/// Solids that acid can bring about, with the saturation index from which they are warned of.
const SOLIDS: [(Phase, &str, f64); 2] = [
    (Phase::Gypsum, "gypsum (calcium sulfate)", parameter::PRECIPITATION_GYPSUM.number()),
    (Phase::Brushite, "calcium phosphate (brushite)", parameter::PRECIPITATION_BRUSHITE.number()),
];

/// Solids that the treated water can lay down at once, or after its CO2 has left.
pub(super) fn solids(mixed: &Solved, rest: &Solved) -> Vec<Notice> {
    let mut list = Vec::new();
    for (phase, name, limit) in SOLIDS {
        let index = |s: &Solved| s.saturation(phase).filter(|index| *index > limit);
        let (when, state) = if index(mixed).is_some() {
            ("at once", mixed)
        } else {
            ("once the CO2 has left", rest)
        };
        if let Some(found) = index(state) {
            list.push(
                Notice::new(
                    NoticeCode::Precipitation,
                    format!(
                        "The treated water is supersaturated with {name} {when} (saturation index \
                         {found:.2} at pH {:.1}): it may turn cloudy or scale. Use it fresh, add \
                         less, take another acid, or blend with softer water.",
                        state.ph()
                    ),
                )
                .with_sources(phase.data().sources),
            );
        }
    }
    list
}
