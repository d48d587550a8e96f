//! The tree has no `unsafe` code but for pointers from C, in two crates: every other forbids it.

mod source;

use source::{files, root};

/// The crates that take pointers from C. Their own lints ask for a reason at every use.
const FROM_C: [&str; 2] = ["crates/capi/Cargo.toml", "crates/python/Cargo.toml"];

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
        if FROM_C.iter().any(|name| path == root().join(name)) {
            assert_eq!(of_its_own, Some("allow"));
            let clippy = lints.and_then(|l| l.get("clippy")).unwrap();
            assert_eq!(clippy["undocumented_unsafe_blocks"].as_str(), Some("deny"));
            allowed += 1;
            continue;
        }
        let forbids = of_workspace == Some(true) || of_its_own == Some("forbid");
        assert!(forbids, "{} does not forbid unsafe code", path.display());
    }
    assert_eq!(allowed, FROM_C.len());
}

/// In the Python package only the file of capsules has any.
#[test]
fn capsules_are_the_only_unsafe_of_python() {
    let with: Vec<_> = files(&root().join("crates/python/src"), &["rs"])
        .into_iter()
        .filter(|file| std::fs::read_to_string(file).unwrap().contains("unsafe {"))
        .collect();
    assert_eq!(with, [root().join("crates/python/src/capsule.rs")]);
}
