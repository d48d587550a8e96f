//! A map of an unknown table.

use crate::map::Encoding;
use crate::probe::answer::{FindingCode, Findings, Probe, ProbedColumn, ProbedTime, Standing};
use crate::probe::clock::{self, Keys};
use crate::probe::columns::{self, Candidate, Series};
use crate::probe::known::Known;
use crate::probe::layout::{self, Layout};
use crate::probe::numbers::{self, Mark};
use crate::probe::stamp::{self, Form};
use crate::probe::words::{self, Kind};
use crate::probe::write::{head, quoted};
use crate::unit::QuantityName;

/// The most words that are taken for a missing value.
const MISSING_MOST: usize = 6;

/// The time of a table.
struct Time {
    columns: Vec<usize>,
    form: Form,
    example: String,
}

/// Whether a text has a line that names the columns of a logger.
pub(super) fn is_one(text: &str) -> bool {
    layout::find(text).is_some()
}

pub(super) fn propose(
    text: &str,
    encoding: Encoding,
    known: &Known<'_>,
    mut findings: Findings,
) -> Probe {
    let mut probe = Probe::of("csv", known.file);
    let Some(layout) = layout::find(text) else {
        let message = "no line names a temperature or a humidity beside other columns: write a map \
                       by hand";
        findings.open(FindingCode::Layout, message);
        probe.findings = findings.0;
        return probe;
    };
    said_of_layout(&layout, &mut findings);
    let decimal = decimal(&layout, &mut findings);
    let mut candidates = candidates(&layout, decimal);
    columns::units(&mut candidates, &mut findings);
    let mut series = columns::series(&mut candidates, &mut findings);
    let time = time(&layout, known);
    let keys = time.as_ref().and_then(|t| {
        let names: Vec<String> = t.columns.iter().map(|i| layout.shown(*i)).collect();
        let utc = t.columns.iter().any(|i| candidates.get(*i).is_some_and(|c| c.name.utc));
        clock::keys(t.form.clone(), &names.join(" and "), utc, known.zone, &mut findings)
    });
    if time.is_none() {
        findings.open(FindingCode::Time, "no column holds times: write a map by hand");
    }
    let area = areas(&layout, &mut candidates, &mut series, known, &mut findings);
    let missing = missing(&layout, &candidates, &series, decimal, &mut findings);
    probe.skip_lines = Some(layout.skip_lines);
    probe.delimiter = Some(layout.delimiter.to_string());
    probe.decimal = Some(decimal.to_string());
    probe.rows = layout.rows.len();
    probe.time = time.as_ref().map(|t| ProbedTime {
        columns: t.columns.iter().map(|i| layout.shown(*i)).collect(),
        form: keys.as_ref().map(|k| k.format.clone().unwrap_or_else(|| "rfc3339".into())),
        zone: keys.as_ref().and_then(|k| k.zone.clone()),
        example: t.example.clone(),
    });
    let timed = time.as_ref().map(|t| t.columns.clone()).unwrap_or_default();
    probe.columns = said_of_columns(&candidates, &series, &timed, area, known);
    if let (Some(time), Some(keys), false) = (&time, &keys, findings.any_open()) {
        let found = Found { layout: &layout, encoding, decimal, time, keys, area, missing };
        probe.map = Some(head(known.file, &findings.0) + &found.map(&candidates, &series, known));
    }
    probe.findings = findings.0;
    probe
}

fn said_of_layout(layout: &Layout, findings: &mut Findings) {
    let character = match layout.delimiter {
        '\t' => "a tabulator".to_owned(),
        c => format!("{c:?}"),
    };
    let line = layout.skip_lines + 1;
    let units = match layout.units.len() {
        0 => String::new(),
        n => format!("; {n} between it and the first row"),
    };
    let message = format!("line {line} names the columns, separated by {character}{units}");
    findings.add(FindingCode::Layout, Standing::Decided, None, message);
}

/// The decimal mark by the columns of quantities.
fn decimal(layout: &Layout, findings: &mut Findings) -> char {
    let quantities: Vec<usize> = (0..layout.header.len())
        .filter(|i| {
            let kind = layout.header.get(*i).map(|h| words::name(h).kind);
            matches!(kind, Some(Kind::Quantity(_)))
        })
        .collect();
    let cells = || {
        let of = |i: &usize| layout.column(*i).filter(|c| c.contains(|c: char| c.is_ascii_digit()));
        quantities.iter().flat_map(of).filter(|c| numeric(c))
    };
    let mark = numbers::mark(cells());
    let other = |c| if c == ',' { '.' } else { ',' };
    let say = |standing, message: String, findings: &mut Findings| {
        findings.add(FindingCode::Decimal, standing, None, message);
    };
    match mark {
        Mark::Decided(c) => {
            let separated = |cell: &&str| cell.contains(other(c));
            if let Some(cell) = cells().find(separated) {
                let message = format!("{:?} in {cell:?} separates thousands", other(c));
                say(Standing::Decided, message, findings);
            }
            c
        }
        Mark::Most(c) => {
            let message = format!("most numbers have {c:?} as decimal mark, and some do not");
            say(Standing::Assumed, message, findings);
            c
        }
        Mark::Undecided(c) => {
            // Read with the mark as thousands, does any temperature or humidity stay possible?
            let largest = cells().filter_map(|cell| numbers::number(cell, other(c)));
            let impossible = quantities.iter().any(|i| {
                let kind = layout.header.get(*i).map(|h| words::name(h).kind);
                let small = matches!(
                    kind,
                    Some(Kind::Quantity(
                        QuantityName::Temperature | QuantityName::Humidity | QuantityName::DewPoint
                    ))
                );
                small && layout.column(*i).any(|cell| cell.contains(c) && numeric(cell))
            });
            let example = cells().find(|cell| cell.contains(c)).unwrap_or_default();
            if impossible {
                let message = format!(
                    "{c:?} in {example:?} is the decimal mark: as thousands no value would be \
                     possible"
                );
                say(Standing::Decided, message, findings);
                return c;
            }
            let message = format!(
                "{example:?} can be {} or a number with decimals, and no number decides it",
                largest.fold(0.0, f64::max)
            );
            say(Standing::Open, message, findings);
            other(c)
        }
    }
}

/// Whether a cell is a number with perhaps a unit.
fn numeric(cell: &str) -> bool {
    cell.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+'))
        && !cell.contains([':', '/'])
}

fn candidates(layout: &Layout, decimal: char) -> Vec<Candidate> {
    let of = |(i, header): (usize, &String)| {
        let name = words::name(header);
        let quantity = matches!(name.kind, Kind::Quantity(_));
        let stated = layout
            .units
            .iter()
            .filter_map(|line| line.get(i))
            .find(|unit| !unit.is_empty())
            .cloned()
            .or_else(|| layout.column(i).find_map(numbers::unit_of).map(str::to_owned))
            .filter(|_| quantity);
        let numbers = layout.column(i).filter_map(|cell| numbers::number(cell, decimal));
        let numbers = if quantity { numbers.collect() } else { Vec::new() };
        let example = layout.column(i).find(|cell| !cell.is_empty()).map(excerpt);
        let not_read = match name.kind {
            Kind::NotAir(why) => Some(why.to_owned()),
            Kind::Unknown => Some("its name is not known".to_owned()),
            Kind::Quantity(_) | Kind::Time | Kind::Area => None,
        };
        Candidate { shown: layout.shown(i), name, stated, numbers, example, not_read, unit: None }
    };
    layout.header.iter().enumerate().map(of).collect()
}

fn excerpt(text: &str) -> String {
    guardcell::excerpt(text, 40)
}

/// The column of times, or those of date and time.
fn time(layout: &Layout, known: &Known<'_>) -> Option<Time> {
    let named: Vec<usize> = (0..layout.header.len())
        .filter(|i| layout.header.get(*i).is_some_and(|h| words::name(h).kind == Kind::Time))
        .collect();
    let quantity = |i: &usize| {
        layout.header.get(*i).is_some_and(|h| matches!(words::name(h).kind, Kind::Quantity(_)))
    };
    let others = (0..layout.header.len()).filter(|i| !named.contains(i) && !quantity(i));
    let mut best: Option<Time> = None;
    let singles = named.iter().copied().chain(others).map(|i| vec![i]);
    let pairs = named.iter().flat_map(|a| named.iter().map(move |b| vec![*a, *b]));
    for columns in singles.chain(pairs.filter(|p| p.first() != p.last())) {
        let cells: Vec<String> = layout
            .rows
            .iter()
            .filter_map(|row| {
                let of: Option<Vec<&str>> =
                    columns.iter().map(|i| row.get(*i).map(String::as_str)).collect();
                Some(of?.join(" "))
            })
            .collect();
        let times: Vec<&str> = cells.iter().map(|c| c.trim()).collect();
        let form = stamp::form(&times, known.date_order);
        let rank = |form: &Form| match form {
            Form::Unknown => 0,
            Form::Undecided { .. } => 1,
            Form::Known { local: true, .. } => 2,
            Form::Known { local: false, .. } => 3,
        };
        if rank(&form) > best.as_ref().map_or(0, |b| rank(&b.form)) {
            let example =
                times.iter().find(|t| !t.is_empty()).map_or(String::new(), |t| excerpt(t));
            best = Some(Time { columns, form, example });
        }
    }
    best.or_else(|| {
        let i = *named.first()?;
        let example = layout.column(i).find(|c| !c.is_empty()).map_or(String::new(), excerpt);
        Some(Time { columns: vec![i], form: Form::Unknown, example })
    })
}

/// The column that names areas, where there is one; the areas of several series otherwise.
fn areas(
    layout: &Layout,
    candidates: &mut [Candidate],
    series: &mut [Series],
    known: &Known<'_>,
    findings: &mut Findings,
) -> Option<usize> {
    let mut found = None;
    for i in 0..candidates.len() {
        let Some(c) = candidates.get_mut(i).filter(|c| c.name.kind == Kind::Area) else { continue };
        let mut words: Vec<&str> = layout.column(i).filter(|w| !w.is_empty()).collect();
        words.sort_unstable();
        words.dedup();
        // A number of its own for each row is a count.
        let few = words.len() > 1 && words.len() * 2 <= layout.rows.len();
        if found.is_some() || series.len() > 1 || !few {
            c.not_read = Some("it names no probe or place of several".into());
            continue;
        }
        let names: Vec<String> = words.iter().take(12).map(|w| format!("{w:?}")).collect();
        let message = format!(
            "it names {}: they were taken as areas of your site (`areas` in the map turns other \
             words into them)",
            names.join(", ")
        );
        findings.add(FindingCode::Area, Standing::Assumed, Some(&c.shown), message);
        found = Some(i);
    }
    if series.len() > 1 {
        let labels: Vec<String> = series.iter().map(|s| format!("{:?}", s.label)).collect();
        let message = format!(
            "the file holds {} places: {}; they were taken as areas of your site",
            series.len(),
            labels.join(", ")
        );
        findings.add(FindingCode::Area, Standing::Assumed, None, message);
    } else if found.is_none() && !series.is_empty() {
        let message = match known.area {
            Some(area) => format!("its readings are those of the area {area:?}, as stated"),
            None => "its readings hold for every area (`area` in the map names one)".to_owned(),
        };
        findings.add(FindingCode::Area, Standing::Assumed, None, message);
    }
    found
}

/// Words in the columns of quantities that stand for a missing value.
fn missing(
    layout: &Layout,
    candidates: &[Candidate],
    series: &[Series],
    decimal: char,
    findings: &mut Findings,
) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for (_, i) in series.iter().flat_map(|s| &s.of) {
        for cell in layout.column(*i).filter(|c| !c.is_empty()) {
            let word = match numbers::number(cell, decimal) {
                None => cell.to_owned(),
                // A map compares numbers, so one spelling of it is enough.
                Some(v) if nines(v) && candidates.get(*i).is_some_and(|c| outside(c, v)) => {
                    v.to_string()
                }
                Some(_) => continue,
            };
            if word.chars().count() <= 12 && !out.contains(&word) {
                out.push(word);
            }
        }
    }
    if out.is_empty() || out.len() > MISSING_MOST {
        return Vec::new();
    }
    let words: Vec<String> = out.iter().map(|w| format!("{w:?}")).collect();
    let message = format!("taken as a missing value: {}", words.join(", "));
    findings.add(FindingCode::Missing, Standing::Assumed, None, message);
    out
}

/// Whether a number is written with nines alone, as -999 or 99.9.
fn nines(v: f64) -> bool {
    let text = v.to_string();
    let digits: Vec<char> = text.chars().filter(char::is_ascii_digit).collect();
    digits.len() > 2 && digits.iter().all(|d| *d == '9')
}

fn outside(c: &Candidate, v: f64) -> bool {
    match (c.quantity(), &c.unit) {
        (Some(q), Some(unit)) => columns::fitting(q, unit, &[v]) == 0,
        _ => false,
    }
}

fn said_of_columns(
    candidates: &[Candidate],
    series: &[Series],
    time: &[usize],
    area_column: Option<usize>,
    known: &Known<'_>,
) -> Vec<ProbedColumn> {
    let of = |(i, c): (usize, &Candidate)| {
        let mine = series.iter().find_map(|s| {
            let (q, _) = s.of.iter().find(|(_, at)| *at == i)?;
            Some((*q, s))
        });
        let used = mine.is_some() || time.contains(&i) || area_column == Some(i);
        let several = series.len() > 1;
        ProbedColumn {
            column: c.shown.clone(),
            quantity: mine.map(|(q, _)| q),
            unit: mine.and(c.unit.clone()),
            area: mine.and_then(|(_, s)| {
                if several { Some(s.label.clone()) } else { known.area.map(str::to_owned) }
            }),
            not_read: match (&c.not_read, used) {
                (_, true) => None,
                (Some(why), false) => Some(why.clone()),
                (None, false) if c.name.kind == Kind::Time => {
                    Some("another column holds the times".into())
                }
                (None, false) => Some("nothing goes with it".into()),
            },
            example: c.example.clone(),
        }
    };
    candidates.iter().enumerate().map(of).collect()
}

/// All that a map of a table says.
struct Found<'a> {
    layout: &'a Layout,
    encoding: Encoding,
    decimal: char,
    time: &'a Time,
    keys: &'a Keys,
    area: Option<usize>,
    missing: Vec<String>,
}

impl Found<'_> {
    fn column(&self, i: usize) -> String {
        self.layout.reference(i).map_or_else(|n| n.to_string(), quoted)
    }

    fn map(&self, candidates: &[Candidate], series: &[Series], known: &Known<'_>) -> String {
        let list = |words: Vec<String>| words.join(", ");
        let mut out = format!("source = \"csv\"\nfile = {}\n", quoted(known.file));
        let mut key = |name: &str, value: String| out.push_str(&format!("{name} = {value}\n"));
        match self.encoding {
            Encoding::Utf8 => {}
            Encoding::Latin1 => key("encoding", quoted("iso-8859-1")),
            Encoding::Utf16 => key("encoding", quoted("utf-16")),
        }
        if self.layout.skip_lines > 0 {
            key("skip_lines", self.layout.skip_lines.to_string());
        }
        if !self.layout.units.is_empty() {
            key("skip_after_header", self.layout.units.len().to_string());
        }
        key("delimiter", quoted(&self.layout.delimiter.to_string()));
        key("decimal", quoted(&self.decimal.to_string()));
        if !self.missing.is_empty() {
            let words = self.missing.iter().map(|w| quoted(w)).collect();
            key("missing", format!("[{}]", list(words)));
        }
        out.push_str("\n[time]\n");
        let columns = self.time.columns.iter().map(|i| self.column(*i)).collect();
        out.push_str(&format!("columns = [{}]\n", list(columns)));
        for (name, value) in [("format", &self.keys.format), ("zone", &self.keys.zone)] {
            if let Some(value) = value {
                out.push_str(&format!("{name} = {}\n", quoted(value)));
            }
        }
        for s in series {
            out.push_str("\n[[series]]\n");
            match (self.area, known.area) {
                (Some(i), _) => out.push_str(&format!("area_column = {}\n", self.column(i))),
                (None, _) if series.len() > 1 => {
                    out.push_str(&format!("area = {}\n", quoted(&s.label)));
                }
                (None, Some(area)) => out.push_str(&format!("area = {}\n", quoted(area))),
                (None, None) => {}
            }
            for (q, i) in &s.of {
                let unit = candidates.get(*i).and_then(|c| c.unit.clone()).unwrap_or_default();
                out.push_str(&format!(
                    "{} = {{ column = {}, unit = {} }}\n",
                    q.key(),
                    self.column(*i),
                    quoted(&unit)
                ));
            }
        }
        out
    }
}
