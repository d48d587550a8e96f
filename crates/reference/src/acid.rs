//! The acids that growers use against alkalinity.

use crate::aqueous::Component;
use guardcell_units::atomic_weight::Element;
use guardcell_units::formula::Formula;

/// One acid.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Acid {
    /// Its name, lower case.
    pub name: &'static str,
    /// Its formula, from which its mass and the nutrient it adds follow.
    pub formula: Formula,
    /// The anion it leaves when all its protons are gone; how many it gives up at a pH follows
    /// from the complexes of that anion (`data/complexes.csv`).
    pub ligand: Component,
    /// How many protons it holds besides that anion.
    pub protons: u8,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/acids.rs"));

/// The acid of this name.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// let a = guardcell::reference::acid::acid("sulfuric").unwrap();
/// assert_eq!(a.protons, 2);
/// ```
#[must_use]
pub fn acid(name: &str) -> Option<&'static Acid> {
    ACIDS.iter().find(|a| a.name == name)
}
