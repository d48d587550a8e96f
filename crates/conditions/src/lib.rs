//! Readings of the air from where they are: a data logger's file, a JSON document, a service of OGC
//! SensorThings, messages of a broker of MQTT.
//!
//! A [`Map`] says where the readings are and in which units; [`read`](fn@read) and [`read_file`]
//! follow it and give [`Reading`](guardcell::advice::Reading)s, with a [`Report`] of all that was
//! dropped, omitted or adjusted, and why. A reading older than the map allows is an error
//! unless [`Options::allow_stale`] says otherwise. No reading is ever invented.
//! [`probe`](mod@probe) proposes a map for a file that nobody has described yet.
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
#[cfg(all(feature = "mqtt", not(target_family = "wasm")))]
mod mqtt;
mod options;
mod pointer;
pub mod probe;
pub mod report;
mod row;
#[cfg(not(target_family = "wasm"))]
mod secret;
mod source;
mod table;
mod texts;
mod unit;

pub use contradiction::{Repeat, repeats};
#[cfg(not(target_family = "wasm"))]
pub use follow::{probe_file, read, read_file};
pub use guardcell::{Code, Error};
pub use map::Map;
pub use options::Options;
pub use report::{Read, Report};
pub use table::to_csv;
pub use texts::{read_csv, read_json};
pub use unit::{QuantityName, trade};
