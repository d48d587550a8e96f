//! What the program is made of: a software bill of materials (CycloneDX 1.6) and the licences of
//! everything in it, both from `cargo metadata` and the lock file, byte for byte the same each time.

use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::fmt::Write as _;
use std::path::Path;
use std::process::Command;

/// The package that is shipped.
const PROGRAM: &str = "guardcell-cli";
/// The platform whose dependencies are listed.
const PLATFORM: &str = "x86_64-unknown-linux-gnu";

type Outcome<T> = Result<T, Box<dyn Error>>;

/// A package that the program is built from.
struct Package {
    id: String,
    name: String,
    version: String,
    licence: String,
    folder: String,
    /// Whether it is from a registry rather than of this project.
    foreign: bool,
    needs: Vec<String>,
}

/// The program and everything it is built from, build scripts and macros included, tests not.
fn packages(root: &Path) -> Outcome<Vec<Package>> {
    let out = Command::new(std::env::var_os("CARGO").unwrap_or("cargo".into()))
        .args(["metadata", "--format-version", "1", "--locked", "--filter-platform", PLATFORM])
        .current_dir(root)
        .output()?;
    if !out.status.success() {
        return Err(String::from_utf8_lossy(&out.stderr).into_owned().into());
    }
    let metadata: Value = serde_json::from_slice(&out.stdout)?;
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let list = |value: &Value| value.as_array().cloned().unwrap_or_default();
    let mut needs = BTreeMap::new();
    for node in list(&metadata["resolve"]["nodes"]) {
        let of: Vec<String> = list(&node["deps"])
            .iter()
            .filter(|d| list(&d["dep_kinds"]).iter().any(|k| k["kind"] != "dev"))
            .map(|d| text(&d["pkg"]))
            .collect();
        needs.insert(text(&node["id"]), of);
    }
    let all = list(&metadata["packages"]);
    let program = all.iter().find(|p| p["name"] == PROGRAM).ok_or("the program is missing")?;
    let mut wanted = BTreeSet::new();
    let mut next = vec![text(&program["id"])];
    while let Some(id) = next.pop() {
        if wanted.insert(id.clone()) {
            next.extend(needs.get(&id).cloned().unwrap_or_default());
        }
    }
    let mut out: Vec<Package> = all
        .iter()
        .filter(|p| wanted.contains(&text(&p["id"])))
        .map(|p| Package {
            id: text(&p["id"]),
            name: text(&p["name"]),
            version: text(&p["version"]),
            licence: text(&p["license"]).replace('/', " OR "),
            folder: text(&p["manifest_path"]).trim_end_matches("Cargo.toml").to_owned(),
            foreign: !p["source"].is_null(),
            needs: needs.get(&text(&p["id"])).cloned().unwrap_or_default(),
        })
        .collect();
    out.sort_by(|a, b| (&a.name, &a.version).cmp(&(&b.name, &b.version)));
    Ok(out)
}

/// The checksums of the lock file by name and version.
fn checksums(root: &Path) -> Outcome<BTreeMap<(String, String), String>> {
    let lock: toml::Table = std::fs::read_to_string(root.join("Cargo.lock"))?.parse()?;
    let packages = lock.get("package").and_then(toml::Value::as_array).cloned().unwrap_or_default();
    let of = |p: &toml::Value, key: &str| p.get(key)?.as_str().map(str::to_owned);
    Ok(packages
        .iter()
        .filter_map(|p| Some(((of(p, "name")?, of(p, "version")?), of(p, "checksum")?)))
        .collect())
}

/// The bill of materials as CycloneDX JSON (ECMA-424), without time or serial number.
pub(crate) fn sbom(root: &Path) -> Outcome<String> {
    let packages = packages(root)?;
    let sums = checksums(root)?;
    let purl = |p: &Package| format!("pkg:cargo/{}@{}", p.name, p.version);
    let purls: BTreeMap<&str, String> = packages.iter().map(|p| (p.id.as_str(), purl(p))).collect();
    let component = |p: &Package, kind: &str| {
        let mut c = json!({
            "type": kind,
            "bom-ref": purl(p),
            "name": p.name,
            "version": p.version,
            "purl": purl(p),
            "licenses": [{ "expression": p.licence }],
        });
        if let Some(sum) = sums.get(&(p.name.clone(), p.version.clone())) {
            c["hashes"] = json!([{ "alg": "SHA-256", "content": sum }]);
        }
        c
    };
    let program = packages.iter().find(|p| p.name == PROGRAM).ok_or("the program is missing")?;
    let others = packages.iter().filter(|p| p.name != PROGRAM);
    let dependencies = packages.iter().map(|p| {
        let mut on: Vec<&String> = p.needs.iter().filter_map(|id| purls.get(id.as_str())).collect();
        on.sort();
        on.dedup();
        json!({ "ref": purl(p), "dependsOn": on })
    });
    let bom = json!({
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": { "component": component(program, "application") },
        "components": others.map(|p| component(p, "library")).collect::<Vec<_>>(),
        "dependencies": dependencies.collect::<Vec<_>>(),
    });
    Ok(serde_json::to_string_pretty(&bom)? + "\n")
}

/// The names and licences of what others wrote, and each text once.
pub(crate) fn licences(root: &Path) -> Outcome<String> {
    let mut out = String::from(
        "Software of others in guardcell, with its licences. Texts that are the same are given \
         once.\n\n",
    );
    let mut texts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for p in packages(root)?.iter().filter(|p| p.foreign) {
        if p.licence.is_empty() {
            return Err(format!("{} {} states no licence", p.name, p.version).into());
        }
        writeln!(out, "{} {}: {}", p.name, p.version, p.licence)?;
        for file in std::fs::read_dir(&p.folder)? {
            let path = file?.path();
            let name = path.file_name().unwrap_or_default().to_string_lossy().to_uppercase();
            let is_text = ["LICENSE", "LICENCE", "COPYING", "NOTICE", "UNLICENSE"]
                .iter()
                .any(|begin| name.starts_with(begin));
            if is_text && path.is_file() {
                let text = String::from_utf8_lossy(&std::fs::read(&path)?).trim().to_owned();
                texts.entry(text).or_default().push(format!("{} {}", p.name, p.version));
            }
        }
    }
    for (text, mut of) in texts {
        of.dedup();
        writeln!(out, "\n{}\n{}\n\n{text}", "-".repeat(80), of.join(", "))?;
    }
    Ok(out)
}
