//! How likely each level of a report is, by how far the modelled residue stands over the threshold.
//!
//! An ordinal model with a logistic link: the grower wavers, the day is off its model, some days
//! are far off, some reports are slips. Mixing those takes away a property that the plain model
//! has: that a heavier look never speaks for a higher threshold. The tables restore it: the ratio
//! of each level to the one below is held to its least value further up.

use crate::entry::Level;
use guardcell_reference::parameters::journal as p;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Low end of the tables in log residue over threshold, steps to a unit, and points: up to 9.
const LOW: f64 = -9.0;
const PER_UNIT: f64 = 100.0;
const POINTS: usize = 1801;
/// Beyond this the link is 0 or 1 to the last digit.
const LINK_HALF: usize = 600;
/// Nodes of the blur to a standard deviation, and standard deviations to either end.
const NODES: f64 = 4.0;
const ENDS: f64 = 4.5;

/// The logistic function.
pub(crate) fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

/// A function of log residue over threshold, between points in proportion, level at the ends.
#[derive(Debug, Clone)]
pub(crate) struct Curve(Vec<f64>);

impl Curve {
    pub(crate) fn at(&self, over: f64) -> f64 {
        let place = ((over - LOW) * PER_UNIT).clamp(0.0, (POINTS - 1) as f64);
        let below = place.floor();
        let i = below as usize;
        let at = |i: usize| self.0.get(i).copied().unwrap_or(0.0);
        let share = place - below;
        at(i) * (1.0 - share) + at(i + 1) * share
    }
}

impl Curve {
    /// The values at `over`, and each time so many hundredths lower: all lie equally far between
    /// two points.
    pub(crate) fn down(&self, over: f64, hundredths: i64) -> impl Iterator<Item = f64> {
        let place = (over - LOW) * PER_UNIT;
        let below = place.floor();
        let (first, share) = (below as i64, place - below);
        let last = POINTS as i64 - 1;
        let at = move |i: i64| {
            let i = usize::try_from(i.clamp(0, last)).unwrap_or(0);
            self.0.get(i).copied().unwrap_or(0.0)
        };
        (0..).map(move |n| {
            let i = first.saturating_sub(n * hundredths);
            at(i) * (1.0 - share) + at(i.saturating_add(1)) * share
        })
    }
}

/// The chances on days whose model has one uncertainty.
#[derive(Debug)]
pub(crate) struct Emission {
    /// Likelihood of each level, in the order of [`Level::ALL`]; the four add up to 1.
    levels: [Curve; 4],
    /// Chance of seeing white, slips not counted: what a strength is chosen by.
    white: Curve,
    /// Chance of each level on a day that is far out, times the share of such days, and of either
    /// kind of day: to show which looks an odd day explains.
    odd: [Curve; 4],
    any: [Curve; 4],
}

impl Emission {
    pub(crate) fn new(log_sd: f64) -> Self {
        let link = link();
        let share = p::ODD_DAY_SHARE.number();
        let ordinary = blurred(&link, 0.0, log_sd);
        let odd =
            blurred(&link, p::ODD_DAY_LOG_SHIFT.number(), log_sd.hypot(p::ODD_DAY_LOG_SD.number()));
        let white: Vec<f64> =
            ordinary.iter().zip(&odd).map(|(a, b)| (1.0 - share) * a + share * b).collect();
        let any = reported(&white, 1.0);
        Self {
            levels: clamped(&any).map(Curve),
            odd: reported(&odd, share).map(Curve),
            any: any.map(Curve),
            white: Curve(white.into_iter().skip(LEAD).collect()),
        }
    }

    pub(crate) fn level(&self, level: Level) -> &Curve {
        let [none, faint, clear, heavy] = &self.levels;
        match level {
            Level::None => none,
            Level::Faint => faint,
            Level::Clear => clear,
            Level::Heavy => heavy,
        }
    }

    pub(crate) fn white(&self) -> &Curve {
        &self.white
    }

    /// The probability that a day was far out, given its look and how far over it stood.
    pub(crate) fn odd_day(&self, level: Level, over: f64) -> f64 {
        let of = |curves: &[Curve; 4]| {
            Level::ALL
                .iter()
                .zip(curves)
                .find(|(l, _)| **l == level)
                .map_or(0.0, |(_, c)| c.at(over))
        };
        let any = of(&self.any);
        if any > 0.0 { (of(&self.odd) / any).clamp(0.0, 1.0) } else { 0.0 }
    }
}

/// Points of a blurred link before the tables begin: as far as heavy lies above faint.
const LEAD: usize = 300;

/// The link from −6 to 6.
fn link() -> Vec<f64> {
    (0..=2 * LINK_HALF)
        .map(|i| logistic((i as f64 - LINK_HALF as f64) / PER_UNIT / p::LINK_SCALE.number()))
        .collect()
}

/// The chance that a grower who is not mistaken says anything, over a normal error of the day:
/// from `LEAD` points before the tables to their end.
fn blurred(link: &[f64], shift: f64, log_sd: f64) -> Vec<f64> {
    let spacing = (log_sd * PER_UNIT / NODES).floor().max(1.0);
    let reach = (ENDS * log_sd * PER_UNIT / spacing).ceil() as i32;
    let centre = (shift * PER_UNIT).round();
    let nodes: Vec<(i64, f64)> = (-reach..=reach)
        .map(|n| {
            let at = centre + f64::from(n) * spacing;
            let z = (at / PER_UNIT - shift) / log_sd;
            (at as i64, (-z * z / 2.0).exp())
        })
        .collect();
    let total: f64 = nodes.iter().map(|(_, w)| w).sum();
    let length = POINTS + LEAD;
    let mut out = vec![0.0; length];
    let mut ones = vec![0.0; length + 1];
    let zero = (-LOW * PER_UNIT) as i64 + LEAD as i64;
    for (at, weight) in nodes {
        let weight = weight / total;
        // Where the link of this node begins in `out`, and where it has reached 1.
        let begin = zero - at - LINK_HALF as i64;
        let end = begin + link.len() as i64;
        let clip = |i: i64| usize::try_from(i.clamp(0, length as i64)).unwrap_or(0);
        let skip = usize::try_from(-begin.min(0)).unwrap_or(0);
        if let Some(target) = out.get_mut(clip(begin)..clip(end)) {
            for (o, l) in target.iter_mut().zip(link.iter().skip(skip)) {
                *o += weight * l;
            }
        }
        if let Some(from) = ones.get_mut(clip(end)) {
            *from += weight;
        }
    }
    let mut full = 0.0;
    for (o, one) in out.iter_mut().zip(ones) {
        full += one;
        *o += full;
    }
    out
}

/// The chances of the four levels, with the share of reports that are slips, all times a weight.
fn reported(white: &[f64], weight: f64) -> [Vec<f64>; 4] {
    let slip = p::MISREPORT_SHARE.number();
    // The chance of at least a level is that of anything, further down by the level's ratio.
    let from = |ratio: f64| -> Vec<f64> {
        let back = ratio.ln() * PER_UNIT;
        let (whole, part) = (back.floor() as usize, back - back.floor());
        (LEAD..LEAD + POINTS)
            .map(|i| {
                let at = |i: Option<usize>| i.and_then(|i| white.get(i)).copied().unwrap_or(0.0);
                at(i.checked_sub(whole)) * (1.0 - part) + at(i.checked_sub(whole + 1)) * part
            })
            .collect()
    };
    let (faint, clear, heavy) =
        (from(1.0), from(p::CLEAR_RATIO.number()), from(p::HEAVY_RATIO.number()));
    // Any of the four levels alike.
    let with_slips = |p: f64| weight * ((1.0 - slip) * p + slip / 4.0);
    let between = |a: &[f64], b: &[f64]| -> Vec<f64> {
        a.iter().zip(b).map(|(a, b)| with_slips((a - b).max(0.0))).collect()
    };
    [
        faint.iter().map(|f| with_slips(1.0 - f)).collect(),
        between(&faint, &clear),
        between(&clear, &heavy),
        heavy.iter().map(|h| with_slips(*h)).collect(),
    ]
}

/// The nearest model of four levels in which the ratio of each level to the one below never falls
/// as the residue rises.
fn clamped(chances: &[Vec<f64>; 4]) -> [Vec<f64>; 4] {
    let [none, faint, clear, heavy] = chances;
    let ratio = |upper: &[f64], lower: &[f64]| -> Vec<f64> {
        let mut least = f64::INFINITY;
        let mut out: Vec<f64> = upper
            .iter()
            .zip(lower)
            .rev()
            .map(|(u, l)| {
                least = least.min(u / l);
                least
            })
            .collect();
        out.reverse();
        out
    };
    let ratios = [ratio(faint, none), ratio(clear, faint), ratio(heavy, clear)];
    let [r1, r2, r3] = &ratios;
    let mut out = [(); 4].map(|()| Vec::with_capacity(none.len()));
    for ((a, b), c) in r1.iter().zip(r2).zip(r3) {
        let raw = [1.0, *a, a * b, a * b * c];
        let sum: f64 = raw.iter().sum();
        out.iter_mut().zip(raw).for_each(|(column, l)| column.push(l / sum));
    }
    out
}

/// The tables of one answer, each made once: one for every hundredth of uncertainty.
#[derive(Debug, Default)]
pub(crate) struct Emissions(BTreeMap<u32, Rc<Emission>>);

impl Emissions {
    pub(crate) fn of(&mut self, log_sd: f64) -> Rc<Emission> {
        // At most 300 tables: the range of the uncertainty is 0.01 to 3.
        let hundredths = (log_sd * 100.0).round().clamp(1.0, 300.0) as u32;
        let new = || Rc::new(Emission::new(f64::from(hundredths) / 100.0));
        Rc::clone(self.0.entry(hundredths).or_insert_with(new))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPREADS: [f64; 6] = [0.01, 0.1, 0.33, 0.6, 1.2, 3.0];

    fn overs() -> impl Iterator<Item = f64> {
        (0..=1800).map(|i| LOW + f64::from(i) / 100.0)
    }

    #[test]
    fn going_down_a_curve_is_reading_it_at_each_place() {
        let emission = Emission::new(0.33);
        for level in Level::ALL {
            let curve = emission.level(*level);
            for over in [-30.0, -9.004, -1.237, 0.0, 2.504, 8.996, 11.3] {
                for (n, value) in curve.down(over, 3).take(221).enumerate() {
                    let there = curve.at(over - 0.03 * n as f64);
                    assert!((value - there).abs() < 1e-9, "{level:?} {over} {n}: {value} {there}");
                }
            }
        }
    }

    #[test]
    fn levels_share_the_whole() {
        for sd in SPREADS {
            let e = Emission::new(sd);
            for over in overs().chain([-40.0, 40.0, 0.1234]) {
                let sum: f64 = Level::ALL.iter().map(|l| e.level(*l).at(over)).sum();
                assert!((sum - 1.0).abs() < 1e-12, "{sd} {over}: {sum}");
            }
        }
    }

    #[test]
    fn a_heavier_level_never_speaks_for_a_higher_threshold() {
        for sd in SPREADS {
            let e = Emission::new(sd);
            for (light, heavy) in Level::ALL.iter().zip(Level::ALL.iter().skip(1)) {
                let mut before = 0.0;
                for over in overs() {
                    let ratio = e.level(*heavy).at(over) / e.level(*light).at(over);
                    assert!(ratio >= before * (1.0 - 1e-12), "{sd} {over}: {ratio} {before}");
                    before = ratio;
                }
            }
        }
    }

    #[test]
    fn white_is_the_logistic_link_blurred_by_day() {
        // By sums over the error itself, finely.
        for sd in [0.05, 0.33, 0.8] {
            let e = Emission::new(sd);
            for over in [-2.0, -0.7, -0.1, 0.0, 0.3, 1.5] {
                let by_sums = |shift: f64, sd: f64| {
                    let (mut sum, mut whole) = (0.0, 0.0);
                    for i in -6000..=6000 {
                        let z = f64::from(i) / 1000.0;
                        let w = (-z * z / 2.0).exp();
                        whole += w;
                        sum += w * logistic((over + shift + z * sd) / p::LINK_SCALE.number());
                    }
                    sum / whole
                };
                let share = p::ODD_DAY_SHARE.number();
                let odd_sd = sd.hypot(p::ODD_DAY_LOG_SD.number());
                let expect = (1.0 - share) * by_sums(0.0, sd)
                    + share * by_sums(p::ODD_DAY_LOG_SHIFT.number(), odd_sd);
                let found = e.white().at(over);
                assert!((found - expect).abs() < 2e-4, "{sd} {over}: {found} {expect}");
            }
        }
    }

    #[test]
    fn at_the_threshold_of_a_sure_day_half_see_it() {
        // Without odd days the link is one half at the threshold; those add at most half their
        // share.
        let e = Emission::new(0.01);
        let found = e.white().at(0.0);
        assert!((0.5..0.5 + p::ODD_DAY_SHARE.number() / 2.0).contains(&found), "{found}");
    }

    #[test]
    fn a_heavy_look_at_a_low_residue_was_probably_an_odd_day() {
        let e = Emission::new(0.33);
        assert!(e.odd_day(Level::Heavy, 0.0) > 0.7);
        assert!(e.odd_day(Level::None, -1.0) < 0.1);
        assert!(e.odd_day(Level::Faint, 0.3) < 0.1);
    }

    #[test]
    fn each_level_is_the_chance_of_any_white_at_a_residue_lower_by_its_ratio() {
        // data/journal.csv: clear at twice, heavy at four times the residue; 3 of 100 reports are
        // slips, any of the four levels alike, so that each has 0.0075 of them.
        for sd in [0.1, 0.33, 0.8] {
            let e = Emission::new(sd);
            let [none, faint, clear, heavy] = &e.any;
            let white = |over: f64, ratio: f64| e.white().at(over - f64::ln(ratio));
            for over in [-1.0, -0.3, 0.0, 0.25, 0.7, 1.1, 1.6, 2.5] {
                for (found, chance) in [
                    (none, 1.0 - white(over, 1.0)),
                    (faint, white(over, 1.0) - white(over, 2.0)),
                    (clear, white(over, 2.0) - white(over, 4.0)),
                    (heavy, white(over, 4.0)),
                ] {
                    let (found, expected) = (found.at(over), 0.97 * chance + 0.0075);
                    assert!((found - expected).abs() < 1e-4, "{sd} {over}: {found} {expected}");
                }
            }
        }
    }
}
