//! The materials that labels name after "derived from", with the ions each dissolves into.

use crate::composition::Solute;
use guardcell_units::atomic_weight::Element;
use guardcell_units::formula::Formula;
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// What kind of material it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MaterialKind {
    /// A salt of major ions.
    Salt,
    /// A substance that dissolves as molecules.
    Molecule,
    /// An acid.
    Acid,
    /// A chelated trace element. Neither the chelating ion nor its sodium is counted among the
    /// ions of a solution: their charges cancel.
    Chelate,
    /// A salt of a trace element. Neither the element nor its counter-ion is counted among the
    /// ions of a solution: their charges cancel.
    Trace,
}

/// One material.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Material {
    /// Its name, lower case.
    pub name: &'static str,
    /// Other names, lower case. A trade term that covers several materials (ammonium phosphate)
    /// is an alias of each.
    pub aliases: &'static [&'static str],
    /// The formula as text.
    pub formula_text: &'static str,
    /// The formula, crystal water included.
    pub formula: Formula,
    /// What kind it is.
    pub kind: MaterialKind,
    /// How many of each of [`Solute::ALL`] one formula unit holds.
    pub ions: [u16; 11],
    /// Keys of the works the composition is from; empty where from memory.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/materials.rs"));

impl Material {
    /// How many of `solute` one formula unit gives.
    #[must_use]
    pub fn ion(&self, solute: Solute) -> u16 {
        self.ions[solute as usize] // one slot per variant, in declaration order
    }
}

/// Every material.
#[must_use]
pub fn materials() -> &'static [Material] {
    MATERIALS
}

/// The materials a name on a label may mean, one or several; none where it is not in the table.
/// Spelling variants (sulphate, hyphens, capitals, brackets, "mono-") are taken as the same.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::material::materials_named;
/// assert_eq!(materials_named("Potassium Nitrate").len(), 1);
/// assert_eq!(materials_named("ammonium phosphate").len(), 2);
/// assert_eq!(materials_named("Magnesium Sulphate")[0].name, "magnesium sulfate");
/// assert!(materials_named("kelp").is_empty());
/// ```
#[must_use]
pub fn materials_named(name: &str) -> Vec<&'static Material> {
    static BY_NAME: LazyLock<BTreeMap<String, Vec<&'static Material>>> = LazyLock::new(|| {
        let mut all: BTreeMap<String, Vec<&'static Material>> = BTreeMap::new();
        for m in MATERIALS {
            for name in [m.name, m.formula_text].iter().chain(m.aliases) {
                let known = all.entry(normal(name)).or_default();
                if !known.contains(&m) {
                    known.push(m);
                }
            }
        }
        all
    });
    BY_NAME.get(&normal(name)).cloned().unwrap_or_default()
}

/// A name without case, punctuation, spaces and British spelling.
fn normal(name: &str) -> String {
    let plain: String = name.to_lowercase().chars().filter(char::is_ascii_alphanumeric).collect();
    plain.replace("sulph", "sulf")
}
