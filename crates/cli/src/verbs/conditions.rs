//! `conditions`: what a map reads, and whether it may be used.

mod probe;
pub(crate) mod show;

use crate::args::conditions::{
    Conditions, ConditionsCheck, ConditionsKind, ConditionsRead, MapArgs,
};
use crate::error::argument;
use crate::home::Home;
use crate::input::conditions::follow;
use crate::moment::{Clock, time_zone};
use crate::print::{Out, file, spreadsheet, text};
use crate::verbs::Outcome;
use guardcell::Error;
use guardcell_conditions::{Read, Report, to_csv};
use jiff::Timestamp;
use show::{area, issue, kept, section};
use std::path::PathBuf;

pub(crate) fn run(args: &Conditions, home: &Home, out: &mut Out) -> Result<Outcome, Error> {
    match &args.kind {
        ConditionsKind::Check(a) => check(a, home, out),
        ConditionsKind::Read(a) => read(a, home, out).map(|()| Outcome::Answer),
        ConditionsKind::Probe(a) => {
            let now = moment(a.at.as_deref(), a.zone.as_deref(), home)?;
            probe::run(a, now, home, out)
        }
    }
}

/// The moment that ages are counted to, in this zone or that of the site; a date is its end.
fn moment(at: Option<&str>, zone: Option<&str>, home: &Home) -> Result<Timestamp, Error> {
    let now = Timestamp::now();
    let Some(at) = at else { return Ok(now) };
    let of_site = || home.of_site(None, |site| Some(site.time_zone.clone()));
    // An offset instead of a name is for the times of the file alone.
    let named = zone.filter(|z| !z.starts_with(['+', '-'])).map(str::to_owned);
    let zone = named.or_else(of_site);
    let clock = Clock { zone: zone.as_deref().map(time_zone).transpose()?, now };
    Ok(clock.looking_back(Some(at))?.timestamp())
}

/// The map that is named, or the only one of the folder.
fn map(args: &MapArgs, home: &Home) -> Result<PathBuf, Error> {
    if let Some(path) = &args.map {
        return Ok(path.clone());
    }
    let mut maps = home.conditions_files(None)?;
    maps.retain(|f| f.extension().is_some_and(|e| e.eq_ignore_ascii_case("toml")));
    match maps.as_slice() {
        [one] => Ok(one.clone()),
        [] => Err(argument(
            "--map",
            "no map is named, and the folder has none",
            "name a map with --map, or put one into conditions/ of your folder",
        )),
        several => {
            let names: Vec<String> = several.iter().map(|f| f.display().to_string()).collect();
            Err(argument(
                "--map",
                format!("the folder has {} maps", names.len()),
                format!("name one of {}", names.join(", ")),
            ))
        }
    }
}

fn check(args: &ConditionsCheck, home: &Home, out: &mut Out) -> Result<Outcome, Error> {
    // A stale source is explained as well; whether it may be used is the exit code.
    let read = follow(&map(&args.map, home)?, moment(args.map.at.as_deref(), None, home)?, true)?;
    if out.json() {
        out.value(&read.report)?;
    } else {
        print(&read.report, args.map.allow_stale, out);
    }
    let refused = read.report.stale && !args.map.allow_stale;
    Ok(if refused { Outcome::Negative } else { Outcome::Answer })
}

fn read(args: &ConditionsRead, home: &Home, out: &mut Out) -> Result<(), Error> {
    let read = follow(
        &map(&args.map, home)?,
        moment(args.map.at.as_deref(), None, home)?,
        args.map.allow_stale,
    )?;
    let table = || {
        let csv = to_csv(&read.readings);
        if args.spreadsheet { spreadsheet::disarmed(csv.as_bytes()) } else { Ok(csv) }
    };
    match &args.output {
        Some(path) => {
            file::write(path, &table()?)?;
            if out.json() {
                return out.value(&read.report);
            }
            out.line(format!("{}: {}", path.display(), kept(&read.report)));
        }
        None if out.json() => return out.value::<Read>(&read),
        None => out.raw(&table()?),
    }
    Ok(())
}

fn print(r: &Report, allow_stale: bool, out: &mut Out) {
    out.line(&r.from);
    let rows = match r.source.as_str() {
        "csv" => text::count(r.rows_read, "row", "rows"),
        "json" => text::count(r.rows_read, "element", "elements"),
        "mqtt" => text::count(r.rows_read, "message", "messages"),
        _ => text::count(r.rows_read, "Observation", "Observations"),
    };
    out.line(format!(
        "{rows}: {}; ages to {}, at most {} h",
        kept(r),
        text::day_and_time(&r.now),
        text::significant(r.max_age_h, 3)
    ));
    for a in &r.areas {
        out.line("");
        area(a, out);
    }
    section("UNITS", out, &r.units, |u| {
        (u.stored != u.read)
            .then(|| format!("{} in {}, read as {}", u.quantity.words(), u.stored, u.read))
    });
    section("NOT AS IT SHOULD BE", out, &r.issues, |i| Some(issue(i)));
    section("MISSING", out, &r.missing, |m| {
        let area = m.area.as_ref().map_or(String::new(), |a| format!(" in {a}"));
        Some(format!("{}{area}. An advice takes {}.", m.quantity.words(), m.instead))
    });
    if r.stale {
        out.line("");
        let verdict = if allow_stale {
            "STALE: readings older than the map allows were taken, as asked."
        } else {
            "STALE: the newest reading is older than the map allows, so an advice would refuse these \
             readings. Look at the logger or the service; --allow-stale takes them all the same."
        };
        out.wrapped("", verdict);
    }
}
