//! `conditions probe`: a map for an unknown logger's file.

use super::show::{area, issue, kept, section};
use crate::args::conditions::{ConditionsProbe, Order};
use crate::error::{argument, io};
use crate::home::Home;
use crate::print::{Out, text};
use crate::verbs::Outcome;
use guardcell::Error;
use guardcell_conditions::probe::{DateOrder, Finding, Known, Probe, ProbedColumn, Standing};
use guardcell_conditions::{probe_file, trade};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use std::fs::File;
use std::io::Write as _;
use std::path::Path;

pub(super) fn run(
    args: &ConditionsProbe,
    now: Timestamp,
    home: &Home,
    out: &mut Out,
) -> Result<Outcome, Error> {
    let of_site = || home.of_site(None, |site| Some(site.time_zone.clone()));
    let of_machine = || TimeZone::system().iana_name().map(str::to_owned);
    let zone = args.zone.clone().or_else(of_site).or_else(of_machine);
    let file = named(args);
    let known = Known {
        file: &file,
        zone: zone.as_deref(),
        area: args.area.as_deref(),
        date_order: args.date_order.map(|order| match order {
            Order::Day => DateOrder::DayFirst,
            Order::Month => DateOrder::MonthFirst,
            Order::Year => DateOrder::YearFirst,
        }),
        now,
    };
    let mut found = probe_file(&args.file, &known)?;
    // The map names the file as it lies from there; people named it as it lies from here.
    found.from = args.file.display().to_string();
    if let (Some(path), Some(map)) = (&args.output, &found.map) {
        write(path, map, out)?;
    }
    if out.json() {
        out.value(&found)?;
    } else if args.output.as_deref() != Some(Path::new("-")) {
        print(&found, args, out);
    }
    Ok(if found.map.is_some() { Outcome::Answer } else { Outcome::Negative })
}

/// How a map names the file: from the folder that the map is in.
fn named(args: &ConditionsProbe) -> String {
    let file = &args.file;
    let beside = |path: &Path| path.parent().map(Path::to_owned).unwrap_or_default();
    match &args.output {
        Some(map) if file != Path::new("-") && beside(map) == beside(file) => {
            file.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned())
        }
        Some(_) if file != Path::new("-") => {
            std::path::absolute(file).unwrap_or_else(|_| file.clone()).display().to_string()
        }
        _ => file.display().to_string(),
    }
}

/// Writes a new file.
fn write(path: &Path, map: &str, out: &mut Out) -> Result<(), Error> {
    if path == Path::new("-") {
        out.raw(map);
        return Ok(());
    }
    let mut new = File::options().write(true).create_new(true).open(path).map_err(|e| {
        if e.kind() == std::io::ErrorKind::AlreadyExists {
            let detail = format!("{} is there already", path.display());
            return argument("--output", detail, "name another file: a map is never overwritten");
        }
        io(path, e)
    })?;
    new.write_all(map.as_bytes()).and_then(|()| new.sync_all()).map_err(|e| io(path, e))
}

fn print(found: &Probe, args: &ConditionsProbe, out: &mut Out) {
    let rows = match found.source.as_str() {
        "csv" => text::count(found.rows, "row", "rows"),
        _ => text::count(found.rows, "element", "elements"),
    };
    out.line(format!("{}: {rows}", found.from));
    if let Some(time) = &found.time {
        let form = time.form.as_deref().unwrap_or("of a form that is open");
        let zone = time.zone.as_ref().map_or(String::new(), |z| format!(", clock of {z}"));
        let line = format!(
            "{}: time, {form}{zone} (such as {})",
            time.columns.join(" and "),
            time.example
        );
        out.item("  ", &line);
    }
    let times = found.time.as_ref().map(|t| t.columns.as_slice()).unwrap_or_default();
    for c in found.columns.iter().filter(|c| !times.contains(&c.column)) {
        out.item("  ", &column(c));
    }
    for (standing, title) in [
        (Standing::Open, "OPEN"),
        (Standing::Assumed, "ASSUMED"),
        (Standing::Decided, "DECIDED BY THE FILE"),
    ] {
        let of: Vec<&Finding> = found.findings.iter().filter(|f| f.standing == standing).collect();
        section(title, out, &of, |f| {
            let of = f.column.as_ref().map_or(String::new(), |c| format!("{c}: "));
            Some(format!("{of}{}.", f.message))
        });
    }
    if let Some(report) = &found.report {
        out.line("");
        out.line(format!("WHAT IT READS: {}", kept(report)));
        for a in &report.areas {
            area(a, out);
        }
        section("NOT AS IT SHOULD BE", out, &report.issues, |i| Some(issue(i)));
    }
    out.line("");
    match (&found.map, &args.output) {
        (None, _) => out.wrapped(
            "",
            "There is no map until what is open is stated: --date-order, --zone, or a map by hand.",
        ),
        (Some(_), Some(path)) => out.line(format!("Written: {}", path.display())),
        (Some(map), None) => {
            out.line("THE MAP (--output FILE writes it)");
            map.lines().for_each(|line| out.line(line));
        }
    }
}

fn column(c: &ProbedColumn) -> String {
    let example = c.example.as_ref().map_or(String::new(), |e| format!(" (such as {e})"));
    let what = match (c.quantity, &c.not_read) {
        (Some(q), _) => {
            let unit = c.unit.as_ref().map_or(String::new(), |u| format!(" in {}", trade(u)));
            let area = c.area.as_ref().map_or(String::new(), |a| format!(" of {a}"));
            format!("{}{unit}{area}", q.words())
        }
        (None, Some(why)) => format!("not read: {why}"),
        (None, None) => "names the area".to_owned(),
    };
    format!("{}: {what}{example}", c.column)
}
