//! The reference tables of this directory as text, for build scripts and for other programs.
//!
//! Each table is a CSV file (UTF-8, RFC 4180, header row); `datapackage.json` describes every
//! column, `README.md` the methods. The tables are licensed CC BY 4.0.
//!
//! ```
//! use guardcell_data::{SOURCES, TABLES};
//! assert!(SOURCES.csv.starts_with("key,author,year"));
//! assert!(TABLES.iter().all(|t| t.file.ends_with(".csv") && t.csv.ends_with('\n')));
//! ```

/// One table: its file name and its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Table {
    /// The file name in this directory, such as `genera.csv`.
    pub file: &'static str,
    /// The text of the file.
    pub csv: &'static str,
}

/// Declares one constant a table, and the list of all.
macro_rules! tables {
    ($($(#[$doc:meta])* $name:ident = $file:literal;)+) => {
        $($(#[$doc])* pub const $name: Table =
            Table { file: $file, csv: include_str!(concat!("../", $file)) };)+

        /// Every table, sorted by file name.
        pub const TABLES: &[Table] = &[$($name),+];
    };
}

tables! {
    /// Acids used against alkalinity: formula, anion and protons.
    ACIDS = "acids.csv";
    /// Parameters of stomatal opening over a day.
    CLOCK = "clock.csv";
    /// Ion pairs, acids and bases with their equilibrium constants.
    COMPLEXES = "complexes.csv";
    /// Materials that labels name after "derived from".
    DERIVED_FROM = "derived_from.csv";
    /// Temperature factors of electrical conductivity.
    EC_NATURAL_WATER = "ec_natural_water.csv";
    /// Parameters of a drying film and of the residue it leaves.
    FILM = "film.csv";
    /// Accepted genera with their traits.
    GENERA = "genera.csv";
    /// The most grown species, whose coverage is counted.
    GROWN_SPECIES = "grown_species.csv";
    /// Free ions: activity, conductance, volume.
    IONS = "ions.csv";
    /// Parameters of what a journal teaches.
    JOURNAL = "journal.csv";
    /// Statements of works on pathways, without a value.
    JUDGEMENTS = "judgements.csv";
    /// Lux per photon flux density of sunlight and lamps.
    LIGHT_SOURCES = "light_sources.csv";
    /// Synonyms, hybrid genera, spellings and abbreviations of genera.
    NAMES = "names.csv";
    /// Measured values, one a row.
    OBSERVATIONS = "observations.csv";
    /// Genera of other plants of greenhouses and windowsills.
    OTHER_PLANTS = "other_plants.csv";
    /// Parameters of the rule from values to pathways.
    PATHWAY = "pathway.csv";
    /// Solids and gases with their solubility products.
    PHASES = "phases.csv";
    /// Ion interactions of concentrated stocks.
    PITZER = "pitzer.csv";
    /// Solids that concentrated stocks can form.
    PITZER_SOLIDS = "pitzer_solids.csv";
    /// Parameters of feeding practice.
    PRACTICE = "practice.csv";
    /// Mutual deliquescence of two salts.
    SALT_MIXTURES = "salt_mixtures.csv";
    /// Salts: deliquescence and water activity.
    SALTS = "salts.csv";
    /// Solubility of single materials.
    SOLUBILITY = "solubility.csv";
    /// Parameters of solution chemistry.
    SOLUTION = "solution.csv";
    /// Works cited by the other tables.
    SOURCES = "sources.csv";
    /// Names of species other than the accepted ones.
    SPECIES_NAMES = "species_names.csv";
    /// Stomatal density and length.
    STOMATA = "stomata.csv";
    /// Parameters of foliar uptake.
    UPTAKE = "uptake.csv";
}

/// The descriptor of all tables: a Frictionless tabular data package (JSON).
pub const DATAPACKAGE: &str = include_str!("../datapackage.json");

/// The version of the tables, counted apart from that of the programs: `CHANGELOG.md` says what
/// changed.
pub const VERSION: &str = "0.4.0";

#[cfg(test)]
mod tests {
    use super::{DATAPACKAGE, TABLES, VERSION};

    #[test]
    fn the_version_is_said_once() {
        assert!(DATAPACKAGE.contains(&format!("\"version\": \"{VERSION}\"")));
        let log = include_str!("../CHANGELOG.md");
        assert!(log.contains(&format!("## {VERSION}")));
        let citation = include_str!("../CITATION.cff");
        assert!(citation.contains(&format!("version: {VERSION}\n")));
    }

    #[test]
    fn every_table_of_the_directory_is_listed_and_described() {
        let mut files: Vec<String> = std::fs::read_dir(env!("CARGO_MANIFEST_DIR"))
            .expect("the directory of the tables")
            .map(|e| e.expect("an entry").file_name().into_string().expect("UTF-8"))
            .filter(|f| f.ends_with(".csv"))
            .collect();
        files.sort();
        let listed: Vec<&str> = TABLES.iter().map(|t| t.file).collect();
        assert_eq!(files, listed);
        for file in listed {
            assert!(DATAPACKAGE.contains(&format!("\"{file}\"")), "{file} is not described");
        }
    }
}
