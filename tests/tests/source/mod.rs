//! The project's own source files, for the tests that hold its shape.

#![allow(dead_code, reason = "each test file uses its part")]

pub mod modules;

use std::path::{Path, PathBuf};
use std::process::Command;

/// The top of the project.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_path_buf()
}

/// What cargo says of the crates of the project.
pub fn metadata() -> serde_json::Value {
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--no-deps", "--offline"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).unwrap()
}

/// Every file below a folder with one of these endings, build products and hidden folders omitted.
pub fn files(dir: &Path, endings: &[&str]) -> Vec<PathBuf> {
    let mut out = Vec::new();
    let Ok(entries) = std::fs::read_dir(dir) else { return out };
    for entry in entries {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() {
            if !["target", "node_modules"].contains(&name.as_str()) && !name.starts_with('.') {
                out.extend(files(&path, endings));
            }
        } else if path.extension().is_some_and(|e| endings.iter().any(|x| e == *x)) {
            out.push(path);
        }
    }
    out.sort();
    out
}
