//! Readings of the air from where they are: a data logger's file, a JSON document, a service of OGC
//! SensorThings.
//!
//! A [`Map`] says where the readings are and in which units; [`read`](fn@read) and [`read_file`]
//! follow it and give [`Reading`](guardcell::advice::Reading)s, with a [`Report`] of all that was
//! dropped, omitted or adjusted, and why. A reading older than the map allows is an error
//! unless [`Options::allow_stale`] says otherwise. No reading is ever invented.
//!
//! ```
//! use guardcell_conditions::{Map, Options, read_csv};
//! let map = Map::parse(r#"
//! source = "csv"
//! file = "export.csv"
//! delimiter = ";"
//! decimal = ","
//! time = { columns = ["Time"], zone = "Atlantic/Azores", format = "%d.%m.%Y %H:%M" }
//! [[series]]
//! area = "house"
//! temperature = { column = "T", unit = "[degF]" }
//! humidity = { column = "RH", unit = "%" }
//! "#, "logger.toml")?;
//! let Map::Csv(map) = &map else { unreachable!() };
//! let file = "Time;T;RH\n21.06.2026 05:00;64,4;88\n21.06.2026 06:00;66,2;85\n";
//! let now = "2026-06-21T07:00:00Z".parse().unwrap();
//! let read = read_csv(map, file.as_bytes(), "export.csv", &Options::at(now))?;
//! assert_eq!(read.readings[0].time, "2026-06-21T05:00:00+00:00");
//! assert_eq!(read.readings[0].temp_c, 18.0);
//! # Ok::<(), guardcell::Error>(())
//! ```

mod assemble;
mod contradiction;
mod error;
mod http;
pub mod map;
mod moment;
mod options;
mod pointer;
pub mod report;
mod row;
mod source;
mod table;
mod unit;

pub use contradiction::{Repeat, repeats};
pub use guardcell::{Code, Error};
pub use map::Map;
pub use options::Options;
pub use report::{Read, Report};
pub use table::to_csv;
pub use unit::QuantityName;

use error::{FetchFault, in_data, io};
use http::Fetcher;
use map::{CsvMap, JsonMap};
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
/// [`Code::Io`], [`Code::Network`] or [`Code::Remote`] where the source cannot be read,
/// [`Code::MalformedFile`] where it does not fit the map, [`Code::NoReadings`] where no reading is
/// usable, [`Code::Stale`] where the newest is too old.
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

/// Reads a data logger's file from its bytes; `place` is what messages call it.
///
/// # Errors
/// As [`read`](fn@read), without those of files.
///
/// ```
/// use guardcell_conditions::{Map, Options, read_csv};
/// # let map = Map::parse("source = \"csv\"\nfile = \"x\"\ntime = { columns = [\"t\"] }\n[[series]]\ntemperature = { column = \"T\", unit = \"Cel\" }\nhumidity = { column = \"RH\", unit = \"%\" }", "map").unwrap();
/// # let Map::Csv(map) = &map else { unreachable!() };
/// let now = "2026-06-21T05:30:00Z".parse().unwrap();
/// let error = read_csv(map, b"t,T,RH\n", "x.csv", &Options::at(now)).unwrap_err();
/// assert_eq!(error.code(), guardcell_conditions::Code::NoReadings);
/// ```
pub fn read_csv(
    map: &CsvMap,
    bytes: &[u8],
    place: &str,
    options: &Options<'_>,
) -> Result<Read, Error> {
    let gathered = source::csv::gather(map, bytes, place)?;
    assemble::assemble(&Map::Csv(Box::new(map.clone())), place, gathered, options)
}

/// Reads a JSON document from its bytes; `place` is what messages call it.
///
/// # Errors
/// As [`read`](fn@read), without those of files and addresses.
///
/// ```
/// use guardcell_conditions::{Map, Options, read_json};
/// let map = Map::parse(r#"
/// source = "json"
/// file = "air.json"
/// [current]
/// time = { pointer = "/at", format = "unix_s" }
/// temperature = { pointer = "/air/t", unit = "Cel" }
/// humidity = { pointer = "/air/rh", unit = "1" }
/// "#, "air.toml")?;
/// let Map::Json(map) = &map else { unreachable!() };
/// let document = br#"{"at": 1782014400, "air": {"t": 18.5, "rh": 0.88}}"#;
/// let now = "2026-06-21T04:30:00Z".parse().unwrap();
/// let read = read_json(map, document, "air.json", &Options::at(now))?;
/// assert_eq!(read.readings[0].rh_percent, 88.0);
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn read_json(
    map: &JsonMap,
    bytes: &[u8],
    place: &str,
    options: &Options<'_>,
) -> Result<Read, Error> {
    let document = serde_json::from_slice(bytes).map_err(|e| {
        in_data(
            place,
            format!("this is not JSON ({e})"),
            "check that the file or address is that of the data",
        )
        .on_line(e.line() as u64)
        .at_column(e.column() as u64)
    })?;
    let gathered = source::json::gather(map, &document, place)?;
    assemble::assemble(&Map::Json(Box::new(map.clone())), place, gathered, options)
}

/// Refuses an answer that is not JSON.
fn not_json(answer: &http::Answer, address: &str) -> Result<(), Error> {
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
