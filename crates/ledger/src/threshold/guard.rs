//! The rule of practice after white: at most half of the strength that left it, and up again in
//! steps after clean looks.
//!
//! All white counts alike and two steps up undo one halving, so that a heavier look, early or
//! late, never leads to a stronger feed.

use super::request::Observation;
use super::response::Guard;
use super::timeline::Record;
use crate::entry::Level;
use guardcell_reference::parameters::journal as p;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What one day says to the rule.
#[derive(Debug, Clone, Copy)]
enum Said {
    /// White, at this strength in mg/L.
    White(f64),
    /// Clean, for so much of a look.
    Clean(f64),
}

/// The rule as the record leaves it; nothing where no white lowered the strength.
pub(crate) fn guard(
    record: &Record<'_>,
    which: impl Fn(&Observation) -> bool,
    silent: &BTreeSet<Date>,
) -> Option<Guard> {
    replay(said(record, which, silent))
}

fn said(
    record: &Record<'_>,
    which: impl Fn(&Observation) -> bool,
    silent: &BTreeSet<Date>,
) -> BTreeMap<Date, Said> {
    let mut by_day: BTreeMap<Date, Said> =
        silent.iter().map(|day| (*day, Said::Clean(p::SILENCE_WEIGHT.number()))).collect();
    for (_, date, o) in record.looks.iter().filter(|(_, _, o)| which(o)) {
        let Some(strength) = o.feed_strength_mg_l else { continue };
        let seen = if o.level == Level::None {
            Said::Clean(1.0)
        } else if strength > 0.0 {
            Said::White(strength)
        } else {
            // White after plain water does not come from the feed.
            continue;
        };
        let day = by_day.entry(*date).or_insert(seen);
        *day = match (*day, seen) {
            (Said::White(a), Said::White(b)) => Said::White(a.min(b)),
            (white @ Said::White(_), _) | (_, white @ Said::White(_)) => white,
            (Said::Clean(a), Said::Clean(b)) => Said::Clean(a.max(b)),
        };
    }
    by_day
}

fn replay(days: BTreeMap<Date, Said>) -> Option<Guard> {
    let needed = p::GUARD_CLEAN_LOOKS.number();
    let mut guard: Option<Guard> = None;
    for (day, said) in days {
        match said {
            Said::White(strength) => {
                let before = guard.as_ref().map_or(f64::INFINITY, |g| g.ceiling_mg_l);
                guard = Some(Guard {
                    ceiling_mg_l: before.min(strength * p::GUARD_FACTOR.number()),
                    white_on: day.to_string(),
                    white_at_mg_l: strength,
                    clean_looks: 0.0,
                    clean_looks_needed: needed,
                });
            }
            Said::Clean(weight) => {
                if let Some(g) = &mut guard {
                    g.clean_looks += weight;
                    if g.clean_looks >= needed {
                        g.clean_looks = 0.0;
                        g.ceiling_mg_l = stepped_up(g.ceiling_mg_l);
                    }
                }
            }
        }
    }
    guard
}

fn stepped_up(ceiling: f64) -> f64 {
    (ceiling * p::GUARD_STEP_UP.number()).max(ceiling + p::STRENGTH_GRID.mg_per_l())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn days(said: &[Said]) -> BTreeMap<Date, Said> {
        let first = jiff::civil::date(2026, 1, 1);
        said.iter()
            .zip(0_i32..)
            .map(|(s, i)| (first.saturating_add(jiff::Span::new().days(i)), *s))
            .collect()
    }

    fn ceiling(said: &[Said]) -> f64 {
        replay(days(said)).map_or(f64::INFINITY, |g| g.ceiling_mg_l)
    }

    #[test]
    fn white_halves_each_time_and_clean_looks_give_it_back_in_steps() {
        use Said::{Clean, White};
        assert_eq!(ceiling(&[Clean(1.0); 5]), f64::INFINITY);
        assert_eq!(ceiling(&[White(300.0)]), 150.0);
        assert_eq!(ceiling(&[White(300.0), White(150.0)]), 75.0);
        assert_eq!(ceiling(&[White(300.0), White(150.0), White(75.0)]), 37.5);
        // White at a strength that was given against the rule lowers nothing further.
        assert_eq!(ceiling(&[White(100.0), White(300.0)]), 50.0);
        let c = Clean(1.0);
        assert_eq!(ceiling(&[White(300.0), c, c]), 150.0);
        assert_eq!(ceiling(&[White(300.0), c, c, c]), 210.0);
        assert_eq!(ceiling(&[White(300.0), c, c, c, c, c, c]), 294.0);
        // From almost nothing by at least one step of the scale.
        assert_eq!(ceiling(&[White(10.0), c, c, c]), 10.0);
        // Half of a clean look for a silent round.
        assert_eq!(ceiling(&[[White(300.0)].as_slice(), &[Clean(0.5); 5]].concat()), 150.0);
        assert_eq!(ceiling(&[[White(300.0)].as_slice(), &[Clean(0.5); 6]].concat()), 210.0);
    }

    /// Every record of eleven looks, every clean one made white, three ways of following the rule.
    #[test]
    fn a_look_made_white_never_raises_the_ceiling() {
        fn strength(way: usize, ceiling: f64, i: usize) -> f64 {
            match way {
                0 => ceiling.min(300.0),
                1 => 300.0,
                _ => [300.0, 150.0, 60.0, 25.0][i % 4],
            }
        }
        let run = |bits: u32, way: usize| {
            // The strengths of the record as it was, whatever is changed later.
            let mut said = Vec::new();
            for i in 0..11 {
                let s = strength(way, ceiling(&said), i);
                said.push(if bits >> i & 1 == 1 { Said::White(s) } else { Said::Clean(1.0) });
            }
            said
        };
        let mut pairs = 0;
        for bits in 0..2048_u32 {
            for way in 0..3 {
                let said = run(bits, way);
                let as_it_was = ceiling(&said);
                for i in (0..11).filter(|i| bits >> i & 1 == 0) {
                    let mut heavier = said.clone();
                    let s = strength(way, ceiling(&said[..i]), i);
                    heavier[i] = Said::White(s);
                    assert!(ceiling(&heavier) <= as_it_was, "{said:?} {i}");
                    // And where the grower follows the rule from there on.
                    assert!(ceiling(&run(bits | 1 << i, way)) <= as_it_was, "{said:?} {i}");
                    pairs += 1;
                }
            }
        }
        assert_eq!(pairs, 33_792);
    }
}
