//! Files in: text within bounds; what it says is read by `guardcell-folder`.

pub(crate) mod collection;
pub(crate) mod conditions;
pub(crate) mod label;
pub(crate) mod list;
pub(crate) mod site;
pub(crate) mod text;
pub(crate) mod water;
