//! What came out of a map: readings, and a report in which nothing is lost silently.

use crate::unit::QuantityName;
use guardcell::advice::Reading;
use serde::{Deserialize, Serialize};

/// Readings and the report on how they were read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(title = "ConditionsRead"))]
pub struct Read {
    /// The readings, area by area in the order of time, as an advice takes them.
    pub readings: Vec<Reading>,
    /// What was read, what was dropped and why, what is missing.
    pub report: Report,
    /// Where each reading comes from, for messages: the file with its line, or the address with a
    /// JSON Pointer.
    #[serde(skip)]
    pub places: Vec<String>,
}

/// How readings were read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(title = "ConditionsReport"))]
pub struct Report {
    /// The kind of source: `csv`, `json`, `sensorthings` or `mqtt`.
    pub source: String,
    /// The file, or the address without its query.
    pub from: String,
    /// The moment that ages are counted to, RFC 3339.
    pub now: String,
    /// The oldest age the map allows for the newest reading, in hours.
    pub max_age_h: f64,
    /// Whether the newest reading of some area is older than that.
    pub stale: bool,
    /// Rows of the file, elements of the document, Observations or messages that were read.
    pub rows_read: usize,
    /// Readings those could have made: one for each row and series.
    pub readings_possible: usize,
    /// Readings that are there.
    pub readings_kept: usize,
    /// Readings that were dropped; with those kept they make those possible.
    pub readings_dropped: usize,
    /// What was not as it should be, and what was done about it.
    pub issues: Vec<Issue>,
    /// Units as they were stored.
    pub units: Vec<StoredUnit>,
    /// The readings by area.
    pub areas: Vec<AreaReport>,
    /// Quantities no reading has, and what an advice takes instead.
    pub missing: Vec<MissingQuantity>,
}

/// One kind of fault with all its places.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Issue {
    /// What kind.
    pub code: IssueCode,
    /// What was done.
    pub effect: Effect,
    /// The quantity at fault, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub quantity: Option<QuantityName>,
    /// How often.
    pub count: usize,
    /// Where: lines, JSON Pointers or times.
    pub places: Vec<String>,
    /// What is wrong, with the first place as example.
    pub message: String,
}

/// Kinds of faults.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum IssueCode {
    /// A row without any value.
    BlankRow,
    /// A row with too few columns.
    ShortRow,
    /// A time that cannot be read.
    BadTime,
    /// A message that a broker had kept, without a time.
    NoTime,
    /// A local time that never was: clocks were put forward.
    NonexistentTime,
    /// A local time that came twice: clocks were put back.
    AmbiguousTime,
    /// A word that names no area.
    UnknownArea,
    /// A value is missing.
    Missing,
    /// A value that stands for a missing one.
    Sentinel,
    /// A value that is not a number.
    NotANumber,
    /// A value outside what can be.
    OutOfRange,
    /// A value just outside its range, taken as the limit as the map allows.
    TakenAsLimit,
    /// The same reading again.
    DuplicateSame,
    /// Another reading of the same area and time.
    DuplicateDiffers,
    /// A forecast for a time that has been measured.
    ForecastMeasured,
    /// A time before that of the row above.
    OutOfOrder,
    /// A measured reading from after now.
    AfterNow,
    /// An Observation with no other near it in time.
    NoPartner,
    /// More is there than was asked for.
    Capped,
}

/// What was done about a fault.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Effect {
    /// The reading was dropped.
    Dropped,
    /// The value was omitted; the reading is kept without it.
    LeftOut,
    /// The value or time was taken as said.
    Adjusted,
    /// Nothing was changed.
    Noted,
}

/// The unit a quantity was stored in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StoredUnit {
    /// The quantity.
    pub quantity: QuantityName,
    /// The unit it was stored in.
    pub stored: String,
    /// The unit of the readings.
    pub read: String,
}

/// The readings of one area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AreaReport {
    /// The area; none where the readings hold for every area.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// How many readings it has.
    pub readings: usize,
    /// The first, RFC 3339.
    pub from: String,
    /// The last, RFC 3339.
    pub to: String,
    /// The usual step between readings, in minutes (the median); none for a single reading.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_min: Option<f64>,
    /// Steps longer than one and a half times the usual.
    pub gaps: Vec<Gap>,
    /// The newest measured reading that is not after now.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub newest: Option<String>,
    /// Its age in hours.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub newest_age_h: Option<f64>,
    /// Whether that is older than the map allows, or the forecast has run out.
    pub stale: bool,
    /// How many of the readings are a forecast.
    pub forecast: usize,
    /// The quantities.
    pub quantities: Vec<QuantityReport>,
}

/// A stretch without readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Gap {
    /// The reading before it.
    pub from: String,
    /// The reading after it.
    pub to: String,
    /// How long, in hours.
    pub hours: f64,
    /// Whether an advice bridges it by interpolation.
    pub bridged: bool,
}

/// The values of one quantity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct QuantityReport {
    /// The quantity.
    pub quantity: QuantityName,
    /// The unit of the numbers here.
    pub unit: String,
    /// How many readings have it.
    pub count: usize,
    /// The lowest.
    pub lowest: f64,
    /// The median.
    pub median: f64,
    /// The highest.
    pub highest: f64,
}

/// A quantity no reading of an area has.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MissingQuantity {
    /// The quantity.
    pub quantity: QuantityName,
    /// The area; none where the readings hold for every area.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// What an advice takes instead.
    pub instead: String,
}
