//! Which file of a crate imports which, read from the source with `syn`.
//!
//! A path is followed through `use`, `pub use` and glob imports to the file that defines the name, so
//! that `crate::Thing`, re-exported by `lib.rs`, counts as an import of the file of `Thing`.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use proc_macro2::{TokenStream, TokenTree};
use syn::visit::Visit;

/// The files of a crate and what each imports of the same crate, by path below `src`.
pub type Imports = BTreeMap<String, BTreeSet<String>>;

/// Reads a crate from its `src` folder. Code under `#[cfg(test)]` is not part of it.
pub fn imports(src: &Path) -> Imports {
    let mut house = House { src: src.to_path_buf(), modules: BTreeMap::new() };
    house.read(Vec::new(), src.join("lib.rs"), src.to_path_buf());
    let mut out = Imports::new();
    for module in house.modules.values() {
        let own = house.name(&module.file);
        let edges = out.entry(own.clone()).or_default();
        let reached = module.uses.iter().map(|u| &u.path).chain(&module.paths);
        for path in reached.chain(&module.globs) {
            if let Some(file) = house.resolve(&module.path, path, 0) {
                let name = house.name(&file);
                if name != own {
                    edges.insert(name);
                }
            }
        }
    }
    out
}

/// The groups of files that reach each other, each sorted; a file alone is not listed.
pub fn circles(imports: &Imports) -> Vec<Vec<String>> {
    let reached: BTreeMap<&str, BTreeSet<&str>> =
        imports.keys().map(|file| (file.as_str(), reach(imports, file))).collect();
    let mut seen = BTreeSet::new();
    let mut out = Vec::new();
    for file in imports.keys() {
        if seen.contains(file.as_str()) {
            continue;
        }
        let group: Vec<String> = reached[file.as_str()]
            .iter()
            .filter(|other| reached[*other].contains(file.as_str()))
            .map(|other| (*other).to_owned())
            .collect();
        if !group.is_empty() {
            seen.extend(imports.keys().filter(|f| group.contains(f)).map(String::as_str));
            out.push(group);
        }
    }
    out
}

fn reach<'a>(imports: &'a Imports, from: &str) -> BTreeSet<&'a str> {
    let mut found = BTreeSet::new();
    let mut open: Vec<&str> = imports[from].iter().map(String::as_str).collect();
    while let Some(file) = open.pop() {
        if found.insert(file) {
            open.extend(imports.get(file).into_iter().flatten().map(String::as_str));
        }
    }
    found
}

/// A `use` of one name.
struct Import {
    name: String,
    path: Vec<String>,
}

#[derive(Default)]
struct Module {
    path: Vec<String>,
    file: PathBuf,
    children: BTreeSet<String>,
    items: BTreeSet<String>,
    uses: Vec<Import>,
    globs: Vec<Vec<String>>,
    paths: Vec<Vec<String>>,
}

struct House {
    src: PathBuf,
    modules: BTreeMap<Vec<String>, Module>,
}

impl House {
    fn name(&self, file: &Path) -> String {
        file.strip_prefix(&self.src).unwrap().display().to_string()
    }

    fn read(&mut self, path: Vec<String>, file: PathBuf, folder: PathBuf) {
        let text = std::fs::read_to_string(&file).unwrap();
        let parsed = syn::parse_file(&text).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
        self.module(path, &file, &folder, &parsed.items);
    }

    fn module(&mut self, path: Vec<String>, file: &Path, folder: &Path, items: &[syn::Item]) {
        let mut module =
            Module { path: path.clone(), file: file.to_path_buf(), ..Module::default() };
        for item in items {
            if for_tests(attributes(item)) {
                continue;
            }
            if let syn::Item::Mod(inner) = item {
                let name = inner.ident.to_string();
                module.children.insert(name.clone());
                let mut below = path.clone();
                below.push(name.clone());
                let own = folder.join(&name);
                if let Some((_, inline)) = &inner.content {
                    self.module(below, file, &own, inline);
                } else {
                    let flat = folder.join(format!("{name}.rs"));
                    let file = if flat.exists() { flat } else { own.join("mod.rs") };
                    self.read(below, file, own);
                }
            } else {
                module.take(item);
            }
        }
        self.modules.insert(path, module);
    }

    /// The file that defines what a path names, seen from a module; `None` for another crate.
    fn resolve(&self, from: &[String], path: &[String], depth: usize) -> Option<PathBuf> {
        if depth > 16 || path == ["crate"] {
            return None;
        }
        let (mut at, mut rest) = (from.to_vec(), path);
        match path.first()?.as_str() {
            "crate" => (at, rest) = (Vec::new(), &path[1..]),
            "self" => rest = &path[1..],
            "super" => {
                while rest.first().is_some_and(|s| s == "super") {
                    at.pop()?;
                    rest = &rest[1..];
                }
            }
            first => {
                let here = &self.modules[from];
                let known = here.children.contains(first)
                    || here.items.contains(first)
                    || here.uses.iter().any(|u| u.name == first && u.path != [first])
                    || !here.globs.is_empty();
                if !known {
                    return None;
                }
            }
        }
        let own = path[0] != "crate" && path[0] != "self" && path[0] != "super";
        self.walk(&at, rest, own, depth)
    }

    fn walk(&self, at: &[String], rest: &[String], own: bool, depth: usize) -> Option<PathBuf> {
        let module = self.modules.get(at)?;
        let Some(name) = rest.first() else { return Some(module.file.clone()) };
        if module.children.contains(name) {
            let mut below = at.to_vec();
            below.push(name.clone());
            return self.walk(&below, &rest[1..], false, depth);
        }
        if module.items.contains(name) {
            return Some(module.file.clone());
        }
        if let Some(import) = module.uses.iter().find(|u| u.name == *name) {
            if import.path == [name.clone()] {
                return None;
            }
            let full: Vec<String> = import.path.iter().chain(&rest[1..]).cloned().collect();
            return self.resolve(at, &full, depth + 1);
        }
        for glob in &module.globs {
            let full: Vec<String> = glob.iter().chain(rest).cloned().collect();
            if let Some(found) = self.named(at, &full, depth + 1) {
                return Some(found);
            }
        }
        // a variant, a method, a macro, or a name of the prelude
        if own { None } else { Some(module.file.clone()) }
    }

    /// Like [`House::resolve`], where the last module has to know the name.
    fn named(&self, from: &[String], path: &[String], depth: usize) -> Option<PathBuf> {
        let (last, module) = path.split_last()?;
        let file = self.resolve(from, module, depth)?;
        let holds = self.modules.values().find(|m| m.file == file)?;
        holds.items.contains(last).then_some(file)
    }
}

impl Module {
    fn take(&mut self, item: &syn::Item) {
        match item {
            syn::Item::Use(tree) => self.tree(&mut Vec::new(), &tree.tree),
            syn::Item::Struct(x) => self.item(&x.ident),
            syn::Item::Enum(x) => self.item(&x.ident),
            syn::Item::Union(x) => self.item(&x.ident),
            syn::Item::Fn(x) => self.item(&x.sig.ident),
            syn::Item::Const(x) => self.item(&x.ident),
            syn::Item::Static(x) => self.item(&x.ident),
            syn::Item::Trait(x) => self.item(&x.ident),
            syn::Item::Type(x) => self.item(&x.ident),
            syn::Item::Macro(x) => {
                if let Some(name) = &x.ident {
                    self.item(name);
                }
            }
            _ => {}
        }
        let mut paths = Paths::default();
        paths.visit_item(item);
        self.paths.extend(paths.found);
    }

    fn item(&mut self, name: &syn::Ident) {
        self.items.insert(name.to_string());
    }

    fn tree(&mut self, prefix: &mut Vec<String>, tree: &syn::UseTree) {
        match tree {
            syn::UseTree::Path(step) => {
                prefix.push(step.ident.to_string());
                self.tree(prefix, &step.tree);
                prefix.pop();
            }
            syn::UseTree::Name(leaf) => self.import(prefix, &leaf.ident, &leaf.ident),
            syn::UseTree::Rename(leaf) => self.import(prefix, &leaf.ident, &leaf.rename),
            syn::UseTree::Glob(_) => self.globs.push(prefix.clone()),
            syn::UseTree::Group(group) => {
                for tree in &group.items {
                    self.tree(prefix, tree);
                }
            }
        }
    }

    fn import(&mut self, prefix: &[String], leaf: &syn::Ident, name: &syn::Ident) {
        let mut path = prefix.to_vec();
        let mut name = name.to_string();
        if leaf == "self" {
            name = if name == "self" { path.last().cloned().unwrap_or_default() } else { name };
        } else {
            path.push(leaf.to_string());
        }
        self.uses.push(Import { name, path });
    }
}

/// The paths that an item mentions, those in macro calls included.
#[derive(Default)]
struct Paths {
    found: Vec<Vec<String>>,
}

impl Paths {
    fn tokens(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let mut colons = 0;
        for token in tokens {
            match token {
                TokenTree::Ident(ident) => {
                    if colons != 2 && !path.is_empty() {
                        self.found.push(std::mem::take(&mut path));
                    }
                    path.push(ident.to_string());
                    colons = 0;
                }
                TokenTree::Punct(punct) if punct.as_char() == ':' => colons += 1,
                TokenTree::Group(group) => {
                    self.found.extend((!path.is_empty()).then(|| std::mem::take(&mut path)));
                    self.tokens(group.stream());
                    colons = 0;
                }
                _ => {
                    self.found.extend((!path.is_empty()).then(|| std::mem::take(&mut path)));
                    colons = 0;
                }
            }
        }
        self.found.extend((!path.is_empty()).then_some(path));
    }

    /// In a definition `super` and `self` depend on the call: only other paths are followed.
    fn defined(&mut self, tokens: TokenStream) {
        let mut inner = Self::default();
        inner.tokens(tokens);
        let fixed =
            |p: &Vec<String>| !matches!(p.first().map(String::as_str), Some("super" | "self"));
        self.found.extend(inner.found.into_iter().filter(fixed));
    }
}

impl<'ast> Visit<'ast> for Paths {
    fn visit_path(&mut self, path: &'ast syn::Path) {
        if path.leading_colon.is_none() {
            self.found.push(path.segments.iter().map(|s| s.ident.to_string()).collect());
        }
        syn::visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        self.tokens(call.tokens.clone());
        syn::visit::visit_macro(self, call);
    }

    fn visit_item_macro(&mut self, item: &'ast syn::ItemMacro) {
        if item.ident.is_some() {
            self.defined(item.mac.tokens.clone());
        } else {
            self.visit_macro(&item.mac);
        }
    }

    fn visit_item_use(&mut self, _: &'ast syn::ItemUse) {}

    fn visit_visibility(&mut self, _: &'ast syn::Visibility) {}

    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}
}

fn for_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|a| {
        a.path().is_ident("cfg")
            && a.parse_args::<TokenStream>().is_ok_and(|t| t.to_string().contains("test"))
    })
}

fn attributes(item: &syn::Item) -> &[syn::Attribute] {
    match item {
        syn::Item::Const(x) => &x.attrs,
        syn::Item::Enum(x) => &x.attrs,
        syn::Item::Fn(x) => &x.attrs,
        syn::Item::Impl(x) => &x.attrs,
        syn::Item::Macro(x) => &x.attrs,
        syn::Item::Mod(x) => &x.attrs,
        syn::Item::Static(x) => &x.attrs,
        syn::Item::Struct(x) => &x.attrs,
        syn::Item::Trait(x) => &x.attrs,
        syn::Item::Type(x) => &x.attrs,
        syn::Item::Use(x) => &x.attrs,
        _ => &[],
    }
}
