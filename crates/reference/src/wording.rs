//! The answer in plain words for a grower. Works on the resolved name, not on the wire types.

use crate::leaf_rule::{HitRate, leaf_rule};
use crate::name::{NameEvidence, NameKind, NameRecord};
use crate::resolve::{Found, Resolution};
use crate::taxon::Taxon;
use crate::traits::{CamShare, Grade, Habit, Leaf, Opens, Pathway, PeakTime, Trait};
use guardcell_units::uom::si::ratio::ratio;

/// What has not been measured; added wherever an opening by night is named.
const TIMING: &str = "That this is the time to feed the leaf is inferred from gas exchange: no work \
    is known that measured uptake by day against night in the leaf of a CAM orchid, and uptake \
    through the cuticle goes on with stomata shut.";

const TIMING_C3: &str = "That this is the time to feed the leaf is inferred from gas exchange; \
    uptake through the cuticle goes on with stomata shut.";

const LEAFLESS: &str = "It has no leaf blade. Its green roots do the work and have no stomata, so \
    there is no leaf opening to wait for: it is treated by root.";

const fn pathway(p: Pathway) -> &'static str {
    match p {
        Pathway::C3 => "C3",
        Pathway::WeakCam => "weak CAM",
        Pathway::Cam => "CAM",
        Pathway::Facultative => "facultative CAM",
        Pathway::Variable => "variable",
        Pathway::Unknown => "unknown",
    }
}

const fn peak(p: PeakTime) -> &'static str {
    match p {
        PeakTime::PreDawn => "in the last hours of the night",
        PeakTime::Evening => "in the evening",
        PeakTime::Night => "in the middle of the night",
        PeakTime::Forenoon => "in the forenoon",
        PeakTime::Noon => "around noon",
        PeakTime::Afternoon => "in the afternoon",
    }
}

fn list(names: &[String], last: &str) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., end] => format!("{} {last} {end}", rest.join(", ")),
    }
}

fn share(s: CamShare) -> String {
    let noun = if s.measured == 1 { "species" } else { "measured species" };
    format!("{} of {} {noun} with CAM", s.cam, s.measured)
}

/// How a genus divides, in words. Below a quarter or above three quarters is called most.
fn divided(share: Option<CamShare>) -> &'static str {
    match share {
        Some(s) if 4 * u32::from(s.cam) < u32::from(s.measured) => {
            "most of its measured species open by day, some by night"
        }
        Some(s) if 4 * u32::from(s.cam) > 3 * u32::from(s.measured) => {
            "most of its measured species open by night, some by day"
        }
        _ => "some open by day, some by night",
    }
}

fn how_known(t: &Trait) -> &'static str {
    match t.grade {
        Grade::Measured => "measured",
        Grade::Reported => "reported, without a value of its own here",
        Grade::Inferred => "inferred, not measured in this taxon",
        Grade::Unknown => "not known",
    }
}

/// A plant without leaf green has no leaf to feed.
fn mycoheterotroph(name: &str) -> String {
    format!(
        "{name} has no leaf green and lives on a fungus in the ground: there is no leaf to feed, by \
         day or by night."
    )
}

/// The opening of one taxon, as a sentence.
fn opening(name: &str, t: &Trait) -> String {
    let known = how_known(t);
    if t.leafless {
        return match t.pathway {
            Pathway::Unknown => format!("{name}: the pathway is not known. {LEAFLESS}"),
            p => format!("{name} is {} ({known}). {LEAFLESS}", pathway(p)),
        };
    }
    match t.pathway {
        Pathway::C3 => {
            format!("{name} opens its stomata by day (C3, {known}).")
        }
        Pathway::WeakCam => format!(
            "{name} opens its stomata by day (weak CAM, {known}): it gains some acid by night, and \
             its carbon is that of a C3 plant."
        ),
        Pathway::Cam => {
            format!("{name} opens its stomata by night (CAM, {known}).")
        }
        Pathway::Facultative => format!(
            "{name} is facultative CAM ({known}): it opens by day while well watered and may turn to \
             the night in drought."
        ),
        Pathway::Variable if t.cam_share.is_some_and(|s| s.cam == 0 || s.cam == s.measured) => {
            format!(
                "{name} is not settled ({known}): what was measured in it points one way and its \
                 relatives or its leaf the other, so this plant may do either."
            )
        }
        Pathway::Variable => format!(
            "{name} differs within itself ({known}): {}, so this plant may do either.",
            divided(t.cam_share)
        ),
        Pathway::Unknown => match t.chance {
            Some(chance) => format!(
                "When {name} opens its stomata is not known here; by its relatives and its leaf it \
                 is CAM with a probability of {:.0} %.",
                100.0 * chance.cam().get::<ratio>()
            ),
            None => format!("When {name} opens its stomata is not known here."),
        },
    }
}

/// The whole answer as one paragraph.
pub(crate) fn answer(
    resolution: &Resolution<'_>,
    t: &Trait,
    name: Option<&str>,
    rule: Option<&str>,
) -> String {
    let mut text: Vec<String> = Vec::new();
    match (&resolution.found, name) {
        (Some(found), Some(name)) => found_text(&mut text, resolution, found, name, t),
        _ if resolution.is_ambiguous() => {
            let names: Vec<String> = resolution
                .candidates
                .iter()
                .map(|c| c.taxon.name())
                .collect();
            text.push(format!(
                "{:?} may mean {}; say which.",
                resolution.query.trim(),
                list(&names, "or")
            ));
            if t.pathway != Pathway::Unknown {
                text.push(match t.opens {
                    Opens::Day => "All of them open by day.".into(),
                    Opens::Night => "All of them open by night.".into(),
                    _ => "They do not all open at the same time.".into(),
                });
            }
        }
        _ if resolution.other_plant.is_some() => {
            text.extend(resolution.other_plant.map(|o| {
                format!(
                    "{} is not an orchid ({}); the tables hold orchids only, so when it opens its \
                     stomata is unknown here.",
                    o.genus, o.family
                )
            }));
        }
        _ => text.push(format!(
            "{:?} is not a name in the tables, and nothing near it is; when it opens its stomata is \
             unknown here.",
            resolution.query.trim()
        )),
    }
    match t.pathway {
        _ if t.leafless => {}
        Pathway::Unknown => {}
        Pathway::C3 | Pathway::WeakCam => text.push(TIMING_C3.into()),
        _ => text.push(TIMING.into()),
    }
    text.extend(rule.map(str::to_owned));
    text.join(" ")
}

fn found_text(
    text: &mut Vec<String>,
    resolution: &Resolution<'_>,
    found: &Found<'_>,
    name: &str,
    t: &Trait,
) {
    if let Some(taken) = found.corrected_to() {
        text.push(format!("Read {:?} as {taken}; check the spelling.", resolution.query.trim()));
    }
    if let Some(n) = found.synonym {
        text.push(format!("{} is another name of {name}.", n.name));
    }
    if let Some(n) = found.via {
        let genus = match found.taxon {
            Taxon::Species(s) => s.genus().name.to_owned(),
            taxon => taxon.name(),
        };
        match n.kind {
            NameKind::Synonym => text.push(match found.taxon {
                Taxon::Species(_) => {
                    format!("{} is an older name; the species is now {name}.", n.name)
                }
                _ => format!("{} is an older name for {genus}.", n.name),
            }),
            NameKind::Abbreviation => text.push(format!("{} is short for {genus}.", n.name)),
            NameKind::Nothogenus => text.push(format!("{} is short for {genus}.", n.abbreviation)),
            NameKind::Common => text.push(format!("{} is a common name for {genus}.", n.name)),
            NameKind::Spelling => {} // stated above
        }
    }
    match found.taxon {
        Taxon::Nothogenus(n) => {
            text.push(hybrid(name, n.genera().map(|g| (g.name, g.traits)), t));
        }
        Taxon::Cross(a, b) => {
            let parents = [(a.name, a.traits), (b.name, b.traits)];
            text.push(hybrid(name, parents.into_iter(), t));
        }
        Taxon::Genus(g) if g.habit == Habit::Mycoheterotroph => text.push(mycoheterotroph(name)),
        Taxon::Genus(_) | Taxon::Species(_) => text.push(opening(name, t)),
    }
    if let Taxon::Genus(g) = found.taxon {
        if found.epithet.is_some() || found.hybrid {
            text.push(format!(
                "There is no record of this plant itself, so the genus {} answers for it.",
                g.name
            ));
        }
        if let Some(s) = t.cam_share {
            text.push(format!("In the genus: {}.", share(s)));
        }
    }
    if let Taxon::Species(s) = found.taxon
        && s.traits.grade != Grade::Unknown
        && s.genus().traits.pathway != s.traits.pathway
        && s.genus().traits.pathway != Pathway::Unknown
    {
        text.push(format!(
            "Its own record overrides the genus, which is {}.",
            pathway(s.genus().traits.pathway)
        ));
    }
    if let Some(p) = t.opens_peak {
        text.push(format!("The widest opening was measured {}.", peak(p)));
    }
}

fn hybrid(
    name: &str,
    parents: impl Iterator<Item = (&'static str, Trait)> + Clone,
    t: &Trait,
) -> String {
    let each: Vec<String> = parents.map(|(n, p)| format!("{n} ({})", pathway(p.pathway))).collect();
    let crossed = match each.as_slice() {
        [one] => format!("{name} was a hybrid of genera that are now one: {one}."),
        _ => format!("{name} is a hybrid of {}.", list(&each, "and")),
    };
    match t.pathway {
        Pathway::Unknown => format!(
            "{crossed} A parent's pathway is unknown, so that of the hybrid is unknown too."
        ),
        Pathway::Variable => format!(
            "{crossed} The parents do not agree, so it may open by day or by night, depending on \
             which it takes after."
        ),
        _ => format!("{crossed} {}", opening("It", t)),
    }
}

/// Remarks on how the answer was reached.
pub(crate) fn notes(resolution: &Resolution<'_>, t: &Trait, leaf: Option<Leaf>) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(found) = &resolution.found {
        match found.taxon {
            Taxon::Genus(g) => push(&mut notes, g.notes),
            Taxon::Species(s) => {
                if s.traits.grade == Grade::Unknown {
                    notes.push(
                        "the species has records, but none settles its pathway: the genus answers"
                            .into(),
                    );
                }
                push(&mut notes, s.genus().notes);
            }
            Taxon::Nothogenus(n) => push(&mut notes, n.notes),
            Taxon::Cross(..) => {}
        }
        // The abbreviation of a hybrid genus is in the row of that genus, already noted.
        let via = found.via.filter(|n| n.kind != NameKind::Nothogenus);
        if let Some(n) = via {
            push(&mut notes, n.notes);
        }
        let from_memory = |n: &NameRecord| n.evidence == NameEvidence::FromMemory;
        if let Taxon::Nothogenus(n) = found.taxon
            && from_memory(n)
        {
            notes.push(format!("the parents of {} are entered from memory", n.name));
        }
        if let Some(n) = found.synonym.filter(|n| n.evidence == NameEvidence::FromMemory) {
            notes.push(format!("that {} is {} is entered from memory", n.name, n.accepted()));
        }
        if let Some(n) = via.filter(|n| from_memory(n)) {
            notes.push(format!("the synonymy of {} is entered from memory", n.name));
        }
    }
    if let Some(leaf) = leaf {
        let guess = leaf_rule(leaf).pathway;
        if matches!(t.pathway, Pathway::C3 | Pathway::WeakCam | Pathway::Cam)
            && guess != Pathway::Unknown
            && guess.opens() != t.pathway.opens()
        {
            notes.push(format!(
                "a {leaf} leaf would suggest {}, but the record of the name goes before the rule by \
                 leaf",
                pathway(guess)
            ));
        }
    }
    notes
}

fn push(notes: &mut Vec<String>, note: &str) {
    if !note.is_empty() {
        notes.push(note.to_owned());
    }
}

/// The rule by leaf in words.
pub(crate) fn rule(guess: &Trait, rate: HitRate) -> String {
    let mut text = String::from("Rule of thumb for this plant: ");
    match guess.opens {
        Opens::Day => text.push_str(&format!("a {} leaf suggests an opening by day", guess.leaf)),
        Opens::Night => {
            text.push_str(&format!("a {} leaf suggests an opening by night", guess.leaf))
        }
        _ if guess.leafless => text.push_str("a leafless plant is treated by root"),
        _ => text.push_str(
            "a leaf of up to 1 mm suggests an opening by day, a thicker or pencil-shaped one an \
             opening by night",
        ),
    }
    if let Some(s) = guess.cam_share {
        text.push_str(&format!(" ({} with such a leaf)", share(s)));
    }
    text.push('.');
    if rate.measured > 0 {
        let percent = 100.0 * f64::from(rate.right) / f64::from(rate.measured);
        text.push_str(&format!(
            " The rule is right for {percent:.0} % of the {} species whose leaf and pathway were both \
             measured, and wrong for whole genera.",
            rate.measured
        ));
    }
    text
}
