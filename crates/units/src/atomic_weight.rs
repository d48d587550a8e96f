//! Abridged standard atomic weights of IUPAC 2021, from which every formula mass is computed.
//!
//! Source: Prohaska, T. et al. (2022) Standard atomic weights of the elements 2021 (IUPAC
//! Technical Report). Pure Appl. Chem. 94: 573–600, table 2. DOI 10.1515/pac-2019-0603.

/// One of the elements that feeds, waters and salts of plant care contain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the variants are the chemical symbols")]
pub enum Element {
    H,
    B,
    C,
    N,
    O,
    F,
    Na,
    Mg,
    Al,
    Si,
    P,
    S,
    Cl,
    K,
    Ca,
    Mn,
    Fe,
    Co,
    Ni,
    Cu,
    Zn,
    Mo,
}

impl Element {
    /// The abridged standard atomic weight, in g/mol.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::atomic_weight::Element;
    /// assert_eq!(Element::N.g_per_mol(), 14.007);
    /// ```
    #[must_use]
    pub const fn g_per_mol(self) -> f64 {
        match self {
            Self::H => 1.0080,
            Self::B => 10.81,
            Self::C => 12.011,
            Self::N => 14.007,
            Self::O => 15.999,
            Self::F => 18.998,
            Self::Na => 22.990,
            Self::Mg => 24.305,
            Self::Al => 26.982,
            Self::Si => 28.085,
            Self::P => 30.974,
            Self::S => 32.06,
            Self::Cl => 35.45,
            Self::K => 39.098,
            Self::Ca => 40.078,
            Self::Mn => 54.938,
            Self::Fe => 55.845,
            Self::Co => 58.933,
            Self::Ni => 58.693,
            Self::Cu => 63.546,
            Self::Zn => 65.38,
            Self::Mo => 95.95,
        }
    }
}
