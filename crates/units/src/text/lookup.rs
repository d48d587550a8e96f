//! From words to units, bases and other terms.

use super::lex::plain;
use crate::basis::{BASES, BasisInfo};
use crate::table::{AMBIGUOUS, QUOTIENT_WORDS, QuotientWord, UNITS, UnitDef};
use std::collections::HashMap;
use std::collections::hash_map::Entry;
use std::sync::LazyLock;

/// What a name in the table of units refers to.
#[derive(Clone, Copy)]
pub(super) enum Named {
    Unit(&'static UnitDef),
    Quotient(&'static QuotientWord),
}

impl Named {
    fn is(self, other: Self) -> bool {
        match (self, other) {
            (Self::Unit(a), Self::Unit(b)) => core::ptr::eq(a, b),
            (Self::Quotient(a), Self::Quotient(b)) => core::ptr::eq(a, b),
            _ => false,
        }
    }
}

/// Every name of the table, spelled plainly, and what it refers to.
struct Index {
    exact: HashMap<String, Named>,
    /// By the name in lower case; `None` where capitals decide between two meanings.
    any_case: HashMap<String, Option<Named>>,
    spellings: Vec<Spelling>,
}

/// A name that a misspelt word can be compared with.
struct Spelling {
    name: &'static str,
    lower: String,
    length: usize,
    letters: u64,
}

impl Spelling {
    fn new(name: &'static str) -> Self {
        let lower = plain(name).to_lowercase();
        Self { name, length: lower.chars().count(), letters: letters(&lower), lower }
    }
}

/// Which characters occur, one bit for each of 64 classes: an edit changes at most two bits.
fn letters(word: &str) -> u64 {
    word.chars().fold(0, |set, c| set | 1 << (u32::from(c) % 64))
}

static INDEX: LazyLock<Index> = LazyLock::new(|| {
    let units = UNITS.iter().flat_map(|u| names(u).map(move |name| (name, Named::Unit(u))));
    let quotients = QUOTIENT_WORDS
        .iter()
        .flat_map(|q| q.spellings.iter().map(move |name| (*name, Named::Quotient(q))));
    let mut index =
        Index { exact: HashMap::new(), any_case: HashMap::new(), spellings: Vec::new() };
    for (name, named) in units.chain(quotients) {
        let key = plain(name);
        match index.any_case.entry(key.to_lowercase()) {
            Entry::Vacant(entry) => {
                entry.insert(Some(named));
            }
            Entry::Occupied(mut entry) => {
                if !entry.get().is_some_and(|first| first.is(named)) {
                    entry.insert(None);
                }
            }
        }
        index.exact.entry(key).or_insert(named);
    }
    let names = UNITS.iter().flat_map(names).chain(BASES.iter().map(|b| b.symbol));
    index.spellings = names.map(Spelling::new).collect();
    index
});

/// The unit of a code, from this crate's own tables.
pub(super) fn by_code(code: &str) -> Option<&'static UnitDef> {
    UNITS.iter().find(|u| u.code == code)
}

fn names(unit: &'static UnitDef) -> impl Iterator<Item = &'static str> {
    [unit.code, unit.trade].into_iter().chain(unit.spellings.iter().copied())
}

/// A unit by its exact name, or by its name in other capitals where that is unique.
pub(super) fn unit(phrase: &str) -> Option<Named> {
    if let Some(named) = INDEX.exact.get(phrase) {
        return Some(*named);
    }
    if phrase.chars().count() < 2 || ambiguous(phrase).is_some() {
        return None;
    }
    INDEX.any_case.get(&phrase.to_lowercase()).copied().flatten()
}

/// The meanings of a word that has several.
pub(super) fn ambiguous(word: &str) -> Option<&'static [&'static str]> {
    AMBIGUOUS.iter().find(|(w, _)| *w == word).map(|(_, choices)| *choices)
}

/// Names of bases other than their symbols.
const BASIS_NAMES: &[(&str, &str)] = &[
    ("NO3-N", "N"),
    ("N-NO3", "N"),
    ("NH4-N", "N"),
    ("N-NH4", "N"),
    ("urea-N", "N"),
    ("PO4-P", "P"),
    ("P-PO4", "P"),
    ("SO4-S", "S"),
    ("S-SO4", "S"),
    ("nitrogen", "N"),
    ("phosphorus", "P"),
    ("potassium", "K"),
    ("potash", "K2O"),
    ("calcium", "Ca"),
    ("magnesium", "Mg"),
    ("sulfur", "S"),
    ("sulphur", "S"),
    ("sulfate", "SO4"),
    ("sulphate", "SO4"),
    ("sodium", "Na"),
    ("chloride", "Cl"),
    ("bicarbonate", "HCO3"),
    ("carbonate", "CO3"),
    ("boron", "B"),
    ("iron", "Fe"),
    ("manganese", "Mn"),
    ("zinc", "Zn"),
    ("copper", "Cu"),
    ("molybdenum", "Mo"),
    ("silica", "SiO2"),
    ("silicon", "Si"),
    ("cobalt", "Co"),
    ("nickel", "Ni"),
    ("aluminium", "Al"),
    ("aluminum", "Al"),
    ("fluoride", "F"),
];

/// Words for nutrients that do not say the basis.
const VAGUE: &[(&str, &[&str])] = &[
    ("nitrate", &["N for nitrate nitrogen", "NO3 for the ion"]),
    ("ammonium", &["N for ammonium nitrogen", "NH4 for the ion"]),
    ("ammonia", &["N for ammonia nitrogen", "NH3 for the molecule"]),
    ("phosphate", &["P2O5 as on a label", "PO4 for the ion", "P for the element"]),
];

/// The meanings of a nutrient word that does not say the basis.
pub(super) fn vague(word: &str) -> Option<&'static [&'static str]> {
    VAGUE.iter().find(|(w, _)| w.eq_ignore_ascii_case(word)).map(|(_, choices)| *choices)
}

/// The basis of a symbol as written, with or without the charge of the ion.
pub(super) fn basis(word: &str) -> Option<&'static BasisInfo> {
    if let Some(found) = BasisInfo::of_symbol(word) {
        return Some(found);
    }
    if let Some((_, symbol)) = BASIS_NAMES.iter().find(|(name, _)| *name == word) {
        return BasisInfo::of_symbol(symbol);
    }
    let bare = word.trim_end_matches(['+', '-']);
    if bare.len() < word.len() {
        // SO42- is SO4 with two charges, Ca2+ is Ca with two.
        let uncharged = bare.strip_suffix(|c: char| c.is_ascii_digit());
        return BasisInfo::of_symbol(bare).or_else(|| uncharged.and_then(BasisInfo::of_symbol));
    }
    None
}

/// The basis of a symbol or name in other capitals.
pub(super) fn basis_in_any_case(word: &str) -> Option<&'static BasisInfo> {
    if let Some((_, symbol)) = BASIS_NAMES.iter().find(|(name, _)| name.eq_ignore_ascii_case(word))
    {
        return BasisInfo::of_symbol(symbol);
    }
    BASES.iter().copied().find(|b| b.symbol.eq_ignore_ascii_case(word))
}

/// Up to three names near to a word that is not known.
pub(super) fn similar(word: &str) -> Vec<&'static str> {
    let length = word.chars().count();
    // Edits that are taken for a slip of the finger.
    let limit = match length {
        0 | 1 | 31.. => return Vec::new(),
        2..=4 => 1,
        _ => 2,
    };
    let lower = word.to_lowercase();
    let set = letters(&lower);
    let mut near: Vec<(usize, &Spelling)> = INDEX
        .spellings
        .iter()
        .filter(|s| s.length.abs_diff(length) <= limit)
        .filter(|s| (s.letters ^ set).count_ones() as usize <= 2 * limit)
        .map(|s| (strsim::osa_distance(&lower, &s.lower), s))
        .filter(|(edits, _)| *edits <= limit)
        .collect();
    near.sort_by_key(|(edits, s)| (*edits, s.length.abs_diff(length), s.name));
    near.dedup_by(|(_, a), (_, b)| a.lower == b.lower);
    near.into_iter().map(|(_, s)| s.name).take(3).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::{BTreeMap, BTreeSet};

    #[test]
    fn misspelt_units_are_recognised() {
        assert_eq!(similar("galon").first(), Some(&"gallon"));
        assert!(similar("tps").contains(&"tsp"));
        assert!(similar("qqqqqq").is_empty());
    }

    #[test]
    fn no_spelling_has_two_meanings() {
        let mut owners: BTreeMap<String, &str> = BTreeMap::new();
        let codes: BTreeSet<&str> = UNITS.iter().map(|unit| unit.code).collect();
        assert_eq!(codes.len(), UNITS.len());
        for unit in UNITS {
            let own: BTreeSet<String> = names(unit).map(plain).collect();
            for word in own {
                assert_eq!(owners.insert(word.clone(), unit.code), None, "{word}");
            }
        }
        for word in QUOTIENT_WORDS.iter().flat_map(|q| q.spellings) {
            assert!(owners.insert(plain(word), "quotient").is_none(), "{word}");
        }
        for (word, _) in AMBIGUOUS {
            assert!(!owners.contains_key(*word), "{word}");
        }
    }
}
