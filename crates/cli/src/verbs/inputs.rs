//! The files of `advise` and `round` as one request, and its errors as places in those files.

use crate::args;
use crate::error::argument;
use crate::home::Home;
use crate::input::conditions::Conditions;
use crate::input::{collection, conditions, site};
use crate::moment;
use crate::print::terminal;
use crate::verbs::typed_air;
use guardcell::advice::{AdviceRequest, PlantEntry, SiteDescription};
use guardcell::ledger::Entry;
use guardcell::solution::Label;
use guardcell::{Error, Place, pointer};
use guardcell_folder::{Collection, Turn};
use jiff::Timestamp;
use std::path::PathBuf;

/// A request with where its parts came from.
pub(crate) struct Read {
    pub(crate) request: AdviceRequest,
    /// The labels among which the rota chooses, where it does.
    labels: Option<Vec<Label>>,
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

/// The place and its plants, read once.
pub(crate) struct Grower {
    site_file: PathBuf,
    pub(crate) site: SiteDescription,
    collection_file: PathBuf,
    pub(crate) collection: Collection,
}

/// Reads the place and its plants.
pub(crate) fn grower(args: &args::Inputs, home: &Home) -> Result<Grower, Error> {
    let site_file = home.site_file(args.site.as_deref())?;
    let site = site::read(&site_file)?;
    let collection_file = home.collection_file(args.collection.as_deref())?;
    let collection = collection::read(&collection_file)?;
    Ok(Grower { site_file, site, collection_file, collection })
}

/// Reads every file that is named, and the folder for the rest.
pub(crate) fn read(args: &args::Inputs, home: &Home) -> Result<Read, Error> {
    with(args, grower(args, home)?, home)
}

/// The same for a place that has been read.
pub(crate) fn with(args: &args::Inputs, grower: Grower, home: &Home) -> Result<Read, Error> {
    let Grower { site_file, site, collection_file, collection } = grower;
    let now = Timestamp::now();
    let at = moment::start(args.at.as_deref(), &site.time_zone, now)?;
    let mut request = AdviceRequest::new(site, Vec::new(), collection.plants, at);
    let (conditions, air_files) = air(args, home, &request, now)?;
    for note in &conditions.notes {
        terminal::note(&format!("guardcell: {note}"));
    }
    request.readings = conditions.readings;
    let by_turns = args.feed.label.is_none()
        && args.feed.product.is_empty()
        && guardcell_folder::has_turns(&request.site);
    let (feed, labels) = if by_turns {
        (None, Some(home.labels(None)?.unwrap_or_default()))
    } else {
        let named = &args.feed.product;
        (home.feed(args.feed.label.as_deref(), named, Some(&request.site))?, None)
    };
    let water = home.water(args.water.as_deref(), Some(&request.site))?;
    let (label_file, feed) = match (feed, &labels) {
        (Some((path, label)), _) => (Some(path), Some(label)),
        (None, Some((path, _))) => (Some(path.clone()), None),
        (None, None) => (None, None),
    };
    let (water_file, water) = water.map_or((None, None), |(path, water)| (Some(path), Some(water)));
    Ok(Read {
        request: request.with_hours(args.hours).with_feed(feed).with_water(water),
        labels: labels.map(|(_, labels)| labels),
        files: Files {
            collection: collection_file.display().to_string(),
            conditions: air_files,
            site: site_file.display().to_string(),
            label: label_file.map(|p| p.display().to_string()),
            water: water_file.map(|p| p.display().to_string()),
            plants: collection.places,
            readings: conditions.places,
        },
    })
}

/// The air: typed for the start, or read from files; the name of what it is from. A start that is no
/// time is refused by the advice.
fn air(
    args: &args::Inputs,
    home: &Home,
    request: &AdviceRequest,
    now: Timestamp,
) -> Result<(Conditions, String), Error> {
    let start = request.start().ok().map(|start| start.timestamp());
    let time = start.map_or_else(|| request.at.clone(), |start| start.to_string());
    if let Some(reading) = typed_air::reading(&args.typed, time)? {
        if args.conditions.is_some() {
            return Err(argument(
                "--temp",
                "the air is typed and read from a file as well",
                "give --temp and --humidity, or --conditions",
            ));
        }
        let places = vec![Place::default().of_argument("--temp, --humidity")];
        let typed = Conditions { readings: vec![reading], places, notes: Vec::new() };
        return Ok((typed, "--temp".to_owned()));
    }
    let files = home.conditions_files(args.conditions.as_deref())?;
    if files.is_empty() {
        return Err(argument(
            "the air",
            "there are no readings of the air",
            "type it as it is now: --temp 24 --humidity 60 --air fan (still, light, fan, breezy, \
             windy), or put the table of a logger, or its map, into conditions/",
        ));
    }
    let names: Vec<String> = files.iter().map(|f| f.display().to_string()).collect();
    // Ages of readings are counted to now, or to the time looked at where that is past.
    let reached = start.map_or(now, |start| start.min(now));
    Ok((conditions::read(&files, reached, args.allow_stale)?, names.join(", ")))
}

impl Read {
    /// Puts the feed of the turn into the request; none where the feed was named or is the only one.
    pub(crate) fn take_turn(&mut self, entries: &[Entry]) -> Result<Option<Turn>, Error> {
        let (Some(labels), Ok(start)) = (&self.labels, self.request.start()) else {
            return Ok(None);
        };
        let at = moment::rfc3339(&start);
        guardcell_folder::take_turn(&mut self.request, labels, entries, &at)
            .map_err(|e| self.locate(e))
    }

    /// Keeps only the plants that are asked for; all if nothing is.
    pub(crate) fn keep(&mut self, only: &args::Only) -> Result<(), Error> {
        let all = &self.request.plants;
        let known = |flag: &str, wanted: &[String], have: &dyn Fn(&PlantEntry) -> Option<&str>| {
            match wanted.iter().find(|w| !all.iter().any(|p| have(p) == Some(w.as_str()))) {
                None => Ok(()),
                Some(stray) => Err(stray_choice(flag, stray, all.iter().filter_map(have))),
            }
        };
        known("--area", &only.area, &|p| Some(&p.area))?;
        known("--bench", &only.bench, &|p| p.bench.as_deref())?;
        known("--plant", &only.plant, &|p| Some(&p.id))?;
        let fits = |p: &PlantEntry| {
            let within = |wanted: &[String], has: Option<&str>| {
                wanted.is_empty() || wanted.iter().any(|w| Some(w.as_str()) == has)
            };
            within(&only.area, Some(&p.area))
                && within(&only.bench, p.bench.as_deref())
                && within(&only.plant, Some(&p.id))
        };
        let plants = std::mem::take(&mut self.request.plants);
        let places = std::mem::take(&mut self.files.plants);
        (self.request.plants, self.files.plants) =
            plants.into_iter().zip(places).filter(|(p, _)| fits(p)).unzip();
        if self.request.plants.is_empty() {
            return Err(argument(
                "--area, --bench, --plant",
                "no plant fits all of them together",
                "choose less closely",
            ));
        }
        Ok(())
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

/// No plant has what was asked for.
fn stray_choice<'a>(flag: &str, stray: &str, have: impl Iterator<Item = &'a str>) -> Error {
    let mut known: Vec<&str> = have.collect();
    known.sort_unstable();
    known.dedup();
    let hint = match known.as_slice() {
        [] => "the collection names none".to_owned(),
        few if few.len() <= 12 => format!("write one of {}", few.join(", ")),
        many => format!("it has {}, such as {}", many.len(), many.first().copied().unwrap_or("")),
    };
    argument(flag, format!("no plant of the collection has {stray:?}"), hint)
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
