//! The generator of the studies.

/// SplitMix64 (Steele, Lea and Flood 2014, "Fast splittable pseudorandom number generators",
/// figure 11), so that the table does not change with a library.
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        let mut random = Self(seed);
        // Neighbouring seeds apart from the first number on.
        random.next();
        random
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Between 0 and 1, neither of them.
    pub(crate) fn unit(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Normal (Box and Muller 1958, "A note on the generation of random normal deviates").
    pub(crate) fn normal(&mut self) -> f64 {
        let (u, v) = (self.unit(), self.unit());
        (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }

    /// Logistic with this scale.
    pub(crate) fn logistic(&mut self, scale: f64) -> f64 {
        let u = self.unit();
        scale * (u / (1.0 - u)).ln()
    }
}
