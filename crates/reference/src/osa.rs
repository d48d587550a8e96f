//! Optimal string alignment: the number of letters added, dropped, changed or swapped with a
//! neighbour that turns one word into another.
//!
//! Damerau, F. J. (1964) Communications of the ACM 7:171–176; the restricted form, in which no
//! letter takes part in two edits.

use crate::fold::LONGEST;

/// The distance between two words, if it is at most `limit`. Works on the stack and stops as
/// soon as a whole row exceeds the limit.
pub(crate) fn within(a: &[u8], b: &[u8], limit: u8) -> Option<u8> {
    if a.len() > LONGEST || b.len() > LONGEST || a.len().abs_diff(b.len()) > usize::from(limit) {
        return None;
    }
    let mut before = [0u8; LONGEST + 1];
    let mut above = [0u8; LONGEST + 1];
    let mut row = [0u8; LONGEST + 1];
    for (j, cell) in above.iter_mut().enumerate() {
        *cell = j as u8; // at most 64
    }
    // Both words are at most LONGEST long, so every index below is inside its array.
    for i in 1..=a.len() {
        row[0] = i as u8;
        let mut least = row[0];
        for j in 1..=b.len() {
            let change = u8::from(a[i - 1] != b[j - 1]);
            let mut d = (above[j] + 1).min(row[j - 1] + 1).min(above[j - 1] + change);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                d = d.min(before[j - 2] + 1);
            }
            row[j] = d;
            least = least.min(d);
        }
        if least > limit && above.iter().take(b.len() + 1).all(|&d| d >= limit) {
            return None;
        }
        (before, above) = (above, row);
    }
    let d = above[b.len()];
    (d <= limit).then_some(d)
}

#[cfg(test)]
mod tests {
    use super::within;
    use proptest::prelude::*;

    #[test]
    fn counts_each_kind_of_edit_once() {
        for (a, b, d) in [
            ("vanda", "vanda", 0),
            ("vanda", "vnada", 1),
            ("cattleya", "catleya", 1),
            ("cattleya", "cattleyya", 1),
            ("cattleya", "cattlexa", 1),
            ("phalaenopsis", "phalanopsys", 2),
            // Restricted form: 3, where the unrestricted Damerau distance is 2.
            ("ca", "abc", 3),
        ] {
            assert_eq!(within(a.as_bytes(), b.as_bytes(), 5), Some(d), "{a} {b}");
            assert_eq!(within(b.as_bytes(), a.as_bytes(), 5), Some(d), "{b} {a}");
        }
    }

    proptest! {
        // The reference is the general-purpose crate strsim.
        #[test]
        fn agrees_with_strsim(a in "[a-e]{0,12}", b in "[a-e]{0,12}", limit in 0u8..5) {
            let d = strsim::osa_distance(&a, &b);
            let expected = u8::try_from(d).ok().filter(|d| *d <= limit);
            prop_assert_eq!(within(a.as_bytes(), b.as_bytes(), limit), expected);
        }
    }
}
