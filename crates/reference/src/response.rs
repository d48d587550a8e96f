//! What a look-up of a name asks and answers.

use crate::name::{NameEvidence, NameKind};
use crate::source::Citation;
use crate::species::Organ;
use crate::stomata::Side;
use crate::traits::{Grade, Habit, Leaf, Opens, Pathway, PeakTime};
use guardcell_call::{Bound, bounds};
use serde::{Deserialize, Serialize};

/// The length of a name, in characters.
pub(crate) const NAME: Bound = Bound::text(1, 200);

/// Asks when a plant opens its stomata.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub struct GenusRequest {
    /// The name of the plant as on its label: a genus, species, hybrid genus, old name or
    /// abbreviation, with or without epithet and cultivar.
    pub query: String,
    /// The leaf of the plant, used if its name does not settle the question.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf: Option<Leaf>,
}

guardcell_call::setters! { GenusRequest {
    /// The same with the leaf of the plant.
    with_leaf(leaf?: Leaf);
} }

impl GenusRequest {
    /// Asks for a name, without a leaf.
    #[must_use]
    pub fn new(query: impl Into<String>) -> Self {
        Self { query: query.into(), leaf: None }
    }
}

bounds! { GenusRequest { query: NAME } }

/// Whether the name was understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// It stands for one taxon.
    Found,
    /// It may stand for several; see `candidates`.
    Ambiguous,
    /// It is not known.
    Unknown,
    /// It is the name of a plant of another family, of which the tables say nothing.
    NotAnOrchid,
}

/// What kind of taxon a name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Rank {
    /// An accepted genus.
    Genus,
    /// A species.
    Species,
    /// A hybrid genus.
    Nothogenus,
    /// A cross of two genera written out.
    Cross,
    /// Not known, or ambiguous.
    Unknown,
}

/// How well an answer is known, and from where.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct Evidence {
    /// How well the pathway is known.
    pub grade: Grade,
    /// How well the leaf type is known.
    pub leaf_grade: Grade,
    /// Keys of the works behind the pathway, as in `data/sources.csv`.
    pub sources: Vec<String>,
    /// Keys of the works behind a leaf type that is reported.
    pub leaf_sources: Vec<String>,
    /// The works in full, those of the pathway first.
    pub works: Vec<Citation>,
}

/// Measured values of δ¹³C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct D13cPermil {
    /// The most negative value, in ‰ against VPDB.
    pub low: f64,
    /// The least negative value, in ‰ against VPDB.
    pub high: f64,
    /// How many values (of a species) or species (of a genus).
    pub n: u16,
}

/// Measured leaf thickness.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct LeafMm {
    /// The thinnest, in mm.
    pub low: f64,
    /// The thickest, in mm.
    pub high: f64,
    /// How many were measured, 0 where not stated.
    pub n: u16,
}

/// How likely each pathway is, by the declared rule from the values of the taxon, its relatives and
/// its leaf. The three add up to 1.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct PathwayChance {
    /// The probability of C3, from 0 to 1.
    pub c3: f64,
    /// The probability of weak or facultative CAM, from 0 to 1.
    pub weak_cam: f64,
    /// The probability of CAM, from 0 to 1.
    pub cam: f64,
}

/// How many of the measured species show CAM.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct CamFraction {
    /// The share, from 0 to 1.
    pub share: f64,
    /// Species with CAM.
    pub cam_species: u16,
    /// Species measured.
    pub measured_species: u16,
}

/// The other name that led to the answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct Via {
    /// The name.
    pub name: String,
    /// What kind of name it is.
    pub kind: NameKind,
    /// How well it is known that it is a name of the answer.
    pub evidence: NameEvidence,
}

/// One taxon beside the answer: something the name may mean, or a parent of a hybrid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct TaxonBrief {
    /// Its accepted name.
    pub name: String,
    /// What kind of taxon it is.
    pub rank: Rank,
    /// How it fixes carbon.
    pub pathway: Pathway,
    /// When its leaf stomata are expected open.
    pub opens: Opens,
    /// The type of leaf.
    pub leaf: Leaf,
    /// How well the pathway is known.
    pub grade: Grade,
    /// Keys of the works.
    pub sources: Vec<String>,
    /// Letters by which the query is off its name; 0 for a parent or an exact name.
    pub edits: u8,
}

/// One published record of a species.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct Observation {
    /// The record as in `data/observations.csv`; it never changes.
    pub record: String,
    /// The part measured.
    pub organ: Organ,
    /// δ¹³C in ‰ against VPDB.
    pub d13c_permil: Option<f64>,
    /// Leaf thickness in mm.
    pub leaf_mm: Option<f64>,
    /// Rise of titratable acidity over the night, in µmol H⁺ per g fresh weight.
    pub acid_rise_umol_g: Option<f64>,
    /// Whether the work calls that rise significant.
    pub acid_rise_significant: Option<bool>,
    /// What the record says of the pathway.
    pub pathway: Pathway,
    /// How well this record knows it.
    pub grade: Grade,
    /// How it was determined.
    pub method: String,
    /// Keys of the works: the primary one, then the compilation it was read in.
    pub sources: Vec<String>,
    /// Remarks.
    pub notes: String,
}

/// Stomata on one side of the leaves of a species.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct StomataCount {
    /// The side of the leaf.
    pub side: Side,
    /// Stomata in a square millimetre; 0 where there are none.
    pub per_mm2: Option<f64>,
    /// Keys of the works.
    pub sources: Vec<String>,
}

/// What one type of leaf suggests.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct LeafSuggestion {
    /// The type of leaf.
    pub leaf: Leaf,
    /// What it suggests of the pathway.
    pub pathway: Pathway,
    /// What it suggests of the opening.
    pub opens: Opens,
    /// How the measured species with such a leaf turned out.
    pub cam_fraction: Option<CamFraction>,
}

/// The rule of thumb by leaf, for a plant whose name does not settle the question.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct Fallback {
    /// The leaf it was applied to, where one is known.
    pub leaf: Option<Leaf>,
    /// What it suggests of the pathway; `unknown` without a leaf.
    pub pathway: Pathway,
    /// What it suggests of the opening; `unknown` without a leaf.
    pub opens: Opens,
    /// Always `inferred`, or `unknown` without a leaf.
    pub grade: Grade,
    /// The whole rule.
    pub rule: Vec<LeafSuggestion>,
    /// The share of measured blades for which the rule is right, from 0 to 1.
    pub hit_rate: Option<f64>,
    /// Species with both leaf thickness and pathway measured.
    pub measured_species: u16,
    /// Keys of the works the share was counted from.
    pub sources: Vec<String>,
    /// The rule in words, with its limits.
    pub message: String,
}

/// When a plant opens its stomata, how sure that is, and who measured it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct GenusResponse {
    /// The query as given.
    pub query: String,
    /// Whether the name was understood.
    pub outcome: Outcome,
    /// The accepted name, where it was.
    pub name: Option<String>,
    /// What kind of taxon it is.
    pub rank: Rank,
    /// How it fixes carbon.
    pub pathway: Pathway,
    /// When its leaf stomata are expected open. `unknown` for a leafless plant, which has no leaf
    /// opening.
    pub opens: Opens,
    /// The time of day of the widest opening, where it was measured.
    pub opens_peak: Option<PeakTime>,
    /// How well this is known, and from where.
    pub evidence: Evidence,
    /// The type of leaf.
    pub leaf: Leaf,
    /// Whether it has no leaf blade, so that roots or stems take up the feed.
    pub leafless: bool,
    /// Measured leaf thickness.
    pub leaf_mm: Option<LeafMm>,
    /// Measured δ¹³C.
    pub d13c_permil: Option<D13cPermil>,
    /// How likely each pathway is, where the rule has something to go by.
    pub chance: Option<PathwayChance>,
    /// How many of the measured species of the genus show CAM.
    pub cam_fraction: Option<CamFraction>,
    /// Where it grows.
    pub habit: Habit,
    /// Subfamily, of a genus or species.
    pub subfamily: Option<String>,
    /// Tribe, where placed.
    pub tribe: Option<String>,
    /// Subtribe, where placed.
    pub subtribe: Option<String>,
    /// The other name that led here.
    pub via: Option<Via>,
    /// For a name that is not spelt as in the tables: the name it was read as.
    pub corrected_to: Option<String>,
    /// What the name may mean, likeliest first; beside a misspelt name that was found, what else
    /// it may have meant.
    pub candidates: Vec<TaxonBrief>,
    /// The parents of a hybrid.
    pub parents: Vec<TaxonBrief>,
    /// Published records of the species.
    pub records: Vec<Observation>,
    /// Stomata counted on the sides of its leaves, of a species.
    pub stomata: Vec<StomataCount>,
    /// Remarks of the tables and on how the answer was reached.
    pub notes: Vec<String>,
    /// The rule by leaf, where the name does not settle the question.
    pub fallback: Option<Fallback>,
    /// The answer in plain words.
    pub message: String,
}
