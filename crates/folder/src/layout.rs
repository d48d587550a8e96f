//! Where the parts of a folder are. All paths are relative to the folder; `/` separates.

/// The site: place, areas, grower. A folder that has it is a grower's folder.
pub const SITE: &str = "site.toml";
/// The plants.
pub const COLLECTION: &str = "collection.csv";
/// Labels of products, one or more a file.
pub const LABELS: &str = "labels";
/// Water reports, one a file.
pub const WATERS: &str = "waters";
/// The one water report of a folder that has no [`WATERS`].
pub const WATER: &str = "water.toml";
/// Readings of the air: tables (`.csv`) and maps (`.toml`).
pub const CONDITIONS: &str = "conditions";
/// The one source of readings of a folder that has no [`CONDITIONS`]: a table or a map.
pub const CONDITIONS_FILES: [&str; 2] = ["conditions.csv", "conditions.toml"];
/// What was done and seen.
pub const JOURNAL: &str = "journal.db";
/// Devices that are paired, and the code for the next one.
pub const DEVICES: &str = "devices.db";
