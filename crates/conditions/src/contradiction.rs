//! Readings of one area and moment that differ.

use guardcell::advice::Reading;
use jiff::Timestamp;
use std::collections::HashMap;

/// What two readings of the same area and moment have in common.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Repeat {
    /// The second is a copy of the first.
    Same {
        /// Index of the first.
        first: usize,
        /// Index of the second.
        second: usize,
    },
    /// They differ.
    Differs {
        /// Index of the first.
        first: usize,
        /// Index of the second.
        second: usize,
    },
}

/// Every reading of an area and moment that an earlier reading has already, in order.
///
/// Times that are moments (RFC 3339) are compared as such, others by their text.
///
/// ```
/// use guardcell::advice::Reading;
/// use guardcell_conditions::{Repeat, repeats};
/// let reading = |time: &str, temp_c| Reading::new(time, temp_c, 80.0);
/// let readings = [reading("2026-06-21T05:00:00+01:00", 18.0), reading("2026-06-21T04:00:00Z", 19.0)];
/// assert_eq!(repeats(&readings), [Repeat::Differs { first: 0, second: 1 }]);
/// ```
#[must_use]
pub fn repeats(readings: &[Reading]) -> Vec<Repeat> {
    let mut first_of: HashMap<(Option<&str>, Result<Timestamp, &str>), usize> = HashMap::new();
    let mut out = Vec::new();
    for (second, reading) in readings.iter().enumerate() {
        let time = reading.time.parse::<Timestamp>().map_err(|_| reading.time.as_str());
        let first = *first_of.entry((reading.area.as_deref(), time)).or_insert(second);
        let Some(earlier) = readings.get(first).filter(|_| first != second) else { continue };
        let mut at_the_same = reading.clone();
        at_the_same.time.clone_from(&earlier.time);
        out.push(if at_the_same == *earlier {
            Repeat::Same { first, second }
        } else {
            Repeat::Differs { first, second }
        });
    }
    out
}
