//! The files of `advise` and `round` as one request, and its errors as places in those files.

use crate::args;
use crate::input::{collection, conditions, label, site, water};
use crate::print::terminal;
use guardcell::advice::{AdviceRequest, SiteDescription};
use guardcell::{Error, Place, pointer};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// A request with where its parts came from.
pub(crate) struct Read {
    pub(crate) request: AdviceRequest,
    files: Files,
}

struct Files {
    collection: String,
    conditions: String,
    site: String,
    label: Option<String>,
    water: Option<String>,
    plants: Vec<Place>,
    readings: Vec<Place>,
}

/// The moment ages of readings are counted to: now, or the time looked at where that is past. A
/// date starts at local noon, as an advice takes it; what is no time is refused there.
fn now(at: &str, site: &SiteDescription) -> Timestamp {
    let now = Timestamp::now();
    let zone = TimeZone::get(&site.time_zone).unwrap_or(TimeZone::UTC);
    let start = at.parse::<Timestamp>().ok().or_else(|| {
        let noon = at.parse::<Date>().ok()?.at(12, 0, 0, 0);
        zone.to_timestamp(noon).ok()
    });
    start.map_or(now, |s| s.min(now))
}

/// Reads every file that is named.
pub(crate) fn read(args: &args::Inputs) -> Result<Read, Error> {
    let site = site::read(&args.site)?;
    let (plants, plant_places) = collection::read(&args.collection)?;
    let now = now(&args.at, &site);
    let conditions = conditions::read(&args.conditions, now, args.allow_stale)?;
    for note in &conditions.notes {
        terminal::note(&format!("guardcell: {note}"));
    }
    let feed = match &args.feed.label {
        Some(path) => Some(label::choose_one(
            label::read(path)?,
            &args.feed.product,
            site.grower.feed.as_ref(),
        )?),
        None => None,
    };
    let water = args.water.as_deref().map(water::read).transpose()?;
    Ok(Read {
        request: AdviceRequest::new(site, conditions.readings, plants, args.at.clone())
            .with_hours(args.hours)
            .with_feed(feed)
            .with_water(water),
        files: Files {
            collection: args.collection.display().to_string(),
            conditions: args.conditions.display().to_string(),
            site: args.site.display().to_string(),
            label: args.feed.label.as_ref().map(|p| p.display().to_string()),
            water: args.water.as_ref().map(|p| p.display().to_string()),
            plants: plant_places,
            readings: conditions.places,
        },
    })
}

impl Read {
    /// Keeps only the plants with these ids; all if none is named.
    pub(crate) fn keep_plants(&mut self, ids: &[String]) {
        if ids.is_empty() {
            return;
        }
        let plants = std::mem::take(&mut self.request.plants);
        let places = std::mem::take(&mut self.files.plants);
        (self.request.plants, self.files.plants) =
            plants.into_iter().zip(places).filter(|(p, _)| ids.contains(&p.id)).unzip();
    }

    /// An error of the request with its place in the files or arguments that the request was made
    /// from.
    pub(crate) fn locate(&self, error: Error) -> Error {
        match self.files.place(error.pointer()) {
            Some(place) => error.placed(place),
            None => error,
        }
    }
}

impl Files {
    fn place(&self, pointer: &str) -> Option<Place> {
        let mut tokens = pointer::tokens(pointer);
        let whole = |file: &str| Some(Place::default().in_file(file));
        let row = |places: &[Place], file: &str, index: Option<String>| {
            index
                .and_then(|i| i.parse::<usize>().ok())
                .and_then(|i| places.get(i).cloned())
                .or_else(|| whole(file))
        };
        match tokens.next()?.as_str() {
            "plants" => row(&self.plants, &self.collection, tokens.next()),
            "readings" => row(&self.readings, &self.conditions, tokens.next()),
            "site" => whole(&self.site),
            "feed" => whole(self.label.as_deref()?),
            "water" => whole(self.water.as_deref()?),
            "at" => Some(Place::default().of_argument("--at")),
            "hours" => Some(Place::default().of_argument("--hours")),
            _ => None,
        }
    }
}
