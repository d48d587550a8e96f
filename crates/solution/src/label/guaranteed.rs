//! The guaranteed analysis: its figures, declared once.

#[cfg(feature = "schema")]
use super::number::LenientNumber;
use super::number::lenient_number;
use guardcell_call::{Bound, bounds};
use serde::{Deserialize, Serialize};

/// Declares the figures: fields of the type, columns of a table, bounds.
macro_rules! guaranteed {
    ($($(#[$doc:meta])* $field:ident,)*) => {
        /// The guaranteed analysis, in percent. Each nutrient may be given as the oxide or as the
        /// element, and the field name says which; where both are given they must agree.
        #[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
        #[serde(deny_unknown_fields, default)]
        pub struct Guaranteed {
            $(
                $(#[$doc])*
                #[serde(
                    deserialize_with = "lenient_number",
                    skip_serializing_if = "Option::is_none"
                )]
                #[cfg_attr(feature = "schema", schemars(with = "Option<LenientNumber>"))]
                pub $field: Option<f64>,
            )*
        }

        bounds! { Guaranteed { $($field: Bound::number(0.0, 100.0, "%"),)* } }

        impl Guaranteed {
            /// The figure with the name of its field, such as `n_percent`.
            pub(super) fn field_mut(&mut self, name: &str) -> Option<&mut Option<f64>> {
                match name {
                    $(stringify!($field) => Some(&mut self.$field),)*
                    _ => None,
                }
            }
        }
    };
}

guaranteed! {
    /// Total nitrogen, % N. May be omitted if all its forms are given.
    n_percent,
    /// Nitrate nitrogen, % N.
    nitrate_n_percent,
    /// Ammoniacal nitrogen, % N.
    ammoniacal_n_percent,
    /// Urea (ureic) nitrogen, % N.
    urea_n_percent,
    /// Nitrogen in other forms (organic, amino acids, other water-soluble), % N.
    other_n_percent,
    /// Available phosphate, % P2O5.
    p2o5_percent,
    /// Phosphorus on the elemental basis, % P.
    p_percent,
    /// Soluble potash, % K2O.
    k2o_percent,
    /// Potassium on the elemental basis, % K.
    k_percent,
    /// Calcium, % Ca.
    ca_percent,
    /// Calcium oxide, % CaO.
    cao_percent,
    /// Magnesium, % Mg.
    mg_percent,
    /// Magnesium oxide, % MgO.
    mgo_percent,
    /// Sulfur, % S.
    s_percent,
    /// Sulfur trioxide, % SO3.
    so3_percent,
    /// Sodium, % Na.
    na_percent,
    /// Sodium oxide, % Na2O.
    na2o_percent,
    /// Chloride, % Cl.
    cl_percent,
    /// Boron, % B.
    b_percent,
    /// Cobalt, % Co.
    co_percent,
    /// Copper, % Cu.
    cu_percent,
    /// Iron, % Fe.
    fe_percent,
    /// Manganese, % Mn.
    mn_percent,
    /// Molybdenum, % Mo.
    mo_percent,
    /// Zinc, % Zn.
    zn_percent,
    /// Silicon, % Si.
    si_percent,
    /// Silicon dioxide, % SiO2.
    sio2_percent,
}
