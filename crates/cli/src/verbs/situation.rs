//! The files of `advise` and `round` as one request, and its faults as places in those files.

use crate::answers::NoAnswer;
use crate::args;
use crate::error::CliError;
use crate::input::{collection, conditions, label, site, water};
use guardcell::advice::{AdviceRequest, SiteDescription};
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use std::io::Write as _;

/// A request with where its parts came from.
pub(crate) struct Read {
    pub(crate) request: AdviceRequest,
    files: Files,
}

struct Files {
    collection: String,
    conditions: String,
    site: String,
    plants: Vec<String>,
    readings: Vec<String>,
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

/// Reads every file a situation names.
pub(crate) fn read(args: &args::Situation) -> Result<Read, CliError> {
    let site = site::read(&args.site)?;
    let (plants, plant_places) = collection::read(&args.collection)?;
    let now = now(&args.at, &site);
    let conditions = conditions::read(&args.conditions, now, args.allow_stale)?;
    for note in &conditions.notes {
        // Nothing is left to do if standard error is closed.
        let _ = writeln!(anstream::stderr(), "guardcell: {note}");
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
        request: AdviceRequest {
            site,
            readings: conditions.readings,
            plants,
            feed,
            water,
            at: args.at.clone(),
            hours: args.hours,
        },
        files: Files {
            collection: args.collection.display().to_string(),
            conditions: args.conditions.display().to_string(),
            site: args.site.display().to_string(),
            plants: plant_places,
            readings: conditions.places,
        },
    })
}

impl Read {
    /// Leaves out every plant but these; all stay where none is named.
    pub(crate) fn keep_plants(&mut self, ids: &[String]) {
        if ids.is_empty() {
            return;
        }
        let plants = std::mem::take(&mut self.request.plants);
        let places = std::mem::take(&mut self.files.plants);
        (self.request.plants, self.files.plants) =
            plants.into_iter().zip(places).filter(|(p, _)| ids.contains(&p.id)).unzip();
    }

    /// A fault of the request told by file and line instead of by JSON Pointer.
    pub(crate) fn fault(&self, none: NoAnswer) -> CliError {
        none.told(|words| self.placed(words))
    }

    fn placed(&self, message: &str) -> String {
        let mut out = String::new();
        for (i, word) in message.split(' ').enumerate() {
            if i > 0 {
                out.push(' ');
            }
            out.push_str(&self.place(word).unwrap_or_else(|| word.to_owned()));
        }
        out
    }

    /// A JSON Pointer, perhaps with a mark of punctuation behind it, as a place in a file.
    fn place(&self, word: &str) -> Option<String> {
        let pointer = word.trim_end_matches([':', ';', ',']);
        let colon = word.get(pointer.len()..).unwrap_or_default();
        let mut parts = pointer.strip_prefix('/')?.split('/');
        let table = parts.next()?;
        let (places, file) = match table {
            "plants" => (&self.files.plants, &self.files.collection),
            "readings" => (&self.files.readings, &self.files.conditions),
            "site" => {
                let path: Vec<&str> = parts.collect();
                return Some(format!("{}: {}{colon}", self.files.site, path.join(".")));
            }
            "at" => return Some(format!("--at{colon}")),
            "hours" => return Some(format!("--hours{colon}")),
            _ => return None,
        };
        let Some(index) = parts.next() else { return Some(format!("{file}{colon}")) };
        let place = places.get(index.parse::<usize>().ok()?)?;
        Some(match parts.next() {
            Some(column) => format!("{place}: column `{column}`{colon}"),
            None => format!("{place}{colon}"),
        })
    }
}
