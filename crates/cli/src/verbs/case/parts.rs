//! The parts of the sheet of one plant.

use crate::moment;
use crate::print::advise::window;
use crate::print::{short, text};
use crate::verbs::log::say;
use crate::verbs::situation::Situation;
use guardcell::Error;
use guardcell::advice::{AdviceResponse, PlantEntry, Reading, SiteDescription, Verdict};
use guardcell::calls::{Call as _, Water};
use guardcell::ledger::{Entry, Event, Level, PlantLedger, PlantWeek};
use guardcell::solution::WaterRequest;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan as _, ZonedDateTime};

/// What it is and how it is grown.
pub(super) fn plant(p: &PlantEntry, advice: Option<&AdviceResponse>) -> Vec<String> {
    let mut facts = vec![
        p.setting.word().to_owned(),
        p.standing.word().to_owned(),
        format!("{} size", p.size.word()),
        format!("growth {}", p.growth.word()),
    ];
    if let Some(litres) = p.pot_l {
        facts.push(format!("pot {} L", text::significant(litres, 3)));
    }
    if let Some(bench) = p.bench.as_ref().filter(|b| !b.is_empty()) {
        facts.push(format!("bench {bench}"));
    }
    let mut out = vec![facts.join(", ")];
    if let Some(of) = advice.and_then(|a| a.plants.first()) {
        let opens = short::opens(of.opens);
        let taken = &of.taken_for;
        let taken = if *taken == p.name { String::new() } else { format!("taken for {taken}; ") };
        out.push(format!("{taken}{opens}"));
    }
    out
}

/// Where it is.
pub(super) fn place(site: &SiteDescription, p: &PlantEntry) -> Vec<String> {
    let mut out = vec![format!(
        "{}, {:.1}°, {:.1}°, {}",
        site.name, site.latitude_deg, site.longitude_deg, site.time_zone
    )];
    if let Some(area) = site.areas.iter().find(|a| a.id == p.area) {
        let lamps: Vec<String> = area.lamps.iter().map(|l| format!("{}–{}", l.on, l.off)).collect();
        let lamps = if lamps.is_empty() { String::new() } else { format!(" {}", lamps.join(", ")) };
        let light = area.light.word().replace('_', " ");
        out.push(format!("{}: {}, {light}{lamps}", area.name, area.shelter.word()));
    }
    out
}

/// The air of its area: now, and its span over the week before.
pub(super) fn air(situation: &Situation, area: &str, at: &str) -> Vec<String> {
    let Ok(now) = at.parse::<Timestamp>() else { return Vec::new() };
    let week = now.checked_sub(168.hours()).unwrap_or(now);
    let time = |r: &Reading| r.time.parse::<Timestamp>().ok();
    let of_area: Vec<(Timestamp, &Reading)> = situation
        .read
        .request
        .readings
        .iter()
        .filter(|r| r.area.as_deref().is_none_or(|a| a == area))
        .filter_map(|r| Some((time(r)?, r)))
        .filter(|(t, _)| *t <= now && *t >= week)
        .collect();
    let Some((when, last)) = of_area.iter().max_by_key(|(t, _)| *t) else { return Vec::new() };
    let moves = last.air_m_s.map_or(String::new(), |v| format!(", air {v:.1} m/s"));
    let mut out = vec![format!(
        "{:.1} °C, {:.0} %{moves} at {}",
        last.temp_c,
        last.rh_percent,
        text::day_and_time(&moment::rfc3339(&there(*when, situation)))
    )];
    if of_area.len() > 1 {
        let span = |of: &dyn Fn(&Reading) -> f64| {
            let all = of_area.iter().map(|(_, r)| of(r));
            let low = all.clone().fold(f64::INFINITY, f64::min);
            let high = all.clone().fold(f64::NEG_INFINITY, f64::max);
            let mean = all.sum::<f64>() / of_area.len() as f64;
            (low, mean, high)
        };
        let (t, h) = (span(&|r| r.temp_c), span(&|r| r.rh_percent));
        out.push(format!(
            "in the 7 days before: {:.1} to {:.1} °C (mean {:.1}), {:.0} to {:.0} % (mean {:.0})",
            t.0, t.2, t.1, h.0, h.2, h.1
        ));
    }
    out
}

/// A moment on the clock of the site.
fn there(when: Timestamp, situation: &Situation) -> ZonedDateTime {
    let zone = TimeZone::get(&situation.read.request.site.time_zone).unwrap_or(TimeZone::UTC);
    when.to_zoned_datetime(zone)
}

/// The water that feeds are mixed with.
pub(super) fn water(situation: &Situation) -> Vec<String> {
    let Some(report) = &situation.read.request.water else {
        return vec!["pure water is assumed: no report is given".to_owned()];
    };
    match Water::run(&WaterRequest::new(report.clone())) {
        Ok(w) => vec![format!(
            "{}: {}, hardness {:.0} and alkalinity {:.0} mg/L CaCO3",
            w.name,
            text::ms_cm(w.ec25_us_cm),
            w.hardness_mg_l_caco3,
            w.alkalinity_mg_l_caco3
        )],
        Err(e) => vec![e.detail().to_owned()],
    }
}

/// What it is fed with.
pub(super) fn feed(situation: &Situation) -> Vec<String> {
    match (&situation.turn, &situation.read.request.feed) {
        (Some(turn), _) => vec![short::turn(turn)],
        (None, Some(label)) => vec![label.name.clone()],
        (None, None) => vec!["no label is given: the feed is taken as unknown salts".to_owned()],
    }
}

/// The weeks in which it got something, then what that was.
pub(super) fn got(p: &PlantLedger) -> Vec<String> {
    let mut out: Vec<String> = p.weeks.iter().filter_map(week).collect();
    if out.is_empty() {
        out.push("nothing in this time".to_owned());
    }
    let mut facts = Vec::new();
    if let Some(last) = &p.last_fed {
        facts.push(format!("last fed {}", text::day_and_time(last)));
    }
    if let Some(last) = &p.last_flush {
        facts.push(format!("last flush {}", text::day_and_time(last)));
    }
    if let Some(lost) = &p.lost {
        facts.push(format!("lost {}", text::day_and_time(lost)));
    }
    if !facts.is_empty() {
        out.push(facts.join("; "));
    }
    let products: Vec<&str> = p.products.iter().map(short::given).collect();
    if !products.is_empty() {
        out.push(format!("given: {}", products.join(", ")));
    }
    out
}

/// `week of 15 June: 2 rounds, 4.5 mg by the leaf`; none for an empty week.
fn week(w: &PlantWeek) -> Option<String> {
    let mut parts = text::counts([
        (w.rounds, "round", "rounds"),
        (w.root_feeds, "feed at the root", "feeds at the root"),
        (w.soaks, "soak", "soaks"),
        (w.flushes, "flush", "flushes"),
    ]);
    for (mg, by) in [(w.leaf_mg, "leaf"), (w.root_mg, "root")] {
        if mg > 0.0 {
            parts.push(format!("{} mg by the {by}", text::significant(mg, 2)));
        }
    }
    match w.residue {
        None => {}
        Some(Level::None) => parts.push("no white".to_owned()),
        Some(level) => parts.push(format!("white {}", level.word())),
    }
    let starts = w.starts.parse::<jiff::civil::Date>();
    let starts = starts.map_or_else(|_| w.starts.clone(), |d| d.strftime("%-d %B").to_string());
    (!parts.is_empty()).then(|| format!("week of {starts}: {}", parts.join(", ")))
}

/// Looks for residue.
pub(super) fn looks(entries: &[Entry]) -> Vec<String> {
    let looks = entries.iter().filter(|e| matches!(e.event, Event::Residue(_)));
    looks.map(say::entry).collect()
}

/// Remarks of the collection and of the journal.
pub(super) fn notes(p: &PlantEntry, entries: &[Entry]) -> Vec<String> {
    let own = Some(p.notes.trim()).filter(|n| !n.is_empty()).map(str::to_owned);
    let logged = entries.iter().filter(|e| {
        !e.note.trim().is_empty() && !matches!(e.event, Event::Residue(_) | Event::Task(_))
    });
    own.into_iter()
        .chain(logged.map(|e| format!("{}: {}", text::day_and_year(&e.at), e.note.trim())))
        .collect()
}

/// What is advised now, or why that cannot be told.
pub(super) fn now(now: Result<&(Situation, AdviceResponse), &Error>) -> Vec<String> {
    let advice = match now {
        Ok((_, advice)) => advice,
        Err(e) => return vec![format!("not known: {}", e.detail())],
    };
    let Some(p) = advice.plants.first() else { return Vec::new() };
    let mut out = vec![match p.windows.first() {
        Some(w) => format!("{}: {}", p.verdict.word(), window(w)),
        None => p.verdict.word().to_owned(),
    }];
    if p.verdict != Verdict::Feed {
        out.extend(p.reasons.first().map(|r| r.message.clone()));
        out.extend(p.changes.first().map(|c| c.message.clone()));
    }
    out
}
