//! What is dissolved in a spray, on the wire.

use crate::bound::AMOUNT;
use guardcell_call::{Bounded, bounds};
use guardcell_error::Error;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::{in_mmol_per_l, mmol_per_l};
use serde::{Deserialize, Serialize};

macro_rules! dissolved {
    ($($(#[$doc:meta])* $field:ident: $solute:ident;)*) => {
        /// What is dissolved in the spray, as analytical totals; omitted values are zero.
        #[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
        #[serde(rename_all = "snake_case", deny_unknown_fields, default)]
        pub struct Dissolved {
            $($(#[$doc])* pub $field: f64,)*
        }

        bounds! { Dissolved { $($field: AMOUNT,)* } }

        impl Dissolved {
            /// The composition, checked: each amount from 0 to 1000 mmol/L.
            ///
            /// # Errors
            /// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) with the pointer of the first
            /// amount that is not.
            ///
            /// ```
            /// # mod guardcell { pub mod film { pub use guardcell_film::*; } }
            /// use guardcell::film::Dissolved;
            /// let wrong = Dissolved { ca_mmol_l: -1.0, ..Dissolved::default() };
            /// assert_eq!(wrong.composition().unwrap_err().pointer(), "/ca_mmol_l");
            /// ```
            pub fn composition(&self) -> Result<Composition, Error> {
                self.check_bounds()?;
                let mut c = Composition::PURE_WATER;
                $(c[Solute::$solute] = mmol_per_l(self.$field);)*
                Ok(c)
            }
        }

        impl From<&Composition> for Dissolved {
            fn from(c: &Composition) -> Self {
                Self { $($field: in_mmol_per_l(c[Solute::$solute]),)* }
            }
        }
    };
}

dissolved! {
    /// Calcium in mmol/L.
    ca_mmol_l: Ca;
    /// Magnesium in mmol/L.
    mg_mmol_l: Mg;
    /// Potassium in mmol/L.
    k_mmol_l: K;
    /// Sodium in mmol/L.
    na_mmol_l: Na;
    /// Ammoniacal nitrogen in mmol/L.
    nh4_mmol_l: Nh4;
    /// Nitrate in mmol/L.
    no3_mmol_l: No3;
    /// Orthophosphate in mmol/L of P.
    p_mmol_l: P;
    /// Sulfate in mmol/L.
    so4_mmol_l: So4;
    /// Chloride in mmol/L.
    cl_mmol_l: Cl;
    /// Dissolved inorganic carbon (CO2, HCO3⁻, CO3²⁻) in mmol/L.
    dic_mmol_l: Dic;
    /// Urea in mmol/L of CO(NH2)2.
    urea_mmol_l: Urea;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_composition_comes_back() {
        let d = Dissolved {
            ca_mmol_l: 1.5,
            dic_mmol_l: 3.0,
            urea_mmol_l: 0.25,
            ..Dissolved::default()
        };
        assert_eq!(Dissolved::from(&d.composition().expect("valid")), d);
    }
}
