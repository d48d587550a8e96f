//! The grower's folder: found by `--dir`, by `GUARDCELL_DIR`, or as the nearest parent with a site
//! file. A flag that names a file always comes before what the folder has.

use crate::error::{argument, bad_file};
use crate::input::{label, list, site, water};
use guardcell::Error;
use guardcell::advice::SiteDescription;
use guardcell::solution::{Label, WaterReport};
use guardcell_folder::{LABEL_ENDINGS, layout};
use std::path::{Path, PathBuf};

/// The variable that names the folder where no flag does.
const VARIABLE: &str = "GUARDCELL_DIR";

/// The word of `--water` for water without anything in it.
const PURE: &str = "pure";

/// Where files are looked for that no flag names.
#[derive(Debug, Clone)]
pub(crate) struct Home {
    root: Option<PathBuf>,
}

impl Home {
    /// The folder that is asked for, else the nearest; a folder that is asked for must exist.
    pub(crate) fn find(flag: Option<&Path>) -> Result<Self, Error> {
        let variable = std::env::var_os(VARIABLE).filter(|v| !v.is_empty()).map(PathBuf::from);
        let (asked, name) = match (flag, variable) {
            (Some(path), _) => (Some(path.to_path_buf()), "--dir"),
            (None, variable) => (variable, VARIABLE),
        };
        match asked {
            Some(path) if path.is_dir() => Ok(Self { root: Some(path) }),
            Some(path) => Err(argument(
                name,
                format!("{} is not a folder", path.display()),
                "name the folder with your site.toml, or make one with `guardcell init FOLDER`",
            )),
            None => Ok(Self { root: nearest() }),
        }
    }

    /// Nothing is looked for but what flags name.
    pub(crate) const fn nowhere() -> Self {
        Self { root: None }
    }

    /// The folder, where there is one.
    pub(crate) fn root(&self) -> Option<&Path> {
        self.root.as_deref()
    }

    /// A file or folder of the folder, where it exists.
    fn part(&self, name: &str) -> Option<PathBuf> {
        self.root.as_ref().map(|root| root.join(name)).filter(|path| path.exists())
    }

    fn needed(&self, flag: Option<&Path>, name: &str, option: &str) -> Result<PathBuf, Error> {
        if let Some(path) = flag {
            return Ok(path.to_path_buf());
        }
        if let Some(path) = self.part(name) {
            return Ok(path);
        }
        Err(match &self.root {
            Some(root) => argument(
                option,
                format!("{} has no {name}", show(root)),
                format!("write one (`guardcell check` says how), or name a file with {option}"),
            ),
            None => argument(
                option,
                format!(
                    "no file is named, and neither this folder nor a parent has a {}",
                    layout::SITE
                ),
                format!(
                    "go to your folder, name it with --dir, make one with `guardcell init`, or name \
                     a file with {option}"
                ),
            ),
        })
    }

    /// The site file.
    pub(crate) fn site_file(&self, flag: Option<&Path>) -> Result<PathBuf, Error> {
        self.needed(flag, layout::SITE, "--site")
    }

    /// The site file where a flag or the folder has one.
    pub(crate) fn site_if_any(&self, flag: Option<&Path>) -> Option<PathBuf> {
        flag.map(Path::to_path_buf).or_else(|| self.part(layout::SITE))
    }

    /// The site.
    pub(crate) fn site(&self, flag: Option<&Path>) -> Result<SiteDescription, Error> {
        site::read(&self.site_file(flag)?)
    }

    /// The collection file.
    pub(crate) fn collection_file(&self, flag: Option<&Path>) -> Result<PathBuf, Error> {
        self.needed(flag, layout::COLLECTION, "--collection")
    }

    /// The collection file where a flag or the folder has one.
    pub(crate) fn collection_if_any(&self, flag: Option<&Path>) -> Option<PathBuf> {
        flag.map(Path::to_path_buf).or_else(|| self.part(layout::COLLECTION))
    }

    /// The file or folder of labels, where a flag or the folder has one.
    pub(crate) fn labels_place(&self, flag: Option<&Path>) -> Result<Option<PathBuf>, Error> {
        if let Some(path) = flag {
            return Ok(Some(path.to_path_buf()));
        }
        match self.part(layout::LABELS) {
            Some(path) if !list::files(&path, &LABEL_ENDINGS)?.is_empty() => Ok(Some(path)),
            _ => Ok(None),
        }
    }

    /// The labels, with the file or folder they are in.
    pub(crate) fn labels(
        &self,
        flag: Option<&Path>,
    ) -> Result<Option<(PathBuf, Vec<Label>)>, Error> {
        match self.labels_place(flag)? {
            Some(path) => label::read(&path).map(|labels| Some((path, labels))),
            None => Ok(None),
        }
    }

    /// The one product: the one named, the one the site names, or the only one; none without a
    /// label.
    pub(crate) fn feed(
        &self,
        flag: Option<&Path>,
        wanted: &[String],
        site: Option<&SiteDescription>,
    ) -> Result<Option<(PathBuf, Label)>, Error> {
        let Some((path, labels)) = self.labels(flag)? else { return Ok(None) };
        let of_site = match (site, flag) {
            // A label that is named needs no site to choose among others.
            (None, Some(_)) => None,
            _ => self.of_site(site, guardcell_folder::usual_feed),
        };
        let names: Vec<String> = match of_site {
            Some(name) if wanted.is_empty() => vec![name],
            _ => wanted.to_vec(),
        };
        let (labels, names) = self.products(labels, &names, site)?;
        let label = guardcell_folder::choose_one(labels, &names, None)?;
        Ok(Some((path, label)))
    }

    /// Products as they were named, a feed of the site by the product of its label; and the labels,
    /// with the supplements of those feeds.
    pub(crate) fn products(
        &self,
        labels: Vec<Label>,
        wanted: &[String],
        site: Option<&SiteDescription>,
    ) -> Result<(Vec<Label>, Vec<String>), Error> {
        let own = if site.is_none() { self.site(None).ok() } else { None };
        let Some(site) = site.or(own.as_ref()) else { return Ok((labels, wanted.to_vec())) };
        let names = wanted.iter().map(|name| guardcell_folder::product_named(site, name)).collect();
        let labels = guardcell_folder::with_supplements(site, labels, wanted)
            .map_err(|e| e.in_file(layout::SITE))?;
        Ok((labels, names))
    }

    /// What a grower wrote in the site file: that of the request, else that of the folder.
    pub(crate) fn of_site<T>(
        &self,
        site: Option<&SiteDescription>,
        pick: impl Fn(&SiteDescription) -> Option<T>,
    ) -> Option<T> {
        match site {
            Some(site) => pick(site),
            None => self.site(None).ok().and_then(|site| pick(&site)),
        }
    }

    /// Every water report of the folder.
    pub(crate) fn water_files(&self) -> Result<Vec<PathBuf>, Error> {
        let found = match self.part(layout::WATERS) {
            Some(folder) => list::files(&folder, &["toml", "json"])?,
            None => Vec::new(),
        };
        if found.is_empty() {
            return Ok(self.part(layout::WATER).into_iter().collect());
        }
        Ok(found)
    }

    /// The file of the water that feeds are mixed with: a file, a water of the folder by its name,
    /// the one that the site names, or the only one. `None` is pure water.
    pub(crate) fn water_file(
        &self,
        flag: Option<&Path>,
        site: Option<&SiteDescription>,
    ) -> Result<Option<PathBuf>, Error> {
        if let Some(path) = flag {
            if path.exists() || path == Path::new("-") {
                return Ok(Some(path.to_path_buf()));
            }
            let word = path.to_string_lossy().to_lowercase();
            if word == PURE {
                return Ok(None);
            }
            let named = self.waters_named(&word)?;
            return match named.as_slice() {
                [one] => Ok(Some(one.clone())),
                // The system says why the file cannot be read.
                [] => Ok(Some(path.to_path_buf())),
                _ => Err(several("--water", &named)),
            };
        }
        let files = self.water_files()?;
        if files.len() < 2 {
            return Ok(files.into_iter().next());
        }
        let wanted = self.of_site(site, |s| s.grower.water.clone());
        let named = match &wanted {
            Some(name) => self.waters_named(&name.to_lowercase())?,
            None => files,
        };
        match (named.as_slice(), wanted) {
            ([one], _) => Ok(Some(one.clone())),
            ([], Some(name)) => Err(bad_file(
                show(&self.root.clone().unwrap_or_default().join(layout::SITE)),
                format!("`water = {name:?}`: no report of {}/ has this name", layout::WATERS),
                "write the name of a file there, without its ending",
            )),
            _ => Err(several("--water", &named)),
        }
    }

    /// Waters of the folder whose file name or own name is, or else has, these words.
    fn waters_named(&self, word: &str) -> Result<Vec<PathBuf>, Error> {
        let mut exact = Vec::new();
        let mut part = Vec::new();
        for path in self.water_files()? {
            let stem = path.file_stem().unwrap_or_default().to_string_lossy().to_lowercase();
            let own =
                water::read(&path).ok().and_then(|w| w.name).unwrap_or_default().to_lowercase();
            if stem == word || own == word {
                exact.push(path);
            } else if stem.contains(word) || own.contains(word) {
                part.push(path);
            }
        }
        Ok(if exact.is_empty() { part } else { exact })
    }

    /// The water, with its file; `None` is pure water.
    pub(crate) fn water(
        &self,
        flag: Option<&Path>,
        site: Option<&SiteDescription>,
    ) -> Result<Option<(PathBuf, WaterReport)>, Error> {
        match self.water_file(flag, site)? {
            Some(path) => water::read(&path).map(|report| Some((path, report))),
            None => Ok(None),
        }
    }

    /// Where the readings of the air are: tables and maps. Empty where there are none.
    pub(crate) fn conditions_files(&self, flag: Option<&Path>) -> Result<Vec<PathBuf>, Error> {
        match flag {
            Some(path) if path.is_dir() => return list::files(path, &["csv", "toml"]),
            Some(path) => return Ok(vec![path.to_path_buf()]),
            None => {}
        }
        let found = match self.part(layout::CONDITIONS) {
            Some(folder) => list::files(&folder, &["csv", "toml"])?,
            None => Vec::new(),
        };
        if !found.is_empty() {
            return Ok(found);
        }
        Ok(layout::CONDITIONS_FILES.iter().find_map(|name| self.part(name)).into_iter().collect())
    }

    /// The journal of the folder, whether it exists yet or not.
    pub(crate) fn journal_place(&self) -> Option<PathBuf> {
        self.root.as_ref().map(|root| root.join(layout::JOURNAL))
    }
}

/// The nearest folder with a site file, from the current one upwards.
fn nearest() -> Option<PathBuf> {
    if Path::new(layout::SITE).is_file() {
        // Names of files are then short in every answer.
        return Some(PathBuf::new());
    }
    let here = std::env::current_dir().ok()?;
    here.ancestors().skip(1).find(|dir| dir.join(layout::SITE).is_file()).map(Path::to_path_buf)
}

/// A folder as it is shown.
pub(crate) fn show(path: &Path) -> String {
    if path.as_os_str().is_empty() { "this folder".to_owned() } else { path.display().to_string() }
}

fn several(option: &str, files: &[PathBuf]) -> Error {
    let names: Vec<String> = files
        .iter()
        .map(|f| f.file_stem().unwrap_or_default().to_string_lossy().into_owned())
        .collect();
    argument(
        option,
        format!("there are {} waters: {}", files.len(), names.join(", ")),
        "name one with --water, or with `water` under [grower] in the site file",
    )
}
