//! What a reader should know about an equilibrium before trusting it.

use guardcell_reference::parameters::solution as data;

/// A doubt about an answer, with the numbers it rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Warning {
    /// The ionic strength is beyond the range of the activity coefficients.
    IonicStrength {
        /// The ionic strength, in mol/kg.
        mol_kg: f64,
    },
    /// The pH from the charge balance is not one that feeds or waters have.
    PhFromBalance {
        /// The pH.
        ph: f64,
    },
    /// At the measured pH, cations and anions do not balance.
    Imbalance {
        /// (cations − anions)/(cations + anions), in per cent.
        percent: f64,
    },
    /// Urea is dissolved, which carries no charge.
    Urea {
        /// Its concentration, in mmol/L.
        mmol_l: f64,
    },
}

impl core::fmt::Display for Warning {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::IonicStrength { mol_kg } => write!(
                f,
                "ionic strength {mol_kg:.2} mol/kg: the activity coefficients hold to {} mol/kg",
                data::IONIC_STRENGTH_VALID.mol_per_kg()
            ),
            Self::PhFromBalance { ph } => {
                let (more, less) =
                    if *ph > 7.0 { ("cations", "an anion") } else { ("anions", "a cation") };
                write!(
                    f,
                    "pH {ph:.2} follows from more {more} than their opposites: unless a strong \
                     acid or base is meant, {less} is missing or a total is wrong"
                )
            }
            Self::Imbalance { percent } => write!(
                f,
                "charges are out of balance by {percent:.1} % at the pH given: {} are missing or \
                 a total is wrong",
                if *percent > 0.0 { "anions" } else { "cations" }
            ),
            Self::Urea { mmol_l } => write!(
                f,
                "{mmol_l:.3} mmol/L of urea carries no charge: neither the conductivity here nor \
                 a meter sees it"
            ),
        }
    }
}
