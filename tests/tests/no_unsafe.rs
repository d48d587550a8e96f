//! The tree has no `unsafe` code, and no crate can allow it again: every one forbids it.

mod support;

use std::path::{Path, PathBuf};

/// Files of the tree with this ending, without what is built or fetched.
fn files(folder: &Path, ending: &str, out: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() {
            if name != "target" && name != "node_modules" && !name.starts_with('.') {
                files(&path, ending, out);
            }
        } else if name.ends_with(ending) {
            out.push(path);
        }
    }
}

#[test]
fn every_crate_forbids_unsafe_code() {
    let root: toml::Table =
        std::fs::read_to_string(support::root().join("Cargo.toml")).unwrap().parse().unwrap();
    assert_eq!(root["workspace"]["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
    let mut manifests = Vec::new();
    files(&support::root(), "Cargo.toml", &mut manifests);
    assert!(manifests.len() > 15);
    for path in manifests {
        let manifest: toml::Table = std::fs::read_to_string(&path).unwrap().parse().unwrap();
        if !manifest.contains_key("package") {
            continue;
        }
        let lints = manifest.get("lints");
        let of_workspace = lints.and_then(|l| l.get("workspace")).and_then(toml::Value::as_bool);
        let of_its_own = lints.and_then(|l| l.get("rust")?.get("unsafe_code")?.as_str());
        let forbids = of_workspace == Some(true) || of_its_own == Some("forbid");
        assert!(forbids, "{} does not forbid unsafe code", path.display());
    }
}
