//! A plant of the request, resolved: what it is, when it opens, what it may get and how often.

use crate::moment;
use crate::practice;
use crate::reason::{Reason, ReasonCode, Unknown};
use crate::request::{Growth, PlantEntry};
use crate::site::CheckedSite;
use guardcell_call::Bounded;
use guardcell_clock::TraitView;
use guardcell_error::{Code, Error};
use guardcell_reference::{Grade, Leaf, Opens, Pathway, Trait, leaf_rule, resolve};
use jiff::ZonedDateTime;

/// A checked plant.
#[derive(Debug)]
pub(crate) struct CheckedPlant<'a> {
    pub(crate) entry: &'a PlantEntry,
    /// Index of its area.
    pub(crate) area: usize,
    pub(crate) taken_for: String,
    pub(crate) pathway: Pathway,
    pub(crate) opens: Opens,
    pub(crate) view: TraitView,
    /// What the name and the trait have to say.
    pub(crate) reasons: Vec<Reason>,
    pub(crate) unknowns: Vec<Unknown>,
    pub(crate) last_fed: Option<ZonedDateTime>,
    pub(crate) last_flush: Option<ZonedDateTime>,
}

/// Checks every plant and resolves its name.
pub(crate) fn checked<'a>(
    plants: &'a [PlantEntry],
    site: &CheckedSite,
) -> Result<Vec<CheckedPlant<'a>>, Error> {
    let mut seen = std::collections::BTreeMap::new();
    let mut out = Vec::with_capacity(plants.len());
    for (i, entry) in plants.iter().enumerate() {
        let at = |field: &str| format!("/plants/{i}/{field}");
        if entry.id.trim().is_empty() {
            return Err(
                Error::new(Code::Missing, "the id is blank", "give each plant an id").at(at("id"))
            );
        }
        if let Some(first) = seen.insert(entry.id.as_str(), i) {
            return Err(Error::new(
                Code::DuplicateId,
                format!("duplicate plant id {:?}, also that of /plants/{first}", entry.id),
                "give each plant its own id",
            )
            .at(at("id")));
        }
        out.push(one(entry, i, site)?);
    }
    Ok(out)
}

fn one<'a>(entry: &'a PlantEntry, i: usize, site: &CheckedSite) -> Result<CheckedPlant<'a>, Error> {
    let at = |field: &str| format!("/plants/{i}/{field}");
    entry.check_bounds().map_err(|e| e.within(&format!("/plants/{i}")))?;
    if entry.name.trim().is_empty() {
        return Err(Error::new(
            Code::Missing,
            "the name is blank",
            "write what its label says, or `unknown`",
        )
        .at(at("name")));
    }
    let (area, _) = site.known_area(&entry.area).map_err(|e| e.at(at("area")))?;
    let past = |field: &str, text: &Option<String>| {
        text.as_deref().map(|t| moment::past(&at(field), t, &site.zone)).transpose()
    };
    let named = Named::of(entry);
    Ok(CheckedPlant {
        entry,
        area,
        taken_for: named.taken_for,
        pathway: named.traits.pathway,
        opens: named.traits.opens,
        view: TraitView::from(&named.traits),
        reasons: named.reasons,
        unknowns: named.unknowns,
        last_fed: past("last_fed", &entry.last_fed)?,
        last_flush: past("last_flush", &entry.last_flush)?,
    })
}

/// What the name says.
struct Named {
    taken_for: String,
    traits: Trait,
    reasons: Vec<Reason>,
    unknowns: Vec<Unknown>,
}

impl Named {
    fn of(entry: &PlantEntry) -> Self {
        let resolution = resolve(&entry.name);
        let mut traits = resolution.traits();
        let mut reasons = Vec::new();
        let mut unknowns = Vec::new();
        let taken_for = match &resolution.found {
            Some(found) => {
                if let Some(other) = found.corrected_to() {
                    reasons.push(
                        Reason::new(
                            ReasonCode::NameMended,
                            format!("{:?} was taken for {other}.", entry.name),
                        )
                        .with("name", entry.name.as_str()),
                    );
                }
                found.taxon.name()
            }
            None if resolution.is_ambiguous() => {
                let names: Vec<String> =
                    resolution.candidates.iter().take(4).map(|c| c.taxon.name()).collect();
                unknowns.push(Unknown {
                    what: format!("which plant {:?} is", entry.name),
                    assumed: format!("what these share: {}", names.join(", ")),
                    spread: 0.5,
                    measure: "write the full name".into(),
                });
                format!("one of {}", names.join(", "))
            }
            None => "no record".to_owned(),
        };
        let doubtful = matches!(traits.pathway, Pathway::Variable | Pathway::Unknown);
        if doubtful && !traits.leafless {
            traits = Self::by_leaf(entry, traits, &mut reasons, &mut unknowns);
        }
        reasons.insert(0, pathway_reason(&traits, &taken_for));
        Self { taken_for, traits, reasons, unknowns }
    }

    /// Sharpens a doubtful pathway by the leaf in hand.
    fn by_leaf(
        entry: &PlantEntry,
        traits: Trait,
        reasons: &mut Vec<Reason>,
        unknowns: &mut Vec<Unknown>,
    ) -> Trait {
        let cam = traits.cam_share.and_then(guardcell_reference::CamShare::ratio);
        let spread = cam.map_or(0.5, |r| r.value.min(1.0 - r.value)).max(0.05);
        let leaf = entry.leaf.filter(|l| !matches!(l, Leaf::Unknown | Leaf::Variable));
        let Some(leaf) = leaf else {
            unknowns.push(Unknown {
                what: "the pathway".into(),
                assumed: match cam {
                    Some(r) => format!("{:.0} % CAM, as in the genus", r.value * 100.0),
                    None => "an even chance of C3 and CAM".into(),
                },
                spread,
                measure: "feel a leaf: state `leaf` as thin, intermediate, thick or terete".into(),
            });
            return traits;
        };
        let guess = leaf_rule(leaf);
        let share = guess.cam_share.and_then(guardcell_reference::CamShare::ratio);
        let mut reason = Reason::new(
            ReasonCode::RuleOfThumb,
            format!(
                "A {leaf} leaf suggests {}{}: a rule of thumb, not a measurement of this plant.",
                pathway_words(guess.pathway),
                share.map_or(String::new(), |s| format!(
                    " ({:.0} % of measured species with such a leaf are CAM)",
                    s.value * 100.0
                )),
            ),
        )
        .with("leaf", leaf.word());
        for key in guess.sources.iter() {
            reason = reason.source(key);
        }
        reasons.push(reason);
        if guess.leafless {
            return guess;
        }
        // Keep it a probability: both openings stay, weighted by how such leaves turned out.
        Trait {
            pathway: Pathway::Variable,
            opens: guess.opens,
            cam_share: guess.cam_share.or(traits.cam_share),
            leaf,
            grade: Grade::Inferred,
            ..traits
        }
    }
}

const fn pathway_words(pathway: Pathway) -> &'static str {
    match pathway {
        Pathway::C3 => "C3, open by day",
        Pathway::Cam => "CAM, open at night",
        Pathway::Facultative => "C3 that turns to CAM when dry",
        Pathway::Variable => "either C3 or CAM",
        Pathway::Unknown => "nothing known",
    }
}

fn pathway_reason(traits: &Trait, taken_for: &str) -> Reason {
    let (code, says) = if traits.leafless {
        (
            ReasonCode::NoLeafOpening,
            format!("{taken_for} has no leaf to open: its roots take up the feed."),
        )
    } else {
        let code = match traits.pathway {
            Pathway::C3 => ReasonCode::OpensByDay,
            Pathway::Cam => ReasonCode::OpensAtNight,
            _ => ReasonCode::OpensEither,
        };
        (code, format!("{taken_for}: {} ({}).", pathway_words(traits.pathway), traits.grade.word()))
    };
    let mut reason = Reason::new(code, says)
        .with("pathway", traits.pathway.word())
        .with("grade", traits.grade.word());
    if let Some(share) = traits.cam_share {
        reason = reason.with("cam_species", share.cam).with("measured_species", share.measured);
    }
    for key in traits.sources.iter() {
        reason = reason.source(key);
    }
    reason
}

impl CheckedPlant<'_> {
    /// When it is next due, where its history tells.
    pub(crate) fn due(&self) -> Option<ZonedDateTime> {
        let interval = practice::interval(self.entry.standing, self.entry.setting).value;
        let last = self.last_fed.as_ref()?;
        last.checked_add(jiff::SignedDuration::from_secs_f64(interval * 86_400.0)).ok()
    }

    /// Whether it is known to grow, known to rest, or neither.
    pub(crate) const fn growth(&self) -> Growth {
        self.entry.growth
    }
}
