//! Ion interactions and solids of concentrated stocks (`data/pitzer.csv`, `data/pitzer_solids.csv`
//! and the salts of `data/salts.csv`), for the equations of Pitzer as Harvie, Møller and Weare
//! (1984) write them.
//!
//! ```
//! # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
//! use guardcell::reference::pitzer::{BrineIon, binary, solids};
//! let kcl = binary(BrineIon::K, BrineIon::Cl).expect("in the table");
//! assert!((kcl.terms[0].at_kelvin(298.15) - 0.04808).abs() < 1e-9);
//! assert!(solids().iter().any(|s| s.key == "arcanite"));
//! ```

use crate::aqueous::LogK;
use crate::parameters::Basis;

/// An ion of the model.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum BrineIon {
    /// Ca²⁺.
    Ca,
    /// Mg²⁺.
    Mg,
    /// K⁺.
    K,
    /// Na⁺.
    Na,
    /// NH4⁺.
    Nh4,
    /// Cl⁻.
    Cl,
    /// NO3⁻.
    No3,
    /// H2PO4⁻.
    H2po4,
    /// HPO4²⁻.
    Hpo4,
    /// SO4²⁻.
    So4,
}

/// How many ions the model has.
pub const ION_COUNT: usize = 10;

impl BrineIon {
    /// Every ion, cations first, in the order of the tables.
    pub const ALL: [Self; ION_COUNT] = [
        Self::Ca,
        Self::Mg,
        Self::K,
        Self::Na,
        Self::Nh4,
        Self::Cl,
        Self::No3,
        Self::H2po4,
        Self::Hpo4,
        Self::So4,
    ];

    /// The charge number.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// assert_eq!(guardcell::reference::pitzer::BrineIon::So4.charge(), -2);
    /// ```
    #[must_use]
    pub const fn charge(self) -> i32 {
        match self {
            Self::Ca | Self::Mg => 2,
            Self::K | Self::Na | Self::Nh4 => 1,
            Self::Cl | Self::No3 | Self::H2po4 => -1,
            Self::Hpo4 | Self::So4 => -2,
        }
    }
}

/// A coefficient over temperature: c0 + c1(1/T − 1/T0) + c2 ln(T/T0) + c3(T − T0) + c4(T² − T0²)
/// + c5(1/T² − 1/T0²), T in kelvin and T0 = 298.15 K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Series(pub(crate) [f64; 6]);

impl Series {
    /// The coefficient at a temperature in kelvin.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::pitzer::{BrineIon, binary};
    /// let b = binary(BrineIon::K, BrineIon::So4).expect("in the table");
    /// assert!(b.terms[0].at_kelvin(278.15) < b.terms[0].at_kelvin(298.15));
    /// ```
    #[must_use]
    pub fn at_kelvin(self, t: f64) -> f64 {
        const T0: f64 = 298.15;
        let [at_25, inverse, logarithm, linear, square, inverse_square] = self.0;
        at_25
            + inverse * (1.0 / t - 1.0 / T0)
            + logarithm * (t / T0).ln()
            + linear * (t - T0)
            + square * (t * t - T0 * T0)
            + inverse_square * (1.0 / (t * t) - 1.0 / (T0 * T0))
    }
}

/// The interaction of a cation with an anion.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Binary {
    cation: usize,
    anion: usize,
    /// β0, β1, β2 and Cφ.
    pub terms: [Series; 4],
    /// The molality of the salt up to which the terms were fitted, mol/kg, where stated.
    pub max_mol_kg: Option<f64>,
    /// What the row rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

/// The interaction of ions of one sign: θ of two, or ψ of two with one of the other sign.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Mixing {
    /// Places of the ions in [`BrineIon::ALL`]; θ repeats the second.
    pub ions: [usize; 3],
    /// The value.
    pub value: Series,
    /// What the row rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

/// Where the constant of a solid comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SolidConstant {
    /// A published expression.
    LogK(LogK),
    /// The solubility of this material alone ([`crate::solubility`]), with the activities of the
    /// model itself.
    Solubility(&'static str),
    /// Both, where they differ and neither is known to be right.
    Both(LogK, &'static str),
}

/// A solid that a stock can lay down.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Solid {
    /// The key on the wire, such as `arcanite`.
    pub key: &'static str,
    /// The name for people.
    pub name: &'static str,
    /// The formula.
    pub formula: &'static str,
    /// How many of each ion it dissolves to, in the order of [`BrineIon::ALL`].
    pub ions: [i32; ION_COUNT],
    /// How many waters are set free.
    pub water: i32,
    /// Its constant.
    pub constant: SolidConstant,
    /// What the row rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/pitzer.rs"));

/// The interaction of a cation with an anion; none where no parameters are published.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::pitzer::{BrineIon, binary};
/// assert!(binary(BrineIon::Nh4, BrineIon::No3).is_some());
/// assert!(binary(BrineIon::Ca, BrineIon::Hpo4).is_none());
/// ```
#[must_use]
pub fn binary(cation: BrineIon, anion: BrineIon) -> Option<&'static Binary> {
    BINARIES.iter().find(|b| b.cation == cation as usize && b.anion == anion as usize)
}

/// Every θ of the table.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::pitzer::thetas().len() > 5);
/// ```
#[must_use]
pub fn thetas() -> &'static [Mixing] {
    THETAS
}

/// Every ψ of the table.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::pitzer::psis().len() > 10);
/// ```
#[must_use]
pub fn psis() -> &'static [Mixing] {
    PSIS
}

/// Every solid of the table.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::pitzer::solids().iter().any(|s| s.key == "epsomite"));
/// ```
#[must_use]
pub fn solids() -> &'static [Solid] {
    SOLIDS
}
