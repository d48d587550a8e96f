//! From rows to readings: order, duplicates, gaps, ages, the report.

use crate::map::{Duplicates, Map};
use crate::options::Options;
use crate::report::{
    AreaReport, Effect, Gap, IssueCode, MissingQuantity, QuantityReport, Read, Report, StoredUnit,
};
use crate::row::{Issues, Row};
use crate::unit::{QuantityName, Scale};
use guardcell::advice::Reading;
use guardcell::reference::parameters::practice;
use guardcell::{Code, Error};
use jiff::Timestamp;
use jiff::tz::TimeZone;

/// What a source has gathered.
#[derive(Debug, Default)]
pub(crate) struct Gathered {
    pub(crate) rows_read: usize,
    pub(crate) possible: usize,
    pub(crate) rows: Vec<Row>,
    pub(crate) issues: Issues,
    pub(crate) units: Vec<StoredUnit>,
}

impl Gathered {
    /// Notes the unit of a quantity.
    pub(crate) fn unit(&mut self, quantity: QuantityName, scale: &Scale) {
        let unit = StoredUnit {
            quantity,
            stored: scale.trade.clone(),
            read: if quantity == QuantityName::DewPoint { "%" } else { quantity.unit() }.into(),
        };
        if !self.units.contains(&unit) {
            self.units.push(unit);
        }
    }
}

const QUANTITIES: [QuantityName; 4] = [
    QuantityName::Temperature,
    QuantityName::Humidity,
    QuantityName::AirSpeed,
    QuantityName::Radiation,
];

/// A step longer than this many usual steps is a gap.
const GAP_STEPS: f64 = 1.5;

pub(crate) fn assemble(
    map: &Map,
    from: &str,
    gathered: Gathered,
    options: &Options<'_>,
) -> Result<Read, Error> {
    let Gathered { rows_read, possible, mut rows, mut issues, units } = gathered;
    order(&mut rows, &mut issues);
    let rows = without_duplicates(rows, map.duplicates(), &mut issues);
    if rows.is_empty() {
        let why = issues.worst().unwrap_or("there is no row").to_owned();
        return Err(Error::new(
            Code::NoReadings,
            format!("none of {possible} readings is usable: {why}"),
            "correct the map or the source; `guardcell conditions check` explains a map",
        )
        .in_file(from));
    }
    for row in rows.iter().filter(|r| !r.forecast && r.time > options.now) {
        issues.add(IssueCode::AfterNow, Effect::Noted, None, &row.place, || {
            format!(
                "the reading of {} is from after {}: fine where a past day is looked at, \
                 otherwise the clock of the logger or the zone of the map is wrong",
                written(row.time, &row.zone),
                written(options.now, &row.zone)
            )
        });
    }
    let mut areas = Vec::new();
    let mut missing = Vec::new();
    for rows in rows.chunk_by(|a, b| a.area == b.area) {
        let report = area(rows, map.max_age_h(), options.now);
        for quantity in [QuantityName::AirSpeed, QuantityName::Radiation] {
            if !report.quantities.iter().any(|q| q.quantity == quantity) {
                missing.push(MissingQuantity {
                    quantity,
                    area: report.area.clone(),
                    instead: instead(quantity).into(),
                });
            }
        }
        areas.push(report);
    }
    let zone = rows.first().map_or(TimeZone::UTC, |r| r.zone.clone());
    let now = written(options.now, &zone);
    if let Some(old) = areas.iter().find(|a| a.stale)
        && !options.allow_stale
    {
        return Err(stale(old, from, map.max_age_h(), now, options.now));
    }
    let places = rows.iter().map(|r| r.place.of(from)).collect();
    let readings: Vec<Reading> = rows.iter().filter_map(reading).collect();
    Ok(Read {
        report: Report {
            source: map.kind().into(),
            from: from.to_owned(),
            now,
            max_age_h: map.max_age_h(),
            stale: areas.iter().any(|a| a.stale),
            rows_read,
            readings_possible: possible,
            readings_kept: readings.len(),
            readings_dropped: issues.dropped,
            issues: issues.list(),
            units,
            areas,
            missing,
        },
        readings,
        places,
    })
}

fn stale(old: &AreaReport, from: &str, max_age_h: f64, now: String, now_at: Timestamp) -> Error {
    let newest = old.newest.clone().unwrap_or_else(|| old.to.clone());
    let age_h = newest.parse::<Timestamp>().map_or(f64::INFINITY, |t| hours(t, now_at));
    let of_area = old.area.as_ref().map_or(String::new(), |a| format!(" of {a}"));
    Error::new(
        Code::Stale,
        format!(
            "the newest reading{of_area} is from {newest}, {age_h:.1} h before {now}, and the map \
             allows {max_age_h} h"
        ),
        "look at the logger or the service, or allow the age explicitly",
    )
    .in_file(from)
}

fn instead(quantity: QuantityName) -> &'static str {
    match quantity {
        QuantityName::AirSpeed => {
            "the air speed the site states for the area (`air_m_s`); without one, light air, and \
             the advice says what that leaves open"
        }
        _ => {
            "no radiation on the leaf: films seem to dry somewhat slower than in the sun, and no \
             window is closed for strong sun"
        }
    }
}

fn reading(row: &Row) -> Option<Reading> {
    let [temp_c, rh_percent, air_m_s, radiation_w_m2] = row.values;
    Some(
        Reading::new(written(row.time, &row.zone), temp_c?, rh_percent?)
            .with_area(row.area.clone())
            .with_air_m_s(air_m_s)
            .with_radiation_w_m2(radiation_w_m2),
    )
}

/// RFC 3339 with the offset of the zone.
pub(crate) fn written(time: Timestamp, zone: &TimeZone) -> String {
    let zoned = time.to_zoned_datetime(zone.clone());
    let pattern = if time.subsec_nanosecond() == 0 {
        "%Y-%m-%dT%H:%M:%S%:z"
    } else {
        "%Y-%m-%dT%H:%M:%S%.f%:z"
    };
    zoned.strftime(pattern).to_string()
}

fn hours(from: Timestamp, to: Timestamp) -> f64 {
    to.duration_since(from).as_secs_f64() / 3600.0
}

/// Sorts by area and time. Within an area a file may run backwards; anything else out of order is
/// reported.
fn order(rows: &mut [Row], issues: &mut Issues) {
    let backwards = matches!((rows.first(), rows.last()), (Some(a), Some(b)) if b.time < a.time);
    rows.sort_by(|a, b| a.area.cmp(&b.area));
    for rows in rows.chunk_by(|a, b| a.area == b.area) {
        for pair in rows.windows(2) {
            let [a, b] = pair else { continue };
            let wrong = if backwards { b.time > a.time } else { b.time < a.time };
            if wrong && a.forecast == b.forecast {
                issues.add(IssueCode::OutOfOrder, Effect::Adjusted, None, &b.place, || {
                    "the row is not in the order of time; it was put in its place".into()
                });
            }
        }
    }
    // Stable: of equal times the first row stays first.
    rows.sort_by(|a, b| (&a.area, a.time).cmp(&(&b.area, b.time)));
}

fn without_duplicates(rows: Vec<Row>, policy: Duplicates, issues: &mut Issues) -> Vec<Row> {
    let mut out: Vec<Row> = Vec::with_capacity(rows.len());
    for same in rows.chunk_by(|a, b| a.area == b.area && a.time == b.time) {
        let measured: Vec<&Row> = same.iter().filter(|r| !r.forecast).collect();
        let candidates: Vec<&Row> = if measured.is_empty() {
            same.iter().collect()
        } else {
            for row in same.iter().filter(|r| r.forecast) {
                issues.add(IssueCode::ForecastMeasured, Effect::Dropped, None, &row.place, || {
                    "the forecast is for a time that has been measured; the measured reading is kept"
                        .into()
                });
            }
            measured
        };
        let (Some(first), Some(last)) = (candidates.first(), candidates.last()) else { continue };
        let (at, mut taken) = match policy {
            Duplicates::First | Duplicates::Mean => (0, (*first).clone()),
            Duplicates::Last => (candidates.len() - 1, (*last).clone()),
        };
        let differ = candidates.iter().any(|r| r.values != first.values);
        if differ && policy == Duplicates::Mean {
            taken.values = mean(&candidates);
        }
        for (_, row) in candidates.iter().enumerate().filter(|(i, _)| *i != at) {
            if row.values == taken.values || !differ {
                issues.add(IssueCode::DuplicateSame, Effect::Dropped, None, &row.place, || {
                    "an equal reading of this area and time comes earlier".into()
                });
            } else {
                let which = match policy {
                    Duplicates::First => "the first was taken",
                    Duplicates::Last => "the last was taken",
                    Duplicates::Mean => "their mean was taken",
                };
                issues.add(IssueCode::DuplicateDiffers, Effect::Dropped, None, &row.place, || {
                    format!("another reading of this area and time differs; {which}")
                });
            }
        }
        out.push(taken);
    }
    out
}

fn mean(rows: &[&Row]) -> [Option<f64>; 4] {
    std::array::from_fn(|slot| {
        let values: Vec<f64> =
            rows.iter().filter_map(|r| r.values.get(slot).copied().flatten()).collect();
        let sum: f64 = values.iter().sum();
        (!values.is_empty()).then(|| (sum / values.len() as f64 * 1e6).round() / 1e6)
    })
}

/// The middle of sorted values; the lower of two.
fn median(sorted: &[f64]) -> Option<f64> {
    let n = sorted.len();
    let upper = sorted.get(n / 2)?;
    if n % 2 == 1 {
        return Some(*upper);
    }
    let lower = sorted.get((n / 2).checked_sub(1)?)?;
    Some(((lower + upper) / 2.0 * 1e6).round() / 1e6)
}

fn area(rows: &[Row], max_age_h: f64, now: Timestamp) -> AreaReport {
    let mut steps: Vec<f64> = rows
        .windows(2)
        .filter_map(|w| match w {
            [a, b] => Some(hours(a.time, b.time)),
            _ => None,
        })
        .collect();
    steps.sort_by(f64::total_cmp);
    let step_h = median(&steps);
    let gaps = rows
        .windows(2)
        .filter_map(|w| {
            let [a, b] = w else { return None };
            let long = hours(a.time, b.time);
            (long > GAP_STEPS * step_h?).then(|| Gap {
                from: written(a.time, &a.zone),
                to: written(b.time, &b.zone),
                hours: (long * 100.0).round() / 100.0,
                bridged: long <= practice::READING_GAP_MOST.hours(),
            })
        })
        .collect();
    let newest = rows.iter().rfind(|r| !r.forecast && r.time <= now);
    let newest_age_h = newest.map(|r| hours(r.time, now));
    let forecast = rows.iter().filter(|r| r.forecast).count();
    let last = rows.last();
    let stale = match newest_age_h {
        Some(age) => age > max_age_h,
        // A forecast alone must reach past now.
        None => forecast > 0 && last.is_some_and(|r| hours(r.time, now) > max_age_h),
    };
    let end = |row: Option<&Row>| row.map_or(String::new(), |r| written(r.time, &r.zone));
    AreaReport {
        area: rows.first().and_then(|r| r.area.clone()),
        readings: rows.len(),
        from: end(rows.first()),
        to: end(last),
        step_min: step_h.map(|h| (h * 600.0).round() / 10.0),
        gaps,
        newest: newest.map(|r| written(r.time, &r.zone)),
        newest_age_h: newest_age_h.map(|h| (h * 100.0).round() / 100.0),
        stale,
        forecast,
        quantities: QUANTITIES
            .into_iter()
            .enumerate()
            .filter_map(|(slot, quantity)| {
                let mut values: Vec<f64> =
                    rows.iter().filter_map(|r| r.values.get(slot).copied().flatten()).collect();
                values.sort_by(f64::total_cmp);
                Some(QuantityReport {
                    quantity,
                    unit: quantity.unit().into(),
                    count: values.len(),
                    lowest: *values.first()?,
                    median: median(&values)?,
                    highest: *values.last()?,
                })
            })
            .collect(),
    }
}
