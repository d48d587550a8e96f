//! A JSON document by pointers.

use crate::assemble::Gathered;
use crate::error::in_data;
use crate::map::{Asked, JsonMap, JsonPart, PointerQuantity};
use crate::moment::{Clock, Stamp};
use crate::pointer::{follow, what};
use crate::report::IssueCode;
use crate::row::{Cell, Measured, Row, RowPlace, values};
use crate::source::join::{Joined, Moment, Observed, Sequence, join};
use crate::source::{area_of, is_sentinel, moment, not_a_number, time_of};
use crate::unit::Scale;
use guardcell::Error;
use jiff::Timestamp;
use serde_json::Value;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::Arc;

/// The values of one element: its place, time, area and quantities.
struct Element<'v> {
    place: RowPlace,
    time: &'v Value,
    area: Option<&'v Value>,
    quantities: Vec<Option<&'v Value>>,
}

/// An element whose time is a moment.
struct Timed {
    place: RowPlace,
    time: Timestamp,
    area: Option<String>,
    measured: Vec<Measured>,
}

/// Where a series stands in a document.
struct Spot<'m> {
    rows: Option<&'m str>,
    time: &'m str,
    area: Option<&'m str>,
    /// The key of the series in the map.
    key: String,
    /// Whether it is one quantity with times of its own.
    own: bool,
    from: &'m str,
}

pub(crate) fn gather(map: &JsonMap, document: &Value, from: &str) -> Result<Gathered, Error> {
    let mut gathered = Gathered::default();
    for (key, part, forecast) in
        [("current", &map.current, false), ("forecast", &map.forecast, true)]
    {
        if let Some(part) = part {
            one(map, (key, part, forecast), document, from, &mut gathered)?;
        }
    }
    Ok(gathered)
}

fn one(
    map: &JsonMap,
    (key, part, forecast): (&str, &JsonPart, bool),
    document: &Value,
    from: &str,
    gathered: &mut Gathered,
) -> Result<(), Error> {
    let here = |f: Error| f.within(&format!("/{}", key));
    let asked = part.asked().map_err(here)?;
    let clock = part.time.clock().map_err(|f| here(f.within("/time")))?;
    for a in &asked {
        let Some(scale) = &a.scale else { continue };
        gathered.unit(a.quantity, scale);
        if let Some(pointer) = &a.from.unit_pointer {
            same_unit(document, pointer, a, scale, from, key)?;
        }
    }
    let (own, asked): (Vec<_>, Vec<_>) = asked.into_iter().partition(|a| a.from.time.is_some());
    let spot = Spot {
        rows: part.rows.as_deref(),
        time: &part.time.pointer,
        area: part.area_pointer.as_deref(),
        key: format!("/{key}"),
        own: false,
        from,
    };
    let read = timed(document, &spot, &asked, (&clock, &map.missing), gathered)?;
    if !own.is_empty() {
        let mut others = Vec::new();
        for a in own {
            others.push(sequence(map, document, a, &spot, gathered)?);
        }
        let moments =
            read.into_iter().map(|t| Moment { place: t.place, time: t.time, measured: t.measured });
        let (area, tolerance_s) = (part.area.clone(), part.tolerance_s());
        let joined = Joined { area, zone: clock.zone(), forecast, tolerance_s };
        join(moments.collect(), &others, &joined, gathered);
        return Ok(());
    }
    for Timed { place, time, area, measured } in read {
        gathered.possible += 1;
        let area = match area.map(|word| area_of(&word, part.areas.as_ref())) {
            None => part.area.clone(),
            Some(Ok(area)) => Some(area),
            Some(Err(says)) => {
                gathered.issues.drop_row(IssueCode::UnknownArea, &place, 1, || says);
                continue;
            }
        };
        if let Some(values) = values(&measured, &place, &mut gathered.issues) {
            let zone = clock.zone();
            gathered.rows.push(Row { place, time, zone, area, values, forecast });
        }
    }
    Ok(())
}

/// A quantity with times of its own.
fn sequence(
    map: &JsonMap,
    document: &Value,
    asked: Asked<&PointerQuantity>,
    part: &Spot<'_>,
    gathered: &mut Gathered,
) -> Result<Sequence, Error> {
    let PointerQuantity { time, rows, pointer, .. } = asked.from;
    let key = format!("{}/{}", part.key, asked.quantity.key());
    let (name, quantity, limit_within) = (pointer.clone(), asked.quantity, asked.limit_within);
    let mut observed = Vec::new();
    if let Some(time) = time {
        let clock = time.clock().map_err(|f| f.within("/time").within(&key))?;
        let spot = Spot {
            rows: rows.as_deref(),
            time: &time.pointer,
            area: None,
            key,
            own: true,
            from: part.from,
        };
        let read = timed(document, &spot, &[asked], (&clock, &map.missing), gathered)?;
        observed.extend(read.into_iter().filter_map(|t| {
            let (_, cell, _) = t.measured.into_iter().next()?;
            Some(Observed { place: t.place, time: t.time, cell })
        }));
    }
    observed.sort_by_key(|o| o.time);
    Ok(Sequence { name, quantity, limit_within, values: observed })
}

/// The elements of a series that have a moment; those without one are reported.
fn timed(
    document: &Value,
    spot: &Spot<'_>,
    asked: &[Asked<&PointerQuantity>],
    (clock, missing): (&Clock, &[String]),
    gathered: &mut Gathered,
) -> Result<Vec<Timed>, Error> {
    // A value with a time of its own makes no reading alone.
    let readings = usize::from(!spot.own);
    let elements = elements(document, spot, asked)?;
    let mut read = Vec::new();
    let mut stamps = Vec::new();
    gathered.rows_read += elements.len();
    let dropped = gathered.issues.dropped;
    for e in &elements {
        let words = match e.time {
            Value::String(s) => s.clone(),
            Value::Number(n) => n.to_string(),
            other => {
                gathered.issues.drop_row(IssueCode::BadTime, &e.place, readings, || {
                    format!("the time is {}", what(other))
                });
                continue;
            }
        };
        let Some(time) = time_of(clock, &words, &e.place, readings, gathered) else { continue };
        let mut hasher = DefaultHasher::new();
        e.quantities.iter().for_each(|v| v.map(Value::to_string).hash(&mut hasher));
        stamps.push(Stamp {
            time: Some(time),
            key: e.area.map(Value::to_string).unwrap_or_default(),
            content: hasher.finish(),
        });
        read.push((e, words));
    }
    let settled = clock.settle(&stamps);
    let mut out = Vec::new();
    for ((e, words), settled) in read.into_iter().zip(settled) {
        if settled.is_none() {
            gathered.issues.drop_row(IssueCode::BadTime, &e.place, readings, || {
                format!("the time {words:?} is outside the calendar")
            });
            continue;
        }
        let Some(time) = moment(settled, &words, &e.place, readings, gathered) else { continue };
        let area = e.area.map(|value| match value {
            Value::String(s) => s.clone(),
            Value::Null => String::new(),
            other => other.to_string(),
        });
        let cells = asked.iter().zip(&e.quantities);
        let measured = cells
            .map(|(a, v)| (a.quantity, cell(*v, a.scale.as_ref(), missing), a.limit_within))
            .collect();
        out.push(Timed { place: e.place.clone(), time, area, measured });
    }
    // What was dropped here could have made a reading.
    gathered.possible += gathered.issues.dropped - dropped;
    Ok(out)
}

/// Compares the unit the service states with that of the map.
fn same_unit(
    document: &Value,
    pointer: &str,
    asked: &Asked<&PointerQuantity>,
    scale: &Scale,
    from: &str,
    key: &str,
) -> Result<(), Error> {
    let at = format!("/{key}/{}/unit_pointer", asked.quantity.key());
    let right = "correct the map, or ask the service why its units changed";
    let fault = |detail: String| in_data(from, detail, right).at(at.clone());
    let value = follow(document, pointer).map_err(fault)?;
    let Value::String(stated) = value else {
        return Err(fault(format!("the unit at {pointer:?} is {}, not a text", what(value))));
    };
    let differs = || {
        format!(
            "the service states the {} in {stated:?}, and the map in {:?}",
            asked.quantity.words(),
            scale.written
        )
    };
    if stated == &scale.written {
        return Ok(());
    }
    match Scale::new(asked.quantity, stated, None) {
        Ok(theirs) if theirs.agrees_with(scale) => Ok(()),
        _ => Err(fault(differs())),
    }
}

/// The elements of a series: of an array of objects, of parallel arrays, or a single one.
fn elements<'v>(
    document: &'v Value,
    spot: &Spot<'_>,
    asked: &[Asked<&PointerQuantity>],
) -> Result<Vec<Element<'v>>, Error> {
    let fault = |what: &str, wrong: String| {
        let hint = "correct the pointer, or check that the address is that of the data";
        in_data(spot.from, wrong, hint).at(format!("{}/{what}", spot.key))
    };
    let quantity_key = |a: &Asked<&PointerQuantity>| match spot.own {
        true => "pointer".to_owned(),
        false => format!("{}/pointer", a.quantity.key()),
    };
    if let Some(pointer) = spot.rows {
        let rows = follow(document, pointer).map_err(|w| fault("rows", w))?;
        let Value::Array(rows) = rows else {
            return Err(fault(
                "rows",
                format!("{pointer:?} leads to {}, not to an array", what(rows)),
            ));
        };
        let array: Arc<str> = Arc::from(pointer);
        let mut out = Vec::new();
        for (i, row) in rows.iter().enumerate() {
            let time = follow(row, spot.time)
                .map_err(|w| fault("time/pointer", format!("in element {i} {w}")))?;
            let mut quantities = Vec::new();
            for a in asked {
                // An element may lack a value, but not each of them.
                let value = follow(row, &a.from.pointer);
                if i == 0
                    && let Err(w) = &value
                    && rows.iter().all(|r| follow(r, &a.from.pointer).is_err())
                {
                    return Err(fault(&quantity_key(a), format!("in every element {w}")));
                }
                quantities.push(value.ok());
            }
            let area = spot
                .area
                .map(|p| follow(row, p).map_err(|w| fault("area_pointer", w)))
                .transpose()?;
            out.push(Element {
                place: RowPlace::Element(array.clone(), i as u64),
                time,
                area,
                quantities,
            });
        }
        return Ok(out);
    }
    let time = follow(document, spot.time).map_err(|w| fault("time/pointer", w))?;
    let mut found = Vec::new();
    for a in asked {
        found.push(follow(document, &a.from.pointer).map_err(|w| fault(&quantity_key(a), w))?);
    }
    let area =
        spot.area.map(|p| follow(document, p).map_err(|w| fault("area_pointer", w))).transpose()?;
    let Value::Array(times) = time else {
        let place = RowPlace::Named(Arc::from(spot.time));
        let quantities = found.into_iter().map(Some).collect();
        return Ok(vec![Element { place, time, area, quantities }]);
    };
    let mut columns = Vec::new();
    for (a, value) in asked.iter().zip(found) {
        match value {
            Value::Array(items) if items.len() == times.len() => columns.push(items),
            other => {
                return Err(fault(
                    &quantity_key(a),
                    format!("{} times are beside {}", times.len(), what(other)),
                ));
            }
        }
    }
    let areas = match area {
        Some(Value::Array(items)) if items.len() == times.len() => Some(items),
        Some(Value::Array(items)) => {
            return Err(fault(
                "area_pointer",
                format!("{} times are beside an array of {}", times.len(), items.len()),
            ));
        }
        _ => None,
    };
    let array: Arc<str> = Arc::from(spot.time);
    Ok(times
        .iter()
        .enumerate()
        .map(|(i, time)| Element {
            place: RowPlace::Element(array.clone(), i as u64),
            time,
            area: areas.map_or(area, |items| items.get(i)),
            quantities: columns.iter().map(|c| c.get(i)).collect(),
        })
        .collect())
}

/// A value of a document as a cell.
pub(crate) fn cell(value: Option<&Value>, scale: Option<&Scale>, missing: &[String]) -> Cell {
    let (word, number) = match value {
        None | Some(Value::Null) => return Cell::Missing,
        Some(Value::Number(n)) => (n.to_string(), n.as_f64()),
        Some(Value::String(s)) => {
            let s = s.trim();
            if s.is_empty() {
                return Cell::Missing;
            }
            let plain = s.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'));
            (s.to_owned(), s.parse().ok().filter(|_| plain))
        }
        Some(other) => return Cell::NotANumber(what(other)),
    };
    if is_sentinel(&word, missing) {
        return Cell::Sentinel(word);
    }
    match (number.filter(|v: &f64| v.is_finite()), scale) {
        (Some(v), Some(scale)) => Cell::Value(scale.to_reading(v)),
        _ => not_a_number(&word),
    }
}
