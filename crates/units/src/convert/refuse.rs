//! Conversions that are refused, and why.

use crate::basis::BasisInfo;
use crate::fault;
use crate::text::{Quantity, Target};
use guardcell_error::Error;

pub(super) fn refuse(q: &Quantity, t: &Target, why: &str, hint: &str) -> Error {
    fault::not_convertible(&q.rounded(), &t.words(), why, hint)
}

/// Two kinds that have nothing to do with each other.
pub(super) fn other_kind(q: &Quantity, t: &Target) -> Error {
    let why = format!(
        "the first is {}, the second {}",
        q.dimension().with_article(),
        t.dimension().with_article()
    );
    refuse(q, t, &why, "convert to a unit of the same kind")
}

/// Between feed strength, EC and a nutrient only the product tells.
pub(super) fn needs_product(q: &Quantity, t: &Target) -> Error {
    refuse(
        q,
        t,
        "which salts a feed holds decides how well it conducts and how much of it is one nutrient, \
         so this needs the product",
        "use a recipe with the product's label: it gives ppm of each nutrient, feed strength and \
         what the meter will read side by side",
    )
}

/// Two nutrients that are not the same.
pub(super) fn analytes(q: &Quantity, t: &Target, a: &BasisInfo, b: &BasisInfo) -> Error {
    let why = format!("{} is {}, {} is {}", a.symbol, a.analyte, b.symbol, b.analyte);
    refuse(q, t, &why, "convert to a basis of the same nutrient or ion")
}

/// Hardness and alkalinity.
pub(super) fn hardness_is_not_alkalinity(q: &Quantity, t: &Target) -> Error {
    refuse(
        q,
        t,
        "hardness is the calcium and magnesium of a water, alkalinity the acid it neutralises; a \
         softened water has alkalinity without hardness",
        "read both from the water report, or test both",
    )
}

pub(super) fn no_basis(q: &Quantity, examples: &str) -> Error {
    fault::no_basis(&q.rounded(), examples)
}
