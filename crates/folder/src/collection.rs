//! The collection: one plant a row.

use crate::table::Table;
use guardcell::advice::{Growth, PlantEntry, Setting, SizeClass, Standing};
use guardcell::reference::Leaf;
use guardcell::{Code, Error, Place, excerpt};
use serde::{Deserialize, Serialize};
use std::collections::HashMap;

const REQUIRED: [&str; 5] = ["id", "name", "area", "setting", "standing"];
const OPTIONAL: [&str; 10] = [
    "size",
    "growth",
    "leaf",
    "leaf_area_cm2",
    "last_fed",
    "last_flush",
    "pot_l",
    "root_feed_mg_week",
    "bench",
    "notes",
];

const LEAVES: [Leaf; 5] =
    [Leaf::Thin, Leaf::Intermediate, Leaf::Thick, Leaf::Terete, Leaf::Leafless];

/// The plants of a collection and where each is in its file.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Collection {
    /// The plants, in the order of the file.
    pub plants: Vec<PlantEntry>,
    /// The file and line of each.
    pub places: Vec<Place>,
}

/// Reads a collection (CSV, one plant a row) from its text; `name` is the file that errors name.
///
/// # Errors
///
/// A column that is missing, unknown or duplicate; a word or number that does not fit its column;
/// two plants with one id. Each has its file, line and column.
///
/// ```
/// let text = "id,name,area,setting,standing\nA1,Cattleya labiata,house,mounted,established\n";
/// let collection = guardcell_folder::collection("collection.csv", text)?;
/// assert_eq!(collection.plants[0].id, "A1");
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn collection(name: &str, text: &str) -> Result<Collection, Error> {
    let table = Table::parse(name, text, &REQUIRED, &OPTIONAL)?;
    let mut plants = Vec::new();
    let mut places = Vec::new();
    for row in table.rows() {
        let blank = |column| row.fault(column, "it is empty", "give a word");
        plants.push(
            PlantEntry::new(
                row.text("id")?.to_owned(),
                row.text("name")?.to_owned(),
                row.text("area")?.to_owned(),
                row.word("setting", Setting::ALL, Setting::word)?
                    .ok_or_else(|| blank("setting"))?,
                row.word("standing", Standing::ALL, Standing::word)?
                    .ok_or_else(|| blank("standing"))?,
            )
            .with_size(row.word("size", SizeClass::ALL, SizeClass::word)?.unwrap_or_default())
            .with_growth(row.word("growth", Growth::ALL, Growth::word)?.unwrap_or_default())
            .with_notes(row.get("notes").unwrap_or_default().to_owned())
            .with_leaf(row.word("leaf", &LEAVES, Leaf::word)?)
            .with_leaf_area_cm2(row.number("leaf_area_cm2")?)
            .with_last_fed(row.get("last_fed").map(str::to_owned))
            .with_last_flush(row.get("last_flush").map(str::to_owned))
            .with_pot_l(row.number("pot_l")?)
            .with_root_feed_mg_week(row.number("root_feed_mg_week")?)
            .with_bench(row.get("bench").map(str::to_owned)),
        );
        places.push(row.place());
    }
    unique_ids(&table)?;
    Ok(Collection { plants, places })
}

/// Refuses two plants with one id, naming both lines.
fn unique_ids(table: &Table) -> Result<(), Error> {
    let mut first: HashMap<&str, Option<u64>> = HashMap::new();
    for row in table.rows() {
        let id = row.text("id")?;
        if let Some(line) = first.insert(id, row.place().line) {
            let detail = format!(
                "duplicate id {:?}, first on line {}",
                excerpt(id, 60),
                line.unwrap_or_default()
            );
            return Err(row
                .fault("id", &detail, "give each plant its own id")
                .with_code(Code::DuplicateId));
        }
    }
    Ok(())
}
