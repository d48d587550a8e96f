//! The year as it was lived: rounds, looks, flushes, soaks, what plants did.

use super::looks::{self, Random};
use super::record;
use guardcell::advice::{
    AdviceRequest, PlantEntry, Reading, RescueRequest, SiteDescription, rescue, round,
};
use guardcell::ledger::{
    Draft, Event, Flush, LedgerRequest, Nature, Note, Place, PlantShare, Residue, Response,
    Retraction, RootFeed, Sign, Soak, add_entries, ledger, rounds_of_plan,
};
use guardcell::reference::parameters::film;
use guardcell::solution::{Label, WaterReport};
use guardcell_journal::{Journal, Selection};
use jiff::ToSpan as _;
use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use std::error::Error;
use std::path::Path;

/// The day on which a dry wind blew through an open door.
pub(super) const DRY_DAY: &str = "2026-08-18";
/// The moment of the report.
pub(super) const END: &str = "2026-12-31";

/// The plants that the journal is about: enough for every setting and standing.
const PLANTS: [&str; 14] = [
    "FH-001", "FH-003", "FH-007", "FH-011", "FH-012", "FH-014", "FH-017", "FH-021", "FH-026",
    "FH-029", "FH-036", "FH-040", "FH-044", "FH-048",
];
/// Those that are looked at: large dark leaves and pale ones.
const DARK: [&str; 3] = ["FH-011", "FH-012", "FH-021"];
const PALE: [&str; 3] = ["FH-001", "FH-036", "FH-017"];
/// Fed at the root as well.
const ROOT_FED: [&str; 3] = ["FH-007", "FH-036", "FH-040"];
/// Flushed when it is due; FH-036 is forgotten from autumn on.
const FLUSHED: [&str; 5] = ["FH-007", "FH-012", "FH-014", "FH-036", "FH-040"];

struct Year<'a> {
    journal: &'a mut Journal,
    number: u32,
    random: Random,
    site: SiteDescription,
    zone: TimeZone,
    water: WaterReport,
    feed: Label,
    plants: Vec<PlantEntry>,
    rescued: PlantEntry,
    readings: Vec<Reading>,
}

/// Lives the year into an empty journal.
pub(super) fn year(data: &Path, journal: &mut Journal) -> Result<(), Box<dyn Error>> {
    let site: SiteDescription = toml::from_str(&std::fs::read_to_string(data.join("site.toml"))?)?;
    let label = std::fs::read_to_string(data.join("labels/fernhollow-mist-15-5-15.toml"))?;
    let all: Vec<PlantEntry> = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .from_path(data.join("collection.csv"))?
        .deserialize()
        .collect::<Result<_, _>>()?;
    let rescued = all.iter().find(|p| p.id == "FH-015").cloned().ok_or("no FH-015")?;
    let mut year = Year {
        journal,
        number: 0,
        random: Random(0x4665_726e_686f_6c6c),
        zone: TimeZone::get(&site.time_zone)?,
        site,
        water: WaterReport::from_toml(&std::fs::read_to_string(data.join("water.toml"))?)?,
        feed: Label::from_toml(&label)?.into_iter().next().ok_or("no label")?,
        plants: all.into_iter().filter(|p| PLANTS.contains(&p.id.as_str())).collect(),
        rescued,
        readings: csv::Reader::from_path(data.join("conditions.csv"))?
            .deserialize()
            .collect::<Result<_, _>>()?,
    };
    let mut day = date(2026, 1, 5);
    while day <= date(2026, 12, 28) {
        if year.round(day)? && day.to_string() == "2026-05-25" {
            year.slip_and_correction(day)?;
        }
        year.flushes(day)?;
        if day.day() <= 4 {
            year.root_feeds(day)?;
        }
        for (when, plant, sign) in SIGNS {
            let when: Date = when.parse()?;
            if when >= day && when < day.saturating_add(4.days()) {
                let event = Event::Response(Response { plants: vec![plant.into()], sign });
                year.add(when, 18, event, "")?;
            }
        }
        if day.to_string() == "2026-03-02" {
            year.rescue(day)?;
        }
        day = day.saturating_add(4.days());
    }
    Ok(())
}

const SIGNS: [(&str, &str, Sign); 6] = [
    ("2026-02-11", "FH-011", Sign::Bud),
    ("2026-03-19", "FH-001", Sign::RootTip),
    ("2026-04-18", "FH-015", Sign::RootTip),
    ("2026-05-07", "FH-026", Sign::NewGrowth),
    ("2026-06-30", "FH-014", Sign::NewGrowth),
    ("2026-11-09", "FH-048", Sign::Loss),
];

impl Year<'_> {
    /// A time of the site's own clock.
    fn at(&self, day: Date, hour: i8) -> Result<String, Box<dyn Error>> {
        let local = day.at(hour, 0, 0, 0).to_zoned_datetime(self.zone.clone())?;
        Ok(local.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string())
    }

    fn add(
        &mut self,
        day: Date,
        hour: i8,
        event: Event,
        note: &str,
    ) -> Result<String, Box<dyn Error>> {
        let at = self.at(day, hour)?;
        self.add_at(at, event, note)
    }

    fn add_at(&mut self, at: String, event: Event, note: &str) -> Result<String, Box<dyn Error>> {
        let draft = Draft {
            id: None,
            recorded: None,
            at,
            zone: Some(self.site.time_zone.clone()),
            site: self.site.name.clone(),
            supersedes: None,
            event,
            note: note.into(),
        };
        record(self.journal, draft, &mut self.number)
    }

    /// Asks for a round from noon on with all that was learned so far, gives it as advised, and
    /// looks afterwards; whether there was one.
    fn round(&mut self, day: Date) -> Result<bool, Box<dyn Error>> {
        let entries = self.journal.entries(&Selection::default())?;
        let noon = self.at(day, 12)?;
        let books =
            ledger(&LedgerRequest::new(entries.clone(), noon).with_plants(self.plants.clone()))?;
        let mut plants = self.plants.clone();
        plants.retain(|p| books.plants.iter().all(|b| b.id != p.id || b.lost.is_none()));
        let last = day.saturating_add(3.days()).to_string();
        let first = day.to_string();
        let readings: Vec<Reading> = self
            .readings
            .iter()
            .filter(|r| r.time.get(..10).is_some_and(|d| d >= first.as_str() && d <= last.as_str()))
            .cloned()
            .collect();
        let mut request = AdviceRequest::new(self.site.clone(), readings, plants, day.to_string())
            .with_feed(self.feed.clone())
            .with_water(self.water.clone());
        add_entries(&mut request, &entries, None)?;
        let plan = round(&request)?;
        let mut given = false;
        for sitting in 0..plan.sittings.len() {
            let error = looks::error_of_day(&mut self.random);
            for mut draft in rounds_of_plan(&plan, sitting)? {
                draft.zone = Some(self.site.time_zone.clone());
                let Event::Round(done) = &draft.event else { continue };
                let done = done.clone();
                let end = done.window.as_ref().map_or(draft.at.clone(), |w| w.to.clone());
                let id = record(self.journal, draft, &mut self.number)?;
                given = true;
                self.look(&id, &end, &done, error)?;
            }
        }
        Ok(given)
    }

    /// Looks at dark and at pale leaves some hours after the round, not every time.
    fn look(
        &mut self,
        round: &str,
        end: &str,
        done: &guardcell::ledger::Round,
        error: f64,
    ) -> Result<(), Box<dyn Error>> {
        let Some(air) = &done.conditions else { return Ok(()) };
        let Some(feed) = air.residue_g_m2 else { return Ok(()) };
        // Scale looks whiter than feed salts do, and hardly depends on the day.
        let scale = air.scale_g_m2.unwrap_or(0.0) * film::SCALE_VISIBILITY.number();
        let after: jiff::Timestamp = end.parse()?;
        let after = after.saturating_add(12.hours())?.to_zoned_datetime(self.zone.clone());
        let dry =
            after.date().to_string() == DRY_DAY || after.date().yesterday()?.to_string() == DRY_DAY;
        for (group, members) in [("dark leaves", DARK), ("pale leaves", PALE)] {
            let there: Vec<&PlantShare> =
                done.plants.iter().filter(|p| members.contains(&p.plant.as_str())).collect();
            // The pale ones are looked at more seldom: white is harder to see on them.
            let one_in = if group == "dark leaves" { 3 } else { 5 };
            if there.is_empty() || (self.random.below(one_in) != 0 && !dry) {
                continue;
            }
            let wind = if dry { 5.0 } else { 1.0 };
            let level = looks::report(feed * error * wind + scale, &mut self.random);
            let note = if dry { "The door stood open all day; dry wind." } else { "" };
            let event = Event::Residue(Residue {
                plants: there.iter().map(|p| p.plant.clone()).collect(),
                group: Some(group.into()),
                level,
                place: Place::Leaf,
                nature: Nature::Unknown,
                wiped: None,
                round: Some(round.into()),
                conditions: None,
            });
            self.add_at(after.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string(), event, note)?;
        }
        Ok(())
    }

    /// A note of a shift, one strength written down wrong and corrected, one entry taken back.
    fn slip_and_correction(&mut self, day: Date) -> Result<(), Box<dyn Error>> {
        let note = Event::Note(Note::default());
        self.add(day, 9, note, "New shade cloth over the south roof from today.")?;
        let wrong = Flush {
            plants: vec!["FH-040".into()],
            volume_ml: Some(150.0),
            drain_ml: None,
            drain_mg_l: None,
        };
        let old = self.add(day, 10, Event::Flush(wrong.clone()), "")?;
        let right = Flush { volume_ml: Some(1500.0), ..wrong };
        let mut draft = self.draft(day, 10, Event::Flush(right))?;
        draft.supersedes = Some(old);
        draft.note = "A zero was missing.".into();
        record(self.journal, draft, &mut self.number)?;
        let twice = Event::Response(Response { plants: vec!["FH-003".into()], sign: Sign::Bud });
        let twice = self.add(day, 11, twice, "")?;
        let mut draft = self.draft(day, 11, Event::Retraction(Retraction {}))?;
        draft.supersedes = Some(twice);
        draft.note = "It was the plant beside it.".into();
        record(self.journal, draft, &mut self.number)?;
        Ok(())
    }

    fn draft(&self, day: Date, hour: i8, event: Event) -> Result<Draft, Box<dyn Error>> {
        Ok(Draft {
            id: None,
            recorded: None,
            at: self.at(day, hour)?,
            zone: Some(self.site.time_zone.clone()),
            site: self.site.name.clone(),
            supersedes: None,
            event,
            note: String::new(),
        })
    }

    /// Flushes the pots that are due; the drain is measured every other time.
    fn flushes(&mut self, day: Date) -> Result<(), Box<dyn Error>> {
        let entries = self.journal.entries(&Selection::default())?;
        let at = self.at(day, 16)?;
        let books = ledger(&LedgerRequest::new(entries, at).with_plants(self.plants.clone()))?;
        for account in &books.plants {
            let due = account.flush_due.as_ref().is_some_and(|d| *d <= day.to_string());
            let forgotten = account.id == "FH-036" && day >= date(2026, 10, 1);
            if !due || forgotten || !FLUSHED.contains(&account.id.as_str()) {
                continue;
            }
            let measured = self.random.below(2) == 0;
            let strength = 250.0 + self.random.below(200) as f64;
            let event = Event::Flush(Flush {
                plants: vec![account.id.clone()],
                volume_ml: Some(1500.0),
                drain_ml: measured.then_some(1200.0),
                drain_mg_l: measured.then_some(strength),
            });
            self.add(day, 16, event, "")?;
        }
        Ok(())
    }

    /// A weak feed at the root at the beginning of the month.
    fn root_feeds(&mut self, day: Date) -> Result<(), Box<dyn Error>> {
        let event = Event::RootFeed(RootFeed {
            plants: ROOT_FED
                .iter()
                .map(|p| PlantShare { plant: (*p).into(), volume_ml: Some(400.0) })
                .collect(),
            product: Some(self.feed.name.clone()),
            feed_strength_mg_l: 300.0,
            n_mg_l: Some(45.0),
            volume_ml: Some(1200.0),
            drain_ml: None,
            drain_mg_l: None,
        });
        self.add(day, 17, event, "")?;
        Ok(())
    }

    /// Seven weeks of soaks of the rootless plant, about one in six missed.
    fn rescue(&mut self, from: Date) -> Result<(), Box<dyn Error>> {
        let plan = rescue(
            &RescueRequest::new(self.rescued.name.clone(), self.site.clone(), from.to_string(), 49)
                .with_area(self.rescued.area.clone())
                .with_leaf(self.rescued.leaf),
        )?;
        for soak in plan.soaks {
            if self.random.below(6) == 0 {
                continue;
            }
            let event = Event::Soak(Soak {
                plants: vec![self.rescued.id.clone()],
                feed_strength_mg_l: plan.feed_strength_mg_l,
                duration_min: 30.0,
            });
            self.add_at(soak.start, event, "")?;
        }
        Ok(())
    }
}
