//! From words to units, bases and other terms.

use super::lex::plain;
use crate::basis::{BASES, BasisInfo};
use crate::table::{AMBIGUOUS, QUOTIENT_WORDS, QuotientWord, UNITS, UnitDef};

/// What a word or phrase stands for.
pub(super) enum Named {
    Unit(&'static UnitDef),
    Quotient(&'static QuotientWord),
}

/// The unit of a code, from this crate's own tables.
pub(super) fn by_code(code: &str) -> Option<&'static UnitDef> {
    UNITS.iter().find(|u| u.code == code)
}

fn names(unit: &'static UnitDef) -> impl Iterator<Item = &'static str> {
    [unit.code, unit.trade].into_iter().chain(unit.spellings.iter().copied())
}

/// Whether a name of the table is the phrase that was read. ASCII names are plain as they stand.
fn same(name: &str, phrase: &str) -> bool {
    if name.is_ascii() { name == phrase } else { plain(name) == phrase }
}

/// A unit by its exact name, or by its name in other capitals where that is unique.
pub(super) fn unit(phrase: &str) -> Option<Named> {
    let exact = |name: &str| same(name, phrase);
    if let Some(u) = UNITS.iter().find(|u| names(u).any(exact)) {
        return Some(Named::Unit(u));
    }
    if let Some(q) = QUOTIENT_WORDS.iter().find(|q| q.spellings.iter().copied().any(exact)) {
        return Some(Named::Quotient(q));
    }
    if phrase.chars().count() < 2 || ambiguous(phrase).is_some() {
        return None;
    }
    let lower = phrase.to_lowercase();
    let loose = |name: &str| {
        if name.is_ascii() {
            name.eq_ignore_ascii_case(&lower)
        } else {
            plain(name).to_lowercase() == lower
        }
    };
    let mut units = UNITS.iter().filter(|u| names(u).any(loose));
    let mut quotients = QUOTIENT_WORDS.iter().filter(|q| q.spellings.iter().copied().any(loose));
    match (units.next(), units.next(), quotients.next()) {
        (Some(u), None, None) => Some(Named::Unit(u)),
        (None, None, Some(q)) => Some(Named::Quotient(q)),
        _ => None,
    }
}

/// The meanings of a word that has several.
pub(super) fn ambiguous(word: &str) -> Option<&'static [&'static str]> {
    AMBIGUOUS.iter().find(|(w, _)| *w == word).map(|(_, choices)| *choices)
}

/// Names of bases beside their symbols.
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

/// The meanings of a nutrient word that leaves the basis open.
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
    if length > 30 {
        return Vec::new();
    }
    let limit = match length {
        0 | 1 => 0,
        2..=4 => 1,
        _ => 2,
    };
    let units = UNITS.iter().flat_map(names);
    let bases = BASES.iter().map(|b| b.symbol);
    let lower = word.to_lowercase();
    let mut near: Vec<(usize, &'static str)> = units
        .chain(bases)
        .map(|name| (distance(&lower, &plain(name).to_lowercase()), name))
        .filter(|(d, _)| *d <= limit)
        .collect();
    near.sort_by_key(|(d, name)| (*d, name.chars().count().abs_diff(length), *name));
    near.dedup_by_key(|(_, name)| plain(name));
    near.into_iter().map(|(_, name)| name).take(3).collect()
}

/// Edits between two short words: letters changed, added, left out, or two neighbours swapped.
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    // Rows of the table of distances between the beginnings of both words.
    let mut before: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.iter().enumerate() {
        let mut next = vec![i + 1];
        for (j, cb) in b.iter().enumerate() {
            let at = |row: &[usize], j: usize| row.get(j).copied().unwrap_or(usize::MAX - 1);
            let changed = at(&row, j) + usize::from(ca != cb);
            let mut best = changed.min(at(&next, j) + 1).min(at(&row, j + 1) + 1);
            let swapped = i > 0 && j > 0 && a.get(i - 1) == Some(cb) && b.get(j - 1) == Some(ca);
            if swapped {
                best = best.min(at(&before, j - 1) + 1);
            }
            next.push(best);
        }
        before = core::mem::replace(&mut row, next);
    }
    row.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edits_are_counted() {
        assert_eq!(distance("tps", "tsp"), 1);
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("galon", "gallon"), 1);
        assert_eq!(distance("mg", "mg"), 0);
        assert_eq!(similar("galon").first(), Some(&"gallon"));
        assert!(similar("tps").contains(&"tsp"));
    }
}
