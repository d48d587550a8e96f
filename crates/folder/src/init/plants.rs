//! The plants: names, with what is special about each.

use crate::fault::answer;
use guardcell::Error;
use guardcell::advice::{Growth, Setting, SizeClass, Standing};

/// The columns of a new collection.
pub const COLUMNS: &str = "id,name,area,setting,standing,size,growth,last_fed,bench,notes";

/// Words that say how a plant is grown, with the column each belongs to.
fn known_words() -> impl Iterator<Item = (&'static str, usize)> {
    let settings = Setting::ALL.iter().map(|v| (v.word(), 3));
    let standings = Standing::ALL.iter().map(|v| (v.word(), 4));
    let sizes = SizeClass::ALL.iter().map(|v| (v.word(), 5));
    let growths = Growth::ALL.iter().map(|v| (v.word(), 6));
    settings.chain(standings).chain(sizes).chain(growths)
}

const HINT: &str = "write names with commas between them; in brackets how a plant is grown and how \
                    strong it is, such as \"Vanda (basket, established, large)\"; after an @ the id \
                    of its area";

/// A collection (CSV) from names: `Cattleya labiata (mounted, established), Phalaenopsis @shelf`.
/// What is not said is potted, ordinary, in growth, in the first area.
///
/// # Errors
///
/// A word in brackets that is not known, or an area that is not one of `areas`.
///
/// ```
/// let csv = guardcell_folder::init::plants("Vanda (basket, large), Phalaenopsis", &["room"])?;
/// let plants = guardcell_folder::collection("collection.csv", &csv)?.plants;
/// assert_eq!((plants.len(), plants[0].setting.word()), (2, "basket"));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn plants(text: &str, areas: &[&str]) -> Result<String, Error> {
    let mut out = format!("{COLUMNS}\n");
    for (i, part) in split(text).into_iter().enumerate() {
        let row = one(&part, areas)?;
        let cells: Vec<String> = row.iter().map(|c| quoted(c)).collect();
        out.push_str(&format!("P-{:03},{}\n", i + 1, cells.join(",")));
    }
    Ok(out)
}

/// Name, area, setting, standing, size, growth, last fed, bench, notes.
fn one(part: &str, areas: &[&str]) -> Result<[String; 9], Error> {
    let (before, rest) = part.split_once('(').unwrap_or((part, ""));
    let (words, after) = rest.split_once(')').unwrap_or((rest, ""));
    let outside = format!("{before} {after}");
    let (name, area) = outside.split_once('@').unwrap_or((&outside, ""));
    let area = match area.trim() {
        "" => areas.first().copied().unwrap_or("area").to_owned(),
        wanted => areas
            .iter()
            .find(|a| a.eq_ignore_ascii_case(wanted))
            .map(|a| (*a).to_owned())
            .ok_or_else(|| {
                let hint = format!("write one of {}", areas.join(", "));
                answer("--plants", format!("there is no area {wanted:?}"), hint)
            })?,
    };
    let name: Vec<&str> = name.split_whitespace().collect();
    if name.is_empty() {
        return Err(answer("--plants", format!("{part:?} has no name"), HINT));
    }
    let mut row = [
        name.join(" "),
        area,
        "potted".to_owned(),
        "ordinary".to_owned(),
        String::new(),
        "active".to_owned(),
        String::new(),
        String::new(),
        String::new(),
    ];
    for word in words.split([',', ';', ' ']).filter(|w| !w.is_empty()) {
        let lower = word.to_lowercase();
        let (word, column) = known_words().find(|(w, _)| *w == lower).ok_or_else(|| {
            let known: Vec<&str> = known_words().map(|(w, _)| w).collect();
            let hint = format!("write one of {}", known.join(", "));
            answer("--plants", format!("{word:?} is not a way to grow a plant"), hint)
        })?;
        if let Some(cell) = row.get_mut(column - 1) {
            *cell = word.to_owned();
        }
    }
    Ok(row)
}

/// Parts between commas, semicolons and line ends, but not within brackets.
fn split(text: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut depth = 0_usize;
    for c in text.chars() {
        match c {
            '(' => depth += 1,
            ')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if matches!(c, ',' | ';' | '\n' | '\r') && (depth == 0 || c == '\n') {
            depth = 0;
            parts.push(String::new());
        } else if let Some(last) = parts.last_mut() {
            last.push(c);
        }
    }
    parts.into_iter().map(|p| p.trim().to_owned()).filter(|p| !p.is_empty()).collect()
}

fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn brackets_and_areas() {
        let csv = plants(
            "Cattleya labiata (mounted, established), Vanda @patio (basket; weak)\nOnc.",
            &["room", "patio"],
        )
        .unwrap();
        let read = crate::collection("c.csv", &csv).unwrap().plants;
        let seen: Vec<(&str, &str, &str, &str, &str)> = read
            .iter()
            .map(|p| (&*p.id, &*p.name, &*p.area, p.setting.word(), p.standing.word()))
            .collect();
        assert_eq!(
            seen,
            [
                ("P-001", "Cattleya labiata", "room", "mounted", "established"),
                ("P-002", "Vanda", "patio", "basket", "weak"),
                ("P-003", "Onc.", "room", "potted", "ordinary"),
            ]
        );
        assert!(plants("Vanda (happy)", &["room"]).unwrap_err().hint().contains("established"));
        assert!(plants("Vanda @moon", &["room"]).is_err());
        assert!(plants("(mounted)", &["room"]).is_err());
    }

    proptest! {
        /// Whatever is answered: it is refused, or a collection that can be read again.
        #[test]
        fn any_answer_is_refused_or_readable(text in "\\PC{0,60}") {
            if let Ok(csv) = plants(&text, &["room"])
                && csv.lines().count() > 1
            {
                prop_assert!(crate::collection("c.csv", &csv).is_ok(), "{csv}");
            }
        }
    }
}
