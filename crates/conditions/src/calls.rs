//! The reader of a logger's file as a call, for hosts that have texts: a page, a binding.

use crate::map::Map;
use crate::options::Options;
use crate::probe::{DateOrder, Known, Probe, probe};
use crate::report::Read;
use crate::texts::{read_csv, read_json};
use guardcell::calls::{AnyCall, Call, Group, Work};
use guardcell::{Code, Error};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// Every reader.
pub static ALL: &[AnyCall] = &[AnyCall::new::<ReadLogger>(), AnyCall::new::<ProbeLogger>()];

/// A logger's file and the map of it, as texts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct LoggerFile {
    /// The name of the map's file, which errors carry.
    pub map_file: String,
    /// The map (TOML). The file or the address that it names is not opened.
    pub map: String,
    /// The name of the data's file, which errors and the report carry.
    pub file: String,
    /// What the logger wrote: a table, or a JSON document, as the map says.
    pub text: String,
    /// The moment that ages are counted to, RFC 3339.
    #[cfg_attr(feature = "schema", schemars(extend("format" = "date-time")))]
    pub now: String,
    /// Whether readings older than the map allows are accepted.
    #[serde(default)]
    pub allow_stale: bool,
}

/// Reads a logger's file by its map.
#[derive(Clone, Copy, Debug)]
pub struct ReadLogger;

/// Reading takes a step for so many bytes, and so many times the bytes.
const BYTES_A_STEP: u64 = 10;
const BYTES_A_BYTE: u64 = 24;

impl Call for ReadLogger {
    type Request = LoggerFile;
    type Response = Read;
    const NAME: &'static str = "read_logger";
    const PATH: &'static str = "files/logger";
    const GROUP: Group = Group::Files;
    const SUMMARY: &'static str = "Readings of the air from a logger's file";
    const DESCRIPTION: &'static str = "Needs the text that a logger wrote (CSV or JSON) and the map \
        that says where in it the readings are and in which units. The answer has the readings and a \
        report of all that was dropped, omitted or adjusted, and why.";
    const EXAMPLE: &'static str = include_str!("../calls/read_logger.json");

    fn work(request: &LoggerFile) -> Work {
        let bytes = (request.text.len() + request.map.len()) as u64;
        Work::of(1_000 + bytes / BYTES_A_STEP, "the length of the text")
            .holding(bytes.saturating_mul(BYTES_A_BYTE))
    }

    fn run(request: &LoggerFile) -> Result<Read, Error> {
        let map = Map::parse(&request.map, &request.map_file)?;
        let now = moment(&request.now)?;
        let nothing = |_: &str| None;
        let options = Options { now, allow_stale: request.allow_stale, environment: &nothing };
        let bytes = request.text.as_bytes();
        match &map {
            Map::Csv(map) => read_csv(map, bytes, &request.file, &options),
            Map::Json(map) => read_json(map, bytes, &request.file, &options),
            Map::SensorThings(_) | Map::Mqtt(_) => Err(Error::new(
                Code::InvalidText,
                "this map asks a service, and a text is not its answer",
                "give the map of a file: `source = \"csv\"` or `\"json\"`",
            )
            .in_file(&request.map_file)),
        }
    }
}

/// A moment of a request.
fn moment(text: &str) -> Result<Timestamp, Error> {
    text.parse().map_err(|_| {
        let detail = format!("{:?} is not a moment", guardcell::excerpt(text, 60));
        Error::new(Code::InvalidText, detail, "write it like 2026-06-21T06:00:00Z").at("/now")
    })
}

/// An unknown logger's file as text.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct UnknownFile {
    /// The name of the file, which the map names.
    pub file: String,
    /// What the logger wrote: a table with any separator, or a JSON document.
    pub text: String,
    /// The moment that ages are counted to, RFC 3339.
    #[cfg_attr(feature = "schema", schemars(extend("format" = "date-time")))]
    pub now: String,
    /// The time zone of the logger's clock, where its times have no offset: a name of the IANA
    /// database, or an offset such as `-01:00`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// The area of the readings, where the file holds those of one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// Which of day and month is first, where no time of the file tells.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date_order: Option<DateOrder>,
}

/// Proposes a map for an unknown logger's file.
#[derive(Clone, Copy, Debug)]
pub struct ProbeLogger;

/// A probe reads a text some times over: each form of its times, each unit.
const PROBES: u64 = 8;

impl Call for ProbeLogger {
    type Request = UnknownFile;
    type Response = Probe;
    const NAME: &'static str = "probe_logger";
    const PATH: &'static str = "files/logger/probe";
    const GROUP: Group = Group::Files;
    const SUMMARY: &'static str = "A map for an unknown logger's file";
    const DESCRIPTION: &'static str = "Needs the text that a logger wrote (CSV with any separator, \
        or JSON). The answer has a map of it, what each column was taken for, how that was decided, \
        what was assumed, and what the map reads. What two readings of the file would both fit, such \
        as the order of day and month, is not guessed: then there is no map, and the answer says what \
        is open.";
    const EXAMPLE: &'static str = include_str!("../calls/probe_logger.json");

    fn work(request: &UnknownFile) -> Work {
        let bytes = request.text.len() as u64;
        Work::of(1_000 + bytes.saturating_mul(PROBES) / BYTES_A_STEP, "the length of the text")
            .holding(bytes.saturating_mul(2 * BYTES_A_BYTE))
    }

    fn run(request: &UnknownFile) -> Result<Probe, Error> {
        let known = Known {
            file: &request.file,
            zone: request.zone.as_deref(),
            area: request.area.as_deref(),
            date_order: request.date_order,
            now: moment(&request.now)?,
        };
        probe(request.text.as_bytes(), &known)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(change: impl FnOnce(&mut LoggerFile)) -> Result<Read, Error> {
        let mut request: LoggerFile = serde_json::from_str(ReadLogger::EXAMPLE).unwrap();
        change(&mut request);
        ReadLogger::run(&request)
    }

    #[test]
    fn a_logger_of_semicolons_and_fahrenheit_is_read() {
        let read = asked(|_| {}).unwrap();
        // (64.4 - 32) / 1.8 = 18
        assert_eq!(read.readings[0].temp_c, 18.0);
        assert_eq!(read.readings[0].time, "2026-06-21T05:00:00+00:00");
    }

    #[test]
    fn age_is_counted_to_the_moment_that_is_given() {
        let later = |r: &mut LoggerFile| r.now = "2026-06-30T07:00:00Z".into();
        assert_eq!(asked(later).unwrap_err().code(), Code::Stale);
        let allowed = asked(|r| {
            later(r);
            r.allow_stale = true;
        });
        assert!(allowed.unwrap().report.stale);
        let error = asked(|r| r.now = "yesterday".into()).unwrap_err();
        assert_eq!((error.code(), error.pointer()), (Code::InvalidText, "/now"));
    }

    #[test]
    fn a_map_of_a_service_is_refused_without_asking_it() {
        let error = asked(|r| {
            r.map = "source = \"sensorthings\"\nurl = \"https://example.org/v1.1\"\n[[series]]\n\
                     temperature = { datastream = 1 }\nhumidity = { datastream = 2 }\n"
                .into();
        })
        .unwrap_err();
        assert_eq!(error.code(), Code::InvalidText);
        assert_eq!(error.place().unwrap().file.as_deref(), Some("logger.toml"));
    }
}
