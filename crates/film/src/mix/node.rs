//! One point of the path of a drying mix.

/// One point of the path of the drying mix, per litre of the solution that was sprayed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Node {
    pub(crate) a: f64,
    /// Water over `a/(1 − a)`, which varies little, in g/L.
    pub(crate) k: f64,
    /// Dissolved ions and urea in g/L.
    pub(crate) salts_g: f64,
    pub(crate) urea_g: f64,
    /// Solids without scale, water of crystallisation included, in g/L; of which urea.
    pub(crate) solids_g: f64,
    pub(crate) solid_urea_g: f64,
    /// Water of crystallisation in g/L.
    pub(crate) bound_g: f64,
}

impl Node {
    pub(crate) fn water_g(&self) -> f64 {
        self.k * self.a / (1.0 - self.a)
    }

    pub(super) fn between(low: &Self, high: &Self, a: f64) -> Self {
        let span = high.a - low.a;
        let s = if span > 0.0 { (a - low.a) / span } else { 0.0 };
        let mix = |x: f64, y: f64| x + s * (y - x);
        Self {
            a,
            k: mix(low.k, high.k),
            salts_g: mix(low.salts_g, high.salts_g),
            urea_g: mix(low.urea_g, high.urea_g),
            solids_g: mix(low.solids_g, high.solids_g),
            solid_urea_g: mix(low.solid_urea_g, high.solid_urea_g),
            bound_g: mix(low.bound_g, high.bound_g),
        }
    }
}
