//! Reads chemical formulas such as `5Ca(NO3)2·NH4NO3·10H2O`.

use std::collections::BTreeMap;

/// The elements with atomic weights in `guardcell_units`.
const KNOWN: [&str; 22] = [
    "H", "B", "C", "N", "O", "F", "Na", "Mg", "Al", "Si", "P", "S", "Cl", "K", "Ca", "Mn", "Fe",
    "Co", "Ni", "Cu", "Zn", "Mo",
];

/// Atoms of a formula with their counts.
pub(crate) fn parse(text: &str) -> Result<BTreeMap<String, u16>, String> {
    let mut atoms = BTreeMap::new();
    for part in text.split('·') {
        let chars: Vec<char> = part.chars().collect();
        let mut at = 0;
        let factor = number(&chars, &mut at).unwrap_or(1);
        let inner = group(&chars, &mut at, text)?;
        if at != chars.len() {
            return Err(format!("formula {text:?} has a stray bracket"));
        }
        for (e, n) in inner {
            *atoms.entry(e).or_insert(0) += n * factor;
        }
    }
    if atoms.is_empty() {
        return Err(format!("formula {text:?} is empty"));
    }
    Ok(atoms)
}

fn group(chars: &[char], at: &mut usize, text: &str) -> Result<BTreeMap<String, u16>, String> {
    let mut atoms = BTreeMap::new();
    while let Some(&c) = chars.get(*at) {
        let inner = match c {
            ')' => break,
            '(' => {
                *at += 1;
                let inner = group(chars, at, text)?;
                if chars.get(*at) != Some(&')') {
                    return Err(format!("formula {text:?} lacks a closing bracket"));
                }
                *at += 1;
                inner
            }
            c if c.is_ascii_uppercase() => {
                let mut symbol = c.to_string();
                *at += 1;
                if let Some(l) = chars.get(*at).filter(|l| l.is_ascii_lowercase()) {
                    symbol.push(*l);
                    *at += 1;
                }
                if !KNOWN.contains(&symbol.as_str()) {
                    return Err(format!("formula {text:?} names {symbol:?}, which has no weight"));
                }
                BTreeMap::from([(symbol, 1)])
            }
            other => return Err(format!("formula {text:?} has {other:?}")),
        };
        let factor = number(chars, at).unwrap_or(1);
        for (e, n) in inner {
            *atoms.entry(e).or_insert(0) += n * factor;
        }
    }
    Ok(atoms)
}

fn number(chars: &[char], at: &mut usize) -> Option<u16> {
    let digits: String = chars.get(*at..)?.iter().take_while(|c| c.is_ascii_digit()).collect();
    *at += digits.len();
    digits.parse().ok()
}
