//! One row on its way to a reading, and the list of what went wrong on the way.

use crate::report::{Effect, Issue, IssueCode};
use crate::unit::QuantityName;
use guardcell::advice::Reading;
use guardcell::film::MoistAir;
use guardcell::units::uom::si::pressure::pascal;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Where a row is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum RowPlace {
    Line(u64),
    /// An element of an array, with the pointer to the array.
    Element(Arc<str>, u64),
    Named(Arc<str>),
}

impl RowPlace {
    /// The place with the file or address it is in.
    pub(crate) fn of(&self, from: &str) -> String {
        match self {
            Self::Line(n) => format!("{from}:{n}"),
            Self::Element(array, i) => format!("{from}#{array}/{i}"),
            Self::Named(name) => format!("{from}#{name}"),
        }
    }
}

/// Places in words, neighbours joined.
fn ranges(mut places: Vec<RowPlace>) -> Vec<String> {
    /// No fault is spread so wide that more would be read.
    const MOST: usize = 500;
    places.sort();
    places.dedup();
    let mut out = Vec::new();
    let mut i = 0;
    while let Some(first) = places.get(i) {
        let mut last = i;
        while let (Some(a), Some(b)) = (places.get(last), places.get(last + 1)) {
            let next = match (a, b) {
                (RowPlace::Line(a), RowPlace::Line(b)) => a + 1 == *b,
                (RowPlace::Element(x, a), RowPlace::Element(y, b)) => x == y && a + 1 == *b,
                _ => false,
            };
            if !next {
                break;
            }
            last += 1;
        }
        out.push(match (first, places.get(last)) {
            (RowPlace::Line(a), Some(RowPlace::Line(b))) if b > a => format!("lines {a}–{b}"),
            (RowPlace::Line(a), _) => format!("line {a}"),
            (RowPlace::Element(p, a), Some(RowPlace::Element(_, b))) if b > a => {
                format!("{p}/{a}–{b}")
            }
            (RowPlace::Element(p, a), _) => format!("{p}/{a}"),
            (RowPlace::Named(n), _) => n.to_string(),
        });
        i = last + 1;
    }
    if out.len() > MOST {
        let more = out.len() - MOST;
        out.truncate(MOST);
        out.push(format!("and {more} more places"));
    }
    out
}

/// A kind of fault, and the quantity at fault.
type Kind = (IssueCode, Effect, Option<QuantityName>);
/// The places of a kind, their number, and the first in words.
type Seen = (Vec<RowPlace>, usize, String);

/// What went wrong, gathered by kind.
#[derive(Debug, Default)]
pub(crate) struct Issues {
    by_kind: BTreeMap<Kind, Seen>,
    /// How many readings were dropped.
    pub(crate) dropped: usize,
}

impl Issues {
    /// Adds one; a dropped reading is counted.
    pub(crate) fn add(
        &mut self,
        code: IssueCode,
        effect: Effect,
        quantity: Option<QuantityName>,
        place: &RowPlace,
        says: impl FnOnce() -> String,
    ) {
        if effect == Effect::Dropped {
            self.dropped += 1;
        }
        let entry =
            self.by_kind.entry((code, effect, quantity)).or_insert_with(|| (Vec::new(), 0, says()));
        entry.0.push(place.clone());
        entry.1 += 1;
    }

    /// A row that would have made `readings` readings.
    pub(crate) fn drop_row(
        &mut self,
        code: IssueCode,
        place: &RowPlace,
        readings: usize,
        says: impl FnOnce() -> String,
    ) {
        self.add(code, Effect::Dropped, None, place, says);
        self.dropped = self.dropped + readings - 1;
    }

    pub(crate) fn list(self) -> Vec<Issue> {
        self.by_kind
            .into_iter()
            .map(|((code, effect, quantity), (places, count, message))| Issue {
                code,
                effect,
                quantity,
                count,
                places: ranges(places),
                message,
            })
            .collect()
    }

    /// The kind that dropped most, in words.
    pub(crate) fn worst(&self) -> Option<&str> {
        self.by_kind
            .iter()
            .filter(|((_, effect, _), _)| *effect == Effect::Dropped)
            .max_by_key(|(_, (_, count, _))| *count)
            .map(|(_, (_, _, says))| says.as_str())
    }
}

/// A cell of a quantity.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Cell {
    Missing,
    Sentinel(String),
    NotANumber(String),
    /// In the unit of a reading.
    Value(f64),
}

/// A quantity of a row: which, its cell, how far outside its range it is taken as the limit.
pub(crate) type Measured = (QuantityName, Cell, f64);

/// A row that makes a reading.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    pub(crate) place: RowPlace,
    pub(crate) time: Timestamp,
    pub(crate) zone: TimeZone,
    pub(crate) area: Option<String>,
    /// In the order of [`Reading::RANGES`].
    pub(crate) values: [Option<f64>; 4],
    pub(crate) forecast: bool,
}

/// The place of a quantity among the values of a reading.
const fn slot(quantity: QuantityName) -> usize {
    match quantity {
        QuantityName::Temperature => 0,
        QuantityName::Humidity | QuantityName::DewPoint => 1,
        QuantityName::AirSpeed => 2,
        QuantityName::Radiation => 3,
    }
}

/// The values of a reading; `None` without temperature or humidity.
pub(crate) fn values(
    measured: &[Measured],
    place: &RowPlace,
    issues: &mut Issues,
) -> Option<[Option<f64>; 4]> {
    let mut out = [None; 4];
    for (quantity, cell, limit_within) in measured {
        let slot = slot(*quantity);
        let needed = slot < 2;
        let effect = if needed { Effect::Dropped } else { Effect::LeftOut };
        let words = quantity.words();
        let found = match cell {
            Cell::Value(v) => in_range(*quantity, *v, *limit_within, place, issues),
            Cell::Missing => Err((IssueCode::Missing, format!("the {words} is missing"))),
            Cell::Sentinel(text) => Err((
                IssueCode::Sentinel,
                format!("the {words} is {text:?}, which the map calls missing"),
            )),
            Cell::NotANumber(text) => {
                Err((IssueCode::NotANumber, format!("the {words} {text:?} is not a number")))
            }
        };
        match found {
            Ok(v) => {
                if let Some(out) = out.get_mut(slot) {
                    *out = Some(v);
                }
            }
            Err((code, says)) => {
                issues.add(code, effect, Some(*quantity), place, || says);
                if needed {
                    return None;
                }
            }
        }
    }
    if measured.iter().any(|m| m.0 == QuantityName::DewPoint) {
        out[1] = humidity(out[0]?, out[1]?, place, issues);
        out[1]?;
    }
    Some(out)
}

fn in_range(
    quantity: QuantityName,
    value: f64,
    limit_within: f64,
    place: &RowPlace,
    issues: &mut Issues,
) -> Result<f64, (IssueCode, String)> {
    // A dew point is a temperature.
    let slot = if quantity == QuantityName::DewPoint { 0 } else { slot(quantity) };
    let Some(range) = Reading::RANGES.get(slot) else { return Ok(value) };
    if value >= range.low && value <= range.high {
        return Ok(value);
    }
    let (words, unit) = (quantity.words(), range.unit);
    let limit = value.clamp(range.low, range.high);
    if (value - limit).abs() <= limit_within {
        issues.add(IssueCode::TakenAsLimit, Effect::Adjusted, Some(quantity), place, || {
            format!("the {words} is {value} {unit}, taken as {limit} {unit} as the map allows")
        });
        return Ok(limit);
    }
    let mut says =
        format!("the {words} is {value} {unit}, outside {} to {} {unit}", range.low, range.high);
    if quantity == QuantityName::Humidity && value > range.high && value <= range.high + 5.0 {
        says.push_str(" (`limit_within` lets a sensor overshoot)");
    }
    Err((IssueCode::OutOfRange, says))
}

/// Relative humidity from air temperature and dew point: the vapour pressure of the one over the
/// saturation pressure at the other (ASHRAE Handbook Fundamentals 2017, chapter 1).
fn humidity(temp_c: f64, dew_c: f64, place: &RowPlace, issues: &mut Issues) -> Option<f64> {
    let saturated = |c: f64| {
        MoistAir::from_celsius_percent(c, 100.0).map(|a| a.saturation_pressure().get::<pascal>())
    };
    let percent = match (saturated(dew_c), saturated(temp_c)) {
        (Ok(vapour), Ok(saturation)) => vapour / saturation * 100.0,
        _ => f64::NAN,
    };
    if percent > 0.0 && percent <= 100.0 {
        return Some((percent * 1e6).round() / 1e6);
    }
    issues.add(IssueCode::OutOfRange, Effect::Dropped, Some(QuantityName::DewPoint), place, || {
        format!("the dew point {dew_c} °C is above the air temperature {temp_c} °C")
    });
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use QuantityName as Q;

    fn read(measured: &[Measured]) -> (Option<[Option<f64>; 4]>, Vec<Issue>) {
        let mut issues = Issues::default();
        let out = values(measured, &RowPlace::Line(7), &mut issues);
        (out, issues.list())
    }

    /// WMO-No. 8 (CIMO Guide) and any psychrometric table: 20 °C with a dew point of 10 °C is
    /// 52.5 % (from memory of the vapour pressures 12.27 and 23.37 hPa, ASHRAE 2017 table 3).
    #[test]
    fn a_dew_point_becomes_a_humidity() {
        let both =
            |t, d| [(Q::Temperature, Cell::Value(t), 0.0), (Q::DewPoint, Cell::Value(d), 0.0)];
        let rh = read(&both(20.0, 10.0)).0.unwrap()[1].unwrap();
        assert!((rh - 12.27 / 23.37 * 100.0).abs() < 0.1, "{rh}");
        assert_eq!(read(&both(20.0, 20.0)).0.unwrap()[1], Some(100.0));
        assert!(read(&both(20.0, 21.0)).1[0].message.contains("above the air temperature"));
    }

    #[test]
    fn what_is_needed_drops_the_reading_and_what_is_not_is_omitted() {
        let needed = [(Q::Temperature, Cell::Value(20.0), 0.0), (Q::Humidity, Cell::Missing, 0.0)];
        let (out, issues) = read(&needed);
        assert_eq!((out, issues[0].effect), (None, Effect::Dropped));
        let more = [
            (Q::Temperature, Cell::Value(20.0), 0.0),
            (Q::Humidity, Cell::Value(102.0), 3.0),
            (Q::AirSpeed, Cell::Sentinel("-999".into()), 0.0),
            (Q::Radiation, Cell::Value(2000.0), 0.0),
        ];
        let (out, issues) = read(&more);
        assert_eq!(out, Some([Some(20.0), Some(100.0), None, None]));
        let effects: Vec<_> = issues.iter().map(|i| (i.code, i.effect)).collect();
        assert_eq!(
            effects,
            [
                (IssueCode::Sentinel, Effect::LeftOut),
                (IssueCode::OutOfRange, Effect::LeftOut),
                (IssueCode::TakenAsLimit, Effect::Adjusted),
            ]
        );
    }

    #[test]
    fn neighbouring_lines_are_joined() {
        let lines = |ns: &[u64]| ranges(ns.iter().map(|n| RowPlace::Line(*n)).collect());
        assert_eq!(lines(&[9, 3, 4, 5, 5]), ["lines 3–5", "line 9"]);
    }
}
