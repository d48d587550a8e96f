//! The look-up of a name, as [`GenusResponse`].

use crate::genus::Genus;
use crate::leaf_rule::{leaf_rule, leaf_rule_hit_rate};
use crate::measured::{Delta13C, Span, Thickness};
use crate::name::{NameKind, NameRecord};
use crate::resolve::{Found, Resolution, resolve};
use crate::response::{
    CamFraction, D13cPermil, Evidence, Fallback, GenusRequest, GenusResponse, LeafMm,
    LeafSuggestion, Observation, Outcome, PathwayChance, Rank, StomataCount, TaxonBrief, Via,
};
use crate::source::citations;
use crate::species::{AcidRise, Species, SpeciesRecord};
use crate::species_name::SpeciesName;
use crate::taxon::{Candidate, Taxon};
use crate::traits::{CamShare, Chance, Habit, Leaf, Pathway, Trait};
use crate::wording;
use guardcell_call::Bounded;
use guardcell_error::{Code, Error};
use guardcell_units::uom::si::ratio::ratio;

/// Says when a plant opens its stomata, from its name. A name that is not known is an answer
/// (`outcome: unknown`), not an error.
///
/// # Errors
/// At `/query` if the name is blank or longer than 200 characters.
///
/// ```
/// # mod guardcell { pub use guardcell_error::{Error}; pub mod reference { pub use guardcell_reference::*; } }
/// use guardcell::reference::{GenusRequest, Leaf, Opens, Outcome, report};
/// let response = report(&GenusRequest::new("Zzyzx nova").with_leaf(Leaf::Thick))?;
/// assert_eq!(response.outcome, Outcome::Unknown);
/// // The leaf of the plant still suggests something, marked as a rule of thumb.
/// assert_eq!(response.fallback.unwrap().opens, Opens::Night);
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn report(request: &GenusRequest) -> Result<GenusResponse, Error> {
    request.check_bounds()?;
    let query = request.query.as_str();
    if query.trim().is_empty() {
        return Err(blank());
    }
    Ok(response(&resolve(query), request.leaf))
}

/// The error for a query of blanks.
pub(crate) fn blank() -> Error {
    Error::new(
        Code::Missing,
        "the query is blank",
        "give the name of a plant, such as `Cattleya labiata`",
    )
    .at("/query")
}

fn response(resolution: &Resolution<'_>, leaf: Option<Leaf>) -> GenusResponse {
    let traits = resolution.traits();
    let found = resolution.found.as_ref();
    let (genus, species) = match found.map(|f| f.taxon) {
        Some(Taxon::Genus(g)) => (Some(g), None),
        Some(Taxon::Species(s)) => (Some(s.genus()), Some(s)),
        _ => (None, None),
    };
    let (name, rank) = name_and_rank(found);
    // The rule by leaf was counted on orchids.
    let fallback = if resolution.other_plant.is_some() { None } else { fallback(&traits, leaf) };
    let rule = fallback.as_ref().map(|f| f.message.as_str());
    GenusResponse {
        query: resolution.query.to_owned(),
        outcome: match (found, resolution.candidates.is_empty()) {
            (Some(_), _) => Outcome::Found,
            (None, false) => Outcome::Ambiguous,
            (None, true) if resolution.other_plant.is_some() => Outcome::NotAnOrchid,
            (None, true) => Outcome::Unknown,
        },
        rank,
        pathway: traits.pathway,
        opens: traits.opens,
        opens_peak: traits.opens_peak,
        evidence: evidence(resolution, &traits, genus),
        leaf: traits.leaf,
        leafless: traits.leafless,
        leaf_mm: leaf_mm(genus, species),
        d13c_permil: d13c(genus, species),
        chance: traits.chance.map(chance),
        cam_fraction: genus.and_then(|g| fraction(g.traits.cam_share)),
        habit: genus.map_or(Habit::Unknown, |g| g.habit),
        subfamily: placed(genus.map(|g| g.subfamily)),
        tribe: placed(genus.map(|g| g.tribe)),
        subtribe: placed(genus.map(|g| g.subtribe)),
        via: found.and_then(|f| f.synonym.map(species_via).or_else(|| f.via.map(via))),
        corrected_to: found.and_then(Found::corrected_to),
        candidates: resolution.candidates.iter().map(brief).collect(),
        parents: found.map_or_else(Vec::new, |f| parents(f.taxon)),
        records: species.map_or_else(Vec::new, |s| s.records().iter().map(observation).collect()),
        stomata: species.map_or_else(Vec::new, stomata),
        notes: wording::notes(resolution, &traits, leaf),
        message: wording::answer(resolution, &traits, name.as_deref(), rule),
        fallback,
        name,
    }
}

fn name_and_rank(found: Option<&Found<'_>>) -> (Option<String>, Rank) {
    let Some(found) = found else { return (None, Rank::Unknown) };
    // An epithet is joined only to the genus it was written with or is known from: after a change
    // of genus the name of the species may have changed as well.
    let moved = found.via.is_some_and(|n| n.kind == NameKind::Synonym);
    match (found.taxon, found.epithet) {
        (Taxon::Genus(g), Some(epithet)) if !starts_large(epithet) && !moved => {
            (Some(format!("{} {epithet}", g.name)), Rank::Species)
        }
        (taxon, _) => (Some(taxon.name()), rank(taxon)),
    }
}

/// The works behind the answer; for an ambiguous name those of every taxon it may mean.
fn evidence(resolution: &Resolution<'_>, traits: &Trait, genus: Option<&Genus>) -> Evidence {
    let mut keys: Vec<&str> = traits.sources.iter().collect();
    if keys.is_empty() && resolution.found.is_none() {
        for c in resolution.candidates.iter().filter(|c| c.edits == 0) {
            for key in c.taxon.traits().sources.iter() {
                if !keys.contains(&key) {
                    keys.push(key);
                }
            }
        }
    }
    let leaf: Vec<&str> = genus.map_or_else(Vec::new, |g| g.leaf_sources.iter().collect());
    let more = leaf.iter().filter(|k| !keys.contains(k));
    Evidence {
        grade: traits.grade,
        leaf_grade: traits.leaf_grade,
        works: citations(keys.iter().chain(more).copied()),
        leaf_sources: leaf.iter().map(|&k| k.to_owned()).collect(),
        sources: keys.into_iter().map(str::to_owned).collect(),
    }
}

fn species_via(n: &SpeciesName) -> Via {
    Via { name: n.name.to_owned(), kind: NameKind::Synonym, evidence: n.evidence }
}

fn via(n: &NameRecord) -> Via {
    // The abbreviation of a hybrid genus is in the row of that genus.
    let (name, kind) = if n.kind == NameKind::Nothogenus {
        (n.abbreviation, NameKind::Abbreviation)
    } else {
        (n.name, n.kind)
    };
    Via { name: name.to_owned(), kind, evidence: n.evidence }
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

fn fraction(share: Option<CamShare>) -> Option<CamFraction> {
    let share = share?;
    Some(CamFraction {
        share: share.ratio()?.get::<ratio>(),
        cam_species: share.cam,
        measured_species: share.measured,
    })
}

fn chance(chance: Chance) -> PathwayChance {
    PathwayChance {
        c3: chance.c3().get::<ratio>(),
        weak_cam: chance.weak_cam().get::<ratio>(),
        cam: chance.cam().get::<ratio>(),
    }
}

/// The values of the species if it has any, else those of the genus.
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

fn observation(r: &SpeciesRecord) -> Observation {
    Observation {
        record: r.key.to_owned(),
        organ: r.organ,
        d13c_permil: r.d13c.map(Delta13C::permil),
        leaf_mm: r.thickness.map(Thickness::mm),
        acid_rise_umol_g: r.acid_rise.map(AcidRise::umol_per_g_fw),
        acid_rise_significant: r.acid_significant,
        pathway: r.pathway,
        grade: r.grade,
        method: r.method.to_owned(),
        sources: r.sources.iter().map(|&s| s.to_owned()).collect(),
        notes: r.notes.to_owned(),
    }
}

fn stomata(s: &Species) -> Vec<StomataCount> {
    crate::stomata::of(s.genus().name, s.epithet)
        .into_iter()
        .map(|c| StomataCount {
            side: c.side,
            // Two places, as printed: the table keeps single precision.
            per_mm2: c.per_mm2.map(|d| (f64::from(d) * 100.0).round() / 100.0),
            sources: c.sources.iter().map(|&k| k.to_owned()).collect(),
        })
        .collect()
}

/// The rule by leaf, if the pathway is unknown or differs within the taxon.
fn fallback(traits: &Trait, leaf: Option<Leaf>) -> Option<Fallback> {
    if matches!(traits.pathway, Pathway::C3 | Pathway::WeakCam | Pathway::Cam) || traits.leafless {
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
        message: wording::rule(&guess, rate),
        rule,
        sources,
    })
}
