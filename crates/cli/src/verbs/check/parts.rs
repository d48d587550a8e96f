//! The parts of a folder, each read on its own, so that a fault in one hides no other.

use super::Report;
use crate::home::Home;
use crate::input::{collection, conditions, label, site, water};
use crate::moment;
use crate::print::{short, text};
use guardcell::advice::{AdviceRequest, PlantEntry, SiteDescription};
use guardcell::calls::{Call as _, Genus, Water};
use guardcell::reference::parameters::practice;
use guardcell::reference::{GenusRequest, Outcome};
use guardcell::solution::{Label, Product, WaterRequest};
use guardcell_folder::layout;
use jiff::Timestamp;

/// Names of one kind that are shown line by line; of a longer collection the rest is counted.
const NAMES_SHOWN: usize = 200;

pub(super) fn read(home: &Home, at: Option<&str>, report: &mut Report) {
    let site = site(home, report);
    let plants = plants(home, site.as_ref(), report);
    let labels = labels(home, site.as_ref(), report);
    waters(home, report);
    air(home, site.as_ref(), at, report);
    if let Some(path) = home.journal_place() {
        let line = if path.is_file() {
            format!("{} (guardcell journal verify looks into it)", path.display())
        } else {
            "none yet: guardcell log creates it".to_owned()
        };
        report.add("JOURNAL", vec![line]);
    }
    scale(site.as_ref(), labels.as_deref(), plants.len(), report);
}

fn site(home: &Home, report: &mut Report) -> Option<SiteDescription> {
    let Some(path) = home.site_if_any(None) else {
        report.to_do.push(format!(
            "{} is missing: `guardcell init` in another folder writes one to copy",
            layout::SITE
        ));
        return None;
    };
    let site = match site::read(&path) {
        Ok(site) => site,
        Err(e) => {
            report.wrong(&e);
            return None;
        }
    };
    let side = |v: f64, plus: &str, minus: &str| {
        format!("{:.2} {}", v.abs(), if v < 0.0 { minus } else { plus })
    };
    let mut lines = vec![format!(
        "{}, {} {}, {}",
        site.name,
        side(site.latitude_deg, "N", "S"),
        side(site.longitude_deg, "E", "W"),
        site.time_zone
    )];
    for area in &site.areas {
        let light = area.light.word().replace('_', " ");
        lines.push(format!("area {}: {}, {}, {light}", area.id, area.name, area.shelter.word()));
    }
    if site.areas.is_empty() {
        report.to_do.push(format!(
            "{}: there is no area: add [[areas]] with id, name, shelter and light",
            path.display()
        ));
    }
    if site.grower.mister_ml.is_none() {
        lines.push("no mister stated: fills are planned for a usual one".to_owned());
    }
    report.add("SITE", lines);
    Some(site)
}

fn plants(home: &Home, site: Option<&SiteDescription>, report: &mut Report) -> Vec<PlantEntry> {
    let example = "P-001,Phalaenopsis,AREA,potted,ordinary";
    let Some(path) = home.collection_if_any(None) else {
        report.to_do.push(format!(
            "{} is missing: write a first line id,name,area,setting,standing and one plant a line, such as {example}",
            layout::COLLECTION
        ));
        return Vec::new();
    };
    let read = match collection::read(&path) {
        Ok(read) => read,
        Err(e) => {
            report.wrong(&e);
            return Vec::new();
        }
    };
    let mut lines = vec![format!(
        "{} in {}",
        text::count(read.plants.len(), "plant", "plants"),
        path.display()
    )];
    for (plant, place) in read.plants.iter().zip(&read.places) {
        if let Some(site) = site
            && !site.areas.iter().any(|a| a.id == plant.area)
        {
            let known: Vec<&str> = site.areas.iter().map(|a| a.id.as_str()).collect();
            report.to_do.push(format!(
                "{place}: area: the site has no area {:?}: write one of {}",
                plant.area,
                known.join(", ")
            ));
        }
        let line = taken(plant, report);
        if lines.len() <= NAMES_SHOWN {
            lines.push(line);
        }
    }
    if read.plants.len() > NAMES_SHOWN {
        lines.push(format!("and {} more", read.plants.len() - NAMES_SHOWN));
    }
    report.add("PLANTS", lines);
    read.plants
}

/// What the name of a plant was taken for.
fn taken(plant: &PlantEntry, report: &mut Report) -> String {
    let request = GenusRequest { query: plant.name.clone(), leaf: plant.leaf };
    let answer = match Genus::run(&request) {
        Ok(answer) => answer,
        Err(e) => {
            report.wrong(&e.of_argument(plant.id.as_str()));
            return format!("{}  {}: not read", plant.id, plant.name);
        }
    };
    match &answer.name {
        Some(name) if answer.outcome != Outcome::Unknown => {
            let as_written =
                if *name == plant.name { String::new() } else { format!(", taken for {name}") };
            format!(
                "{}  {}{as_written}: {} ({})",
                plant.id,
                plant.name,
                short::opens(answer.opens),
                answer.evidence.grade
            )
        }
        _ if answer.fallback.is_some() => {
            format!("{}  {}: not known; judged by its leaf", plant.id, plant.name)
        }
        _ => {
            report.to_do.push(format!(
                "{} {:?} is not known: mend the spelling, or say in the column leaf what its leaf is \
                 like (thin, intermediate, thick, terete, leafless)",
                plant.id, plant.name
            ));
            format!("{}  {}: not known", plant.id, plant.name)
        }
    }
}

fn labels(home: &Home, site: Option<&SiteDescription>, report: &mut Report) -> Option<Vec<Label>> {
    let place = match home.labels_place(None) {
        Ok(Some(place)) => place,
        Ok(None) => {
            report.to_do.push(format!(
                "there is no label: put one into {}/ (guardcell init writes one from 20-20-20), else \
                 the feed is taken as unknown salts",
                layout::LABELS
            ));
            return None;
        }
        Err(e) => {
            report.wrong(&e);
            return None;
        }
    };
    let labels = match label::read(&place) {
        Ok(labels) => labels,
        Err(e) => {
            report.wrong(&e);
            return None;
        }
    };
    let mut lines = Vec::new();
    for label in &labels {
        match Product::new(label) {
            Ok(_) => lines.push(match label.derived_from.len() {
                0 => format!("{}: its salts are not stated, so they are guessed", label.name),
                n => format!("{}: from {}", label.name, text::count(n, "salt", "salts")),
            }),
            Err(e) => report.wrong(&e.of_argument(label.name.as_str())),
        }
    }
    match site.filter(|s| guardcell_folder::has_turns(s)) {
        Some(site) => {
            report.add("LABELS", lines);
            turns(site, &labels, report);
        }
        None => {
            let wanted = site.and_then(|s| s.grower.feed.clone());
            match guardcell_folder::choose_one(labels.clone(), &[], wanted.as_ref()) {
                Ok(one) if labels.len() > 1 => lines.push(format!("fed is {}", one.name)),
                Ok(_) => {}
                Err(e) => report.wrong(&e),
            }
            report.add("LABELS", lines);
        }
    }
    Some(labels)
}

/// The feeds that are given in turn, each with its label and its months, and the rota.
fn turns(site: &SiteDescription, labels: &[Label], report: &mut Report) {
    let feeds = match guardcell_folder::feeds(site, labels) {
        Ok(feeds) => feeds,
        Err(e) => return report.wrong(&e.in_file(layout::SITE)),
    };
    let mut lines: Vec<String> = feeds
        .iter()
        .map(|(feed, label)| {
            let months: Vec<String> = feed.months.iter().map(|m| month(*m)).collect();
            let when = if months.is_empty() {
                String::new()
            } else {
                format!(", in {}", months.join(", "))
            };
            format!("{}: {}{when}", feed.name, label.mix_name())
        })
        .collect();
    let rota = &site.grower.rota;
    if !rota.is_empty() {
        lines.push(format!("in turn: {}", rota.join(", ")));
        let left = |name: &str| !rota.iter().any(|turn| turn.eq_ignore_ascii_case(name));
        for (feed, _) in feeds.iter().filter(|(feed, _)| left(&feed.name)) {
            lines.push(format!("{}: in no turn of the rota", feed.name));
        }
    }
    // Each month on its own: a month without any turn is found before it comes.
    for month in 1..=12 {
        let at = format!("2026-{month:02}-15T12:00:00Z");
        if let Err(e) = guardcell_folder::turn(site, labels, &[], &at) {
            report.wrong(&e.in_file(layout::SITE));
            break;
        }
    }
    report.add("FEEDS", lines);
}

fn month(number: u8) -> String {
    let name = jiff::civil::Date::new(2026, i8::try_from(number).unwrap_or(1), 1);
    name.map_or_else(|_| number.to_string(), |d| d.strftime("%B").to_string())
}

fn waters(home: &Home, report: &mut Report) {
    let chosen = match home.water_file(None, None) {
        Ok(chosen) => chosen,
        Err(e) => {
            report.wrong(&e);
            None
        }
    };
    let Ok(files) = home.water_files() else { return };
    if files.is_empty() {
        report.to_do.push(format!(
            "there is no water report: put one into {}/, such as rain.toml with ec = \"20 µS/cm\", \
             else pure water is assumed",
            layout::WATERS
        ));
        return;
    }
    let mut lines = Vec::new();
    for file in &files {
        match water::read(file).and_then(|w| {
            Water::run(&WaterRequest::new(w)).map_err(|e| e.in_file(file.display().to_string()))
        }) {
            Ok(answer) => {
                let mut line = format!(
                    "{}: {}, hardness {:.0} and alkalinity {:.0} mg/L CaCO3",
                    answer.name,
                    text::ms_cm(answer.ec25_us_cm),
                    answer.hardness_mg_l_caco3,
                    answer.alkalinity_mg_l_caco3
                );
                if !answer.assumed.is_empty() {
                    line.push_str(&format!(
                        "; {} completed",
                        text::count(answer.assumed.len(), "figure", "figures")
                    ));
                }
                if files.len() > 1 && Some(file) == chosen.as_ref() {
                    line.push_str("; mixed with");
                }
                lines.push(line);
                if !answer.contradictions.is_empty() {
                    report.to_do.push(format!(
                        "{}: its figures contradict each other: guardcell water says where",
                        file.display()
                    ));
                }
            }
            Err(e) => report.wrong(&e),
        }
    }
    report.add("WATER", lines);
}

fn air(home: &Home, site: Option<&SiteDescription>, at: Option<&str>, report: &mut Report) {
    let files = match home.conditions_files(None) {
        Ok(files) => files,
        Err(e) => {
            report.wrong(&e);
            return;
        }
    };
    let typed = "type it each time: guardcell --temp 22 --humidity 60 --air fan";
    if files.is_empty() {
        report.to_do.push(format!(
            "there are no readings of the air: put the table of a logger, or its map, into {}/, or {typed}",
            layout::CONDITIONS
        ));
        return;
    }
    let now = Timestamp::now();
    let start = site.and_then(|site| {
        let at = moment::start(at, &site.time_zone, now).ok()?;
        AdviceRequest::new(site.clone(), Vec::new(), Vec::new(), at).start().ok()
    });
    let now = start.map_or(now, |start| start.timestamp());
    let mut lines = Vec::new();
    let mut newest: Option<Timestamp> = None;
    for file in &files {
        match conditions::read(std::slice::from_ref(file), now, true) {
            Ok(read) => {
                let times = read.readings.iter().filter_map(|r| r.time.parse::<Timestamp>().ok());
                let last = times.filter(|t| *t <= now).max();
                newest = newest.max(last);
                let n = text::count(read.readings.len(), "reading", "readings");
                lines.push(format!("{}: {n}, {}", file.display(), age(last, now)));
                lines.extend(read.notes);
            }
            Err(e) => report.wrong(&e),
        }
    }
    report.add("AIR", lines);
    let most = practice::READING_AGE_MOST.hours();
    let old = newest.is_none_or(|t| hours(t, now) > most);
    if old {
        report.to_do.push(format!(
            "the newest reading of the air is {}, and is good for {most:.0} h: read the logger, or {typed}",
            age(newest, now)
        ));
    }
}

fn hours(t: Timestamp, now: Timestamp) -> f64 {
    now.duration_since(t).as_secs_f64() / 3600.0
}

fn age(newest: Option<Timestamp>, now: Timestamp) -> String {
    match newest.map(|t| hours(t, now)) {
        None => "of a later time".to_owned(),
        Some(h) if h < 48.0 => format!("{} old", text::minutes(h * 60.0)),
        Some(h) => format!("{:.0} days old", h / 24.0),
    }
}

/// Whether the scale is fine enough for a small bucket.
fn scale(
    site: Option<&SiteDescription>,
    labels: Option<&[Label]>,
    plants: usize,
    report: &mut Report,
) {
    let Some(scale) = site.and_then(|s| s.grower.scale_g) else {
        if site.is_some() {
            report.add(
                "SCALE",
                vec!["none stated: write scale_g under [grower], such as 0.1".to_owned()],
            );
        }
        return;
    };
    if labels.is_none() || plants == 0 {
        return;
    }
    // One litre of the usual strength of an ordinary plant, weighed to half a step of the scale.
    let strength = practice::STRENGTH_ORDINARY.mg_per_l();
    let grams = strength / 1000.0;
    let error = scale / 2.0 / grams * 100.0;
    let remedy = if error > practice::WEIGHING_ERROR_MOST.number() * 100.0 {
        "; the round then gives a stock solution and a syringe"
    } else {
        ""
    };
    report.add(
        "SCALE",
        vec![format!(
            "{scale} g: one litre of {strength:.0} mg/L takes {} g, ±{error:.0} %{remedy}",
            text::significant(grams, 2)
        )],
    );
}
