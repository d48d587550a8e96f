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

mod address;
mod assemble;
pub mod calls;
mod contradiction;
mod error;
#[cfg(not(target_family = "wasm"))]
mod follow;
#[cfg(not(target_family = "wasm"))]
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
#[cfg(not(target_family = "wasm"))]
pub use follow::{read, read_file};
pub use guardcell::{Code, Error};
pub use map::Map;
pub use options::Options;
pub use report::{Read, Report};
pub use table::to_csv;
pub use unit::QuantityName;

use error::in_data;
use map::{CsvMap, JsonMap};

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
