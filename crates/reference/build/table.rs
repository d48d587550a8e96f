//! Reading cells of a table, with file and line in every message.

use guardcell_data::Table;
use std::collections::BTreeMap;

/// Collects everything that is wrong before giving up, so that one build shows it all.
#[derive(Default)]
pub(crate) struct Faults {
    pub(crate) errors: Vec<String>,
}

impl Faults {
    pub(crate) fn error(&mut self, at: &str, message: impl std::fmt::Display) {
        self.errors.push(format!("{at}: {message}"));
    }
}

/// One row, its place, and its cells by column name.
pub(crate) struct Row<'a> {
    pub(crate) at: String,
    columns: &'a [&'a str],
    cells: Vec<String>,
}

pub(crate) fn rows<'a>(table: Table, columns: &'a [&'a str]) -> Result<Vec<Row<'a>>, String> {
    let file = table.file;
    Ok(crate::read(table, columns)?
        .into_iter()
        .map(|(line, cells)| Row { at: format!("data/{file}:{line}"), columns, cells })
        .collect())
}

impl Row<'_> {
    pub(crate) fn get(&self, column: &str) -> &str {
        self.columns
            .iter()
            .position(|c| *c == column)
            .and_then(|i| self.cells.get(i))
            .map_or("", String::as_str)
    }

    /// One of the allowed words, as the Rust variant of the same place.
    pub(crate) fn word<'w>(
        &self,
        column: &str,
        allowed: &[(&str, &'w str)],
        faults: &mut Faults,
    ) -> &'w str {
        let cell = self.get(column);
        if let Some((_, variant)) = allowed.iter().find(|(word, _)| *word == cell) {
            return variant;
        }
        let words: Vec<&str> = allowed.iter().map(|(w, _)| *w).collect();
        faults.error(&self.at, format!("{column} {cell:?}; it should be one of {words:?}"));
        allowed.first().map_or("", |(_, v)| v)
    }

    /// A number in a range, or nothing where the cell is blank.
    pub(crate) fn number(
        &self,
        column: &str,
        range: std::ops::RangeInclusive<f64>,
        faults: &mut Faults,
    ) -> Option<f64> {
        let cell = self.get(column);
        if cell.is_empty() {
            return None;
        }
        match cell.parse::<f64>() {
            Ok(v) if range.contains(&v) => Some(v),
            _ => {
                faults.error(
                    &self.at,
                    format!(
                        "{column} {cell:?}; it should be a number from {} to {}",
                        range.start(),
                        range.end()
                    ),
                );
                None
            }
        }
    }

    /// Keys of `sources.csv`, separated by spaces.
    pub(crate) fn keys(
        &self,
        column: &str,
        sources: &BTreeMap<String, usize>,
        faults: &mut Faults,
    ) -> Vec<String> {
        let mut keys = Vec::new();
        for key in self.get(column).split_whitespace() {
            if !sources.contains_key(key) {
                faults.error(&self.at, format!("{column} {key:?} is not in data/sources.csv"));
            } else if keys.iter().any(|k| k == key) {
                faults.error(&self.at, format!("{column} names {key:?} twice"));
            } else {
                keys.push(key.to_owned());
            }
        }
        keys
    }
}

/// Words of the tables and the Rust variants they become.
pub(crate) mod words {
    /// The pathways of a taxon; a statement may be `some-cam` beside.
    pub(crate) const PATHWAY: &[(&str, &str)] = &[
        ("c3", "C3"),
        ("weak-cam", "WeakCam"),
        ("cam", "Cam"),
        ("facultative", "Facultative"),
        ("variable", "Variable"),
        ("unknown", "Unknown"),
    ];
    pub(crate) const STATEMENT: &[(&str, &str)] = &[
        ("c3", "C3"),
        ("weak-cam", "WeakCam"),
        ("facultative", "Facultative"),
        ("cam", "Cam"),
        ("some-cam", "SomeCam"),
        ("variable", "Variable"),
    ];
    pub(crate) const TRAIT: &[(&str, &str)] = &[
        ("d13c", "D13c"),
        ("leaf_thickness", "Thickness"),
        ("acid_rise", "AcidRise"),
        ("uptake_by_day", "UptakeByDay"),
    ];
    pub(crate) const FLAG: &[(&str, &str)] = &[
        ("", ""),
        ("undetermined", "Undetermined"),
        ("not-counted", "NotCounted"),
        ("disputed", "Disputed"),
        ("outlier", "Outlier"),
    ];
    pub(crate) const LEAF: &[(&str, &str)] = &[
        ("thin", "Thin"),
        ("intermediate", "Intermediate"),
        ("thick", "Thick"),
        ("terete", "Terete"),
        ("leafless", "Leafless"),
        ("variable", "Variable"),
        ("unknown", "Unknown"),
    ];
    pub(crate) const GRADE: &[(&str, &str)] = &[
        ("measured", "Measured"),
        ("reported", "Reported"),
        ("inferred", "Inferred"),
        ("unknown", "Unknown"),
    ];
    pub(crate) const HABIT: &[(&str, &str)] = &[
        ("epiphyte", "Epiphyte"),
        ("lithophyte", "Lithophyte"),
        ("terrestrial", "Terrestrial"),
        ("mycoheterotroph", "Mycoheterotroph"),
        ("mixed", "Mixed"),
        ("unknown", "Unknown"),
    ];
    pub(crate) const PEAK: &[(&str, &str)] = &[
        ("", ""),
        ("pre-dawn", "PreDawn"),
        ("evening", "Evening"),
        ("night", "Night"),
        ("forenoon", "Forenoon"),
        ("noon", "Noon"),
        ("afternoon", "Afternoon"),
    ];
    pub(crate) const ORGAN: &[(&str, &str)] = &[
        ("leaf", "Leaf"),
        ("stem", "Stem"),
        ("pseudobulb", "Pseudobulb"),
        ("root", "Root"),
        ("flower", "Flower"),
        ("whole", "Whole"),
        ("", "Whole"),
    ];
    pub(crate) const KIND: &[(&str, &str)] = &[
        ("synonym", "Synonym"),
        ("nothogenus", "Nothogenus"),
        ("spelling", "Spelling"),
        ("abbreviation", "Abbreviation"),
        ("common name", "Common"),
    ];
    pub(crate) const STATUS: &[(&str, &str)] =
        &[("current", "true"), ("legacy", "false"), ("", "true")];
    pub(crate) const NAME_EVIDENCE: &[(&str, &str)] =
        &[("reported", "Reported"), ("from memory", "FromMemory")];
    pub(crate) const SIGNIFICANT: &[(&str, &str)] =
        &[("", "None"), ("yes", "Some(true)"), ("no", "Some(false)")];
}
