//! What was found in an unknown logger's file.

use crate::report::Report;
use crate::unit::QuantityName;
use serde::{Deserialize, Serialize};

/// What an unknown logger's file holds, how that was decided, and a map of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(title = "LoggerProbe"))]
pub struct Probe {
    /// The kind of source: `csv` or `json`.
    pub source: String,
    /// The file.
    pub from: String,
    /// The map (TOML), with its reasons as comments; none where something is open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub map: Option<String>,
    /// The lines before the header; none for JSON.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub skip_lines: Option<usize>,
    /// The character between columns; none for JSON.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub delimiter: Option<String>,
    /// The decimal mark; none for JSON.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub decimal: Option<String>,
    /// Rows of the table, or elements of the document.
    pub rows: usize,
    /// The time, where it was found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<ProbedTime>,
    /// Every column, or every value beside the time, and what it was taken for.
    pub columns: Vec<ProbedColumn>,
    /// How it was decided, what was assumed, and what is open.
    pub findings: Vec<Finding>,
    /// What the map reads; none without a map.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub report: Option<Report>,
}

impl Probe {
    /// Of a file of which nothing is known yet.
    pub(super) fn of(source: &str, file: &str) -> Self {
        Self {
            source: source.into(),
            from: file.into(),
            map: None,
            skip_lines: None,
            delimiter: None,
            decimal: None,
            rows: 0,
            time: None,
            columns: Vec::new(),
            findings: Vec::new(),
            report: None,
        }
    }

    /// What could not be decided.
    pub fn open(&self) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(|f| f.standing == Standing::Open)
    }
}

/// How times are written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ProbedTime {
    /// The column, the two columns of date and time, or the pointer.
    pub columns: Vec<String>,
    /// `rfc3339`, `unix_s`, `unix_ms`, or a pattern of strftime; none where it is open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub form: Option<String>,
    /// The time zone of a clock whose times have no offset.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// The first time as written.
    pub example: String,
}

/// One column.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ProbedColumn {
    /// Its name, its number, or its pointer.
    pub column: String,
    /// What it is read as.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quantity: Option<QuantityName>,
    /// The unit it is read in, a UCUM code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// The area of its readings; none where they hold for every area or a column names it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// Why it is not read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_read: Option<String>,
    /// The first value as written.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub example: Option<String>,
}

/// What a finding is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum FindingCode {
    /// How characters are stored.
    Encoding,
    /// The line with the names of the columns, or where in a document the readings are.
    Layout,
    /// The decimal mark.
    Decimal,
    /// Which column is the time, and how it is written.
    Time,
    /// Whether the day or the month is first.
    DateOrder,
    /// The clock of times that have no offset.
    Zone,
    /// A quantity that a reading needs.
    Quantity,
    /// The unit of a quantity.
    Unit,
    /// The area of readings.
    Area,
    /// Which temperature and humidity belong together.
    Pair,
    /// Values that stand for a missing one.
    Missing,
    /// What reading by the map gave.
    Read,
}

/// How sure a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// The file decides it.
    Decided,
    /// It was taken as said, and the file does not prove it.
    Assumed,
    /// It is not guessed: there is no map until it is stated.
    Open,
}

/// One decision with its reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Finding {
    /// What it is about.
    pub code: FindingCode,
    /// How sure it is.
    pub standing: Standing,
    /// The column or pointer, where it is about one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub column: Option<String>,
    /// The finding in words.
    pub message: String,
}

/// The findings on their way.
#[derive(Debug, Default)]
pub(super) struct Findings(pub(super) Vec<Finding>);

impl Findings {
    pub(super) fn add(
        &mut self,
        code: FindingCode,
        standing: Standing,
        column: Option<&str>,
        message: impl Into<String>,
    ) {
        let column = column.map(str::to_owned);
        self.0.push(Finding { code, standing, column, message: message.into() });
    }

    pub(super) fn open(&mut self, code: FindingCode, message: impl Into<String>) {
        self.add(code, Standing::Open, None, message);
    }

    pub(super) fn any_open(&self) -> bool {
        self.0.iter().any(|f| f.standing == Standing::Open)
    }
}
