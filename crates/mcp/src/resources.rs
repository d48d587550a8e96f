//! The files of a grower's folder and the last entries of its journal, to be read.

use guardcell::{Code, Error, excerpt};
use guardcell_folder::layout;
use guardcell_journal::{Journal, Selection};
use rmcp::model::{Resource, ResourceContents};
use std::io::Read as _;
use std::path::{Path, PathBuf};

/// Where the resources are.
const SCHEME: &str = "guardcell://folder/";
/// The last entries of the journal.
const LATEST: &str = "guardcell://journal/latest";
/// How many entries those are.
const ENTRIES: usize = 50;
/// The largest file that is read, bytes: a collection of ten thousand plants is a tenth of it.
const MOST_BYTES: u64 = 4 << 20;
/// The most files that are listed of one folder.
const MOST_FILES: usize = 200;

/// A grower's folder.
#[derive(Debug)]
pub(crate) struct Folder {
    root: Option<PathBuf>,
    journal: Option<PathBuf>,
}

impl Folder {
    /// The folder with its journal, or the one that is named; `None` where there is neither.
    pub(crate) fn new(root: Option<PathBuf>, journal: Option<PathBuf>) -> Option<Self> {
        let own = root.as_ref().map(|root| root.join(layout::JOURNAL));
        let journal = journal.or(own);
        (root.is_some() || journal.is_some()).then_some(Self { root, journal })
    }

    /// What can be read.
    pub(crate) fn list(&self) -> Result<Vec<Resource>, Error> {
        let mut out: Vec<Resource> = self
            .files()?
            .into_iter()
            .map(|(name, path)| {
                let resource = Resource::new(format!("{SCHEME}{name}"), name.as_str())
                    .with_title(title(&name))
                    .with_mime_type(media_type(&name));
                match path.metadata() {
                    Ok(about) => resource.with_size(about.len()),
                    Err(_) => resource,
                }
            })
            .collect();
        if self.existing_journal().is_some() {
            out.push(
                Resource::new(LATEST, "journal")
                    .with_title(format!("The last {ENTRIES} entries of the journal that stand"))
                    .with_mime_type("application/json"),
            );
        }
        Ok(out)
    }

    /// Reads one of them. Only what is listed is read, so that no address leads out of the folder.
    pub(crate) fn read(&self, uri: &str) -> Result<ResourceContents, Error> {
        if let (LATEST, Some(journal)) = (uri, self.existing_journal()) {
            let text = latest(journal)?;
            return Ok(ResourceContents::text(text, uri).with_mime_type("application/json"));
        }
        let listed =
            self.files()?.into_iter().find(|(name, _)| uri.strip_prefix(SCHEME) == Some(name));
        let Some((name, path)) = listed else {
            return Err(Error::new(
                Code::NotFound,
                format!("there is no resource {:?}", excerpt(uri, 80)),
                "read one of those that are listed",
            ));
        };
        let mime = media_type(&name);
        Ok(ResourceContents::text(text(&path)?, uri).with_mime_type(mime))
    }

    fn existing_journal(&self) -> Option<&Path> {
        self.journal.as_deref().filter(|path| path.is_file())
    }

    /// The files of the folder with their names in it, `/` between folders.
    fn files(&self) -> Result<Vec<(String, PathBuf)>, Error> {
        let Some(root) = &self.root else { return Ok(Vec::new()) };
        let mut out = Vec::new();
        let single = [layout::SITE, layout::COLLECTION, layout::WATER];
        for name in single.into_iter().chain(layout::CONDITIONS_FILES) {
            let path = root.join(name);
            if path.is_file() {
                out.push((name.to_owned(), path));
            }
        }
        for folder in [layout::WATERS, layout::LABELS, layout::CONDITIONS] {
            let mut names = Vec::new();
            let Ok(entries) = std::fs::read_dir(root.join(folder)) else { continue };
            for entry in entries.take(MOST_FILES) {
                let entry = entry.map_err(|e| io(&root.join(folder), e))?;
                let name = entry.file_name().to_string_lossy().into_owned();
                // Not what an editor or a system hides, and nothing but files.
                if !name.starts_with('.') && entry.path().is_file() {
                    names.push((format!("{folder}/{name}"), entry.path()));
                }
            }
            names.sort();
            out.extend(names);
        }
        Ok(out)
    }
}

fn title(name: &str) -> String {
    match name.split_once('/') {
        Some((layout::WATERS, file)) => format!("A water: {file}"),
        Some((layout::LABELS, file)) => format!("A label: {file}"),
        Some((layout::CONDITIONS, file)) => format!("Readings of the air: {file}"),
        _ => match name {
            layout::SITE => "The site: place, areas, grower".to_owned(),
            layout::COLLECTION => "The plants, one a row".to_owned(),
            layout::WATER => "The water".to_owned(),
            _ => "Readings of the air".to_owned(),
        },
    }
}

fn media_type(name: &str) -> &'static str {
    match name.rsplit_once('.') {
        Some((_, "toml")) => "application/toml",
        Some((_, "csv")) => "text/csv",
        Some((_, "json")) => "application/json",
        _ => "text/plain",
    }
}

/// A text file within bounds.
fn text(path: &Path) -> Result<String, Error> {
    let file = std::fs::File::open(path).map_err(|e| io(path, e))?;
    let mut bytes = Vec::new();
    file.take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(|e| io(path, e))?;
    if bytes.len() as u64 > MOST_BYTES {
        let detail = format!("the file is larger than {} MiB", MOST_BYTES >> 20);
        return Err(
            Error::new(Code::TooLarge, detail, "split it").in_file(path.display().to_string())
        );
    }
    String::from_utf8(bytes).map_err(|_| {
        Error::new(Code::MalformedFile, "the file is not UTF-8", "save it as UTF-8")
            .in_file(path.display().to_string())
    })
}

/// The last entries as a JSON array, the newest last.
fn latest(journal: &Path) -> Result<String, Error> {
    let entries = Journal::open_to_read(journal)?.entries(&Selection::default())?;
    let from = entries.len().saturating_sub(ENTRIES);
    serde_json::to_string_pretty(entries.get(from..).unwrap_or_default())
        .map_err(|e| Error::internal("the entries cannot be written as JSON").caused_by(e))
}

fn io(path: &Path, e: std::io::Error) -> Error {
    Error::new(Code::Io, e.to_string(), "check that the file can be read")
        .in_file(path.display().to_string())
        .caused_by(e)
}
