//! `data/observations.csv` and `data/judgements.csv` → records of species: what one work says of
//! one part of one species. Statements on whole genera are handed on apart.

use crate::genera::{D13C, Genus, LEAF_MM};
use crate::pathway_rule::{By, Evidence, Kind, Statement};
use crate::table::{Faults, Row, rows, words};
use std::collections::{BTreeMap, BTreeSet};

const OBSERVED: [&str; 18] = [
    "id",
    "record",
    "genus",
    "specific_epithet",
    "verbatim_name",
    "organ",
    "trait",
    "value",
    "unit",
    "n",
    "low",
    "high",
    "significant",
    "method",
    "source",
    "read_in",
    "flag",
    "notes",
];
const JUDGED: [&str; 13] = [
    "id",
    "record",
    "genus",
    "specific_epithet",
    "verbatim_name",
    "organ",
    "trait",
    "statement",
    "grade",
    "method",
    "source",
    "read_in",
    "notes",
];

#[derive(Default)]
pub(crate) struct Record {
    pub(crate) at: String,
    pub(crate) key: String,
    pub(crate) genus: usize,
    pub(crate) epithet: String,
    pub(crate) organ: &'static str,
    pub(crate) d13c: Option<f64>,
    pub(crate) d13c_span: Option<(f64, f64)>,
    /// Leaves or plants that the isotope ratio and the thickness are means of.
    pub(crate) d13c_n: Option<f64>,
    pub(crate) thickness_n: Option<f64>,
    pub(crate) thickness: Option<f64>,
    pub(crate) acid_rise: Option<f64>,
    pub(crate) significant: Option<bool>,
    /// The pathway that the work names, and how well it knows it.
    pub(crate) statement: Option<(&'static str, &'static str)>,
    /// Set aside by a flag: kept, but not used by the rule.
    pub(crate) outlier: bool,
    /// Not counted among the species of its genus.
    pub(crate) uncounted: bool,
    pub(crate) methods: Vec<String>,
    pub(crate) sources: Vec<String>,
    pub(crate) verbatim: String,
    pub(crate) notes: String,
}

/// A statement on a whole genus.
pub(crate) struct GenusStatement {
    pub(crate) genus: usize,
    pub(crate) statement: &'static str,
    pub(crate) sources: Vec<String>,
    pub(crate) notes: String,
}

impl GenusStatement {
    /// The statement as the rule takes it.
    pub(crate) fn of_rule(&self) -> Statement {
        match self.statement {
            "Cam" => Statement::Cam,
            "SomeCam" => Statement::SomeCam,
            "Variable" => Statement::Variable,
            _ => Statement::C3,
        }
    }
}

impl Record {
    /// Whether the record is about the organ that feeds through stomata.
    pub(crate) fn counts(&self) -> bool {
        matches!(self.organ, "Leaf" | "Whole")
    }

    pub(crate) fn method(&self) -> String {
        self.methods.join(", ")
    }

    /// Whether a value of its own, or gas exchange, says something of the pathway.
    pub(crate) fn measured(&self) -> bool {
        self.d13c.is_some()
            || self.significant.is_some()
            || self.statement.is_some_and(|(_, grade)| grade == "Measured")
    }

    /// What it says of the pathway.
    pub(crate) fn evidence(&self) -> Vec<Evidence> {
        let mut all = Vec::new();
        if self.outlier {
            return all;
        }
        all.extend(self.d13c.map(|d| Evidence::D13c(d, self.d13c_span)));
        all.extend(self.significant.map(Evidence::AcidRise));
        if let Some((statement, _)) = self.statement {
            let method = self.method();
            // By day alone it says no more than words: plants with CAM take up CO2 then as well.
            let whole_day = !method.contains("gas exchange by day");
            let by = if method.contains("gas exchange") && whole_day {
                By::GasExchange
            } else if method.contains("acidity") || method.contains("isotope") {
                By::Acidity
            } else {
                By::Words
            };
            let kind = match statement {
                "C3" => Some(Kind::C3),
                "Cam" => Some(Kind::Cam),
                "Facultative" | "WeakCam" => Some(Kind::Weak),
                _ => None,
            };
            all.extend(kind.map(|k| Evidence::Says(k, by)));
        }
        all
    }
}

/// The records sorted by genus and epithet, and the statements on genera.
pub(crate) fn parse(
    genera: &[Genus],
    sources: &BTreeMap<String, usize>,
    faults: &mut Faults,
) -> Result<(Vec<Record>, Vec<GenusStatement>), String> {
    let mut records: BTreeMap<String, Record> = BTreeMap::new();
    let mut statements = Vec::new();
    let mut ids = BTreeSet::new();
    for row in rows(guardcell_data::OBSERVATIONS, &OBSERVED)? {
        unique(&row, &mut ids, faults);
        if let Some(record) = of_record(&row, genera, sources, &mut records, faults) {
            observe(record, &row, faults);
        }
    }
    for row in rows(guardcell_data::JUDGEMENTS, &JUDGED)? {
        unique(&row, &mut ids, faults);
        let statement = row.word("statement", words::STATEMENT, faults);
        let grade = row.word("grade", words::GRADE, faults);
        if row.get("trait") != "pathway" {
            faults.error(&row.at, format!("trait {:?}; it should be pathway", row.get("trait")));
        }
        if row.get("specific_epithet").is_empty() {
            let Some(genus) = genus_of(&row, genera, faults) else { continue };
            if statements.iter().any(|s: &GenusStatement| s.genus == genus) {
                faults.error(&row.at, format!("{} has two statements", row.get("genus")));
            }
            statements.push(GenusStatement {
                genus,
                statement,
                sources: works(&row, sources, faults),
                notes: row.get("notes").to_owned(),
            });
        } else if let Some(record) = of_record(&row, genera, sources, &mut records, faults) {
            if record.statement.replace((statement, grade)).is_some() {
                faults.error(&row.at, "the record has two statements");
            }
            note_method(record, row.get("method"));
        }
    }
    let mut records: Vec<Record> = records.into_values().collect();
    records.sort_by(|a, b| (a.genus, &a.epithet, &a.key).cmp(&(b.genus, &b.epithet, &b.key)));
    Ok((records, statements))
}

fn unique(row: &Row<'_>, ids: &mut BTreeSet<String>, faults: &mut Faults) {
    if !ids.insert(row.get("id").to_owned()) {
        faults.error(&row.at, format!("duplicate id {:?}", row.get("id")));
    }
}

fn genus_of(row: &Row<'_>, genera: &[Genus], faults: &mut Faults) -> Option<usize> {
    let name = row.get("genus");
    let found = genera.binary_search_by(|g| g.name.as_str().cmp(name)).ok();
    if found.is_none() {
        faults.error(&row.at, format!("genus {name:?} is not in data/genera.csv"));
    }
    found
}

fn works(row: &Row<'_>, sources: &BTreeMap<String, usize>, faults: &mut Faults) -> Vec<String> {
    let mut keys = row.keys("source", sources, faults);
    if keys.is_empty() {
        faults.error(&row.at, "source is blank; it should name a work");
    }
    for key in row.keys("read_in", sources, faults) {
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys
}

/// The record of a row, made where it is the first of it.
fn of_record<'a>(
    row: &Row<'_>,
    genera: &[Genus],
    sources: &BTreeMap<String, usize>,
    records: &'a mut BTreeMap<String, Record>,
    faults: &mut Faults,
) -> Option<&'a mut Record> {
    let genus = genus_of(row, genera, faults)?;
    let epithet = row.get("specific_epithet").to_owned();
    let plain = epithet.strip_prefix("× ").unwrap_or(&epithet);
    let undetermined = epithet.starts_with("sp.");
    if plain.is_empty()
        || !(undetermined || plain.chars().all(|c| c.is_ascii_lowercase() || c == '-'))
    {
        faults.error(
            &row.at,
            format!(
                "specific_epithet {epithet:?}; it should be lower-case plain letters, after `× ` \
                 for a hybrid, or begin with `sp.` if it was not determined"
            ),
        );
    }
    let organ = row.word("organ", words::ORGAN, faults);
    let keys = works(row, sources, faults);
    let key = row.get("record").to_owned();
    let record = records.entry(key.clone()).or_insert_with(|| Record {
        at: row.at.clone(),
        key,
        genus,
        epithet: epithet.clone(),
        organ,
        sources: keys.clone(),
        uncounted: undetermined || epithet.starts_with('×'),
        // Kept only where it differs from the accepted name.
        verbatim: Some(row.get("verbatim_name"))
            .filter(|v| *v != format!("{} {epithet}", row.get("genus")))
            .unwrap_or_default()
            .to_owned(),
        notes: row.get("notes").to_owned(),
        ..Record::default()
    });
    if (record.genus, &record.epithet, record.organ, &record.sources)
        != (genus, &epithet, organ, &keys)
    {
        faults.error(
            &row.at,
            format!(
                "record {:?} is of another species, organ or work at {}",
                record.key, record.at
            ),
        );
    }
    Some(record)
}

fn note_method(record: &mut Record, method: &str) {
    let known = record.methods.iter().any(|m| m == method);
    if !method.is_empty() && !known {
        record.methods.push(method.to_owned());
    }
}

fn observe(record: &mut Record, row: &Row<'_>, faults: &mut Faults) {
    let what = row.word("trait", words::TRAIT, faults);
    let flag = row.word("flag", words::FLAG, faults);
    record.outlier |= flag == "Outlier";
    record.uncounted |= matches!(flag, "NotCounted" | "Undetermined");
    note_method(record, row.get("method"));
    let (limits, unit) = match what {
        "D13c" => (D13C, "[ppth]"),
        "Thickness" => (LEAF_MM, "mm"),
        "UptakeByDay" => (0.0..=50.0, "umol/m2/s"),
        _ => (-100.0..=1000.0, "umol/g"),
    };
    let mut number = |column: &str| row.number(column, limits.clone(), faults);
    let (value, low, high) = (number("value"), number("low"), number("high"));
    let significant = row.word("significant", words::SIGNIFICANT, faults);
    if value.is_none() && (what != "AcidRise" || significant == "None") {
        faults.error(&row.at, "value is blank");
    }
    if value.is_some() && row.get("unit") != unit {
        faults.error(&row.at, format!("unit {:?}; it should be {unit}", row.get("unit")));
    }
    let span = low.zip(high);
    // Works print the ends with fewer places than the mean.
    if let (Some(v), Some((low, high))) = (value, span)
        && !(low - 0.05..=high + 0.05).contains(&v)
    {
        faults.error(&row.at, format!("value {v} is not between low {low} and high {high}"));
    }
    let slot = match what {
        "D13c" => &mut record.d13c,
        "Thickness" => &mut record.thickness,
        "AcidRise" => &mut record.acid_rise,
        // Kept in the table alone: plants with CAM take up CO2 by day as well.
        _ => return,
    };
    if slot.is_some() {
        faults.error(&row.at, format!("record {:?} has two values of this trait", record.key));
    }
    *slot = value;
    let n = row.number("n", 1.0..=10_000.0, faults);
    match what {
        "D13c" => (record.d13c_span, record.d13c_n) = (span, n),
        "Thickness" => record.thickness_n = n,
        "AcidRise" => {
            record.significant = match significant {
                "Some(true)" => Some(true),
                "Some(false)" => Some(false),
                _ => record.significant,
            };
        }
        _ => {}
    }
}
