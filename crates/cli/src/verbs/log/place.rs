//! Where and when: the site, its zone, its mister, its plants.

use crate::args::Place;
use crate::error::argument;
use crate::home::Home;
use crate::input::{collection, site};
use crate::verbs::journal::open;
use guardcell::Error;
use guardcell::advice::{PlantEntry, SiteDescription};
use guardcell::ledger::Entry;
use guardcell::solution::Label;
use guardcell_folder::{Gives, Turn};
use guardcell_journal::{Journal, Selection};
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{Offset, TimeZone};
use jiff::{Timestamp, ZonedDateTime};
use std::collections::BTreeSet;
use std::path::Path;

/// What an entry needs beside what happened.
#[derive(Clone)]
pub(crate) struct Context {
    /// The name of the site.
    pub(crate) name: Option<String>,
    /// The IANA zone.
    pub(crate) zone: Option<String>,
    /// The site file, where there is one.
    pub(crate) site: Option<SiteDescription>,
    /// The collection, where there is one.
    pub(crate) collection: Option<Vec<PlantEntry>>,
    /// The offset of the entry that was recorded last.
    pub(crate) offset: Option<Offset>,
    /// The ids of plants that the journal names.
    pub(crate) in_journal: BTreeSet<String>,
    /// The labels and the entries that a rota chooses by; empty where the site has none.
    pub(crate) turns: Turns,
    /// Now.
    pub(crate) now: Timestamp,
}

/// What a rota chooses by.
#[derive(Clone, Default)]
pub(crate) struct Turns {
    labels: Vec<Label>,
    entries: Vec<Entry>,
}

impl Context {
    pub(crate) fn read(place: &Place, home: &Home, journal: &Path) -> Result<Self, Error> {
        let file = home.site_if_any(place.site.as_deref());
        let site = file.as_deref().map(site::read).transpose()?;
        let file = home.collection_if_any(place.collection.as_deref());
        let collection = file.as_deref().map(collection::read).transpose()?.map(|c| c.plants);
        let (mut last, mut in_journal) = (None, BTreeSet::new());
        // A journal that cannot be opened is reported when it is written to.
        if let Ok(journal) = Journal::open_to_read(journal) {
            last = journal.latest().map_err(open::fault)?;
            in_journal = journal.plants().map_err(open::fault)?.into_iter().collect();
        }
        let turns = match &site {
            Some(site) if guardcell_folder::has_turns(site) => Turns::read(site, home, journal)?,
            _ => Turns::default(),
        };
        let name = place
            .site_name
            .clone()
            .or_else(|| site.as_ref().map(|s| s.name.clone()))
            .or_else(|| last.as_ref().map(|e| e.site.clone()));
        let zone = place
            .zone
            .clone()
            .or_else(|| site.as_ref().map(|s| s.time_zone.clone()))
            .or_else(|| last.as_ref().and_then(|e| e.zone.clone()));
        let offset = last.and_then(|e| {
            jiff::fmt::temporal::Pieces::parse(&e.at).ok().and_then(|p| p.to_numeric_offset())
        });
        if let Some(zone) = &zone {
            time_zone(zone)?;
        }
        Ok(Self { name, zone, site, collection, offset, in_journal, turns, now: Timestamp::now() })
    }

    /// The product of feed that was given then: the one named, by its name in the rota too, else
    /// that of the turn, else that of the site.
    pub(crate) fn product(&self, named: Option<&String>, at: &str) -> Option<String> {
        let Some(site) = &self.site else { return named.cloned() };
        let label = |name: &str| {
            let wanted = guardcell_folder::product_named(site, name);
            let found = guardcell_folder::choose(self.turns.labels.clone(), &[wanted]);
            found.ok().and_then(|list| list.into_iter().next()).map(|label| label.name)
        };
        if let Some(named) = named {
            // A name of the rota is written down as the product that it stands for.
            let of_rota = site.feeds.iter().any(|f| f.name.eq_ignore_ascii_case(named));
            return Some(if of_rota { label(named) } else { None }.unwrap_or(named.clone()));
        }
        let turn = guardcell_folder::turn(site, &self.turns.labels, &self.turns.entries, at);
        match turn {
            Ok(Some(Turn { gives: Gives::Feed { label, .. }, .. })) => Some(label.name),
            _ => guardcell_folder::usual_product(site),
        }
    }

    /// The name of the site.
    pub(crate) fn site_name(&self) -> Result<String, Error> {
        self.name.clone().ok_or_else(|| {
            argument(
                "--site",
                "the journal does not know the site yet",
                "go to your folder or name it with --dir, give --site, or --site-name and --zone",
            )
        })
    }

    /// The moment of `--at`, or now: RFC 3339, and the zone where it holds there.
    pub(crate) fn moment(&self, at: Option<&str>) -> Result<(String, Option<String>), Error> {
        let zone = self.zone.as_deref().map(time_zone).transpose()?;
        let Some(text) = at else {
            let now = self.now.round(jiff::Unit::Second).unwrap_or(self.now);
            let Some(zone) = zone else { return Err(no_zone("now")) };
            return Ok((rfc3339(&now.to_zoned_datetime(zone)), self.zone.clone()));
        };
        let text = text.trim();
        let pieces = jiff::fmt::temporal::Pieces::parse(text).ok();
        if let (Some(offset), Ok(instant)) =
            (pieces.and_then(|p| p.to_numeric_offset()), text.parse::<Timestamp>())
        {
            let there = zone.is_some_and(|z| z.to_offset(instant) == offset);
            let at = rfc3339(&instant.to_zoned_datetime(TimeZone::fixed(offset)));
            return Ok((at, self.zone.clone().filter(|_| there)));
        }
        let Some(zone) = zone else { return Err(no_zone(text)) };
        let today = self.now.to_zoned_datetime(zone.clone()).date();
        let Some(local) = local(text, today) else {
            return Err(argument(
                "--at",
                format!("{text:?} is not a time"),
                "write it like 2026-06-21T05:30+01:00, 2026-06-21 05:30, 05:30 or yesterday 05:30",
            ));
        };
        let placed = zone.to_ambiguous_zoned_datetime(local).unambiguous().map_err(|_| {
            argument(
                "--at",
                format!("{local} occurs twice or never there, because the clocks change"),
                "give the offset too, like 2026-10-25T01:30+01:00",
            )
        })?;
        Ok((rfc3339(&placed), self.zone.clone()))
    }
}

impl Turns {
    fn read(site: &SiteDescription, home: &Home, journal: &Path) -> Result<Self, Error> {
        let labels = home.labels(None)?.map(|(_, labels)| labels).unwrap_or_default();
        let selection = Selection { site: Some(site.name.clone()), ..Selection::default() };
        let entries = match Journal::open_to_read(journal) {
            Ok(journal) => journal.entries(&selection).map_err(open::fault)?,
            Err(_) => Vec::new(),
        };
        Ok(Self { labels, entries })
    }
}

fn no_zone(text: &str) -> Error {
    argument(
        "--zone",
        format!("the time zone of {text:?} is not known"),
        "give --zone (such as Europe/London) or --site, or a time with its offset",
    )
}

fn time_zone(zone: &str) -> Result<TimeZone, Error> {
    TimeZone::get(zone).map_err(|_| {
        argument(
            "--zone",
            format!("{zone:?} is not a time zone of the IANA database"),
            "write it like Europe/London",
        )
    })
}

/// `2026-06-21 05:30`, `05:30`, `today 05:30`, `yesterday 05:30`.
fn local(text: &str, today: Date) -> Option<DateTime> {
    // A parser of times would take the time out of a whole date and time, and lose the date.
    let clock = |t: &str| if t.contains(['-', 'T', ' ']) { None } else { t.parse::<Time>().ok() };
    if let Some(time) = clock(text) {
        return Some(today.to_datetime(time));
    }
    if let Some((day, time)) = text.split_once(' ') {
        let time = clock(time.trim())?;
        let day = match day.to_lowercase().as_str() {
            "today" => today,
            "yesterday" => today.yesterday().ok()?,
            day => day.parse().ok()?,
        };
        return Some(day.to_datetime(time));
    }
    // A date alone is no time: it would be taken for midnight.
    if text.contains('T') { text.parse().ok() } else { None }
}

/// The way the journal writes a time.
pub(crate) fn rfc3339(t: &ZonedDateTime) -> String {
    if t.offset().is_zero() {
        return t.strftime("%Y-%m-%dT%H:%M:%SZ").to_string();
    }
    t.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string()
}

/// The moment that a `history` looks back from: a date is its last second. Where no zone is known
/// the clock of the last entry will do, for nothing is recorded.
pub(crate) fn looking_back(context: &Context, at: Option<&str>) -> Result<String, Error> {
    let zone = match (&context.zone, context.offset) {
        (Some(zone), _) => Some(time_zone(zone)?),
        (None, offset) => offset.map(TimeZone::fixed),
    };
    let day = at.filter(|t| !t.contains(':')).and_then(|t| t.trim().parse::<Date>().ok());
    match (day, zone, at) {
        (Some(day), Some(zone), _) => {
            let last =
                day.at(23, 59, 59, 0).to_zoned_datetime(zone).map_err(|_| no_zone("the date"))?;
            Ok(rfc3339(&last))
        }
        (Some(_), None, at) => Err(no_zone(at.unwrap_or_default())),
        (None, Some(zone), None) => {
            let now = context.now.round(jiff::Unit::Second).unwrap_or(context.now);
            Ok(rfc3339(&now.to_zoned_datetime(zone)))
        }
        (None, _, at) => Ok(context.moment(at)?.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn context(zone: Option<&str>) -> Context {
        Context {
            name: Some("Fernhollow".into()),
            zone: zone.map(str::to_owned),
            site: None,
            collection: None,
            offset: None,
            in_journal: BTreeSet::new(),
            turns: Turns::default(),
            now: "2026-06-21T17:30:15.4Z".parse().unwrap(),
        }
    }

    #[test]
    fn times_as_people_write_them() {
        let c = context(Some("Europe/London"));
        let at = |text: &str| c.moment(Some(text)).unwrap().0;
        assert_eq!(c.moment(None).unwrap().0, "2026-06-21T18:30:15+01:00");
        assert_eq!(at("05:30"), "2026-06-21T05:30:00+01:00");
        assert_eq!(at("yesterday 05:30"), "2026-06-20T05:30:00+01:00");
        assert_eq!(at("2026-01-02 05:30"), "2026-01-02T05:30:00Z");
        assert_eq!(at("2026-01-02T05:30"), "2026-01-02T05:30:00Z");
        assert_eq!(at("2026-06-21T05:30+02:00"), "2026-06-21T05:30:00+02:00");
        // Another offset than that of the zone: kept, and the zone not claimed.
        assert_eq!(c.moment(Some("2026-06-21T05:30+02:00")).unwrap().1, None);
        assert_eq!(looking_back(&c, Some("2026-06-20")).unwrap(), "2026-06-20T23:59:59+01:00");
    }

    #[test]
    fn times_that_cannot_be() {
        let c = context(Some("Europe/London"));
        let says = |c: &Context, t: &str| c.moment(Some(t)).unwrap_err().to_string();
        assert!(says(&c, "2026-06-21").contains("is not a time"));
        assert!(says(&c, "soon").contains("yesterday"));
        // The clocks go back at 2:00 on 25 October 2026, and forward at 1:00 on 29 March.
        assert!(says(&c, "2026-10-25 01:30").contains("offset"));
        assert!(says(&c, "2026-03-29 01:30").contains("offset"));
        assert!(says(&context(None), "05:30").contains("--zone"));
        assert!(context(None).moment(None).is_err());
        let at = context(None).moment(Some("2026-06-21T05:30Z")).unwrap();
        assert_eq!(at, ("2026-06-21T05:30:00Z".into(), None));
    }
}
