//! The decimal mark of a table, decided by all its cells.

use crate::source::number::plain_number;

/// The mark and how sure it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// No number has a mark that matters, or the cells decide.
    Decided(char),
    /// Cells disagree; most have this one.
    Most(char),
    /// Groups of three digits only, such as `1,013`: a decimal or thousands.
    Undecided(char),
}

/// What a cell says.
enum Says {
    Nothing,
    Decimal(char),
    Either(char),
}

/// A cell without the unit behind its number.
pub(super) fn without_unit(cell: &str) -> &str {
    cell.trim().trim_end_matches(|c: char| !c.is_ascii_digit()).trim_end()
}

fn says(cell: &str) -> Says {
    let number = without_unit(cell);
    let marks: Vec<(usize, char)> =
        number.char_indices().filter(|(_, c)| matches!(c, '.' | ',')).collect();
    let Some((at, mark)) = marks.last().copied() else { return Says::Nothing };
    let other = if mark == ',' { '.' } else { ',' };
    if marks.iter().any(|(_, c)| *c != mark) {
        return Says::Decimal(mark);
    }
    if marks.len() > 1 {
        return Says::Decimal(other);
    }
    // One mark: thousands only where it could be one.
    match plain_number(number, other) {
        Some(_) if at + 4 == number.len() => Says::Either(mark),
        _ => Says::Decimal(mark),
    }
}

/// The decimal mark of cells that hold numbers.
pub(super) fn mark<'c>(cells: impl Iterator<Item = &'c str>) -> Mark {
    let (mut comma, mut point) = (0_usize, 0_usize);
    let mut either = None;
    for cell in cells {
        match says(cell) {
            Says::Decimal(',') => comma += 1,
            Says::Decimal(_) => point += 1,
            Says::Either(mark) => either = either.or(Some(mark)),
            Says::Nothing => {}
        }
    }
    match (comma, point, either) {
        (0, 0, None) => Mark::Decided('.'),
        (0, 0, Some(mark)) => Mark::Undecided(mark),
        (_, 0, _) => Mark::Decided(','),
        (0, _, _) => Mark::Decided('.'),
        (c, p, _) => Mark::Most(if c > p { ',' } else { '.' }),
    }
}

/// The number of a cell.
pub(super) fn number(cell: &str, decimal: char) -> Option<f64> {
    let text = without_unit(cell);
    let plain = text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'));
    let value: f64 = plain_number(text, decimal)?.parse().ok()?;
    (plain && value.is_finite()).then_some(value)
}

/// The unit behind the number of a cell, where there is one.
pub(super) fn unit_of(cell: &str) -> Option<&str> {
    let cell = cell.trim();
    let unit = cell.get(without_unit(cell).len()..)?.trim();
    (!unit.is_empty() && cell.starts_with(|c: char| c.is_ascii_digit() || c == '-')).then_some(unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_cells_decide_together() {
        for (cells, mark_) in [
            (&["21,5", "1.013,2"][..], Mark::Decided(',')),
            (&["1,013", "21.5"], Mark::Decided('.')),
            (&["1,013", "1,014"], Mark::Undecided(',')),
            (&["0,500"], Mark::Decided(',')),
            (&["1,234,567"], Mark::Decided('.')),
            (&["21", "22"], Mark::Decided('.')),
            (&["21,5 °C", "22,5 °C"], Mark::Decided(',')),
            (&["21,5", "22.5", "23,5"], Mark::Most(',')),
        ] {
            assert_eq!(mark(cells.iter().copied()), mark_, "{cells:?}");
        }
        assert_eq!(number("1.013,25", ','), Some(1013.25));
        assert_eq!(number("-3.5 °C", '.'), Some(-3.5));
        assert_eq!((number("n/a", '.'), number("", '.')), (None, None));
        assert_eq!((unit_of("21.5 °C"), unit_of("21.5"), unit_of("dry")), (Some("°C"), None, None));
    }
}
