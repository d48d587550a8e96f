//! `data/species.csv` → records of species, and the trait each species' records add up to.

use crate::genera::{D13C, Genus, LEAF_MM};
use crate::table::{Faults, rows, words};
use crate::traits::{Traits, delta, option, span, strings, thickness};
use std::collections::BTreeMap;
use std::fmt::Write as _;

const COLUMNS: [&str; 15] = [
    "genus",
    "specific_epithet",
    "organ",
    "d13c_permil",
    "leaf_thickness_mm",
    "dh_umol_g_fw",
    "dh_significant",
    "pathway",
    "cut_permil",
    "evidence",
    "method",
    "source",
    "read_in",
    "verbatim_name",
    "notes",
];

pub(crate) struct Record {
    pub(crate) genus: usize,
    pub(crate) epithet: String,
    organ: &'static str,
    pub(crate) d13c: Option<f64>,
    pub(crate) thickness: Option<f64>,
    acid_rise: Option<f64>,
    significant: &'static str,
    pub(crate) pathway: &'static str,
    cut: Option<f64>,
    pub(crate) grade: &'static str,
    method: String,
    pub(crate) sources: Vec<String>,
    pub(crate) verbatim: String,
    notes: String,
}

impl Record {
    /// Whether the record is about the organ that feeds through stomata.
    fn counts(&self) -> bool {
        matches!(self.organ, "Leaf" | "Whole")
    }
}

/// One species: its place in the table of records and what they add up to.
pub(crate) struct Species {
    pub(crate) genus: usize,
    pub(crate) epithet: String,
    records: (usize, usize),
    d13c: (Option<(f64, f64)>, usize),
    thickness: (Option<(f64, f64)>, usize),
    traits: Traits,
}

pub(crate) fn parse(
    genera: &[Genus],
    sources: &BTreeMap<String, usize>,
    faults: &mut Faults,
) -> Result<Vec<Record>, String> {
    let mut records = Vec::new();
    for row in rows(guardcell_data::SPECIES, &COLUMNS)? {
        let name = row.get("genus");
        let Ok(genus) = genera.binary_search_by(|g| g.name.as_str().cmp(name)) else {
            faults.error(&row.at, format!("genus {name:?} is not in data/genera.csv"));
            continue;
        };
        let epithet = row.get("specific_epithet").to_owned();
        let plain = epithet.strip_prefix("× ").unwrap_or(&epithet);
        let undetermined = epithet.starts_with("sp.");
        if plain.is_empty()
            || !(undetermined || plain.chars().all(|c| c.is_ascii_lowercase() || c == '-'))
        {
            faults.error(
                &row.at,
                format!(
                    "specific_epithet {epithet:?}; it should be lower-case plain letters, after \
                     `× ` for a hybrid, or begin with `sp.` if it was not determined"
                ),
            );
        }
        let d13c = row.number("d13c_permil", D13C, faults);
        let acid_rise = row.number("dh_umol_g_fw", -100.0..=1000.0, faults);
        let grade = row.word("evidence", words::GRADE, faults);
        let method = row.get("method").to_owned();
        if grade == "Measured" && d13c.is_none() && acid_rise.is_none() && method.is_empty() {
            faults.error(
                &row.at,
                "evidence is `measured`, but the row has no d13c_permil, no dh_umol_g_fw and no \
                 method",
            );
        }
        let mut keys = row.keys("source", sources, faults);
        if keys.is_empty() {
            faults.error(&row.at, "source is blank; it should name a work");
        }
        for key in row.keys("read_in", sources, faults) {
            if !keys.contains(&key) {
                keys.push(key);
            }
        }
        records.push(Record {
            genus,
            epithet,
            organ: row.word("organ", words::ORGAN, faults),
            d13c,
            thickness: row.number("leaf_thickness_mm", LEAF_MM, faults),
            acid_rise,
            significant: row.word("dh_significant", words::SIGNIFICANT, faults),
            pathway: row.word("pathway", words::PATHWAY, faults),
            cut: row.number("cut_permil", D13C, faults),
            grade,
            method,
            sources: keys,
            // Kept only where it differs from the accepted name.
            verbatim: Some(row.get("verbatim_name"))
                .filter(|v| *v != format!("{name} {}", row.get("specific_epithet")))
                .unwrap_or_default()
                .to_owned(),
            notes: row.get("notes").to_owned(),
        });
    }
    records.sort_by(|a, b| (a.genus, &a.epithet).cmp(&(b.genus, &b.epithet)));
    Ok(records)
}

/// Adds the records of each species up.
pub(crate) fn add_up(records: &[Record], genera: &[Genus]) -> Vec<Species> {
    let mut all = Vec::new();
    let mut from = 0;
    for group in records.chunk_by(|a, b| (a.genus, &a.epithet) == (b.genus, &b.epithet)) {
        let to = from + group.len();
        if let (Some(first), Some(genus)) = (group.first(), genera.get(group[0].genus)) {
            let on_leaf: Vec<&Record> = group.iter().filter(|r| r.counts()).collect();
            // Where no record is about the leaf (a leafless plant), all of them count.
            let counted = if on_leaf.is_empty() { group.iter().collect() } else { on_leaf };
            all.push(Species {
                genus: first.genus,
                epithet: first.epithet.clone(),
                records: (from, to),
                d13c: extent(counted.iter().filter_map(|r| r.d13c)),
                thickness: extent(counted.iter().filter_map(|r| r.thickness)),
                traits: traits(&counted, &genus.traits),
            });
        }
        from = to;
    }
    all
}

fn extent(values: impl Iterator<Item = f64>) -> (Option<(f64, f64)>, usize) {
    values.fold((None, 0), |(span, n), v| {
        let (low, high) = span.unwrap_or((v, v));
        (Some((v.min(low), v.max(high))), n + 1)
    })
}

/// Rank of a grade, for taking the best.
fn rank(grade: &str) -> u8 {
    match grade {
        "Measured" => 3,
        "Reported" => 2,
        "Inferred" => 1,
        _ => 0,
    }
}

fn traits(records: &[&Record], genus: &Traits) -> Traits {
    let known: Vec<&&Record> = records.iter().filter(|r| r.pathway != "Unknown").collect();
    let says = |p: &str| known.iter().any(|r| r.pathway == p);
    // Isotopes cannot see weak or facultative CAM, so one finding of it outweighs C3.
    let pathway = match (says("C3"), says("Cam"), says("Facultative"), says("Variable")) {
        (false, false, false, false) => "Unknown",
        (_, _, _, true) | (true, true, _, _) => "Variable",
        (_, _, true, _) => "Facultative",
        (true, false, false, false) => "C3",
        (false, true, false, false) => "Cam",
    };
    let grade = known.iter().map(|r| r.grade).max_by_key(|g| rank(g)).unwrap_or("Unknown");
    let thickness: Vec<f64> = records.iter().filter_map(|r| r.thickness).collect();
    let (leaf, leaf_grade) = if matches!(genus.leaf, "Terete" | "Leafless") || thickness.is_empty()
    {
        let grade = if rank(genus.leaf_grade) > 1 { "Inferred" } else { genus.leaf_grade };
        (genus.leaf, grade)
    } else {
        let mean = thickness.iter().sum::<f64>() / thickness.len() as f64;
        (crate::leaf_rule::class(mean), "Measured")
    };
    let mut sources = Vec::new();
    for key in known.iter().flat_map(|r| &r.sources) {
        if !sources.contains(key) {
            sources.push(key.clone());
        }
    }
    Traits { pathway, leaf, peak: genus.peak, cam_share: None, grade, leaf_grade, sources }
}

pub(crate) fn ranges(species: &[Species], genera: &[Genus]) -> BTreeMap<String, (usize, usize)> {
    let mut ranges: BTreeMap<String, (usize, usize)> = BTreeMap::new();
    for (i, s) in species.iter().enumerate() {
        if let Some(g) = genera.get(s.genus) {
            ranges.entry(g.name.clone()).or_insert((i, i)).1 = i + 1;
        }
    }
    ranges
}

pub(crate) fn emit(records: &[Record], species: &[Species], genera: &[Genus]) -> String {
    let mut text = String::from(
        "#[allow(unused_imports)]\nuse crate::traits::{CamShare, Leaf, Opens, PeakTime, SourceKeys};\n\
         static RECORDS: &[SpeciesRecord] = &[\n",
    );
    for r in records {
        let genus = genera.get(r.genus).map_or("", |g| g.name.as_str());
        let _ = writeln!(
            text,
            "    SpeciesRecord {{ genus: {genus:?}, epithet: {:?}, organ: Organ::{}, d13c: {}, \
             thickness: {}, acid_rise: {}, pathway: Pathway::{}, cut: {}, grade: Grade::{}, \
             method: {:?}, sources: {}, verbatim_name: {:?}, notes: {:?} }},",
            r.epithet,
            r.organ,
            option(r.d13c.map(delta)),
            option(r.thickness.map(thickness)),
            option(r.acid_rise.map(|v| format!(
                "AcidRise {{ umol_per_g_fw: {v:?}, significant: {} }}",
                r.significant
            ))),
            r.pathway,
            option(r.cut.map(delta)),
            r.grade,
            r.method,
            strings(&r.sources),
            r.verbatim,
            r.notes,
        );
    }
    text.push_str("];\nstatic SPECIES: &[Species] = &[\n");
    for s in species {
        let _ = writeln!(
            text,
            "    Species {{ epithet: {:?}, d13c: {}, thickness: {}, traits: {}, genus: {}, \
             records: ({}, {}) }},",
            s.epithet,
            span(s.d13c.0, s.d13c.1, delta),
            span(s.thickness.0, s.thickness.1, thickness),
            s.traits.rust(),
            s.genus,
            s.records.0,
            s.records.1,
        );
    }
    text.push_str("];\n");
    text
}
