//! A JSON document by pointers.

use crate::assemble::Gathered;
use crate::error::in_data;
use crate::map::{Asked, JsonMap, JsonPart, PointerQuantity};
use crate::moment::Stamp;
use crate::pointer::{follow, what};
use crate::report::IssueCode;
use crate::row::{Cell, Measured, Row, RowPlace, values};
use crate::source::{area_of, is_sentinel, moment, not_a_number, time_of};
use crate::unit::Scale;
use guardcell::Error;
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

pub(crate) fn gather(map: &JsonMap, document: &Value, from: &str) -> Result<Gathered, Error> {
    let mut gathered = Gathered::default();
    for (key, part, forecast) in
        [("current", &map.current, false), ("forecast", &map.forecast, true)]
    {
        if let Some(part) = part {
            one(map, part, key, forecast, document, from, &mut gathered)?;
        }
    }
    Ok(gathered)
}

fn one(
    map: &JsonMap,
    part: &JsonPart,
    key: &str,
    forecast: bool,
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
    let elements = elements(document, part, key, &asked, from)?;
    let mut read = Vec::new();
    let mut stamps = Vec::new();
    for e in &elements {
        gathered.rows_read += 1;
        gathered.possible += 1;
        let words = match e.time {
            Value::String(s) => s.clone(),
            Value::Number(n) => n.to_string(),
            other => {
                gathered.issues.drop_row(IssueCode::BadTime, &e.place, 1, || {
                    format!("the time is {}", what(other))
                });
                continue;
            }
        };
        let Some(time) = time_of(&clock, &words, &e.place, 1, gathered) else { continue };
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
    for ((e, words), settled) in read.into_iter().zip(settled) {
        if settled.is_none() {
            gathered.issues.drop_row(IssueCode::BadTime, &e.place, 1, || {
                format!("the time {words:?} is outside the calendar")
            });
            continue;
        }
        let Some(time) = moment(settled, &words, &e.place, 1, gathered) else { continue };
        let area = match e.area {
            None => part.area.clone(),
            Some(value) => {
                let word = match value {
                    Value::String(s) => s.clone(),
                    Value::Null => String::new(),
                    other => other.to_string(),
                };
                match area_of(&word, part.areas.as_ref()) {
                    Ok(area) => Some(area),
                    Err(says) => {
                        gathered.issues.drop_row(IssueCode::UnknownArea, &e.place, 1, || says);
                        continue;
                    }
                }
            }
        };
        let measured: Vec<Measured> = asked
            .iter()
            .zip(&e.quantities)
            .map(|(a, v)| (a.quantity, cell(*v, a.scale.as_ref(), &map.missing), a.limit_within))
            .collect();
        if let Some(values) = values(&measured, &e.place, &mut gathered.issues) {
            let (place, zone) = (e.place.clone(), clock.zone());
            gathered.rows.push(Row { place, time, zone, area, values, forecast });
        }
    }
    Ok(())
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

/// The elements of a part: of an array of objects, of parallel arrays, or a single one.
fn elements<'v>(
    document: &'v Value,
    part: &JsonPart,
    key: &str,
    asked: &[Asked<&PointerQuantity>],
    from: &str,
) -> Result<Vec<Element<'v>>, Error> {
    let fault = |what: &str, wrong: String| {
        in_data(from, wrong, "correct the pointer, or check that the address is that of the data")
            .at(format!("/{key}/{what}"))
    };
    let quantity_key = |a: &Asked<&PointerQuantity>| format!("{}/pointer", a.quantity.key());
    if let Some(pointer) = &part.rows {
        let rows = follow(document, pointer).map_err(|w| fault("rows", w))?;
        let Value::Array(rows) = rows else {
            return Err(fault(
                "rows",
                format!("{pointer:?} leads to {}, not to an array", what(rows)),
            ));
        };
        let array: Arc<str> = Arc::from(pointer.as_str());
        let mut out = Vec::new();
        for (i, row) in rows.iter().enumerate() {
            let time = follow(row, &part.time.pointer)
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
            let area = part
                .area_pointer
                .as_ref()
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
    let time = follow(document, &part.time.pointer).map_err(|w| fault("time/pointer", w))?;
    let mut found = Vec::new();
    for a in asked {
        found.push(follow(document, &a.from.pointer).map_err(|w| fault(&quantity_key(a), w))?);
    }
    let area = part
        .area_pointer
        .as_ref()
        .map(|p| follow(document, p).map_err(|w| fault("area_pointer", w)))
        .transpose()?;
    let Value::Array(times) = time else {
        let place = RowPlace::Named(Arc::from(part.time.pointer.as_str()));
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
    let array: Arc<str> = Arc::from(part.time.pointer.as_str());
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
