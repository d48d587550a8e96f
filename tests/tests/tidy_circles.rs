//! No two files of a crate import each other: a file can be read, tested and moved on its own.

mod source;

use source::{crates, module_files, root};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use syn::visit::Visit;

/// Circles that are allowed, each as two files of one crate (by module path) with the reason.
const ALLOWED: &[(&str, &str, &str, &str)] = &[];

#[test]
fn no_two_files_of_a_crate_import_each_other() {
    let mut found = Vec::new();
    for dir in crates() {
        let name = dir.file_name().unwrap().to_string_lossy().into_owned();
        for circle in circles(&imports(&dir.join("src"))) {
            let pairs: Vec<_> = circle.iter().collect();
            let allowed = ALLOWED.iter().any(|(c, a, b, _)| {
                *c == name && pairs.len() == 2 && pairs[0] == a && pairs[1] == b
            });
            if !allowed {
                found.push(format!(
                    "{name}: {}",
                    circle.into_iter().collect::<Vec<_>>().join(" <-> ")
                ));
            }
        }
    }
    assert!(
        found.is_empty(),
        "files that import each other (move what both need into a third):\n{}",
        found.join("\n")
    );
}

#[test]
fn a_circle_is_found() {
    let edge = |a: &str, b: &[&str]| (a.to_owned(), b.iter().map(|&s| s.to_owned()).collect());
    let graph = BTreeMap::from([
        edge("a", &["b"]),
        edge("b", &["c"]),
        edge("c", &["a"]),
        edge("d", &["a"]),
    ]);
    assert_eq!(circles(&graph), [BTreeSet::from(["a".to_owned(), "b".into(), "c".into()])]);
}

#[test]
fn every_allowed_circle_has_a_reason() {
    for (name, a, b, reason) in ALLOWED {
        assert!(reason.len() > 20 && root().join("crates").join(name).exists(), "{a} {b}");
    }
}

/// What each file of a crate imports from other files of it, by module path (`text::read`).
fn imports(src: &Path) -> BTreeMap<String, BTreeSet<String>> {
    let files = module_files(src);
    let modules: BTreeSet<&str> = files.keys().map(String::as_str).collect();
    let parsed: BTreeMap<&str, syn::File> =
        files.iter().map(|(module, path)| (module.as_str(), parse(path))).collect();
    // Names that a module re-exports: module -> name -> path.
    let exports: BTreeMap<&str, BTreeMap<String, Vec<String>>> =
        parsed.iter().map(|(module, file)| (*module, re_exports(file))).collect();
    parsed
        .iter()
        .map(|(module, file)| {
            let mut paths = Paths::default();
            paths.visit_file(file);
            let targets = paths
                .found
                .iter()
                .filter_map(|path| resolve(module, path, &modules, &exports, 0))
                .filter(|target| target != module && !is_above(module, target))
                .collect();
            ((*module).to_owned(), targets)
        })
        .collect()
}

/// A module that declares another is above it; that it names what is below is no import.
fn is_above(module: &str, other: &str) -> bool {
    module.is_empty() || other.strip_prefix(module).is_some_and(|rest| rest.starts_with("::"))
}

fn parse(path: &PathBuf) -> syn::File {
    let text = std::fs::read_to_string(path).unwrap();
    syn::parse_file(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn resolve(
    from: &str,
    path: &[String],
    modules: &BTreeSet<&str>,
    exports: &BTreeMap<&str, BTreeMap<String, Vec<String>>>,
    depth: usize,
) -> Option<String> {
    if depth > 8 {
        return None;
    }
    let mut at: Vec<&str> = if from.is_empty() { vec![] } else { from.split("::").collect() };
    let mut rest = path;
    match rest.first().map(String::as_str)? {
        "crate" => {
            at.clear();
            rest = &rest[1..];
        }
        "self" => rest = &rest[1..],
        "super" => {
            while rest.first().is_some_and(|s| s == "super") {
                at.pop();
                rest = &rest[1..];
            }
        }
        first => {
            // A child module, named without `self`.
            let child = join(&at, first);
            if !modules.contains(child.as_str()) {
                return None;
            }
        }
    }
    while let Some(next) = rest.first() {
        let child = join(&at, next);
        if !modules.contains(child.as_str()) {
            break;
        }
        at.push(next);
        rest = &rest[1..];
    }
    let module = at.join("::");
    if let Some(name) = rest.first()
        && let Some(target) = exports.get(module.as_str()).and_then(|e| e.get(name))
        && let Some(found) = resolve(&module, target, modules, exports, depth + 1)
    {
        return Some(found);
    }
    // The root of the crate only declares.
    (!module.is_empty()).then_some(module)
}

fn join(at: &[&str], next: &str) -> String {
    at.iter().copied().chain([next]).collect::<Vec<_>>().join("::")
}

fn re_exports(file: &syn::File) -> BTreeMap<String, Vec<String>> {
    let mut out = BTreeMap::new();
    for item in &file.items {
        if let syn::Item::Use(item) = item
            && !matches!(item.vis, syn::Visibility::Inherited)
        {
            for path in use_paths(&item.tree) {
                if let Some(name) = path.last().cloned() {
                    out.insert(name, path);
                }
            }
        }
    }
    out
}

fn use_paths(tree: &syn::UseTree) -> Vec<Vec<String>> {
    match tree {
        syn::UseTree::Path(p) => use_paths(&p.tree)
            .into_iter()
            .map(|rest| std::iter::once(p.ident.to_string()).chain(rest).collect())
            .collect(),
        syn::UseTree::Name(n) if n.ident == "self" => vec![vec![]],
        syn::UseTree::Name(n) => vec![vec![n.ident.to_string()]],
        syn::UseTree::Rename(r) => vec![vec![r.ident.to_string()]],
        syn::UseTree::Glob(_) => vec![vec![]],
        syn::UseTree::Group(g) => g.items.iter().flat_map(use_paths).collect(),
    }
}

/// Every path of a file that is not within a test module.
#[derive(Default)]
struct Paths {
    found: Vec<Vec<String>>,
}

impl<'ast> Visit<'ast> for Paths {
    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !source::is_test(&item.attrs) {
            syn::visit::visit_item_mod(self, item);
        }
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        if !source::is_test(&item.attrs) {
            self.found.extend(use_paths(&item.tree));
        }
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        if path.segments.len() > 1 {
            self.found.push(path.segments.iter().map(|s| s.ident.to_string()).collect());
        }
        syn::visit::visit_path(self, path);
    }
}

/// The sets of files that reach each other.
fn circles(graph: &BTreeMap<String, BTreeSet<String>>) -> Vec<BTreeSet<String>> {
    let reach = |from: &String| {
        let mut seen = BTreeSet::new();
        let mut open = vec![from];
        while let Some(at) = open.pop() {
            for next in graph.get(at).into_iter().flatten() {
                if seen.insert(next.clone()) {
                    open.push(next);
                }
            }
        }
        seen
    };
    let reached: BTreeMap<&String, BTreeSet<String>> =
        graph.keys().map(|k| (k, reach(k))).collect();
    let mut out: Vec<BTreeSet<String>> = Vec::new();
    for (module, there) in &reached {
        let circle: BTreeSet<String> = there
            .iter()
            .filter(|other| reached.get(other).is_some_and(|back| back.contains(*module)))
            .cloned()
            .collect();
        if circle.len() > 1 && !out.contains(&circle) {
            out.push(circle);
        }
    }
    out
}
