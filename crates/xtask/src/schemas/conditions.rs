//! The schemas of the maps of conditions, which are written in TOML, and of their results.

use super::finished::finished;
use guardcell_conditions::{Map, Options, Read, Report, read_file};
use jiff::Timestamp;
use schemars::generate::SchemaSettings;
use serde_json::Value;
use std::error::Error;
use std::path::Path;

/// The maps of the demo data, which are examples in the schema.
pub const MAPS: [&str; 3] = ["logger", "endpoint", "sensorthings"];

/// The moment the demo logger is read at.
const NOW: &str = "2026-10-26T09:00:00-01:00";

/// A map of the demo data as JSON.
///
/// # Errors
/// If the file cannot be read or is not a map.
pub fn map(name: &str, root: &Path) -> Result<Value, Box<dyn Error>> {
    let path = root.join("demo-data/logger").join(format!("{name}.toml"));
    let text = std::fs::read_to_string(&path).map_err(|e| format!("{}: {e}", path.display()))?;
    Map::parse(&text, &path.display().to_string())?;
    Ok(toml::from_str(&text)?)
}

/// The readings of the demo logger.
///
/// # Errors
/// If the demo data cannot be read.
pub fn logger(root: &Path) -> Result<Read, Box<dyn Error>> {
    let now: Timestamp = NOW.parse()?;
    let mut read = read_file(&root.join("demo-data/logger/logger.toml"), &Options::at(now))?;
    read.report.from = "demo-data/logger/logger.csv".into();
    Ok(read)
}

pub(super) fn schemas(root: &Path) -> Result<Vec<(&'static str, Value)>, Box<dyn Error>> {
    let take = || SchemaSettings::draft2020_12().for_deserialize().into_generator();
    let give = || SchemaSettings::draft2020_12().for_serialize().into_generator();
    let maps = MAPS.iter().map(|name| map(name, root)).collect::<Result<Vec<_>, _>>()?;
    let mut read = logger(root)?;
    read.readings.truncate(3);
    let mut out = Vec::new();
    let mut add = |name, schema: Value, examples: &[Value]| {
        out.push((name, finished(schema, name, examples)));
    };
    add("conditions-map", take().into_root_schema_for::<Map>().to_value(), &maps);
    add(
        "conditions-report",
        give().into_root_schema_for::<Report>().to_value(),
        &[serde_json::to_value(&read.report)?],
    );
    let readings = give().into_root_schema_for::<Read>().to_value();
    add("conditions-read", readings, &[serde_json::to_value(&read)?]);
    Ok(out)
}
