//! Every library crate can be packaged for a registry, with what its build needs.

mod source;

use source::{metadata, root};
use std::process::Command;

#[test]
fn library_crates_can_be_packaged() {
    let metadata = metadata();
    let mut list = Vec::new();
    for package in metadata["packages"].as_array().unwrap() {
        if !package["publish"].is_null() {
            continue;
        }
        let name = package["name"].as_str().unwrap();
        for field in ["description", "license", "readme", "repository"] {
            let there = package[field].as_str().is_some_and(|text| !text.is_empty());
            assert!(there, "{name} has no {field}");
        }
        list.extend(["-p", name]);
    }
    assert!(list.len() >= 2 * 11, "{list:?}");
    let mut args = vec!["package", "--offline", "--allow-dirty", "--no-verify", "--quiet"];
    args.extend(list);
    let out = Command::new(env!("CARGO")).args(args).current_dir(root()).output().unwrap();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
}
