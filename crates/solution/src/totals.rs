//! Totals of a composition on the wire, by unit.

use guardcell_call::{Bound, bounds};
use guardcell_reference::{Composition, Solute, parameters::solution as data};
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::mmol_per_l;
use serde::{Deserialize, Serialize};

/// Declares the eleven totals once for each unit: type, fields, highest total, mmol for each unit.
macro_rules! totals {
    ($(#[$about:meta])* $name:ident, $unit:literal { $($(#[$doc:meta])* $field:ident: $solute:ident $g_per_mol:expr,)* }) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
        #[serde(default, deny_unknown_fields)]
        pub struct $name {
            $($(#[$doc])* pub $field: f64,)*
        }

        bounds! { $name {
            $($field: Bound::number(0.0, data::TOTAL_HIGH.mmol_per_l() * $g_per_mol, $unit),)*
        } }

        impl $name {
            /// The totals as a composition.
            pub(crate) fn composition(self) -> Composition {
                let mut out = Composition::PURE_WATER;
                $(
                    // Rounding must not carry a total that was accepted over the limit.
                    let mmol_l = (self.$field / $g_per_mol).min(data::TOTAL_HIGH.mmol_per_l());
                    out[Solute::$solute] = mmol_per_l(mmol_l);
                )*
                out
            }
        }
    };
}

totals! {
    /// Totals in mmol/L; omitted values are zero.
    IonsMmolL, "mmol/L" {
        /// Calcium.
        ca: Ca 1.0,
        /// Magnesium.
        mg: Mg 1.0,
        /// Potassium.
        k: K 1.0,
        /// Sodium.
        na: Na 1.0,
        /// Ammoniacal nitrogen, NH4 and NH3.
        nh4: Nh4 1.0,
        /// Nitrate.
        no3: No3 1.0,
        /// Total phosphate, H3PO4 to PO4.
        p: P 1.0,
        /// Sulfate.
        so4: So4 1.0,
        /// Chloride.
        cl: Cl 1.0,
        /// Total inorganic carbon, CO2, HCO3 and CO3.
        dic: Dic 1.0,
        /// Urea.
        urea: Urea 1.0,
    }
}

totals! {
    /// Totals in mg/L, each weighed as its field says; omitted values are zero.
    IonsMgL, "mg/L" {
        /// Calcium, as Ca.
        ca: Ca Solute::Ca.formula().g_per_mol(),
        /// Magnesium, as Mg.
        mg: Mg Solute::Mg.formula().g_per_mol(),
        /// Potassium, as K.
        k: K Solute::K.formula().g_per_mol(),
        /// Sodium, as Na.
        na: Na Solute::Na.formula().g_per_mol(),
        /// Ammoniacal nitrogen, as NH4.
        nh4: Nh4 Solute::Nh4.formula().g_per_mol(),
        /// Nitrate, as NO3.
        no3: No3 Solute::No3.formula().g_per_mol(),
        /// Total phosphate, as P.
        p: P Element::P.g_per_mol(),
        /// Sulfate, as SO4.
        so4: So4 Solute::So4.formula().g_per_mol(),
        /// Chloride, as Cl.
        cl: Cl Solute::Cl.formula().g_per_mol(),
        /// Total inorganic carbon, as C.
        dic: Dic Element::C.g_per_mol(),
        /// Urea, as CO(NH2)2.
        urea: Urea Solute::Urea.formula().g_per_mol(),
    }
}
