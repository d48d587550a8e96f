//! The project's own source files, for the tests that hold its shape.
#![allow(dead_code)] // each test uses a part

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The top of the project.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_path_buf()
}

/// The folders of all crates below `crates/`.
pub fn crates() -> Vec<PathBuf> {
    let mut dirs: Vec<_> = std::fs::read_dir(root().join("crates"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.join("Cargo.toml").exists())
        .collect();
    dirs.sort();
    assert!(dirs.len() > 10, "the crates are missing");
    dirs
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

/// The files of a crate by module path; the root is the empty path.
pub fn module_files(src: &Path) -> BTreeMap<String, PathBuf> {
    files(src, &["rs"])
        .into_iter()
        .map(|path| {
            let relative = path.strip_prefix(src).unwrap().with_extension("");
            let mut parts: Vec<String> =
                relative.iter().map(|p| p.to_string_lossy().into_owned()).collect();
            if parts.last().is_some_and(|last| last == "mod" || last == "lib" || last == "main") {
                parts.pop();
            }
            (parts.join("::"), path)
        })
        .collect()
}

/// Whether an item is compiled for tests only.
pub fn is_test(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|a| {
        a.path().is_ident("cfg") && a.parse_args::<syn::Ident>().is_ok_and(|ident| ident == "test")
    })
}
