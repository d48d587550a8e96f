//! What the volunteers of the demo year see: a rule with a stated threshold and a generator.

use guardcell::ledger::Level;

/// The residue at which half of the reports say something. The program does not know it.
pub(super) const TRUTH_G_M2: f64 = 0.028;
/// How far one day is off its model (standard deviation of the natural logarithm).
const DAY_LOG_SD: f64 = 0.3;
/// How far from the threshold reports still waver, in natural logarithm.
const LINK_SCALE: f64 = 0.15;
/// One report in so many is a slip.
const SLIP_IN: u64 = 30;
/// Residue over the threshold from which it is clear, and heavy.
const CLEAR: f64 = 2.0;
const HEAVY: f64 = 4.0;

/// A generator of our own (SplitMix64: Steele, Lea and Flood 2014, "Fast splittable pseudorandom
/// number generators", figure 11), so that the demo year does not change with a library.
pub(super) struct Random(pub(super) u64);

impl Random {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub(super) fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }

    /// Between 0 and 1, neither of them.
    pub(super) fn share(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    /// Normal, by the sum of twelve uniform numbers: good enough for a demo, and the same
    /// everywhere.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }
}

/// How far a day is off its model, as a factor.
pub(super) fn error_of_day(random: &mut Random) -> f64 {
    (DAY_LOG_SD * random.normal()).exp()
}

/// What is reported of a residue.
pub(super) fn report(residue_g_m2: f64, random: &mut Random) -> Level {
    if random.below(SLIP_IN) == 0 {
        let at = random.below(Level::ALL.len() as u64) as usize;
        return Level::ALL.get(at).copied().unwrap_or(Level::None);
    }
    // A logistic number, the noise of the link.
    let u = random.share();
    let over = residue_g_m2.max(1e-9) / TRUTH_G_M2 * (LINK_SCALE * (u / (1.0 - u)).ln()).exp();
    if over < 1.0 {
        Level::None
    } else if over < CLEAR {
        Level::Faint
    } else if over < HEAVY {
        Level::Clear
    } else {
        Level::Heavy
    }
}
