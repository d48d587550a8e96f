//! Dissolved species, the pairs and acids they form, and the solids they come from
//! (`data/ions.csv`, `data/complexes.csv`, `data/phases.csv`).
//!
//! The numbers are fit coefficients of published models and so are plain numbers here, with their
//! unit in the name; concentrations and temperatures computed from them are typed.
//!
//! ```
//! # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
//! use guardcell::reference::aqueous::{Component, Phase, complexes};
//! let pair = complexes().iter().find(|c| c.name == "CaSO4").unwrap();
//! assert_eq!(pair.count(Component::Ca), 1);
//! assert!((pair.log_k.at_kelvin(298.15) - 2.25).abs() < 1e-9);
//! assert_eq!(Phase::Gypsum.data().formula, "CaSO4·2H2O");
//! ```

use crate::parameters::Basis;

/// What every dissolved species is made of, besides water.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Component {
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
    /// Citrate³⁻, C6H5O7³⁻.
    Cit,
    /// PO4³⁻.
    Po4,
    /// SO4²⁻.
    So4,
    /// CO3²⁻.
    Co3,
    /// H⁺.
    H,
}

impl Component {
    /// Every component, in the order of the tables.
    pub const ALL: [Self; COMPONENT_COUNT] = [
        Self::Ca,
        Self::Mg,
        Self::K,
        Self::Na,
        Self::Nh4,
        Self::Cl,
        Self::No3,
        Self::Cit,
        Self::Po4,
        Self::So4,
        Self::Co3,
        Self::H,
    ];

    /// The free ion of the component.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::aqueous::Component;
    /// assert_eq!(Component::So4.ion().name, "SO4-2");
    /// ```
    #[must_use]
    #[inline]
    pub fn ion(self) -> &'static Ion {
        &FREE[self as usize] // one row per variant, in declaration order: the build checks it
    }
}

/// How an equilibrium constant depends on temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LogK {
    /// The value at 25 °C and a constant enthalpy.
    VantHoff {
        /// log10 K at 25 °C.
        at_25: f64,
        /// The enthalpy of the reaction, in kJ/mol.
        enthalpy_kj_mol: f64,
    },
    /// A1 + A2·T + A3/T + A4·log10 T + A5/T² + A6·T², T in kelvin.
    Analytic([f64; 6]),
}

impl LogK {
    /// log10 K at a temperature in kelvin.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::aqueous::Phase;
    /// // Plummer & Busenberg (1982): -8.48 for calcite
    /// assert!((Phase::Calcite.data().log_k.at_kelvin(298.15) + 8.48).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn at_kelvin(self, kelvin: f64) -> f64 {
        self.with_log10(kelvin, kelvin.log10())
    }

    /// As [`Self::at_kelvin`], for a caller that already has the logarithm of the temperature.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::aqueous::LogK;
    /// let k = LogK::VantHoff { at_25: 2.25, enthalpy_kj_mol: 5.5 };
    /// assert_eq!(k.with_log10(298.15, 298.15_f64.log10()), 2.25);
    /// ```
    #[must_use]
    #[inline]
    pub fn with_log10(self, kelvin: f64, log10_kelvin: f64) -> f64 {
        /// Gas constant times ln 10, in kJ/(mol·K): CODATA 2018.
        const R_LN10: f64 = 8.314_462_618e-3 * core::f64::consts::LN_10;
        match self {
            Self::VantHoff { at_25, enthalpy_kj_mol } => {
                at_25 + enthalpy_kj_mol / R_LN10 * (1.0 / 298.15 - 1.0 / kelvin)
            }
            Self::Analytic([a1, a2, a3, a4, a5, a6]) => {
                a1 + kelvin * (a2 + a6 * kelvin) + (a3 + a5 / kelvin) / kelvin + a4 * log10_kelvin
            }
        }
    }
}

/// Which expression gives the activity coefficient of a species.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Activity {
    /// log γ = b·I, for uncharged species.
    Neutral {
        /// The coefficient, in kg/mol.
        b_kg_mol: f64,
    },
    /// Davies (1962): log γ = −A z² (√I/(1+√I) − 0.3 I).
    Davies,
    /// Truesdell & Jones (1974): log γ = −A z² √I/(1 + B a √I) + b·I.
    Extended {
        /// The ion-size parameter, in ångström.
        a_angstrom: f64,
        /// The linear coefficient, in kg/mol.
        b_kg_mol: f64,
    },
}

/// How a charged species moves in an electric field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transport {
    /// Limiting conductance of an equivalent at 25 °C, in S·cm²/mol.
    pub conductance_25_s_cm2_mol: f64,
    /// The lowest value that a cited work gives for it.
    pub low_s_cm2_mol: f64,
    /// The highest value that a cited work gives for it.
    pub high_s_cm2_mol: f64,
    /// The constant d of λ0 = λ0(25 °C)·exp(d·x + e·x² + f·x³)·η25/η with x = 1/T − 1/298.15,
    /// in kelvin (e and f are the same for all ions, parameters of `data/solution.csv`).
    pub diffusion_temp_k: f64,
    /// The ion size in the Onsager correction, in ångström, where one was fitted.
    pub onsager_a_angstrom: Option<f64>,
}

/// A free ion, or another species whose movement or volume is known.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Ion {
    /// The species, such as `Ca+2`.
    pub name: &'static str,
    /// Its charge number.
    pub charge: i32,
    /// Its activity coefficient.
    pub activity: Activity,
    /// Its movement, none for uncharged species.
    pub transport: Option<Transport>,
    /// Partial molar volume at infinite dilution and 25 °C, in cm³/mol, where used.
    pub volume_cm3_mol: Option<f64>,
    /// What the row rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

/// An ion pair, acid or base formed from components.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Complex {
    /// The species, such as `CaHCO3+`.
    pub name: &'static str,
    /// Its charge number.
    pub charge: i32,
    /// How many of each component it is formed from, in the order of [`Component::ALL`].
    pub components: [i32; COMPONENT_COUNT],
    /// How many waters it is formed from.
    pub water: i32,
    /// The constant of its formation.
    pub log_k: LogK,
    /// Its activity coefficient.
    pub activity: Activity,
    /// Its movement, none where uncharged or not known.
    pub transport: Option<Transport>,
    /// What the row rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

impl Complex {
    /// How many of one component it is formed from.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::aqueous::{Component, complexes};
    /// let acid = complexes().iter().find(|c| c.name == "H2PO4-").unwrap();
    /// assert_eq!(acid.count(Component::H), 2);
    /// ```
    #[must_use]
    pub const fn count(&self, component: Component) -> i32 {
        self.components[component as usize]
    }
}

/// A solid or gas and the equilibrium of its dissolution.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct PhaseData {
    /// The key on the wire, such as `calcite`.
    pub key: &'static str,
    /// The name for people.
    pub name: &'static str,
    /// The formula.
    pub formula: &'static str,
    /// What it dissolves to, in the order of [`Component::ALL`].
    pub components: [i32; COMPONENT_COUNT],
    /// How many waters are set free.
    pub water: i32,
    /// The constant of its dissolution.
    pub log_k: LogK,
    /// What the row rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/aqueous.rs"));

impl Phase {
    /// The row of the table.
    ///
    /// ```
    /// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
    /// use guardcell::reference::aqueous::Phase;
    /// assert_eq!(Phase::Struvite.data().formula, "MgNH4PO4·6H2O");
    /// ```
    #[must_use]
    #[inline]
    pub fn data(self) -> &'static PhaseData {
        &PHASES[self as usize] // one row per variant, in declaration order
    }
}

/// How many components there are.
pub const COMPONENT_COUNT: usize = 12;

/// How many complexes the table holds.
pub const COMPLEX_COUNT: usize = COMPLEXES.len();

/// Every complex of the table.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::aqueous::complexes().iter().any(|c| c.name == "MgSO4"));
/// ```
#[must_use]
#[inline]
pub fn complexes() -> &'static [Complex; COMPLEX_COUNT] {
    &COMPLEXES
}

/// Every row of `data/ions.csv`.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::aqueous::ions().iter().any(|i| i.name == "K+"));
/// ```
#[must_use]
pub fn ions() -> &'static [Ion] {
    IONS
}

/// The row of `data/ions.csv` with this name.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert_eq!(guardcell::reference::aqueous::ion("HCO3-").unwrap().charge, -1);
/// assert!(guardcell::reference::aqueous::ion("Xx").is_none());
/// ```
#[must_use]
pub fn ion(name: &str) -> Option<&'static Ion> {
    IONS.iter().find(|i| i.name == name)
}
