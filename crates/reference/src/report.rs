//! The wire form of a look-up: what `genus` answers in every face.

use crate::genus::Genus;
use crate::leaf_rule::{leaf_rule, leaf_rule_hit_rate};
use crate::name::NameKind;
use crate::resolve::{Candidate, Resolution, Taxon, resolve};
use crate::says;
use crate::source::work;
use crate::species::{Species, SpeciesRecord};
use crate::traits::{
    CamShare, Delta13C, Grade, Habit, Leaf, Opens, Pathway, PeakTime, Span, Trait,
};
use serde::{Deserialize, Serialize};

/// The longest query that is read, in bytes.
pub const LONGEST_QUERY: usize = 200;

/// Asks when a plant opens its stomata.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub struct GenusRequest {
    /// The name of the plant as on its label: a genus, species, hybrid genus, old name or
    /// abbreviation, with or without epithet and cultivar. At most 200 bytes.
    pub query: String,
    /// The leaf of the plant in hand, used where its name does not settle the question.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf: Option<Leaf>,
}

/// What is wrong with a request, with the JSON Pointer of the place.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReferenceError {
    /// The query is empty.
    #[error("/query: is empty; it should be the name of a plant, such as `Cattleya labiata`")]
    EmptyQuery,
    /// The query is too long to be a name.
    #[error("/query: has {bytes} bytes; it should be the name of one plant, at most 200 bytes")]
    LongQuery {
        /// Its length.
        bytes: usize,
    },
    /// The number of matches asked for.
    #[error("/limit: is {limit}; it should be 1 to 50")]
    Limit {
        /// The number.
        limit: u8,
    },
}

impl ReferenceError {
    /// The JSON Pointer (RFC 6901) of the faulty place in the request.
    ///
    /// ```
    /// assert_eq!(guardcell_reference::ReferenceError::EmptyQuery.pointer(), "/query");
    /// ```
    #[must_use]
    pub const fn pointer(&self) -> &'static str {
        match self {
            Self::EmptyQuery | Self::LongQuery { .. } => "/query",
            Self::Limit { .. } => "/limit",
        }
    }
}

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
pub struct Evidence {
    /// How well the pathway is known.
    pub grade: Grade,
    /// How well the leaf type is known.
    pub leaf_grade: Grade,
    /// Keys of the works, as in `data/sources.csv`.
    pub sources: Vec<String>,
    /// The works in full.
    pub works: Vec<WorkCited>,
}

/// A work in full.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct WorkCited {
    /// Its key.
    pub key: String,
    /// Author, year, title, place of publication.
    pub citation: String,
    /// Its DOI, where known.
    pub doi: Option<String>,
    /// How much of it was read by whoever entered it.
    pub read: String,
}

/// Measured values of δ¹³C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
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
pub struct LeafMm {
    /// The thinnest, in mm.
    pub low: f64,
    /// The thickest, in mm.
    pub high: f64,
    /// How many were measured, 0 where not stated.
    pub n: u16,
}

/// How many of the measured species show CAM.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
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
pub struct Via {
    /// The name.
    pub name: String,
    /// `synonym`, `spelling` or `abbreviation`.
    pub kind: String,
    /// How well it is known that the one stands for the other: `reported` or `from memory`.
    pub evidence: String,
}

/// One taxon beside the answer: something the name may mean, or a parent of a hybrid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
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

/// One published record of the species.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct RecordReport {
    /// The part measured.
    pub organ: String,
    /// δ¹³C in ‰ against VPDB.
    pub d13c_permil: Option<f64>,
    /// Leaf thickness in mm.
    pub leaf_mm: Option<f64>,
    /// Rise of titratable acidity over the night, in µmol H⁺ per g fresh weight.
    pub acid_rise_umol_g: Option<f64>,
    /// What the record says of the pathway.
    pub pathway: Pathway,
    /// How well this record knows it.
    pub grade: Grade,
    /// How it was found out.
    pub method: String,
    /// Keys of the works: the primary one, then the compilation it was read in.
    pub sources: Vec<String>,
    /// Remarks.
    pub notes: String,
}

/// What one type of leaf suggests.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
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
    pub says: String,
}

/// When a plant opens its stomata, how sure that is, and who measured it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct GenusReport {
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
    /// The cut between C3 and CAM that the surveys used, in ‰.
    pub cut_permil: Option<f64>,
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
    /// What a misspelt name was taken for.
    pub took_it_for: Option<String>,
    /// What the name may mean, likeliest first; beside a misspelt name that was found, what else
    /// it may have meant.
    pub candidates: Vec<TaxonBrief>,
    /// The parents of a hybrid.
    pub parents: Vec<TaxonBrief>,
    /// Published records of the species.
    pub records: Vec<RecordReport>,
    /// Remarks of the tables and on how the answer was reached.
    pub notes: Vec<String>,
    /// The rule by leaf, where the name does not settle the question.
    pub fallback: Option<Fallback>,
    /// The answer in plain words.
    pub says: String,
}

/// Answers when a plant opens its stomata. Pure and total for any query of 1 to 200 bytes; a
/// name that is not known is an answer (`outcome: unknown`), not an error.
///
/// # Errors
/// [`ReferenceError`] if the query is empty or longer than 200 bytes.
///
/// ```
/// use guardcell_reference::report::{GenusRequest, Outcome, report};
/// use guardcell_reference::{Leaf, Opens};
/// let request = GenusRequest { query: "Zzyzx nova".into(), leaf: Some(Leaf::Thick) };
/// let answer = report(&request).unwrap();
/// assert_eq!(answer.outcome, Outcome::Unknown);
/// // The leaf in hand still suggests something, marked as a rule of thumb.
/// assert_eq!(answer.fallback.unwrap().opens, Opens::Night);
/// ```
pub fn report(request: &GenusRequest) -> Result<GenusReport, ReferenceError> {
    let query = request.query.as_str();
    if query.trim().is_empty() {
        return Err(ReferenceError::EmptyQuery);
    }
    if query.len() > LONGEST_QUERY {
        return Err(ReferenceError::LongQuery { bytes: query.len() });
    }
    Ok(answer(&resolve(query), request.leaf))
}

fn answer(resolution: &Resolution<'_>, leaf: Option<Leaf>) -> GenusReport {
    let traits = resolution.traits();
    let found = resolution.found.as_ref();
    let (genus, species) = match found.map(|f| f.taxon) {
        Some(Taxon::Genus(g)) => (Some(g), None),
        Some(Taxon::Species(s)) => (Some(s.genus()), Some(s)),
        _ => (None, None),
    };
    let fallback = fallback(&traits, leaf);
    let mut sources: Vec<String> = traits.sources.iter().map(str::to_owned).collect();
    if sources.is_empty() && found.is_none() {
        for key in resolution
            .candidates
            .iter()
            .filter(|c| c.edits == 0)
            .flat_map(|c| c.taxon.traits().sources.iter())
        {
            if !sources.iter().any(|s| s == key) {
                sources.push(key.to_owned());
            }
        }
    }
    let name = found.map(|f| match (f.taxon, f.epithet) {
        (Taxon::Genus(g), Some(epithet)) if !starts_large(epithet) => {
            format!("{} {epithet}", g.name)
        }
        (taxon, _) => taxon.name(),
    });
    let rank = found.map_or(Rank::Unknown, |f| match (f.taxon, f.epithet) {
        (Taxon::Genus(_), Some(epithet)) if !starts_large(epithet) => Rank::Species,
        (taxon, _) => rank(taxon),
    });
    GenusReport {
        query: resolution.query.to_owned(),
        outcome: match (found, resolution.candidates.is_empty()) {
            (Some(_), _) => Outcome::Found,
            (None, false) => Outcome::Ambiguous,
            (None, true) => Outcome::Unknown,
        },
        rank,
        pathway: traits.pathway,
        opens: traits.opens,
        opens_peak: traits.opens_peak,
        evidence: Evidence {
            grade: traits.grade,
            leaf_grade: traits.leaf_grade,
            works: sources.iter().filter_map(|k| cited(k)).collect(),
            sources,
        },
        leaf: traits.leaf,
        leafless: traits.leafless,
        leaf_mm: leaf_mm(genus, species),
        d13c_permil: d13c(genus, species),
        cut_permil: genus.and_then(|g| g.cut).map(Delta13C::permil),
        cam_fraction: genus.and_then(|g| fraction(g.traits.cam_share)),
        habit: genus.map_or(Habit::Unknown, |g| g.habit),
        subfamily: placed(genus.map(|g| g.subfamily)),
        tribe: placed(genus.map(|g| g.tribe)),
        subtribe: placed(genus.map(|g| g.subtribe)),
        via: found.and_then(|f| f.via).map(|n| {
            // The abbreviation of a hybrid genus stands in the row of that genus.
            let (name, kind) = if n.kind == NameKind::Nothogenus {
                (n.abbreviation, NameKind::Abbreviation)
            } else {
                (n.name, n.kind)
            };
            Via {
                name: name.to_owned(),
                kind: kind.word().to_owned(),
                evidence: says::name_evidence(n.grade).to_owned(),
            }
        }),
        took_it_for: found.and_then(|f| f.took_it_for()),
        candidates: resolution.candidates.iter().map(brief).collect(),
        parents: found.map_or_else(Vec::new, |f| parents(f.taxon)),
        records: species.map_or_else(Vec::new, |s| s.records().iter().map(record).collect()),
        notes: says::notes(resolution, &traits, leaf),
        says: says::answer(resolution, &traits, name.as_deref(), fallback.as_ref()),
        fallback,
        name,
    }
}

fn starts_large(word: &str) -> bool {
    word.starts_with(char::is_uppercase)
}

fn rank(taxon: Taxon) -> Rank {
    match taxon {
        Taxon::Genus(_) => Rank::Genus,
        Taxon::Species(_) => Rank::Species,
        Taxon::Nothogenus(_) => Rank::Nothogenus,
        Taxon::Cross(..) => Rank::Cross,
    }
}

fn placed(word: Option<&str>) -> Option<String> {
    word.filter(|w| !w.is_empty()).map(str::to_owned)
}

fn cited(key: &str) -> Option<WorkCited> {
    let w = work(key)?;
    Some(WorkCited {
        key: w.key.to_owned(),
        citation: w.citation(),
        doi: placed(Some(w.doi)),
        read: w.read.words().to_owned(),
    })
}

fn fraction(share: Option<CamShare>) -> Option<CamFraction> {
    use guardcell_units::uom::si::ratio::ratio;
    let share = share?;
    Some(CamFraction {
        share: share.ratio()?.get::<ratio>(),
        cam_species: share.cam,
        measured_species: share.measured,
    })
}

/// The values of the species where it has any, else those of the genus.
fn d13c(genus: Option<&Genus>, species: Option<&Species>) -> Option<D13cPermil> {
    let permil =
        |s: Span<Delta13C>| D13cPermil { low: s.low.permil(), high: s.high.permil(), n: s.n };
    match species {
        Some(s) => s.d13c.map(permil),
        None => genus?.d13c.map(permil),
    }
}

fn leaf_mm(genus: Option<&Genus>, species: Option<&Species>) -> Option<LeafMm> {
    let span = species.and_then(|s| s.thickness).or_else(|| genus.and_then(|g| g.thickness))?;
    Some(LeafMm { low: span.low.mm(), high: span.high.mm(), n: span.n })
}

fn brief(c: &Candidate) -> TaxonBrief {
    let traits = c.taxon.traits();
    TaxonBrief {
        name: c.taxon.name(),
        rank: rank(c.taxon),
        pathway: traits.pathway,
        opens: traits.opens,
        leaf: traits.leaf,
        grade: traits.grade,
        sources: traits.sources.iter().map(str::to_owned).collect(),
        edits: c.edits,
    }
}

fn parents(taxon: Taxon) -> Vec<TaxonBrief> {
    let of = |g| brief(&Candidate { taxon: Taxon::Genus(g), via: None, edits: 0 });
    match taxon {
        Taxon::Nothogenus(n) if n.kind == NameKind::Nothogenus => n.genera().map(of).collect(),
        Taxon::Cross(a, b) => [a, b].map(of).into(),
        _ => Vec::new(),
    }
}

fn record(r: &SpeciesRecord) -> RecordReport {
    RecordReport {
        organ: r.organ.word().to_owned(),
        d13c_permil: r.d13c.map(Delta13C::permil),
        leaf_mm: r.thickness.map(crate::traits::Thickness::mm),
        acid_rise_umol_g: r.acid_rise.map(crate::species::AcidRise::umol_per_g_fw),
        pathway: r.pathway,
        grade: r.grade,
        method: r.method.to_owned(),
        sources: r.sources.iter().map(|&s| s.to_owned()).collect(),
        notes: r.notes.to_owned(),
    }
}

/// The rule by leaf, where the pathway is unknown or differs within the taxon.
fn fallback(traits: &Trait, leaf: Option<Leaf>) -> Option<Fallback> {
    if matches!(traits.pathway, Pathway::C3 | Pathway::Cam) || traits.leafless {
        return None;
    }
    let usable = |l: &Leaf| !matches!(l, Leaf::Variable | Leaf::Unknown);
    let leaf = leaf.or(Some(traits.leaf)).filter(usable);
    let guess = leaf_rule(leaf.unwrap_or(Leaf::Unknown));
    let rate = leaf_rule_hit_rate();
    let rule: Vec<LeafSuggestion> = Leaf::ALL
        .iter()
        .filter(|l| usable(l))
        .map(|&l| {
            let t = leaf_rule(l);
            LeafSuggestion {
                leaf: l,
                pathway: t.pathway,
                opens: t.opens,
                cam_fraction: fraction(t.cam_share),
            }
        })
        .collect();
    let mut sources = Vec::new();
    for &l in Leaf::ALL {
        for key in leaf_rule(l).sources.iter() {
            if !sources.iter().any(|s| s == key) {
                sources.push(key.to_owned());
            }
        }
    }
    Some(Fallback {
        leaf,
        pathway: guess.pathway,
        opens: guess.opens,
        grade: guess.grade,
        hit_rate: (rate.measured > 0).then(|| f64::from(rate.right) / f64::from(rate.measured)),
        measured_species: rate.measured,
        says: says::rule(&guess, rate),
        rule,
        sources,
    })
}
