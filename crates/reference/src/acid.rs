//! The acids that growers use against alkalinity.

use guardcell_units::atomic_weight::Element;
use guardcell_units::formula::Formula;

/// One acid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Acid {
    /// Its name, lower case.
    pub name: &'static str,
    /// Its formula, from which its mass and the nutrient it adds follow.
    pub formula: Formula,
    /// The pK of each proton at 25 °C and infinite dilution, the strongest first.
    pub pk: &'static [f64],
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/acids.rs"));

/// The acid of this name.
///
/// ```
/// let a = guardcell_reference::acid::acid("sulfuric").unwrap();
/// assert_eq!(a.pk.len(), 2);
/// ```
#[must_use]
pub fn acid(name: &str) -> Option<&'static Acid> {
    ACIDS.iter().find(|a| a.name == name)
}
