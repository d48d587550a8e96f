//! Files in: text within bounds, tables with a place for every fault.

pub(crate) mod collection;
pub(crate) mod conditions;
pub(crate) mod label;
pub(crate) mod site;
pub(crate) mod table;
pub(crate) mod text;
pub(crate) mod water;
