//! Following a map to where the readings are: a file, or an address. Not part of a build for a
//! browser, whose page hands over texts.

use crate::error::{FetchFault, in_data, io};
use crate::http::{Answer, Fetcher};
use crate::map::{self, Map};
use crate::options::Options;
use crate::probe::{Known, Probe, probe};
use crate::report::Read;
use crate::texts::{read_csv, read_json};
use crate::{assemble, source};
use guardcell::Error;
#[cfg(feature = "mqtt")]
use jiff::Timestamp;
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

/// Proposes a map for an unknown logger's file (`-` is standard input), as [`probe`](fn@probe).
///
/// # Errors
/// `Io` where it cannot be read, `MalformedFile` where it is a folder, larger than 64 MiB or no text.
///
/// ```no_run
/// use guardcell_conditions::probe::Known;
/// use guardcell_conditions::probe_file;
/// let now = "2026-06-21T07:00:00Z".parse().unwrap();
/// let known = Known { file: "export.csv", zone: None, area: None, date_order: None, now };
/// let found = probe_file("export.csv".as_ref(), &known)?;
/// # Ok::<(), guardcell_conditions::Error>(())
/// ```
pub fn probe_file(path: &Path, known: &Known<'_>) -> Result<Probe, Error> {
    let (bytes, _) = unknown_file(path)?;
    probe(&bytes, known)
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
            let (bytes, place) = file(folder, &m.file)?;
            read_csv(m, &bytes, &place, options)
        }
        Map::Json(m) => {
            let (bytes, place) = if let Some(name) = &m.file {
                file(folder, name)?
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
        Map::Mqtt(m) => messages(map, m, folder, options),
    }
}

/// Listens to a broker.
#[cfg(feature = "mqtt")]
fn messages(
    map: &Map,
    m: &map::MqttMap,
    folder: &Path,
    options: &Options<'_>,
) -> Result<Read, Error> {
    let started = Timestamp::now();
    let heard = crate::mqtt::hear(m, folder, options)?;
    let gathered = source::mqtt::gather(m, &heard.base, &heard.messages)?;
    if heard.messages.is_empty() {
        return Err(Error::new(
            guardcell::Code::NoReadings,
            format!("no message came within {} s", m.wait_s),
            "check the topics, or raise `wait_s` to more than the step of the sensor",
        )
        .in_file(&heard.place));
    }
    // Who asks for now means the moment after listening: messages arrived meanwhile.
    let asked_for_now = started.duration_since(options.now).abs().as_secs_f64() <= m.wait_s;
    let now = if asked_for_now { Timestamp::now() } else { options.now };
    let options = Options { now, ..*options };
    assemble::assemble(map, &heard.place, gathered, &options)
}

/// A program without MQTT.
#[cfg(not(feature = "mqtt"))]
fn messages(_: &Map, _: &map::MqttMap, _: &Path, _: &Options<'_>) -> Result<Read, Error> {
    Err(Error::new(
        guardcell::Code::InvalidText,
        "this program was built without MQTT",
        "build it with the feature `mqtt`",
    ))
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

/// The bytes of a file that a map names and what messages call it; `-` is standard input.
fn file(folder: &Path, name: &str) -> Result<(Vec<u8>, String), Error> {
    let path = if name == "-" { Path::new(name).to_owned() } else { folder.join(name) };
    unknown_file(&path)
}

/// The bytes of a file and what messages call it; `-` is standard input.
///
/// # Errors
/// `Io` where it cannot be read, `MalformedFile` where it is a folder or larger than 64 MiB.
pub(crate) fn unknown_file(path: &Path) -> Result<(Vec<u8>, String), Error> {
    if path == Path::new("-") {
        let place = "standard input".to_owned();
        let bytes = bounded(std::io::stdin().lock(), MOST_BYTES, path, &place)?;
        return Ok((bytes, place));
    }
    Ok((bytes_of(path, MOST_BYTES)?, path.display().to_string()))
}

fn bytes_of(path: &Path, most: u64) -> Result<Vec<u8>, Error> {
    let io = |cause| io(path, cause);
    let file = File::open(path).map_err(io)?;
    let place = path.display().to_string();
    if file.metadata().map_err(io)?.is_dir() {
        return Err(in_data(place, "this is a folder", "name a file"));
    }
    bounded(file, most, path, &place)
}

fn bounded(
    source: impl std::io::Read,
    most: u64,
    path: &Path,
    place: &str,
) -> Result<Vec<u8>, Error> {
    let mut bytes = Vec::new();
    source.take(most + 1).read_to_end(&mut bytes).map_err(|e| io(path, e))?;
    if bytes.len() as u64 > most {
        return Err(in_data(
            place,
            format!("the file is larger than {} MiB", most / 1024 / 1024),
            "cut it into parts",
        ));
    }
    Ok(bytes)
}
