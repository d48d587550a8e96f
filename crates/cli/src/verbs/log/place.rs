//! Where and when: the site, its zone, its mister, its plants.

use crate::args::Place;
use crate::error::argument;
use crate::home::Home;
use crate::input::{collection, site};
use crate::moment::{self, Clock, When, rfc3339};
use crate::verbs::journal::open;
use guardcell::Error;
use guardcell::advice::{PlantEntry, SiteDescription};
use guardcell::ledger::Entry;
use guardcell::solution::Label;
use guardcell_folder::{Gives, Turn};
use guardcell_journal::{Journal, Selection};
use jiff::Timestamp;
use jiff::tz::{Offset, TimeZone};
use std::collections::BTreeSet;

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
    pub(crate) fn read(
        place: &Place,
        home: &Home,
        journal: Option<&Journal>,
    ) -> Result<Self, Error> {
        let file = home.site_if_any(place.site.as_deref());
        let site = file.as_deref().map(site::read).transpose()?;
        let file = home.collection_if_any(place.collection.as_deref());
        let collection = file.as_deref().map(collection::read).transpose()?.map(|c| c.plants);
        let (mut last, mut in_journal) = (None, BTreeSet::new());
        if let Some(journal) = journal {
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
            moment::time_zone(zone)?;
        }
        Ok(Self { name, zone, site, collection, offset, in_journal, turns, now: Timestamp::now() })
    }

    /// The product of feed that was given then: the one named, by its name in the rota too, else
    /// that of the turn, else that of the site.
    pub(crate) fn product(&self, named: Option<&String>, at: &str) -> Option<String> {
        let Some(site) = &self.site else { return named.cloned() };
        if let Some(named) = named {
            // A name of the rota is recorded as the product that it means.
            let feeds = guardcell_folder::feeds(site, &self.turns.labels).unwrap_or_default();
            let of_rota = feeds.iter().find(|(f, _)| f.name.eq_ignore_ascii_case(named));
            return Some(of_rota.map_or_else(|| named.clone(), |(_, label)| label.mix_name()));
        }
        let turn = guardcell_folder::turn(site, &self.turns.labels, &self.turns.entries, at);
        match turn {
            Ok(Some(Turn { gives: Gives::Feed { label, .. }, .. })) => Some(label.mix_name()),
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

    /// The clock of the place.
    fn clock(&self) -> Result<Clock, Error> {
        let zone = self.zone.as_deref().map(moment::time_zone).transpose()?;
        Ok(Clock { zone, now: self.now })
    }

    /// A day: `2026-07-01`, `tomorrow`.
    pub(crate) fn day(&self, flag: &str, text: &str) -> Result<String, Error> {
        match self.clock()?.read(text) {
            Ok(When::Day(day)) => Ok(day.to_string()),
            _ => Err(argument(flag, format!("{text:?} is not a day"), "write it like 2026-07-01")),
        }
    }

    /// The moment of `--at`, or now: RFC 3339, and the zone where it holds there.
    pub(crate) fn moment(&self, at: Option<&str>) -> Result<(String, Option<String>), Error> {
        let clock = self.clock()?;
        let text = at.unwrap_or("now");
        let at = match clock.read(text)? {
            When::Now => clock.now()?,
            When::At(at) => at,
            When::Day(_) => {
                return Err(argument(
                    "--at",
                    format!("{text:?} is not a time but a day"),
                    "add the hour, such as 2026-06-21 05:30 or yesterday 05:30",
                ));
            }
        };
        let there = clock.zone.is_some_and(|z| z.to_offset(at.timestamp()) == at.offset());
        Ok((rfc3339(&at), self.zone.clone().filter(|_| there)))
    }
}

impl Turns {
    fn read(site: &SiteDescription, home: &Home, journal: Option<&Journal>) -> Result<Self, Error> {
        let labels = home.labels(None)?.map(|(_, labels)| labels).unwrap_or_default();
        let selection = Selection { site: Some(site.name.clone()), ..Selection::default() };
        let entries = match journal {
            Some(journal) => journal.entries(&selection).map_err(open::fault)?,
            None => Vec::new(),
        };
        Ok(Self { labels, entries })
    }
}

/// The moment that a `history` looks back from: a date is its last second. Where no zone is known
/// the clock of the last entry will do, for nothing is recorded.
pub(crate) fn looking_back(context: &Context, at: Option<&str>) -> Result<String, Error> {
    let mut clock = context.clock()?;
    if clock.zone.is_none() {
        clock.zone = context.offset.map(TimeZone::fixed);
    }
    Ok(rfc3339(&clock.looking_back(at)?))
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
