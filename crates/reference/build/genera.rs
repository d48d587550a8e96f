//! `data/genera.csv` → the table of accepted genera, with the pathway that the rule computes.

use crate::observations::GenusStatement;
use crate::pack::{Lists, Pack, variants};
use crate::pathway_relatives::{Relatives, Without};
use crate::pathway_rule::{Rule, Statement};
use crate::species::Species;
use crate::table::{Faults, rows, words};
use crate::traits::{Traits, delta, span, thickness};
use std::collections::{BTreeMap, BTreeSet};

const COLUMNS: [&str; 12] = [
    "genus",
    "subfamily",
    "tribe",
    "subtribe",
    "habit",
    "leaf",
    "leaf_evidence",
    "leaf_sources",
    "opens_peak",
    "opens_peak_source",
    "placement_source",
    "notes",
];

/// δ¹³C of a land plant: anything outside is a slip.
pub(crate) const D13C: std::ops::RangeInclusive<f64> = -40.0..=-8.0;
/// Leaf thickness in mm.
pub(crate) const LEAF_MM: std::ops::RangeInclusive<f64> = 0.01..=30.0;

pub(crate) struct Genus {
    pub(crate) at: String,
    pub(crate) name: String,
    pub(crate) placement: [String; 3],
    habit: &'static str,
    leaf_mm: (Option<(f64, f64)>, usize),
    d13c: (Option<(f64, f64)>, usize),
    pub(crate) traits: Traits,
    leaf_sources: Vec<String>,
    peak_sources: Vec<String>,
    placement_sources: Vec<String>,
    statement: Option<Statement>,
    notes: String,
}

pub(crate) fn parse(
    sources: &BTreeMap<String, usize>,
    faults: &mut Faults,
) -> Result<Vec<Genus>, String> {
    let mut genera: Vec<Genus> = Vec::new();
    for row in rows(guardcell_data::GENERA, &COLUMNS)? {
        let name = row.get("genus").to_owned();
        let proper = name.len() > 1
            && name.starts_with(|c: char| c.is_ascii_uppercase())
            && name.chars().skip(1).all(|c| c.is_ascii_lowercase());
        if !proper {
            faults.error(
                &row.at,
                format!("genus {name:?}; it should be one capitalised word in plain letters"),
            );
        }
        if row.get("subfamily").is_empty() {
            faults.error(&row.at, "subfamily is blank; it should be named");
        }
        let traits = Traits {
            leaf: row.word("leaf", words::LEAF, faults),
            peak: row.word("opens_peak", words::PEAK, faults),
            leaf_grade: row.word("leaf_evidence", words::GRADE, faults),
            ..Traits::unknown()
        };
        genera.push(Genus {
            habit: row.word("habit", words::HABIT, faults),
            leaf_sources: row.keys("leaf_sources", sources, faults),
            peak_sources: row.keys("opens_peak_source", sources, faults),
            placement_sources: row.keys("placement_source", sources, faults),
            placement: ["subfamily", "tribe", "subtribe"].map(|c| row.get(c).to_owned()),
            notes: row.get("notes").to_owned(),
            statement: None,
            leaf_mm: (None, 0),
            d13c: (None, 0),
            at: row.at,
            name,
            traits,
        });
    }
    genera.sort_by(|a, b| a.name.cmp(&b.name));
    for pair in genera.windows(2) {
        if let [a, b] = pair
            && a.name == b.name
        {
            faults.error(&b.at, format!("duplicate genus {:?} (also {})", b.name, a.at));
        }
    }
    Ok(genera)
}

/// Combinations that cannot be.
pub(crate) fn check(genera: &[Genus], species: &[Species], faults: &mut Faults) {
    let thick: BTreeSet<usize> =
        species.iter().filter(|s| s.thickness.0.is_some()).map(|s| s.genus).collect();
    for (i, g) in genera.iter().enumerate() {
        let t = &g.traits;
        if (t.leaf == "Unknown") != (t.leaf_grade == "Unknown") {
            faults.error(
                &g.at,
                format!(
                    "leaf and leaf_evidence of {}: one is unknown and the other is not",
                    g.name
                ),
            );
        }
        if t.leaf_grade == "Reported" && g.leaf_sources.is_empty() {
            faults.error(&g.at, format!("the leaf of {} is reported without a source", g.name));
        }
        if t.leaf_grade == "Measured" && !thick.contains(&i) {
            faults.error(
                &g.at,
                format!("the leaf of {} is `measured` without a thickness in observations", g.name),
            );
        }
        if t.peak.is_empty() != g.peak_sources.is_empty() {
            faults.error(&g.at, "opens_peak and opens_peak_source; give both or neither");
        }
    }
}

/// Computes the pathway of each genus by the rule, and its spans from its species.
pub(crate) fn judge(
    genera: &mut [Genus],
    species: &[Species],
    statements: &[GenusStatement],
    relatives: &Relatives,
    rule: &Rule,
) {
    let works = relatives_works(genera, species);
    for (i, g) in genera.iter_mut().enumerate() {
        let of: Vec<&Species> = species.iter().filter(|s| s.genus == i).collect();
        let counted: Vec<&&Species> = of.iter().filter(|s| s.member.counted).collect();
        let known: Vec<&&&Species> = counted.iter().filter(|s| s.member.cam.is_some()).collect();
        let cam = known.iter().filter(|s| s.member.cam.is_some_and(|p| p > 0.5)).count();
        let spans = |f: &dyn Fn(&Species) -> Option<(f64, f64)>| {
            let all: Vec<(f64, f64)> = if counted.iter().any(|s| f(s).is_some()) {
                counted.iter().filter_map(|s| f(s)).collect()
            } else {
                of.iter().filter_map(|s| f(s)).collect()
            };
            let low = all.iter().map(|s| s.0).fold(f64::INFINITY, f64::min);
            let high = all.iter().map(|s| s.1).fold(f64::NEG_INFINITY, f64::max);
            ((!all.is_empty()).then_some((low, high)), all.len())
        };
        (g.d13c, g.leaf_mm) = (spans(&|s| s.d13c.0), spans(&|s| s.thickness.0));
        let statement = statements.iter().find(|s| s.genus == i);
        g.statement = statement.map(GenusStatement::of_rule);
        let measured = of.iter().any(|s| s.measured);
        let reported = statement.is_some() || of.iter().any(|s| s.member.cam.is_some());
        let shares = rule.shares(relatives.prior(i, Without::Nothing, None), [1.0; 3]);
        let (depth, others) = relatives.nearest(i);
        // A plant without leaf green has no pathway.
        let green = g.habit != "Mycoheterotroph";
        let pathway = if green {
            // That it has CAM stands for one species where none was measured.
            let some_cam = known.is_empty() && statement.is_some_and(|s| s.statement == "SomeCam");
            let one = usize::from(some_cam);
            let call = rule.call_genus(shares, cam + one, known.len() + one);
            crate::species::word(call, false, measured || reported)
        } else {
            "Unknown"
        };
        g.traits.pathway = pathway;
        g.traits.shares = green.then_some(shares);
        g.traits.grade = match (pathway, measured, reported) {
            ("Unknown", _, _) => "Unknown",
            (_, true, _) => "Measured",
            (_, false, true) => "Reported",
            _ => "Inferred",
        };
        g.traits.cam_share =
            (!known.is_empty()).then(|| (cam as u16, u16::try_from(known.len()).unwrap_or(0)));
        let own = of.iter().filter(|s| s.member.cam.is_some()).flat_map(|s| &s.sources);
        let mut keys: BTreeSet<&String> =
            own.chain(statement.into_iter().flat_map(|s| &s.sources)).collect();
        let place = depth.checked_sub(1).map_or("", |d| g.placement[d].as_str());
        if keys.is_empty() && green {
            keys.extend(works.get(place).into_iter().flatten());
        }
        g.traits.sources = keys.into_iter().cloned().collect();
        let own_note = statement.map_or("", |s| s.notes.as_str());
        let computed = if green { basis(g, place, others) } else { String::new() };
        let leaf_note = if green { contradiction(g) } else { String::new() };
        g.notes = [computed.as_str(), own_note, leaf_note.as_str(), g.notes.as_str()]
            .iter()
            .filter(|n| !n.is_empty())
            .copied()
            .collect::<Vec<_>>()
            .join("; ");
    }
}

/// The works of the measured species by subtribe, tribe and subfamily.
fn relatives_works(genera: &[Genus], species: &[Species]) -> BTreeMap<String, BTreeSet<String>> {
    let mut works: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for s in species.iter().filter(|s| s.member.cam.is_some()) {
        let places = genera.get(s.genus).map_or(&[][..], |g| &g.placement[..]);
        for place in places.iter().filter(|p| !p.is_empty()) {
            works.entry(place.clone()).or_default().extend(s.sources.iter().cloned());
        }
    }
    works
}

/// That leaf and pathway disagree, where the notes do not say so.
fn contradiction(g: &Genus) -> String {
    let disagree = matches!(
        (g.traits.leaf, g.traits.pathway),
        ("Thick" | "Terete", "C3" | "WeakCam") | ("Thin", "Cam" | "Facultative")
    );
    if !disagree || g.notes.contains(&g.traits.leaf.to_lowercase()) {
        return String::new();
    }
    let pathway = if g.traits.pathway == "Cam" { "CAM" } else { "C3" };
    format!("{} leaf yet {pathway}", g.traits.leaf.to_lowercase())
}

/// How the pathway of a genus without evidence of its own comes about.
fn basis(g: &Genus, place: &str, others: usize) -> String {
    match (g.traits.grade, place) {
        ("Measured" | "Reported", _) => String::new(),
        (_, "") => "no measurement found".into(),
        ("Unknown", _) => {
            format!("no measurement found; its relatives ({place}) do not settle it")
        }
        _ => format!(
            "inferred from {others} measured {} of {place} and its leaf",
            if others == 1 { "genus" } else { "genera" }
        ),
    }
}

pub(crate) fn emit(
    genera: &[Genus],
    ranges: &BTreeMap<String, (usize, usize)>,
    lists: &mut Lists<'_>,
) -> String {
    let packed = Pack::of(genera, |row, g| {
        row.text(&g.name);
        g.placement.iter().for_each(|place| row.text(place));
        row.word(words::HABIT, g.habit);
        span(row, g.leaf_mm, thickness);
        span(row, g.d13c, delta);
        g.traits.pack(row, lists);
        for keys in [&g.leaf_sources, &g.peak_sources, &g.placement_sources] {
            row.number(lists.number(keys));
        }
        row.text(&g.notes);
        row.option(g.statement.and_then(|s| Statement::ALL.iter().position(|t| *t == s)));
        row.number(ranges.get(&g.name).map_or(0, |(from, to)| to - from));
    });
    variants("HABITS", "Habit", words::HABIT) + &packed.rust("PACKED_GENERA")
}
