//! The tree has no `unsafe` code, and no crate can allow it again: every one forbids it.

mod source;

use source::{files, root};

#[test]
fn every_crate_forbids_unsafe_code() {
    let workspace: toml::Table =
        std::fs::read_to_string(root().join("Cargo.toml")).unwrap().parse().unwrap();
    assert_eq!(workspace["workspace"]["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
    let mut manifests = files(&root(), &["toml"]);
    manifests.retain(|path| path.ends_with("Cargo.toml"));
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
