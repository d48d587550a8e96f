//! `cargo xtask data check` finds what is wrong with a table and says where.
#![allow(clippy::unwrap_used, clippy::panic, missing_docs, reason = "a test")]

use std::path::{Path, PathBuf};
use std::process::Command;

/// A copy of `data/` that goes when the test ends.
struct Copy(PathBuf);

impl Copy {
    fn new(name: &str) -> Self {
        let dir = std::env::temp_dir().join(format!("guardcell-{}-{name}", std::process::id()));
        std::fs::create_dir_all(&dir).unwrap();
        let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../data");
        for entry in std::fs::read_dir(data).unwrap() {
            let path = entry.unwrap().path();
            // The sources of the crate are no table.
            if path.is_dir() {
                continue;
            }
            std::fs::copy(&path, dir.join(path.file_name().unwrap())).unwrap();
        }
        Self(dir)
    }

    /// Adds a line to a table.
    fn append(&self, file: &str, line: &str) {
        let path = self.0.join(file);
        let mut text = std::fs::read_to_string(&path).unwrap();
        text.push_str(line);
        text.push('\n');
        std::fs::write(path, text).unwrap();
    }

    /// Whether the check passes, and what it prints.
    fn check(&self) -> (bool, String) {
        let output = Command::new(env!("CARGO_BIN_EXE_xtask"))
            .args(["data", "check", "--dir"])
            .arg(&self.0)
            .output()
            .unwrap();
        let text = String::from_utf8_lossy(&output.stdout).into_owned()
            + &String::from_utf8_lossy(&output.stderr);
        (output.status.success(), text)
    }
}

impl Drop for Copy {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

#[test]
fn the_tables_are_without_fault() {
    let (passes, text) = Copy::new("whole").check();
    assert!(passes, "{text}");
    assert!(text.contains("Laeliinae"), "no coverage by subtribe");
}

#[test]
fn each_kind_of_fault_is_found_and_placed() {
    // Name of the case, table, line added, what the complaint must say.
    let cases = [
        (
            "outside",
            "observations.csv",
            "o99999,r9999,Vanda,fernhollowensis,,leaf,d13c,-55,[ppth],1,,,,isotope ratio,winter1983carbon,,,",
            "value -55 is outside -40 to -8",
        ),
        (
            "unknown-source",
            "observations.csv",
            "o99999,r9999,Vanda,fernhollowensis,,leaf,d13c,-15,[ppth],1,,,,isotope ratio,nobody1900nothing,,,",
            "\"nobody1900nothing\" is not in data/sources.csv",
        ),
        (
            "unknown-genus",
            "observations.csv",
            "o99999,r9999,Fernhollowia,alba,,leaf,d13c,-15,[ppth],1,,,,isotope ratio,winter1983carbon,,,",
            "genus \"Fernhollowia\" is not in data/genera.csv",
        ),
        (
            "id-used-before",
            "observations.csv",
            "o00001,r9999,Vanda,fernhollowensis,,leaf,d13c,-15,[ppth],1,,,,isotope ratio,winter1983carbon,,,",
            "duplicate id \"o00001\", also on line 2",
        ),
        (
            "no-statement",
            "judgements.csv",
            "j9999,r9999,Vanda,fernhollowensis,,leaf,pathway,,reported,classification,winter1983carbon,,",
            "statement: is blank and should not be",
        ),
        (
            "unknown-parent",
            "names.csv",
            "Fernhollowara,nothogenus,,Vanda|Fernhollowia,,current,from memory,,",
            "parents \"Fernhollowia\" is not in data/genera.csv",
        ),
        (
            "twice",
            "names.csv",
            "Brassocattleya,nothogenus,,Brassavola|Cattleya,,current,from memory,,",
            "Brassocattleya: duplicate name, also on line",
        ),
        (
            "accepted-too",
            "names.csv",
            "Vanda,synonym,Cattleya,,,legacy,from memory,,",
            "is accepted in data/genera.csv too",
        ),
        (
            "no-unit",
            "practice.csv",
            "fernhollow_strength,100,,,,\"common practice, no source\",,Nothing.",
            "unit: is blank and should not be",
        ),
    ];
    for (case, file, line, says) in cases {
        let copy = Copy::new(case);
        copy.append(file, line);
        let (passes, text) = copy.check();
        assert!(!passes, "{case} passes");
        let lines = std::fs::read_to_string(copy.0.join(file)).unwrap().lines().count();
        let placed =
            text.lines().any(|l| l.contains(says) && l.contains(&format!("{file}:{lines}")));
        assert!(placed, "{case}: {text}");
    }
}

/// Each column of each table says what it means: without its description the check fails.
#[test]
fn a_column_without_a_description_is_named() {
    let copy = Copy::new("description");
    let path = copy.0.join("datapackage.json");
    let text = std::fs::read_to_string(&path).unwrap();
    let without = text.replacen("\"description\": \"Name of the acid.\"", "\"title\": \"\"", 1);
    assert_ne!(text, without);
    std::fs::write(&path, without).unwrap();
    let (passes, text) = copy.check();
    assert!(!passes);
    assert!(text.contains("acids.csv:1: name has no description"), "{text}");
}

#[test]
fn a_missing_column_is_named() {
    let copy = Copy::new("column");
    let path = copy.0.join("names.csv");
    let text = std::fs::read_to_string(&path).unwrap();
    std::fs::write(path, text.replacen("name,kind,", "name,", 1)).unwrap();
    let (passes, text) = copy.check();
    assert!(!passes);
    assert!(text.contains("names.csv"), "{text}");
}
