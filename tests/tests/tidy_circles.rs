//! Files of a crate do not import each other in circles, so that each can be read on its own.

mod source;

use source::modules::{circles, imports};
use source::root;

/// Circles that stay, each with its reason. Keep it short.
const ALLOWED: &[(&str, &[&str], &str)] = &[];

#[test]
fn no_files_import_each_other() {
    let mut found = Vec::new();
    let mut used = 0;
    let mut crates = 0;
    for entry in std::fs::read_dir(root().join("crates")).unwrap() {
        let path = entry.unwrap().path();
        let src = path.join("src");
        if !src.join("lib.rs").exists() {
            continue;
        }
        crates += 1;
        let name = path.file_name().unwrap().to_str().unwrap().to_owned();
        for circle in circles(&imports(&src)) {
            if ALLOWED.iter().any(|(of, files, _)| *of == name && circle == *files) {
                used += 1;
            } else {
                found.push(format!("{name}: {}", circle.join(", ")));
            }
        }
    }
    assert!(crates > 10, "only {crates} crates were read");
    found.sort();
    assert!(found.is_empty(), "{} circles:\n{}", found.len(), found.join("\n"));
    assert_eq!(used, ALLOWED.len(), "an allowed circle is gone: remove it from the list");
}

#[test]
fn a_circle_is_found_through_a_re_export() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    };
    write("lib.rs", "mod sun; mod light; mod deep; pub use sun::Sun; pub use deep::Well;");
    write(
        "sun.rs",
        "use crate::deep::Well; pub struct Sun; fn f() { crate::light::shine(); let _: Well; }",
    );
    write("light.rs", "use crate::Sun; pub fn shine() {} fn g(_: Sun) {}");
    write(
        "deep/mod.rs",
        "mod a; mod b; pub struct Well; #[cfg(test)] mod tests { use crate::Sun; }",
    );
    write("deep/a.rs", "use super::b; pub fn x() { b::y() }");
    write("deep/b.rs", "pub fn y() { println!(\"{}\", super::a::x()) }");
    let found = circles(&imports(folder.path()));
    assert_eq!(found, [vec!["deep/a.rs", "deep/b.rs"], vec!["light.rs", "sun.rs"]]);
}
