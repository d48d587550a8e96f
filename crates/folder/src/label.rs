//! Labels: TOML, JSON, CSV or the text of a guaranteed analysis.

use crate::fault::{self, bad_file};
use guardcell::Error;
use guardcell::solution::Label;

/// The endings of files that hold labels.
pub const LABEL_ENDINGS: [&str; 4] = ["toml", "json", "csv", "txt"];

/// Reads the labels of one file; the ending of its name says how it is written.
///
/// # Errors
///
/// An ending that is not one of [`LABEL_ENDINGS`], or a text that is not a label, in the file of this
/// name.
///
/// ```
/// let text = "name = \"Fernhollow Test\"\n[guaranteed]\nn_percent = 20";
/// assert_eq!(guardcell_folder::labels("test.toml", text)?[0].name, "Fernhollow Test");
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn labels(name: &str, text: &str) -> Result<Vec<Label>, Error> {
    let ending = name.rsplit_once('.').map_or("", |(_, e)| e).to_lowercase();
    let labels = match ending.as_str() {
        "toml" => Label::from_toml(text),
        "json" => Label::from_json(text),
        "csv" => Label::from_csv(text),
        "txt" => Label::from_text(text).map(|l| vec![l]),
        other => {
            return Err(bad_file(
                name,
                format!("{other:?} is not a kind of label file"),
                "name it .toml, .json, .csv or .txt",
            ));
        }
    };
    labels.map_err(|e| e.in_file(name))
}

/// The products named by `wanted`, each a name or a part of it that fits one label only; all of
/// them where nothing is named.
///
/// # Errors
///
/// A name that fits no label or several, with the names there are.
///
/// ```
/// assert!(guardcell_folder::choose(Vec::new(), &["Mist".into()]).is_err());
/// ```
pub fn choose(labels: Vec<Label>, wanted: &[String]) -> Result<Vec<Label>, Error> {
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
                ([], []) => Err(fault::answer(
                    "the product",
                    format!("no label is named {name:?}"),
                    format!("name one of {}", names(&labels)),
                )),
                _ => Err(fault::answer(
                    "the product",
                    format!("{name:?} fits several labels"),
                    format!("name one of {}", names(&labels)),
                )),
            }
        })
        .collect()
}

/// The one product of a round: the one named, the one the site names, or the only one.
///
/// # Errors
///
/// As [`choose`]; and where several are left, with their names.
///
/// ```
/// assert!(guardcell_folder::choose_one(Vec::new(), &[], None).is_err());
/// ```
pub fn choose_one(
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
        return Err(fault::answer(
            "--label",
            format!("there are {} products: {}", chosen.len(), names(&chosen)),
            "name one with --product, or with `feed` under [grower] in the site file",
        ));
    }
    chosen.pop().ok_or_else(|| {
        fault::answer("--label", "there is no product", "give the label of the feed")
    })
}

fn names(labels: &[Label]) -> String {
    let names: Vec<String> = labels.iter().map(|l| format!("{:?}", l.name)).collect();
    names.join(", ")
}
