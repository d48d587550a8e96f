//! The map of a data logger's file.

use super::quantity::Stated;
use super::{Ambiguous, Asked, Duplicates, MAX_AGE_H_MOST, Nonexistent, asked, within};
use crate::error::in_map;
use crate::moment::Clock;
use guardcell::Error;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The word `csv`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum CsvSource {
    /// A file with separated columns.
    Csv,
}

/// Where the readings are in a file with separated columns.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CsvMap {
    /// `csv`.
    pub source: CsvSource,
    /// The file; a path that is not absolute starts at the folder of the map, and `-` is standard
    /// input.
    pub file: String,
    /// How its characters are stored; UTF-8 by default.
    #[serde(default)]
    pub encoding: Encoding,
    /// The one character between columns, a comma by default; a tabulator is `"\t"`.
    #[serde(default = "comma")]
    pub delimiter: String,
    /// The decimal mark, `.` or `,`; a point by default.
    #[serde(default = "point")]
    pub decimal: String,
    /// How many lines come before the header (or before the first row, without a header).
    #[serde(default)]
    pub skip_lines: usize,
    /// Whether a line with the names of the columns comes first; true by default. Without one,
    /// columns are numbers.
    #[serde(default = "yes")]
    pub header: bool,
    /// How many lines come between the header and the first row, such as a line of units.
    #[serde(default)]
    pub skip_after_header: usize,
    /// Cells that stand for a missing value beside the empty cell, such as `-999` or `NAN`.
    #[serde(default)]
    pub missing: Vec<String>,
    /// Where the time is.
    pub time: CsvTime,
    /// The series: one where every row is one reading, several where a row holds the columns of
    /// several areas.
    #[cfg_attr(feature = "schema", schemars(length(min = 1)))]
    pub series: Vec<CsvSeries>,
    /// What to do with readings of the same area and time that differ; the first by default.
    #[serde(default)]
    pub duplicates: Duplicates,
    /// The oldest age of the newest reading, in hours; 2 by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(range(min = 0.01, max = 720.0)))]
    pub max_age_h: Option<f64>,
}

fn comma() -> String {
    ",".into()
}

fn point() -> String {
    ".".into()
}

const fn yes() -> bool {
    true
}

/// How characters are stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Encoding {
    /// UTF-8, with or without a byte order mark.
    #[default]
    #[serde(rename = "utf-8")]
    Utf8,
    /// ISO 8859-1 (Latin-1), as many loggers write the sign of the degree.
    #[serde(rename = "iso-8859-1")]
    Latin1,
    /// UTF-16 with a byte order mark, little-endian without one.
    #[serde(rename = "utf-16")]
    Utf16,
}

/// A column: its name in the header, or its number from 1.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum Column {
    /// Its number, from 1.
    Number(#[cfg_attr(feature = "schema", schemars(range(min = 1)))] u16),
    /// Its name.
    Name(String),
}

/// Where the time of a row stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CsvTime {
    /// The column, or the columns of date and time, whose cells are joined by a space.
    #[cfg_attr(feature = "schema", schemars(length(min = 1)))]
    pub columns: Vec<Column>,
    /// `rfc3339` (default), `unix_s`, `unix_ms`, or a pattern of strftime, such as
    /// `%d.%m.%Y %H:%M:%S`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub format: Option<String>,
    /// The time zone of the logger's clock where the time has no offset: a name of the IANA
    /// database such as `Atlantic/Azores` for a clock that is put forward and back, an offset such
    /// as `-01:00` for one that is not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// Which of two equal local times to take when clocks were put back.
    #[serde(default)]
    pub ambiguous: Ambiguous,
    /// What to do with local times that never were.
    #[serde(default)]
    pub nonexistent: Nonexistent,
}

/// The columns of one area, or of all areas where a column names it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CsvSeries {
    /// The area of the site the readings hold for; every area when neither this nor `area_column`
    /// is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// The column that names the area.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area_column: Option<Column>,
    /// From the words of `area_column` to areas; other words are dropped and reported. Without it
    /// the words are the areas.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub areas: Option<BTreeMap<String, String>>,
    /// Air temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Option<ColumnQuantity>,
    /// Relative humidity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity: Option<ColumnQuantity>,
    /// Dew point, instead of humidity; −5 to 50 °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_point: Option<ColumnQuantity>,
    /// Air speed at the leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_speed: Option<ColumnQuantity>,
    /// Global radiation at the leaves.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation: Option<ColumnQuantity>,
}

/// A column with its unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct ColumnQuantity {
    /// The column.
    pub column: Column,
    /// The unit, a UCUM code such as `Cel`, `[degF]`, `%`, `1`, `m/s`, `km/h`, `W/m2`.
    pub unit: String,
    /// For radiation that is not in W/m²: the W/m² that one unit stands for, from the maker of
    /// the sensor or lamp.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub w_m2_per_unit: Option<f64>,
    /// How far outside its range a value is still taken as the limit, in its own unit: `3` for a
    /// sensor of humidity that shows up to 103 % in fog. Nothing by default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit_within: Option<f64>,
}

impl ColumnQuantity {
    fn stated(&self) -> Stated<'_, Column> {
        Stated {
            from: self.column.clone(),
            unit: Some(&self.unit),
            w_m2_per_unit: self.w_m2_per_unit,
            limit_within: self.limit_within,
        }
    }
}

impl CsvTime {
    pub(crate) fn clock(&self) -> Result<Clock, Error> {
        if self.columns.is_empty() {
            return Err(in_map("columns", "no column is named", "name one or two"));
        }
        Clock::new(self.format.as_deref(), self.zone.as_deref(), self.ambiguous, self.nonexistent)
    }
}

impl CsvSeries {
    pub(crate) fn asked(&self) -> Result<Vec<Asked<Column>>, Error> {
        let q = |q: &Option<ColumnQuantity>| q.clone();
        let all = [
            q(&self.temperature),
            q(&self.humidity),
            q(&self.dew_point),
            q(&self.air_speed),
            q(&self.radiation),
        ];
        let [a, b, c, d, e] = &all;
        asked([a, b, c, d, e].map(|q| q.as_ref().map(ColumnQuantity::stated)))
    }
}

impl CsvMap {
    /// The delimiter as the byte it must be.
    pub(crate) fn delimiter(&self) -> Option<u8> {
        match self.delimiter.as_bytes() {
            [b] if !matches!(b, b'"' | b'\n' | b'\r') => Some(*b),
            _ => None,
        }
    }

    pub(super) fn check(&self) -> Result<(), Error> {
        if self.delimiter().is_none() {
            return Err(in_map(
                "delimiter",
                format!("{:?} cannot be a delimiter", self.delimiter),
                "give one character such as \";\" or \"\\t\"",
            ));
        }
        if !matches!(self.decimal.as_str(), "." | ",") {
            return Err(in_map(
                "decimal",
                format!("{:?} is not a decimal mark", self.decimal),
                "write \".\" or \",\"",
            ));
        }
        within("max_age_h", self.max_age_h, 0.01, MAX_AGE_H_MOST, "h")?;
        self.time.clock().map_err(|f| f.within("/time"))?;
        let columns = |c: &Column, key: Error| match c {
            Column::Number(0) => Err(key),
            Column::Name(_) if !self.header => Err(key),
            _ => Ok(()),
        };
        let column_fault = || {
            in_map(
                "column",
                "there is no such column",
                if self.header {
                    "count from 1"
                } else {
                    "without a header, give its number, from 1"
                },
            )
        };
        for (i, c) in self.time.columns.iter().enumerate() {
            columns(c, column_fault().at(format!("/time/columns/{i}")))?;
        }
        if self.series.is_empty() {
            return Err(in_map("series", "no series is given", "add a table [[series]]"));
        }
        for (i, s) in self.series.iter().enumerate() {
            let here = |f: Error| f.within(&format!("/series/{i}"));
            let asked = s.asked().map_err(here)?;
            for a in &asked {
                columns(&a.from, here(column_fault().within(&format!("/{}", a.quantity.key()))))?;
            }
            if let Some(c) = &s.area_column {
                columns(c, here(column_fault().at("/area_column")))?;
                if s.area.is_some() {
                    return Err(here(in_map(
                        "area",
                        "the area is stated and also read from a column",
                        "keep `area` or `area_column`",
                    )));
                }
            } else if s.areas.is_some() {
                return Err(here(in_map(
                    "areas",
                    "there is no `area_column` to read the words from",
                    "name the column, or omit `areas`",
                )));
            }
        }
        Ok(())
    }
}
