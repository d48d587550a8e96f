//! What a product's label says: the guaranteed analysis, what it is derived from, its density.

mod analysis;
mod check;
mod csv;
mod density;
mod guaranteed;
mod json;
mod number;
mod product_label;
mod read;
mod text;
mod toml;
mod wording;

pub(crate) use analysis::{Analysis, ELEMENTS, element_key};
pub use guaranteed::Guaranteed;
pub use product_label::{Form, Label, PercentOf, Supplement};
