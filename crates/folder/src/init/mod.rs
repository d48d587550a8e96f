//! A new folder from a few answers: each answer is read by itself, so that it can be refused at
//! once, and then all become files that a person can edit.

mod areas;
mod feed;
mod place;
mod plants;
mod site_file;
mod tools;
mod water;

pub use areas::{Area, areas};
pub use feed::feed;
pub use place::{Where, place};
pub use plants::{COLUMNS, plants};
pub use tools::{Tools, tools};
pub use water::water;

use crate::layout;
use guardcell::Error;
use guardcell::advice::Reading;

/// A file of the new folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewFile {
    /// Its path in the folder, `/` between parts.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// What the new folder is made from.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct NewFolder {
    /// The name of the site.
    pub name: String,
    /// Where it is.
    pub place: Where,
    /// Its areas.
    pub areas: Vec<Area>,
    /// The collection (CSV).
    pub collection: String,
    /// The label, with the name of its file.
    pub label: Option<(String, String)>,
    /// The water report, with the name of its file.
    pub water: Option<(String, String)>,
    /// Readings of the air, with the name of their file.
    pub air: Option<(String, String)>,
    /// Mister, scale and hours.
    pub tools: Tools,
}

impl NewFolder {
    /// A folder with a place and areas, and nothing in it yet.
    ///
    /// ```
    /// use guardcell_folder::init;
    /// let place = init::place("Europe/London", None)?;
    /// let folder = init::NewFolder::new("Home", place, init::areas("windowsill")?);
    /// let files = folder.files()?;
    /// assert_eq!(files[0].name, "site.toml");
    /// assert_eq!(guardcell_folder::site("site.toml", &files[0].text)?.name, "Home");
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    #[must_use]
    pub fn new(name: impl Into<String>, place: Where, areas: Vec<Area>) -> Self {
        Self {
            name: name.into(),
            place,
            areas,
            collection: format!("{COLUMNS}\n"),
            label: None,
            water: None,
            air: None,
            tools: Tools::default(),
        }
    }

    /// The files, each checked by reading it again.
    ///
    /// # Errors
    ///
    /// A file that was taken over and cannot be read, with its place.
    pub fn files(&self) -> Result<Vec<NewFile>, Error> {
        let site = site_file::site_file(&self.name, &self.place, &self.areas, &self.tools);
        crate::site(layout::SITE, &site)?;
        let mut out = vec![file(layout::SITE, site)];
        // A collection without plants is not a collection yet, and is written all the same.
        if self.collection.lines().count() > 1 {
            crate::collection(layout::COLLECTION, &self.collection)?;
        }
        out.push(file(layout::COLLECTION, self.collection.clone()));
        if let Some((name, text)) = &self.label {
            crate::labels(name, text)?;
            out.push(file(format!("{}/{name}", layout::LABELS), text.clone()));
        }
        if let Some((name, text)) = &self.water {
            crate::water(name, text)?;
            out.push(file(format!("{}/{name}", layout::WATERS), text.clone()));
        }
        if let Some((name, text)) = &self.air {
            // A map is read by whoever follows it.
            if !name.to_lowercase().ends_with(".toml") {
                crate::readings(name, text)?;
            }
            out.push(file(format!("{}/{name}", layout::CONDITIONS), text.clone()));
        }
        Ok(out)
    }
}

fn file(name: impl Into<String>, text: String) -> NewFile {
    NewFile { name: name.into(), text }
}

/// The table of readings (CSV) that begins with one reading.
///
/// ```
/// let reading = guardcell::advice::Reading::new("2026-06-21T06:00:00Z", 18.5, 80.0);
/// let text = guardcell_folder::init::table_of(&reading);
/// assert_eq!(guardcell_folder::readings("air.csv", &text)?.readings, [reading]);
/// # Ok::<(), guardcell::Error>(())
/// ```
#[must_use]
pub fn table_of(reading: &Reading) -> String {
    let some = |v: Option<f64>| v.map_or(String::new(), |v| v.to_string());
    format!(
        "time,area,temp_c,rh_percent,air_m_s\n{},{},{},{},{}\n",
        reading.time,
        reading.area.as_deref().unwrap_or_default(),
        reading.temp_c,
        reading.rh_percent,
        some(reading.air_m_s)
    )
}
