//! What the name of a plant says: what it is, how it takes up CO2, what is not known of it.

use crate::reason::{Reason, Unknown};
use crate::reason_code::ReasonCode;
use crate::request::PlantEntry;
use guardcell_reference::parameters::practice as p;
use guardcell_reference::{Grade, Leaf, Pathway, Resolution, Trait, leaf_rule, resolve};

/// How far the opening may be off where a name may be that of several plants: little where all of
/// them open at the same time.
fn spread_among(resolution: &Resolution) -> f64 {
    let mut pathways = resolution.candidates.iter().map(|c| c.taxon.traits().pathway);
    let first = pathways.next();
    let known = !matches!(first, None | Some(Pathway::Unknown | Pathway::Variable));
    if known && pathways.all(|p| Some(p) == first) {
        p::PATHWAY_SPREAD_LEAST.number()
    } else {
        p::PATHWAY_SPREAD_UNKNOWN.number()
    }
}

/// A pathway in a word or few, as plants of one kind are headed.
pub(crate) const fn pathway(pathway: Pathway) -> &'static str {
    match pathway {
        Pathway::C3 => "C3",
        Pathway::WeakCam => "weak CAM",
        Pathway::Cam => "CAM",
        Pathway::Facultative => "C3 or CAM by season",
        Pathway::Variable => "C3 or CAM",
        Pathway::Unknown => "pathway unknown",
    }
}

/// What the name says.
pub(crate) struct Named {
    pub(crate) taken_for: String,
    pub(crate) traits: Trait,
    pub(crate) reasons: Vec<Reason>,
    pub(crate) unknowns: Vec<Unknown>,
}

impl Named {
    /// Resolves the name of a plant, and sharpens a doubtful pathway by its leaf.
    pub(crate) fn new(entry: &PlantEntry) -> Self {
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
                    spread: spread_among(&resolution),
                    measure: "write the full name".into(),
                    plants: Vec::new(),
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
        let cam = traits.chance.map(guardcell_reference::Chance::cam);
        let spread = cam
            .map_or(p::PATHWAY_SPREAD_UNKNOWN.number(), |r| r.value.min(1.0 - r.value))
            .max(p::PATHWAY_SPREAD_LEAST.number());
        let leaf = entry.leaf.filter(|l| !matches!(l, Leaf::Unknown | Leaf::Variable));
        let Some(leaf) = leaf else {
            unknowns.push(Unknown {
                what: "the pathway".into(),
                assumed: match cam {
                    Some(r) => format!(
                        "a probability of CAM of {:.0} %, from values and relatives",
                        r.value * 100.0
                    ),
                    None => "an even chance of C3 and CAM".into(),
                },
                spread,
                measure: "feel a leaf: state `leaf` as thin, intermediate, thick or terete".into(),
                plants: Vec::new(),
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
            chance: guess.chance.or(traits.chance),
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
        Pathway::WeakCam => "weak CAM, open by day",
        Pathway::Cam => "CAM, open at night",
        Pathway::Facultative => "C3 that turns to CAM when dry",
        Pathway::Variable => "either C3 or CAM",
        Pathway::Unknown => "nothing known",
    }
}

fn pathway_reason(traits: &Trait, taken_for: &str) -> Reason {
    let (code, message) = if traits.leafless {
        (
            ReasonCode::NoLeafOpening,
            format!("{taken_for} has no leaf to open: its roots take up the feed."),
        )
    } else {
        let code = match traits.pathway {
            Pathway::C3 | Pathway::WeakCam => ReasonCode::OpensByDay,
            Pathway::Cam => ReasonCode::OpensAtNight,
            _ => ReasonCode::OpensEither,
        };
        (code, format!("{taken_for}: {} ({}).", pathway_words(traits.pathway), traits.grade.word()))
    };
    let mut reason = Reason::new(code, message)
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::request::{Setting, Standing};
    use guardcell_units::uom::si::ratio::ratio;

    /// Of two ways to open, the less probable one is how far the opening may be off: never more
    /// than a half, and at least 0.05 (data/practice.csv).
    #[test]
    fn a_pathway_is_off_by_the_less_probable_one() {
        let (mut mostly_c3, mut mostly_cam) = (0, 0);
        for genus in guardcell_reference::genera() {
            let entry =
                PlantEntry::new("1", genus.name, "house", Setting::Potted, Standing::Ordinary);
            let named = Named::new(&entry);
            let Some(unknown) = named.unknowns.iter().find(|u| u.what == "the pathway") else {
                continue;
            };
            let Some(cam) = named.traits.chance.map(|c| c.cam().get::<ratio>()) else { continue };
            let expected = if cam > 0.5 { 1.0 - cam } else { cam };
            assert!((unknown.spread - expected.max(0.05)).abs() < 1e-9, "{}: {cam}", genus.name);
            mostly_c3 += usize::from(cam < 0.45);
            mostly_cam += usize::from(cam > 0.55);
        }
        assert!(mostly_c3 > 0 && mostly_cam > 0, "{mostly_c3} {mostly_cam}");
    }
}
