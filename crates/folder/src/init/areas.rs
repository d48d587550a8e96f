//! The areas: what shelters them and what lights them.

use crate::fault::answer;
use crate::time::hour;
use guardcell::Error;
use guardcell::advice::Shelter;
use guardcell::clock::LightKind;

/// One area as it was answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Area {
    /// The identifier that plants and readings name.
    pub id: String,
    /// The name in words.
    pub name: String,
    /// What it was taken for.
    pub shelter: Shelter,
    /// What lights it.
    pub light: LightKind,
    /// When the lamps are on, `HH:MM`; empty without lamps.
    pub lamps: Vec<(String, String)>,
    /// What was taken for granted and is to be looked at.
    pub notes: Vec<&'static str>,
}

struct Kind {
    words: &'static str,
    shelter: Shelter,
    note: &'static str,
}

const fn kind(words: &'static str, shelter: Shelter, note: &'static str) -> Kind {
    Kind { words, shelter, note }
}

/// What an area may be. Longer words come first where one is part of another.
const KINDS: [Kind; 19] = [
    kind("lean-to", Shelter::Glass, "a lean-to is taken as glass: it sees less than half the sky"),
    kind(
        "shade house",
        Shelter::Outdoors,
        "a shade house is taken as outdoors: it is stiller and dimmer",
    ),
    kind(
        "shadehouse",
        Shelter::Outdoors,
        "a shade house is taken as outdoors: it is stiller and dimmer",
    ),
    kind(
        "covered patio",
        Shelter::Outdoors,
        "a covered patio is taken as outdoors: no rain or dew reaches it",
    ),
    kind("patio", Shelter::Outdoors, ""),
    kind("greenhouse", Shelter::Glass, ""),
    kind("conservatory", Shelter::Glass, ""),
    kind("glass", Shelter::Glass, ""),
    kind("windowsill", Shelter::Room, ""),
    kind("window", Shelter::Room, ""),
    kind("cabinet", Shelter::Room, "a cabinet is taken as a room: read the air inside it"),
    kind("terrarium", Shelter::Room, "a terrarium is taken as a room: read the air inside it"),
    kind("shelf", Shelter::Room, ""),
    kind("room", Shelter::Room, ""),
    kind("balcony", Shelter::Outdoors, ""),
    kind("terrace", Shelter::Outdoors, ""),
    kind("garden", Shelter::Outdoors, ""),
    kind("trees", Shelter::Outdoors, ""),
    kind("outdoors", Shelter::Outdoors, ""),
];

const HINT: &str = "write room, windowsill, cabinet, glass, lean-to, shade house, covered patio or \
                    outdoors; with lamps their hours, such as \"cabinet lamps 7:00-21:00\"; several \
                    with commas between them";

/// Reads `windowsill, growing shelf: shelf lamps 7:00-21:00, lean-to`.
///
/// # Errors
///
/// An area of no known kind, or hours that are none.
///
/// ```
/// let areas = guardcell_folder::init::areas("windowsill, orchids: cabinet lamps 7-21")?;
/// assert_eq!((areas[0].id.as_str(), areas[1].id.as_str()), ("windowsill", "orchids"));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn areas(text: &str) -> Result<Vec<Area>, Error> {
    let mut out: Vec<Area> = Vec::new();
    for part in text.split([',', ';']).map(str::trim).filter(|p| !p.is_empty()) {
        let mut area = one(part)?;
        let stem = area.id.clone();
        let mut n = 1;
        while out.iter().any(|a| a.id == area.id) {
            n += 1;
            area.id = format!("{stem}-{n}");
        }
        out.push(area);
    }
    if out.is_empty() {
        return Err(answer("--areas", "there is no area", HINT));
    }
    Ok(out)
}

fn one(text: &str) -> Result<Area, Error> {
    let lower = text.to_lowercase();
    // A colon within an hour is not a name.
    let named = lower.find(':').filter(|at| !lower[..*at].ends_with(|c: char| c.is_ascii_digit()));
    let (name, rest) = match named {
        Some(at) => (text.get(..at).unwrap_or("").trim(), lower.get(at + 1..).unwrap_or("")),
        None => ("", lower.as_str()),
    };
    let (what, lamp_words) = match rest.find("lamp") {
        Some(at) => (rest.get(..at).unwrap_or(""), rest.get(at..)),
        None => (rest, None),
    };
    let kind = KINDS
        .iter()
        .find(|k| what.contains(k.words))
        .ok_or_else(|| answer("--areas", format!("{text:?} is not a kind of area"), HINT))?;
    let mut notes: Vec<&'static str> = Vec::new();
    notes.extend(Some(kind.note).filter(|n| !n.is_empty()));
    let lamps = lamp_words.map(hours).transpose()?.unwrap_or_default();
    let light = match (lamp_words, kind.shelter, kind.words) {
        (None, _, _) => LightKind::Sun,
        (Some(_), Shelter::Room, words) if !words.starts_with("window") => LightKind::Lamps,
        (Some(_), _, _) => LightKind::SunAndLamps,
    };
    if lamp_words.is_none() && matches!(kind.words, "cabinet" | "terrarium") {
        notes.push("no lamps were named: it is taken as lit by the sun alone");
    }
    let name = if name.is_empty() { capital(kind.words) } else { name.to_owned() };
    Ok(Area { id: slug(&name), name, shelter: kind.shelter, light, lamps, notes })
}

/// The hours of `lamps 7:00-21:00 23-1`.
fn hours(text: &str) -> Result<Vec<(String, String)>, Error> {
    let wrong = || {
        answer(
            "--areas",
            format!("{text:?} does not say when the lamps are on"),
            "write it like \"lamps 7:00-21:00\"",
        )
    };
    let mut out = Vec::new();
    for run in text.split_whitespace().filter(|w| w.starts_with(|c: char| c.is_ascii_digit())) {
        let (on, off) = run.split_once(['-', '–']).ok_or_else(wrong)?;
        out.push((hour(on).ok_or_else(wrong)?, hour(off).ok_or_else(wrong)?));
    }
    if out.is_empty() { Err(wrong()) } else { Ok(out) }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

/// Letters and digits in lower case, hyphens for the rest.
fn slug(name: &str) -> String {
    let words: Vec<String> = name
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_lowercase)
        .collect();
    if words.is_empty() { "area".to_owned() } else { words.join("-") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_as_people_write_them() {
        let a =
            areas("windowsill, Rack: shelf lamps 7:00-21:00, lean-to, covered patio, room, room")
                .unwrap();
        let ids: Vec<&str> = a.iter().map(|a| a.id.as_str()).collect();
        assert_eq!(ids, ["windowsill", "rack", "lean-to", "covered-patio", "room", "room-2"]);
        assert_eq!(a[0].light, LightKind::Sun);
        assert_eq!((a[1].light, a[1].shelter), (LightKind::Lamps, Shelter::Room));
        assert_eq!(a[1].lamps, [("07:00".to_owned(), "21:00".to_owned())]);
        assert_eq!((a[2].shelter, a[3].shelter), (Shelter::Glass, Shelter::Outdoors));
        assert!(a[2].notes[0].contains("taken as glass"));
        let with = areas("window lamps 6-8 17-22").unwrap();
        assert_eq!((with[0].light, with[0].lamps.len()), (LightKind::SunAndLamps, 2));
    }

    #[test]
    fn what_is_no_area() {
        for text in ["", ",", "moon", "shelf lamps", "shelf lamps 25-3", "shelf lamps noon"] {
            assert!(areas(text).is_err(), "{text}");
        }
    }
}
