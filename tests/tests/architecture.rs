//! The shape of the house, held by tests: arrows go down only, the core does no I/O, the facade
//! pulls in no async runtime and no C.

mod source;

use source::{files, metadata, root};
use std::collections::BTreeMap;
use std::process::Command;

/// What each crate may depend on within the workspace, besides the error and the call below all.
/// Nothing else is allowed.
fn allowed() -> BTreeMap<&'static str, &'static [&'static str]> {
    BTreeMap::from([
        ("guardcell-error", &[][..]),
        ("guardcell-call", &[][..]),
        ("guardcell-data", &[][..]),
        ("guardcell-units", &[][..]),
        ("guardcell-reference", &["guardcell-units"][..]),
        ("guardcell-solution", &["guardcell-units", "guardcell-reference"][..]),
        ("guardcell-film", &["guardcell-units", "guardcell-reference"][..]),
        ("guardcell-clock", &["guardcell-units", "guardcell-reference"][..]),
        (
            "guardcell-advice",
            &[
                "guardcell-units",
                "guardcell-reference",
                "guardcell-solution",
                "guardcell-film",
                "guardcell-clock",
            ][..],
        ),
        ("guardcell-ledger", &["guardcell-units", "guardcell-reference", "guardcell-advice"][..]),
        (
            "guardcell",
            &[
                "guardcell-units",
                "guardcell-reference",
                "guardcell-solution",
                "guardcell-film",
                "guardcell-clock",
                "guardcell-advice",
                "guardcell-ledger",
            ][..],
        ),
        ("guardcell-table", &["guardcell"][..]),
        ("guardcell-folder", &["guardcell"][..]),
        ("guardcell-journal", &["guardcell"][..]),
        ("guardcell-conditions", &["guardcell"][..]),
        ("guardcell-client", &["guardcell"][..]),
        ("guardcell-server", &["guardcell"][..]),
        ("guardcell-share", &["guardcell", "guardcell-journal", "guardcell-server"][..]),
        ("guardcell-mcp", &["guardcell", "guardcell-folder", "guardcell-journal"][..]),
        ("guardcell-capi", &["guardcell"][..]),
        ("guardcell-python", &["guardcell", "guardcell-table"][..]),
        (
            "guardcell-cli",
            &[
                "guardcell",
                "guardcell-table",
                "guardcell-folder",
                "guardcell-journal",
                "guardcell-conditions",
                "guardcell-client",
                "guardcell-server",
                "guardcell-share",
                "guardcell-mcp",
            ][..],
        ),
        ("guardcell-wasm", &["guardcell", "guardcell-folder", "guardcell-conditions"][..]),
        (
            "guardcell-xtask",
            &[
                "guardcell",
                "guardcell-folder",
                "guardcell-ledger",
                "guardcell-journal",
                "guardcell-conditions",
            ][..],
        ),
        ("guardcell-tests", &["guardcell", "guardcell-journal"][..]),
    ])
}

const PURE: [&str; 12] = [
    "error",
    "call",
    "units",
    "reference",
    "solution",
    "film",
    "clock",
    "advice",
    "ledger",
    "guardcell",
    "table",
    "folder",
];

#[test]
fn arrows_go_down_only() {
    let metadata = metadata();
    let allowed = allowed();
    let packages = metadata["packages"].as_array().unwrap();
    assert!(packages.len() >= allowed.len());
    for package in packages {
        let name = package["name"].as_str().unwrap();
        let may = allowed
            .get(name)
            .unwrap_or_else(|| panic!("{name} has no entry here: say what it may depend on"));
        for dependency in package["dependencies"].as_array().unwrap() {
            let on = dependency["name"].as_str().unwrap();
            if on.starts_with("guardcell") && dependency["kind"].is_null() {
                let below =
                    on == "guardcell-error" || on == "guardcell-call" && name != "guardcell-error";
                assert!(below || may.contains(&on), "{name} must not depend on {on}");
            }
        }
    }
}

#[test]
fn the_core_does_no_io_and_reads_no_clock() {
    let forbidden = [
        "std::fs",
        "std::net",
        "std::thread",
        "std::process",
        "std::io::std",
        "std::env",
        "SystemTime",
        "Instant::now",
        "Timestamp::now",
        "Zoned::now",
        "TimeZone::system",
        "rand::",
    ];
    for name in PURE {
        for file in files(&root().join("crates").join(name).join("src"), &["rs"]) {
            let text = std::fs::read_to_string(&file).unwrap();
            for word in forbidden {
                assert!(!text.contains(word), "{} mentions {word}", file.display());
            }
        }
    }
}

#[test]
fn the_facade_has_no_async_runtime_and_no_c() {
    let out = Command::new(env!("CARGO"))
        .args(["tree", "--offline", "-p", "guardcell", "-e", "normal,build", "--prefix", "none"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let tree = String::from_utf8(out.stdout).unwrap();
    assert!(tree.contains("guardcell-units"), "the tree is empty: {tree}");
    for line in tree.lines() {
        let name = line.split_whitespace().next().unwrap_or_default();
        for forbidden in ["tokio", "async-std", "smol", "mio", "cc", "cmake", "bindgen"] {
            assert_ne!(name, forbidden, "the facade must not need {forbidden}");
        }
        assert!(!name.ends_with("-sys"), "the facade must not bind C: {name}");
    }
}

#[test]
fn files_stay_readable() {
    let others =
        ["journal", "client", "server", "share", "mcp", "cli", "wasm", "capi", "python", "xtask"];
    for name in PURE.iter().chain(&others) {
        for file in files(&root().join("crates").join(name).join("src"), &["rs"]) {
            let lines = std::fs::read_to_string(&file).unwrap().lines().count();
            assert!(lines <= 700, "{} has {lines} lines: one idea a file", file.display());
        }
    }
}
