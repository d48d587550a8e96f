//! Following a map in texts that somebody else has read.

use crate::error::in_data;
use crate::map::{CsvMap, JsonMap, Map};
use crate::options::Options;
use crate::report::Read;
use crate::{assemble, source};
use guardcell::Error;

/// Reads a data logger's file from its bytes; `place` is what messages call it.
///
/// # Errors
/// As [`read`](fn@crate::read), without those of files.
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
/// As [`read`](fn@crate::read), without those of files and addresses.
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
