//! Sourced reference data of plant feeding, compiled in.
//!
//! The tables live in `data/` of the repository as CSV; the build checks them and compiles them
//! to static tables, so nothing is parsed or allocated when a program starts.
//!
//! [`resolve`] takes a plant name as people write it to a [`Taxon`] and its [`Trait`]: when its
//! stomata open, what its leaf is like, how well that is known, and who found it out.
//! [`report()`] gives the same as a wire type.

pub mod acid;
pub mod aqueous;
pub mod calls;
pub mod composition;
pub mod darwin_core;
mod fold;
mod genus;
mod leaf_rule;
pub mod material;
mod misspelling;
mod name;
mod osa;
pub mod parameters;
mod query;
pub mod report;
mod resolve;
pub mod salts;
mod says;
pub mod search;
pub mod solubility;
pub mod source;
mod species;
mod traits;

pub use composition::{Composition, Solute};
pub use genus::{Genus, genera, genus};
pub use leaf_rule::{HitRate, leaf_rule, leaf_rule_hit_rate};
pub use name::{NameKind, NameRecord, names};
pub use parameters::Parameter;
pub use report::{GenusReport, GenusRequest, ReferenceError, report};
pub use resolve::{Candidate, Found, Resolution, Taxon, resolve};
pub use source::{Work, work, works};
pub use species::{AcidRise, Organ, Species, SpeciesRecord, species, species_records};
pub use traits::{
    CamShare, Delta13C, Grade, Habit, Leaf, Opens, Pathway, PeakTime, SourceKeys, Span, Thickness,
    Trait,
};
