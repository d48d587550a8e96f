//! Following a map to where the readings are: a file, or an address. Not part of a build for a
//! browser, whose page hands over texts.

use crate::error::{FetchFault, in_data, io};
use crate::http::{Answer, Fetcher};
use crate::map::{self, Map};
use crate::options::Options;
use crate::report::Read;
use crate::texts::{read_csv, read_json};
use crate::{assemble, source};
use guardcell::Error;
use std::fs::File;
use std::io::Read as _;
use std::path::Path;

/// The largest file that is read: a year of minutes is a tenth of it.
const MOST_BYTES: u64 = 64 * 1024 * 1024;
/// The largest map.
const MOST_MAP_BYTES: u64 = 1024 * 1024;

/// Reads the map in a file and follows it.
///
/// # Errors
/// As [`Map::parse`] and [`read`](fn@read).
///
/// ```no_run
/// use guardcell_conditions::{Options, read_file};
/// let now = "2026-06-21T07:00:00Z".parse().unwrap();
/// let read = read_file("demo-data/logger/logger.toml".as_ref(), &Options::at(now))?;
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn read_file(path: &Path, options: &Options<'_>) -> Result<Read, Error> {
    let place = path.display().to_string();
    let bytes = bytes_of(path, MOST_MAP_BYTES)?;
    let text = source::text::decode(&bytes, map::Encoding::Utf8, &place)?;
    let map = Map::parse(&text, &place)?;
    read(&map, path.parent().unwrap_or_else(|| Path::new("")), options)
}

/// Follows a map; files whose path is not absolute are looked for in `folder`.
///
/// # Errors
/// With these of [`guardcell::Code`]: `Io`, `Network` or `Remote` where the source cannot be read,
/// `MalformedFile` where it does not fit the map, `NoReadings` where no reading is usable, `Stale`
/// where the newest is too old.
///
/// ```no_run
/// use guardcell_conditions::{Map, Options, read};
/// # let text = "";
/// let map = Map::parse(text, "map.toml")?;
/// let now = "2026-06-21T07:00:00Z".parse().unwrap();
/// let read = read(&map, "demo-data/logger".as_ref(), &Options::at(now))?;
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn read(map: &Map, folder: &Path, options: &Options<'_>) -> Result<Read, Error> {
    match map {
        Map::Csv(m) => {
            let path = folder.join(&m.file);
            let bytes = bytes_of(&path, MOST_BYTES)?;
            read_csv(m, &bytes, &path.display().to_string(), options)
        }
        Map::Json(m) => {
            let (bytes, place) = if let Some(file) = &m.file {
                let path = folder.join(file);
                (bytes_of(&path, MOST_BYTES)?, path.display().to_string())
            } else {
                let url = m.url.as_deref().unwrap_or_default();
                let (fetcher, url) =
                    Fetcher::new(url, &m.headers, &m.http, m.allow_private, options)?;
                let answer = fetcher.get(&url)?;
                let address = fetcher.shown(&url);
                not_json(&answer, &address)?;
                (answer.body, address)
            };
            read_json(m, &bytes, &place, options)
        }
        Map::SensorThings(m) => {
            let (fetcher, url) =
                Fetcher::new(&m.url, &m.headers, &m.http, m.allow_private, options)?;
            let gathered = source::sensorthings::gather(m, &fetcher, &url, options.now)?;
            assemble::assemble(map, &fetcher.shown(&url), gathered, options)
        }
    }
}

/// Refuses an answer that is not JSON.
fn not_json(answer: &Answer, address: &str) -> Result<(), Error> {
    match serde_json::from_slice::<serde::de::IgnoredAny>(&answer.body) {
        Ok(_) => Ok(()),
        Err(e) => Err(FetchFault::NotJson {
            content_type: answer.content_type.clone(),
            detail: e.to_string(),
        }
        .at(address)),
    }
}

fn bytes_of(path: &Path, most: u64) -> Result<Vec<u8>, Error> {
    let io = |cause| io(path, cause);
    let file = File::open(path).map_err(io)?;
    if file.metadata().map_err(io)?.is_dir() {
        return Err(in_data(path.display().to_string(), "this is a folder", "name a file"));
    }
    let mut bytes = Vec::new();
    file.take(most + 1).read_to_end(&mut bytes).map_err(io)?;
    if bytes.len() as u64 > most {
        return Err(in_data(
            path.display().to_string(),
            format!("the file is larger than {} MiB", most / 1024 / 1024),
            "cut it into parts",
        ));
    }
    Ok(bytes)
}
