//! The tree has no `unsafe` code but for pointers from C, in one crate: every other forbids it.

mod source;

use source::{files, root};

/// The crate that takes pointers from C. Its own lints ask for a reason at every use.
const FROM_C: &str = "crates/capi/Cargo.toml";

#[test]
fn every_crate_forbids_unsafe_code() {
    let workspace: toml::Table =
        std::fs::read_to_string(root().join("Cargo.toml")).unwrap().parse().unwrap();
    assert_eq!(workspace["workspace"]["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
    let mut manifests = files(&root(), &["toml"]);
    manifests.retain(|path| path.ends_with("Cargo.toml"));
    assert!(manifests.len() > 15);
    let mut allowed = 0;
    for path in manifests {
        let manifest: toml::Table = std::fs::read_to_string(&path).unwrap().parse().unwrap();
        if !manifest.contains_key("package") {
            continue;
        }
        let lints = manifest.get("lints");
        let of_workspace = lints.and_then(|l| l.get("workspace")).and_then(toml::Value::as_bool);
        let of_its_own = lints.and_then(|l| l.get("rust")?.get("unsafe_code")?.as_str());
        if path == root().join(FROM_C) {
            assert_eq!(of_its_own, Some("allow"));
            let clippy = lints.and_then(|l| l.get("clippy")).unwrap();
            assert_eq!(clippy["undocumented_unsafe_blocks"].as_str(), Some("deny"));
            allowed += 1;
            continue;
        }
        let forbids = of_workspace == Some(true) || of_its_own == Some("forbid");
        assert!(forbids, "{} does not forbid unsafe code", path.display());
    }
    assert_eq!(allowed, 1);
}
