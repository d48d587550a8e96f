//! Which plants are meant: ids, patterns, a part of the collection.

use super::place::Context;
use crate::args::Plants;
use crate::error::argument;
use guardcell::Error;
use guardcell::advice::PlantEntry;

/// The ids that are meant, in the order of the collection or as given; empty where none is asked
/// for.
pub(crate) fn chosen(who: &Plants, context: &Context) -> Result<Vec<String>, Error> {
    let filtered = who.area.is_some() || who.setting.is_some() || who.standing.is_some();
    let from_collection = match (&context.collection, filtered) {
        (_, false) => None,
        (Some(plants), true) => Some(filter(who, plants)?),
        (None, true) => {
            return Err(argument(
                "--collection",
                "plants are asked for by area, setting or standing, and no collection is known",
                "give it with --collection, go to your folder, or name the plants by id",
            ));
        }
    };
    let mut named: Vec<String> = Vec::new();
    for pattern in &who.plants {
        for id in matching(pattern, context)? {
            if !named.contains(&id) {
                named.push(id);
            }
        }
    }
    Ok(match (from_collection, who.plants.is_empty()) {
        (None, _) => named,
        (Some(all), true) => all,
        (Some(all), false) => {
            named.retain(|id| all.contains(id));
            if named.is_empty() {
                return Err(argument(
                    "the plants",
                    "none of those named is in that part of the collection",
                    "name others, or leave --area, --setting and --standing out",
                ));
            }
            named
        }
    })
}

/// At least one.
pub(crate) fn some(who: &Plants, context: &Context) -> Result<Vec<String>, Error> {
    let ids = chosen(who, context)?;
    if ids.is_empty() {
        return Err(argument(
            "the plants",
            "there are none",
            "name at least one by id, or choose with --area, --setting or --standing",
        ));
    }
    Ok(ids)
}

fn filter(who: &Plants, plants: &[PlantEntry]) -> Result<Vec<String>, Error> {
    let known = |f: &dyn Fn(&PlantEntry) -> &str| {
        let mut words: Vec<&str> = plants.iter().map(f).collect();
        words.sort_unstable();
        words.dedup();
        words.join(", ")
    };
    let area = |p: &PlantEntry| p.area.clone();
    for (flag, wanted, words, of) in [
        ("--area", &who.area, known(&|p| p.area.as_str()), &area as &dyn Fn(&PlantEntry) -> String),
        ("--setting", &who.setting, known(&|p| p.setting.word()), &|p| p.setting.word().into()),
        ("--standing", &who.standing, known(&|p| p.standing.word()), &|p| p.standing.word().into()),
    ] {
        if let Some(word) = wanted
            && !plants.iter().any(|p| of(p) == *word)
        {
            return Err(argument(
                flag,
                format!("no plant of the collection has {word:?}"),
                format!("write one of {words}"),
            ));
        }
    }
    let fits = |wanted: &Option<String>, has: &str| wanted.as_deref().is_none_or(|w| w == has);
    let ids: Vec<String> = plants
        .iter()
        .filter(|p| {
            fits(&who.area, &p.area)
                && fits(&who.setting, p.setting.word())
                && fits(&who.standing, p.standing.word())
        })
        .map(|p| p.id.clone())
        .collect();
    if ids.is_empty() {
        return Err(argument(
            "the plants",
            "no plant of the collection is of that area, setting and standing together",
            "choose less closely",
        ));
    }
    Ok(ids)
}

/// The ids that one word of the command line means.
pub(crate) fn matching(pattern: &str, context: &Context) -> Result<Vec<String>, Error> {
    let known: Vec<&str> = match &context.collection {
        Some(plants) => plants.iter().map(|p| p.id.as_str()).collect(),
        None => context.in_journal.iter().map(String::as_str).collect(),
    };
    if pattern.contains(['*', '?']) {
        let found: Vec<String> =
            known.iter().filter(|id| fits(pattern, id)).map(|id| (*id).to_owned()).collect();
        if found.is_empty() {
            let from = if context.collection.is_some() { "the collection" } else { "the journal" };
            return Err(argument(
                "the plants",
                format!("no id of {from} fits {pattern:?}"),
                "`*` stands for any letters and `?` for one",
            ));
        }
        return Ok(found);
    }
    // Without a collection any id may be meant: this may be its first entry.
    if context.collection.is_none() || known.contains(&pattern) {
        return Ok(vec![pattern.to_owned()]);
    }
    let like = known.iter().find(|id| id.eq_ignore_ascii_case(pattern)).map_or_else(
        || "name an id of the collection, or leave the collection out".to_owned(),
        |id| format!("did you mean {id:?}?"),
    );
    Err(argument("the plants", format!("the collection has no {pattern:?}"), like))
}

/// Whether a pattern with `*` and `?` fits the whole of a text.
fn fits(pattern: &str, text: &str) -> bool {
    let mut rest = pattern.chars();
    match rest.next() {
        None => text.is_empty(),
        Some('*') => {
            let ends = text.char_indices().map(|(i, _)| i).chain([text.len()]);
            let rest = rest.as_str();
            // Two stars are one.
            if rest.starts_with('*') {
                return fits(rest, text);
            }
            ends.into_iter().any(|i| fits(rest, text.get(i..).unwrap_or_default()))
        }
        Some(c) => {
            let mut letters = text.chars();
            letters
                .next()
                .is_some_and(|l| (c == '?' || c == l) && fits(rest.as_str(), letters.as_str()))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn patterns() {
        for (pattern, text, yes) in [
            ("FH-0*", "FH-011", true),
            ("FH-0?1", "FH-011", true),
            ("FH-0?", "FH-011", false),
            ("*", "", true),
            ("**1", "FH-011", true),
            ("*2", "FH-011", false),
            ("é*", "éa", true),
        ] {
            assert_eq!(fits(pattern, text), yes, "{pattern} {text}");
        }
    }
}
