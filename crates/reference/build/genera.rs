//! `data/genera.csv` → the table of accepted genera.

use crate::table::{Faults, rows, words};
use crate::traits::{Traits, delta, option, span, strings, thickness};
use std::collections::BTreeMap;
use std::fmt::Write as _;

const COLUMNS: [&str; 21] = [
    "genus",
    "subfamily",
    "tribe",
    "subtribe",
    "habit",
    "leaf",
    "leaf_mm_low",
    "leaf_mm_high",
    "leaf_mm_n",
    "pathway",
    "cam_species",
    "measured_species",
    "d13c_low",
    "d13c_high",
    "cut_permil",
    "opens_peak",
    "evidence",
    "leaf_evidence",
    "sources",
    "placement_source",
    "notes",
];

/// δ¹³C of a land plant: anything outside is a slip.
pub(crate) const D13C: std::ops::RangeInclusive<f64> = -40.0..=-8.0;
/// Leaf thickness in mm.
pub(crate) const LEAF_MM: std::ops::RangeInclusive<f64> = 0.01..=30.0;
const COUNT: std::ops::RangeInclusive<f64> = 0.0..=5000.0;

pub(crate) struct Genus {
    pub(crate) at: String,
    pub(crate) name: String,
    placement: [String; 3],
    habit: &'static str,
    leaf_mm: Option<(f64, f64)>,
    leaf_n: usize,
    d13c: Option<(f64, f64)>,
    cut: Option<f64>,
    pub(crate) traits: Traits,
    placement_sources: Vec<String>,
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
        let mut range = |low: &str, high: &str, limits: std::ops::RangeInclusive<f64>| {
            let (a, b) =
                (row.number(low, limits.clone(), faults), row.number(high, limits, faults));
            match (a, b) {
                (Some(a), Some(b)) if a > b => {
                    faults.error(&row.at, format!("{low} {a} is above {high} {b}"));
                    None
                }
                (Some(a), Some(b)) => Some((a, b)),
                (None, None) => None,
                _ => {
                    faults.error(&row.at, format!("{low} and {high}; give both or neither"));
                    None
                }
            }
        };
        let d13c = range("d13c_low", "d13c_high", D13C);
        let leaf_mm = range("leaf_mm_low", "leaf_mm_high", LEAF_MM);
        let cam = row.number("cam_species", COUNT, faults);
        let measured = row.number("measured_species", COUNT, faults);
        let cam_share = match (cam, measured) {
            (Some(c), Some(n)) if c > n => {
                faults.error(&row.at, format!("cam_species {c} is more than measured_species {n}"));
                None
            }
            (Some(c), Some(n)) if n > 0.0 => Some((c as u16, n as u16)),
            (Some(c), None) if c > 0.0 => {
                faults.error(&row.at, "cam_species without measured_species");
                None
            }
            _ => None,
        };
        let traits = Traits {
            pathway: row.word("pathway", words::PATHWAY, faults),
            leaf: row.word("leaf", words::LEAF, faults),
            peak: row.word("opens_peak", words::PEAK, faults),
            cam_share,
            grade: row.word("evidence", words::GRADE, faults),
            leaf_grade: row.word("leaf_evidence", words::GRADE, faults),
            sources: row.keys("sources", sources, faults),
        };
        genera.push(Genus {
            habit: row.word("habit", words::HABIT, faults),
            leaf_n: row.number("leaf_mm_n", COUNT, faults).unwrap_or(0.0) as usize,
            cut: row.number("cut_permil", D13C, faults),
            placement_sources: row.keys("placement_source", sources, faults),
            placement: ["subfamily", "tribe", "subtribe"].map(|c| row.get(c).to_owned()),
            notes: row.get("notes").to_owned(),
            at: row.at,
            name,
            leaf_mm,
            d13c,
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

/// Combinations that cannot be, given which genera have a measured species record.
pub(crate) fn check(genera: &[Genus], measured: impl Fn(&str) -> bool, faults: &mut Faults) {
    for g in genera {
        let t = &g.traits;
        if t.grade == "Measured"
            && !measured(&g.name)
            && (t.cam_share.is_none() || g.d13c.is_none())
        {
            faults.error(
                &g.at,
                format!(
                    "evidence of {} is `measured`, but it has neither a measured row in species.csv \
                     nor measured_species with d13c_low and d13c_high",
                    g.name
                ),
            );
        }
        if (t.pathway == "Unknown") != (t.grade == "Unknown") {
            faults.error(
                &g.at,
                format!("pathway and evidence of {}: one is unknown and the other is not", g.name),
            );
        }
        if (t.leaf == "Unknown") != (t.leaf_grade == "Unknown") {
            faults.error(
                &g.at,
                format!(
                    "leaf and leaf_evidence of {}: one is unknown and the other is not",
                    g.name
                ),
            );
        }
        if matches!(t.grade, "Measured" | "Reported") && t.sources.is_empty() {
            faults.error(
                &g.at,
                format!("{} is {} and names no source", g.name, t.grade.to_lowercase()),
            );
        }
        match (t.pathway, t.cam_share) {
            ("Cam", Some((0, n))) => faults
                .error(&g.at, format!("{} is cam, but none of {n} measured species is", g.name)),
            ("C3", Some((c, n))) if c == n => faults
                .error(&g.at, format!("{} is c3, but all {n} measured species are cam", g.name)),
            _ => {}
        }
    }
}

pub(crate) fn emit(genera: &[Genus], ranges: &BTreeMap<String, (usize, usize)>) -> String {
    let mut text = String::from(
        "#[allow(unused_imports)]\nuse crate::traits::{CamShare, Opens, Pathway, PeakTime, SourceKeys};\n\
         static GENERA: &[Genus] = &[\n",
    );
    for g in genera {
        let [subfamily, tribe, subtribe] = &g.placement;
        let (from, to) = ranges.get(&g.name).copied().unwrap_or((0, 0));
        let n = g.traits.cam_share.map_or(0, |(_, n)| usize::from(n));
        let _ = writeln!(
            text,
            "    Genus {{ name: {:?}, subfamily: {subfamily:?}, tribe: {tribe:?}, subtribe: \
             {subtribe:?}, habit: Habit::{}, thickness: {}, d13c: {}, cut: {}, traits: {}, \
             placement_sources: {}, notes: {:?}, species: ({from}, {to}) }},",
            g.name,
            g.habit,
            span(g.leaf_mm, g.leaf_n, thickness),
            span(g.d13c, n, delta),
            option(g.cut.map(delta)),
            g.traits.rust(),
            strings(&g.placement_sources),
            g.notes,
        );
    }
    text.push_str("];\n");
    text
}
