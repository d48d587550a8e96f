//! What each world must reach.
//!
//! Common practice, no source: each bar leaves a margin of some points to what this design
//! reached in a simulation by another program, with 400 growers in each world.

use super::grower::Tally;
use super::world::{Asks, Follows, Happens, Logs, World};

/// Wider bars for fewer growers: points of coverage, of white and chance, of dose.
const WIDER: (f64, f64, f64) = (0.15, 0.04, 0.08);

/// The bars of one world. What is not set has none.
#[derive(Debug, Default)]
pub(super) struct Bars {
    /// Round, and the least coverage after it.
    coverage: Vec<(usize, f64)>,
    /// Rounds from and to, and the most white in them.
    white: Vec<(usize, usize, f64)>,
    /// The highest true chance of white in rounds 40 to 60.
    chance: Option<f64>,
    /// How far that may lie above the one told.
    above_told: Option<f64>,
    /// Least and highest dose in rounds 40 to 60.
    dose: Option<(f64, f64)>,
}

impl Bars {
    pub(super) fn of(world: &World) -> Self {
        if matches!(world.logs, Logs::Missing(_)) || world.wavers > 0.3 {
            return Self::default();
        }
        if world.asks == Asks::EachFifth {
            return Self {
                white: match world.happens {
                    Happens::Nothing => vec![(20, 60, 0.12)],
                    _ => vec![(30, 40, 0.12)],
                },
                ..Self::default()
            };
        }
        if world.follows == Follows::ReportsAlone {
            return Self::reports_alone(world);
        }
        let least_dose = if world.logs == Logs::WhiteOnly {
            0.45
        } else if world.odd_days {
            0.58
        } else {
            0.68
        };
        let plain = Self {
            coverage: vec![(10, 0.60), (20, 0.85), (40, 0.82), (60, 0.80)],
            white: vec![(20, 60, 0.12)],
            chance: Some(0.10),
            above_told: Some(0.01),
            dose: Some((least_dose, f64::INFINITY)),
        };
        match world.happens {
            Happens::Nothing | Happens::DryDay => plain,
            Happens::Drift => Self {
                coverage: vec![(20, 0.62), (30, 0.62), (40, 0.62), (60, 0.62)],
                white: Vec::new(),
                chance: Some(0.13),
                above_told: None,
                ..plain
            },
            Happens::Change { factor, recorded } => Self {
                coverage: if recorded {
                    vec![(30, 0.75), (40, 0.85), (60, 0.88)]
                } else {
                    vec![(30, 0.50), (40, 0.75), (60, 0.85)]
                },
                white: match (factor < 1.0, recorded) {
                    (true, false) => vec![(20, 25, 0.30), (30, 40, 0.15), (20, 60, 0.15)],
                    (true, true) => vec![(20, 25, 0.25), (30, 40, 0.14), (20, 60, 0.14)],
                    (false, _) => vec![(20, 60, 0.12)],
                },
                above_told: None,
                ..plain
            },
        }
    }

    fn reports_alone(world: &World) -> Self {
        let halves = matches!(world.happens, Happens::Change { .. });
        // A strength that follows the air of the day may beat the best constant one.
        let most = if matches!(world.asks, Asks::ForTheDay) { f64::INFINITY } else { 1.02 };
        Self {
            white: if halves { vec![(30, 40, 0.18)] } else { vec![(20, 60, 0.13)] },
            chance: (!halves).then_some(0.10),
            above_told: (!halves).then_some(0.01),
            dose: (!halves).then_some((if world.odd_days { 0.75 } else { 0.82 }, most)),
            ..Self::default()
        }
    }

    /// What was missed, in words.
    pub(super) fn missed(&self, tally: &Tally, wide: bool) -> Vec<String> {
        let (coverage, white, dose) = if wide { WIDER } else { (0.0, 0.0, 0.0) };
        let mut out = Vec::new();
        for (round, least) in &self.coverage {
            let found = tally.coverage(*round);
            if found < least - coverage {
                out.push(format!("coverage after round {round} {found:.3} < {least}"));
            }
        }
        for (from, to, most) in &self.white {
            let found = tally.white(*from, *to);
            if found > most + white {
                out.push(format!("white in rounds {from}-{to} {found:.3} > {most}"));
            }
        }
        let chance = tally.chance(40, 60);
        if let Some(most) = self.chance.filter(|most| chance > most + white) {
            out.push(format!("chance of white {chance:.3} > {most}"));
        }
        let above = chance - tally.told();
        if let Some(most) = self.above_told.filter(|most| above > most + white) {
            out.push(format!("chance of white {above:.3} above the one told, bar {most}"));
        }
        let found = tally.dose();
        if let Some((least, most)) =
            self.dose.filter(|(least, most)| found < least - dose || found > most + dose)
        {
            out.push(format!("dose {found:.3} not in {least} to {most}"));
        }
        out
    }
}
