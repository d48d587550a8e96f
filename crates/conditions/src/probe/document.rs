//! A map of an unknown JSON document.

use crate::probe::answer::{FindingCode, Findings, Probe, ProbedColumn, ProbedTime, Standing};
use crate::probe::clock::{self, Keys};
use crate::probe::columns::{self, Candidate, Series};
use crate::probe::known::Known;
use crate::probe::sets::{self, Field, Set};
use crate::probe::stamp::{self, Form};
use crate::probe::words::{self, Kind};
use crate::probe::write::{head, quoted};
use crate::unit::{QuantityName, Scale};
use guardcell::{Code, Error};
use jiff::Timestamp;
use serde_json::Value;

/// A set that holds readings.
struct Found {
    set: Set,
    time: usize,
    form: Form,
    forecast: bool,
}

/// The document of a text.
pub(super) fn parse(text: &str, known: &Known<'_>) -> Result<Option<Value>, Error> {
    serde_json::from_str(text).map(Some).map_err(|e| {
        let hint = "give one JSON document; lines of JSON are not read";
        Error::new(Code::MalformedFile, format!("this is not JSON ({e})"), hint)
            .in_file(known.file)
            .on_line(e.line() as u64)
            .at_column(e.column() as u64)
    })
}

pub(super) fn propose(document: &Value, known: &Known<'_>, mut findings: Findings) -> Probe {
    let sets = sets::sets(document);
    let mut probe = Probe::of("json", known.file);
    let mut parts = String::new();
    let mut any = false;
    for forecast in [false, true] {
        let Some(found) = best(&sets, known, forecast) else { continue };
        any = true;
        parts.push_str(&part(document, &found, &[], known, &mut probe, &mut findings));
    }
    if !any && let Some((base, own)) = apart(&sets, known) {
        any = true;
        parts.push_str(&part(document, &base, &own, known, &mut probe, &mut findings));
    }
    if !any {
        let message = "no part of the document has a time, a temperature and a humidity: write a \
                       map by hand";
        findings.open(FindingCode::Layout, message);
    }
    if !findings.any_open() {
        let file = quoted(known.file);
        let top = format!("source = \"json\"\nfile = {file}\n");
        probe.map = Some(head(known.file, &findings.0) + &top + &parts);
    }
    probe.findings = findings.0;
    probe
}

fn text_of(value: &Value) -> Option<String> {
    match value {
        Value::String(s) => Some(s.clone()),
        Value::Number(n) => Some(n.to_string()),
        _ => None,
    }
}

fn numbers(field: &Field) -> Vec<f64> {
    let number = |v: &Value| match v {
        Value::String(s) => s.trim().parse().ok().filter(|v: &f64| v.is_finite()),
        other => other.as_f64(),
    };
    field.values.iter().filter_map(number).collect()
}

/// The name that a field is known by: its own, or that of the array whose values it holds.
fn name_of(set: &Set, field: &Field) -> words::Name {
    let key = sets::key(&field.pointer);
    match &set.rows {
        Some(rows) if sets::is_value(key) => words::name(sets::key(rows)),
        _ => words::name(key),
    }
}

/// The kind of a field: a quantity needs numbers.
fn kind(set: &Set, field: &Field) -> Kind {
    match name_of(set, field).kind {
        Kind::Quantity(_) if numbers(field).is_empty() => Kind::Unknown,
        kind => kind,
    }
}

/// The field of times: of those named so the first whose form is known.
fn time(set: &Set, known: &Known<'_>) -> Option<(usize, Form)> {
    let formed = |i: usize| {
        let words: Vec<String> = set.fields.get(i)?.values.iter().filter_map(text_of).collect();
        let times: Vec<&str> = words.iter().map(String::as_str).collect();
        Some((i, stamp::form(&times, known.date_order))).filter(|(_, f)| *f != Form::Unknown)
    };
    let named = |i: &usize| set.fields.get(*i).is_some_and(|f| kind(set, f) == Kind::Time);
    let all = 0..set.fields.len();
    let other = |i: &usize| {
        !named(i) && set.fields.get(*i).is_some_and(|f| !matches!(kind(set, f), Kind::Quantity(_)))
    };
    all.clone().filter(named).find_map(formed).or_else(|| all.filter(other).find_map(formed))
}

/// Whether every time is after now.
fn ahead(set: &Set, time: usize, form: &Form, known: &Known<'_>) -> bool {
    let Form::Known { format, .. } = form else { return false };
    let clock = crate::moment::Clock::new(
        format.as_deref(),
        Some(known.zone.unwrap_or("UTC")),
        crate::map::Ambiguous::default(),
        crate::map::Nonexistent::Shift,
    );
    let Ok(clock) = clock else { return false };
    let moment = |v: &Value| -> Option<Timestamp> {
        match clock.read(&text_of(v)?).ok()? {
            crate::moment::Written::Moment(t) => Some(t),
            crate::moment::Written::Local(l) => clock.zone().to_timestamp(l).ok(),
        }
    };
    let values = set.fields.get(time).map(|f| f.values.as_slice()).unwrap_or_default();
    !values.is_empty() && values.iter().filter_map(moment).all(|t| t > known.now)
}

fn has(set: &Set, wanted: &[QuantityName]) -> bool {
    set.fields.iter().any(|f| matches!(kind(set, f), Kind::Quantity(q) if wanted.contains(&q)))
}

const HUMID: [QuantityName; 2] = [QuantityName::Humidity, QuantityName::DewPoint];

/// The set with most elements that holds whole readings.
fn best(sets: &[Set], known: &Known<'_>, forecast: bool) -> Option<Found> {
    sets.iter()
        .filter(|s| has(s, &[QuantityName::Temperature]) && has(s, &HUMID))
        .filter_map(|s| {
            let (time, form) = time(s, known)?;
            let pointer = s.fields.get(time).map(|f| f.pointer.as_str()).unwrap_or_default();
            let place = format!("{}{pointer}", s.rows.as_deref().unwrap_or_default());
            let ahead = place.to_lowercase().contains("forecast") || ahead(s, time, &form, known);
            (ahead == forecast).then(|| Found { set: s.clone(), time, form, forecast })
        })
        .max_by_key(|f| f.set.elements)
}

/// A temperature and a humidity with times of their own.
fn apart(sets: &[Set], known: &Known<'_>) -> Option<(Found, Vec<Found>)> {
    let one = |set: &Set, wanted: &[QuantityName]| {
        if !has(set, wanted) {
            return None;
        }
        let (time, form) = time(set, known)?;
        Some(Found { set: set.clone(), time, form, forecast: false })
    };
    let find = |wanted: &[QuantityName]| sets.iter().find_map(|s| one(s, wanted));
    let base = find(&[QuantityName::Temperature])?;
    let humid = find(&HUMID[..1]).or_else(|| find(&HUMID[1..]))?;
    Some((base, vec![humid]))
}

fn candidate(document: &Value, set: &Set, field: &Field) -> (Candidate, Option<String>) {
    let name = name_of(set, field);
    let quantity = matches!(name.kind, Kind::Quantity(_));
    let beside = match &set.rows {
        Some(rows) => sets::unit_of(document, &format!("{rows}{}", field.pointer)),
        None => sets::unit_of(document, &field.pointer),
    };
    // The unit is held against the document at each reading, where its text is one.
    let pointer = match (&beside, name.kind) {
        (Some((pointer, unit)), Kind::Quantity(q)) if Scale::new(q, unit, None).is_ok() => {
            Some(pointer.clone())
        }
        _ => None,
    };
    let not_read = match name.kind {
        Kind::NotAir(why) => Some(why.to_owned()),
        Kind::Unknown => Some("its name is not known".to_owned()),
        Kind::Quantity(_) if numbers(field).is_empty() => Some("it holds no number".to_owned()),
        _ => None,
    };
    let example = field.values.iter().find_map(text_of).map(|t| guardcell::excerpt(&t, 40));
    let candidate = Candidate {
        shown: format!(
            "{}{}",
            set.rows.as_deref().map_or(String::new(), |r| format!("{r}/*")),
            field.pointer
        ),
        name,
        stated: beside.map(|(_, unit)| unit).filter(|_| quantity),
        numbers: if quantity { numbers(field) } else { Vec::new() },
        example,
        not_read,
        unit: None,
    };
    (candidate, pointer)
}

/// One part of the map; what it was taken for is added to the probe.
fn part(
    document: &Value,
    found: &Found,
    own: &[Found],
    known: &Known<'_>,
    probe: &mut Probe,
    findings: &mut Findings,
) -> String {
    let mut places: Vec<(&Found, &Field)> = Vec::new();
    for f in std::iter::once(found).chain(own) {
        let fields = f.set.fields.iter().enumerate();
        places.extend(fields.filter(|(i, _)| *i != f.time).map(|(_, field)| (f, field)));
    }
    let (mut candidates, units): (Vec<Candidate>, Vec<Option<String>>) =
        places.iter().map(|(f, field)| candidate(document, &f.set, field)).unzip();
    let what = if found.forecast { "a forecast" } else { "readings" };
    let place = match &found.set.rows {
        Some(rows) if rows.is_empty() => "the array of the document".to_owned(),
        Some(rows) => format!("the array {rows}"),
        None if found.set.elements > 1 => "arrays side by side".to_owned(),
        None => "values that stand alone".to_owned(),
    };
    let apart = if own.is_empty() { "" } else { ", each quantity with times of its own" };
    findings.add(
        FindingCode::Layout,
        Standing::Decided,
        None,
        format!("{place}: {what} of {} times{apart}", found.set.elements),
    );
    columns::units(&mut candidates, findings);
    let mut series = columns::series(&mut candidates, findings);
    if series.len() > 1 {
        let message = "it holds several pairs of temperature and humidity; the first is read, and \
                       each other needs a map of its own";
        findings.add(FindingCode::Pair, Standing::Assumed, None, message);
        series.truncate(1);
    }
    let mut clocks = Vec::new();
    for f in std::iter::once(found).chain(own) {
        let Some(field) = f.set.fields.get(f.time) else { continue };
        let utc = words::name(sets::key(&field.pointer)).utc;
        clocks.push(clock::keys(f.form.clone(), &field.pointer, utc, known.zone, findings));
    }
    let area = area(found, &candidates, known, findings);
    said(probe, found, &candidates, &series, clocks.first().and_then(Option::as_ref), known);
    let Some(series) = series.first() else { return String::new() };
    let mut out = format!("\n[{}]\n", if found.forecast { "forecast" } else { "current" });
    if let Some(rows) = &found.set.rows {
        out.push_str(&format!("rows = {}\n", quoted(rows)));
    }
    match (&area, known.area) {
        (Some(pointer), _) => out.push_str(&format!("area_pointer = {}\n", quoted(pointer))),
        (None, Some(area)) => out.push_str(&format!("area = {}\n", quoted(area))),
        (None, None) => {}
    }
    let times = |f: &Found, at: usize| {
        let pointer = f.set.fields.get(f.time).map(|f| f.pointer.clone()).unwrap_or_default();
        let keys = clocks.get(at).cloned().flatten().unwrap_or_default();
        written_time(&pointer, &keys)
    };
    out.push_str(&format!("time = {}\n", times(found, 0)));
    for (q, i) in &series.of {
        let (Some((f, field)), Some(c)) = (places.get(*i), candidates.get(*i)) else { continue };
        let mut keys = vec![format!("pointer = {}", quoted(&field.pointer))];
        if let Some(unit) = &c.unit {
            keys.push(format!("unit = {}", quoted(unit)));
        }
        if let Some(pointer) = units.get(*i).and_then(Option::as_ref) {
            keys.push(format!("unit_pointer = {}", quoted(pointer)));
        }
        if let Some(at) = own.iter().position(|o| std::ptr::eq(o, *f)) {
            if let Some(rows) = &f.set.rows {
                keys.push(format!("rows = {}", quoted(rows)));
            }
            keys.push(format!("time = {}", times(f, at + 1)));
        }
        out.push_str(&format!("{} = {{ {} }}\n", q.key(), keys.join(", ")));
    }
    out
}

fn written_time(pointer: &str, keys: &Keys) -> String {
    let mut out = vec![format!("pointer = {}", quoted(pointer))];
    for (name, value) in [("format", &keys.format), ("zone", &keys.zone)] {
        if let Some(value) = value {
            out.push(format!("{name} = {}", quoted(value)));
        }
    }
    format!("{{ {} }}", out.join(", "))
}

/// The pointer to the name of an area, where elements have one.
fn area(
    found: &Found,
    candidates: &[Candidate],
    known: &Known<'_>,
    findings: &mut Findings,
) -> Option<String> {
    let fields = found.set.fields.iter().find(|f| {
        let mut words: Vec<String> = f.values.iter().filter_map(text_of).collect();
        words.sort_unstable();
        words.dedup();
        kind(&found.set, f) == Kind::Area
            && words.len() > 1
            && words.len() * 2 <= found.set.elements
    });
    if let Some(field) = fields {
        let message = "it names several places; its words were taken as areas of your site \
                       (`areas` in the map turns other words into them)";
        findings.add(FindingCode::Area, Standing::Assumed, Some(&field.pointer), message);
        return Some(field.pointer.clone());
    }
    if !candidates.is_empty() {
        let message = match known.area {
            Some(area) => format!("its readings are those of the area {area:?}, as stated"),
            None => "its readings hold for every area (`area` in the map names one)".to_owned(),
        };
        if findings.0.iter().all(|f| f.message != message) {
            findings.add(FindingCode::Area, Standing::Assumed, None, message);
        }
    }
    None
}

fn said(
    probe: &mut Probe,
    found: &Found,
    candidates: &[Candidate],
    series: &[Series],
    keys: Option<&Keys>,
    known: &Known<'_>,
) {
    probe.rows += found.set.elements;
    if let Some(field) = found.set.fields.get(found.time)
        && probe.time.is_none()
    {
        probe.time = Some(ProbedTime {
            columns: vec![field.pointer.clone()],
            form: keys.map(|k| k.format.clone().unwrap_or_else(|| "rfc3339".into())),
            zone: keys.and_then(|k| k.zone.clone()),
            example: field.values.iter().find_map(text_of).unwrap_or_default(),
        });
    }
    for (i, c) in candidates.iter().enumerate() {
        let mine = series.iter().flat_map(|s| &s.of).find(|(_, at)| *at == i);
        let why = || c.not_read.clone().unwrap_or_else(|| "nothing goes with it".into());
        let area = matches!(c.name.kind, Kind::Area);
        probe.columns.push(ProbedColumn {
            column: c.shown.clone(),
            quantity: mine.map(|(q, _)| *q),
            unit: mine.and(c.unit.clone()),
            area: mine.and(known.area.map(str::to_owned)),
            not_read: if mine.is_some() || area { None } else { Some(why()) },
            example: c.example.clone(),
        });
    }
}
