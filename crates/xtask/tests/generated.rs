//! What is made from the source and committed is current.
#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stderr, missing_docs, reason = "a test")]

use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn current(path: &str, made: &str, how: &str) {
    let there = std::fs::read_to_string(root().join(path)).unwrap_or_default();
    let differs = there.lines().zip(made.lines()).position(|(a, b)| a != b);
    assert!(there == made, "{path} is stale from line {differs:?} on: run `cargo xtask {how}`");
}

#[test]
fn the_header_of_the_c_library() {
    use guardcell_xtask::header;
    current(header::PATH, &header::text(&root()).unwrap(), "header");
}

#[test]
fn the_forms_of_requests() {
    use guardcell_xtask::schemas::forms;
    current(forms::PATH, &forms::text().unwrap(), "schemas");
}

#[test]
fn the_types_of_the_package_for_npm() {
    for (path, made) in guardcell_xtask::npm::documents(&root()).unwrap() {
        current(&path, &made, "npm");
    }
}

#[test]
fn the_types_and_functions_of_the_python_package() {
    let documents = guardcell_xtask::python::documents(&root()).unwrap();
    assert_eq!(documents.len(), 2);
    for (path, made) in documents {
        current(&path, &made, "python");
    }
}
