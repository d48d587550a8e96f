//! A data logger's file.

use crate::assemble::Gathered;
use crate::error::in_data;
use crate::map::{Asked, Column, CsvMap, CsvSeries};
use crate::moment::Stamp;
use crate::report::IssueCode;
use crate::row::{Cell, Measured, Row, RowPlace, values};
use crate::source::number::plain_number;
use crate::source::{area_of, is_sentinel, moment, not_a_number, text, time_of};
use csv::StringRecord;
use guardcell::{Code, Error, Lines, Place};
use std::hash::{DefaultHasher, Hash, Hasher};

/// The header row and where it is.
struct Header {
    place: Place,
    header: StringRecord,
}

/// A series with its columns found.
struct Found<'m> {
    series: &'m CsvSeries,
    area: Option<usize>,
    quantities: Vec<Asked<usize>>,
}

pub(crate) fn gather(map: &CsvMap, bytes: &[u8], place: &str) -> Result<Gathered, Error> {
    let whole = text::decode(bytes, map.encoding, place)?;
    let (body, skipped) = after_lines(&whole, map.skip_lines);
    let clock = map.time.clock().map_err(|f| f.within("/time"))?;
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(map.delimiter().unwrap_or(b','))
        .trim(csv::Trim::All)
        .from_reader(body.as_bytes());
    let mut lines = Lines::new(body);
    let mut records = reader.records().map(|r| {
        let at = match &r {
            Ok(record) => record.position(),
            Err(e) => e.position(),
        };
        let line = lines.of_record(at.map_or(0, csv::Position::byte)) + skipped;
        r.map(|record| (line, record)).map_err(|e| {
            in_data(
                place,
                format!("this is not a row of separated columns ({e})"),
                "check `delimiter` and the quotes of the file",
            )
            .on_line(line)
        })
    });
    let header = if map.header {
        let Some((line, header)) = records.next().transpose()? else {
            return Err(in_data(
                place,
                "there is no header",
                "check `skip_lines`, or state `header = false`",
            ));
        };
        Some(Header { place: Place::default().in_file(place).at_line(line), header })
    } else {
        None
    };
    let find = |column: &Column, key: &str| index(header.as_ref(), column, key, map);
    let mut times = Vec::new();
    for c in &map.time.columns {
        times.push(find(c, "/time/columns")?);
    }
    let mut gathered = Gathered::default();
    let mut found = Vec::new();
    for (i, series) in map.series.iter().enumerate() {
        let asked = series.asked().map_err(|f| f.within(&format!("/series/{i}")))?;
        let mut quantities = Vec::new();
        for a in asked {
            let key = format!("/series/{i}/{}/column", a.quantity.key());
            if let Some(scale) = &a.scale {
                gathered.unit(a.quantity, scale);
            }
            quantities.push(Asked {
                quantity: a.quantity,
                from: find(&a.from, &key)?,
                scale: a.scale,
                limit_within: a.limit_within,
            });
        }
        let area = series
            .area_column
            .as_ref()
            .map(|c| find(c, &format!("/series/{i}/area_column")))
            .transpose()?;
        found.push(Found { series, area, quantities });
    }
    let mut rows: Vec<(RowPlace, StringRecord, String)> = Vec::new();
    let mut stamps = Vec::new();
    for record in records.skip(map.skip_after_header) {
        let (line, record) = record?;
        let here = RowPlace::Line(line);
        gathered.rows_read += 1;
        gathered.possible += found.len();
        if record.iter().all(str::is_empty) {
            gathered
                .issues
                .drop_row(IssueCode::BlankRow, &here, found.len(), || "the row is blank".into());
            continue;
        }
        let mut words = Vec::new();
        words.extend(times.iter().filter_map(|i| record.get(*i)));
        if words.len() < times.len() {
            gathered.issues.drop_row(IssueCode::ShortRow, &here, found.len(), || {
                format!("the row ends after column {}, before its time", record.len())
            });
            continue;
        }
        let words = words.join(" ");
        let Some(time) = time_of(&clock, &words, &here, found.len(), &mut gathered) else {
            continue;
        };
        let mut hasher = DefaultHasher::new();
        record.iter().for_each(|cell| cell.hash(&mut hasher));
        let key: Vec<&str> = found.iter().filter_map(|f| record.get(f.area?)).collect();
        stamps.push(Stamp { time: Some(time), key: key.join("\u{1f}"), content: hasher.finish() });
        rows.push((here, record, words));
    }
    let settled = clock.settle(&stamps);
    for ((here, record, words), settled) in rows.iter().zip(settled) {
        if settled.is_none() {
            gathered.issues.drop_row(IssueCode::BadTime, here, found.len(), || {
                format!("the time {words:?} is outside the calendar")
            });
            continue;
        }
        let Some(time) = moment(settled, words, here, found.len(), &mut gathered) else {
            continue;
        };
        for f in &found {
            let area = match f.area.map(|i| record.get(i).unwrap_or_default()) {
                None => f.series.area.clone(),
                Some(word) => match area_of(word, f.series.areas.as_ref()) {
                    Ok(area) => Some(area),
                    Err(says) => {
                        gathered.issues.drop_row(IssueCode::UnknownArea, here, 1, || says);
                        continue;
                    }
                },
            };
            let measured: Vec<Measured> = f
                .quantities
                .iter()
                .map(|q| (q.quantity, cell(map, record.get(q.from), q), q.limit_within))
                .collect();
            if let Some(values) = values(&measured, here, &mut gathered.issues) {
                let (place, zone) = (here.clone(), clock.zone());
                gathered.rows.push(Row { place, time, zone, area, values, forecast: false });
            }
        }
    }
    Ok(gathered)
}

/// The text after so many lines, and how many were passed.
fn after_lines(text: &str, lines: usize) -> (&str, u64) {
    let mut rest = text;
    let mut passed = 0;
    for _ in 0..lines {
        let Some((_, after)) = rest.split_once('\n') else { return ("", passed) };
        rest = after;
        passed += 1;
    }
    (rest, passed)
}

/// The index of a column.
fn index(
    header: Option<&Header>,
    column: &Column,
    key: &str,
    map: &CsvMap,
) -> Result<usize, Error> {
    let fault = |wrong: String, right: String| {
        let place = header.map_or_else(Place::default, |h| h.place.clone());
        Error::new(Code::MalformedFile, wrong, right).at(key).placed(place)
    };
    match (column, header) {
        (Column::Number(n), None) => Ok(usize::from(*n).saturating_sub(1)),
        (Column::Number(n), Some(Header { header: h, .. })) => {
            let i = usize::from(*n).saturating_sub(1);
            if i < h.len() {
                return Ok(i);
            }
            Err(fault(
                format!("there is no column {n}; the header has {}", h.len()),
                "count from 1".into(),
            ))
        }
        (Column::Name(name), header) => {
            let Some(Header { header: h, .. }) = header else {
                return Err(fault("there is no header".into(), "give the number".into()));
            };
            let mut there = h.iter().enumerate().filter(|(_, c)| c == &name.trim());
            match (there.next(), there.next()) {
                (Some((i, _)), None) => Ok(i),
                (Some((a, _)), Some((b, _))) => Err(fault(
                    format!("the columns {} and {} are both called {name:?}", a + 1, b + 1),
                    "give the number of the right one".into(),
                )),
                (None, _) => {
                    let names: Vec<String> = h.iter().take(40).map(|c| format!("{c:?}")).collect();
                    let hint = if h.len() == 1 {
                        format!("; check `delimiter` ({:?}) and `skip_lines`", map.delimiter)
                    } else {
                        String::new()
                    };
                    Err(fault(
                        format!("there is no column {name:?}"),
                        format!("the columns are {}{hint}", names.join(", ")),
                    ))
                }
            }
        }
    }
}

fn cell(map: &CsvMap, text: Option<&str>, asked: &Asked<usize>) -> Cell {
    let Some(word) = text.map(str::trim).filter(|t| !t.is_empty()) else { return Cell::Missing };
    if is_sentinel(word, &map.missing) {
        return Cell::Sentinel(word.chars().take(40).collect());
    }
    let Some(scale) = &asked.scale else { return not_a_number(word) };
    // Some loggers write the unit into every cell.
    let number = word
        .strip_suffix(scale.written.as_str())
        .or_else(|| word.strip_suffix(scale.trade.as_str()))
        .unwrap_or(word)
        .trim_end();
    let decimal = if map.decimal == "," { ',' } else { '.' };
    let Some(number) = plain_number(number, decimal) else { return not_a_number(word) };
    let plain = number.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'));
    match number.parse::<f64>() {
        Ok(v) if v.is_finite() && plain => {
            // A sentinel with a decimal comma is compared as the number it is.
            if is_sentinel(&number, &map.missing) {
                return Cell::Sentinel(word.to_owned());
            }
            Cell::Value(scale.to_reading(v))
        }
        _ => not_a_number(word),
    }
}
