//! Sourced reference data of plant feeding, compiled in.
//!
//! The tables are the CSV files of the crate `guardcell-data`; the build checks them and compiles
//! them in, the large ones packed. Nothing is parsed when a program starts: a packed table is
//! unpacked once, when it is first asked for.
//!
//! [`resolve`] takes a plant name as people write it to a [`Taxon`] and its [`Trait`]: when its
//! stomata open, what its leaf is like, how well that is known, and who measured it.
//! [`report()`] gives the same as a wire type.

pub mod acid;
pub mod aqueous;
mod broad;
pub mod calls;
pub mod composition;
pub mod darwin_core;
pub mod export;
mod fold;
mod genus;
mod index;
mod leaf_rule;
pub mod material;
mod measured;
mod misspelling;
mod name;
mod osa;
mod other_plant;
mod packed;
pub mod parameters;
pub mod pathway_relatives;
pub mod pathway_rule;
pub mod pitzer;
mod query;
pub mod relatives;
mod report;
mod resolve;
mod response;
pub mod salts;
mod scale;
mod search;
mod share_grid;
pub mod solubility;
mod source;
mod species;
mod species_name;
pub mod stomata;
mod taxon;
mod traits;
mod wording;
mod words;

pub use composition::{Composition, Solute};
pub use genus::{Genus, genera, genus};
pub use leaf_rule::{HitRate, leaf_rule, leaf_rule_hit_rate};
pub use measured::{Delta13C, Span, Thickness};
pub use name::{NameEvidence, NameKind, NameRecord, names};
pub use other_plant::OtherPlant;
pub use parameters::Parameter;
pub use report::report;
pub use resolve::{Found, Resolution, resolve};
pub use response::{
    CamFraction, D13cPermil, Evidence, Fallback, GenusRequest, GenusResponse, LeafMm,
    LeafSuggestion, Observation, Outcome, PathwayChance, Rank, StomataCount, TaxonBrief, Via,
};
pub use scale::{Scale, carbonate_alkalinity};
pub use search::{
    CatalogueRequest, CatalogueResponse, MatchKind, SearchMatch, SearchRequest, SearchResponse,
    catalogue, search,
};
pub use source::{Citation, Read, Work, citations, work, works};
pub use species::{AcidRise, Organ, Species, SpeciesRecord, species, species_records};
pub use species_name::{SpeciesName, species_names};
pub use taxon::{Candidate, Taxon};
pub use traits::{
    CamShare, Chance, Grade, Habit, Leaf, Opens, Pathway, PeakTime, SourceKeys, Trait,
};
