//! The density that a liquid's label states in words.

use super::number::parse_number;

/// A pound per US gallon in kg/L: 0.453 592 37 kg over 3.785 411 784 L, both exact.
const LB_PER_GALLON: f64 = 0.453_592_37 / 3.785_411_784;

/// A density in kg/L from "density 1.18", "specific gravity: 1,18", "10.2 lb per gallon".
pub(super) fn density(lower: &str) -> Option<f64> {
    let number_after = |word: &str| -> Option<f64> {
        let rest = lower.split_once(word)?.1;
        first_number(rest)
    };
    if lower.contains("bulk") {
        return None;
    }
    if lower.contains("density") {
        return number_after("density");
    }
    if lower.contains("specific gravity") {
        return number_after("specific gravity");
    }
    let per_gallon = ["lb per gallon", "lbs per gallon", "lb/gal", "lbs/gal"]
        .into_iter()
        .find_map(|w| lower.split_once(w))?
        .0;
    let token: String = per_gallon
        .trim_end()
        .chars()
        .rev()
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
        .collect::<Vec<_>>()
        .into_iter()
        .rev()
        .collect();
    parse_number(&token).map(|lb| lb * LB_PER_GALLON)
}

fn first_number(text: &str) -> Option<f64> {
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let token: String = text
        .get(start..)?
        .chars()
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
        .collect();
    parse_number(token.trim_end_matches(['.', ',']))
}
