//! Labels: TOML, JSON, CSV or the text of a guaranteed analysis; one file or a folder.

use crate::error::{Located, argument, bad_file, io};
use crate::input::text;
use guardcell::Error;
use guardcell::solution::Label;
use std::path::{Path, PathBuf};

/// Reads every label of a file or folder, in order of file name.
pub(crate) fn read(path: &Path) -> Result<Vec<Label>, Error> {
    if !path.is_dir() {
        return read_file(path);
    }
    let failed = |what| io(path, what);
    let mut files: Vec<PathBuf> = Vec::new();
    for entry in std::fs::read_dir(path).map_err(failed)? {
        let entry = entry.map_err(failed)?.path();
        // A pipe in the folder would be waited for.
        let is_label = matches!(extension(&entry).as_str(), "toml" | "json" | "csv" | "txt");
        if is_label && entry.is_file() {
            files.push(entry);
        }
    }
    files.sort();
    if files.is_empty() {
        return Err(bad_file(
            path.display(),
            "the folder holds no label",
            "put labels in it as .toml, .json, .csv or .txt",
        ));
    }
    let mut labels = Vec::new();
    for f in files {
        labels.extend(read_file(&f)?);
    }
    Ok(labels)
}

fn extension(path: &Path) -> String {
    path.extension().and_then(|e| e.to_str()).unwrap_or_default().to_lowercase()
}

fn read_file(path: &Path) -> Result<Vec<Label>, Error> {
    let text = text::read(path)?;
    let labels = match extension(path).as_str() {
        "toml" => Label::from_toml(&text),
        "json" => Label::from_json(&text),
        "csv" => Label::from_csv(&text),
        "txt" => Label::from_text(&text).map(|l| vec![l]),
        other => {
            return Err(bad_file(
                path.display(),
                format!("{other:?} is not a kind of label file"),
                "name it .toml, .json, .csv or .txt",
            ));
        }
    };
    labels.map_err(|e| e.in_path(path))
}

/// The products named by `wanted`, each a name or a part of it that fits one label only; all of
/// them where nothing is named.
pub(crate) fn choose(labels: Vec<Label>, wanted: &[String]) -> Result<Vec<Label>, Error> {
    if wanted.is_empty() {
        return Ok(labels);
    }
    wanted
        .iter()
        .map(|name| {
            let lower = name.to_lowercase();
            let exact: Vec<&Label> =
                labels.iter().filter(|l| l.name.to_lowercase() == lower).collect();
            let part: Vec<&Label> =
                labels.iter().filter(|l| l.name.to_lowercase().contains(&lower)).collect();
            match (exact.as_slice(), part.as_slice()) {
                ([one], _) | ([], [one]) => Ok((*one).clone()),
                ([], []) => Err(argument(
                    "the product",
                    format!("no label is named {name:?}"),
                    format!("name one of {}", names(&labels)),
                )),
                _ => Err(argument(
                    "the product",
                    format!("{name:?} fits several labels"),
                    format!("name one of {}", names(&labels)),
                )),
            }
        })
        .collect()
}

/// The one product of a round: the one named, the one the site names, or the only one.
pub(crate) fn choose_one(
    labels: Vec<Label>,
    wanted: &[String],
    site: Option<&String>,
) -> Result<Label, Error> {
    let wanted: Vec<String> = match (wanted, site) {
        ([], Some(name)) => vec![name.clone()],
        (names, _) => names.to_vec(),
    };
    let mut chosen = choose(labels, &wanted)?;
    if chosen.len() > 1 {
        return Err(argument(
            "--label",
            format!("there are {} products: {}", chosen.len(), names(&chosen)),
            "name one with --product, or with `feed` under [grower] in the site file",
        ));
    }
    chosen
        .pop()
        .ok_or_else(|| argument("--label", "there is no product", "give the label of the feed"))
}

fn names(labels: &[Label]) -> String {
    let names: Vec<String> = labels.iter().map(|l| format!("{:?}", l.name)).collect();
    names.join(", ")
}
