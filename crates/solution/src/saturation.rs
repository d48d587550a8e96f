//! How near a solution is to laying down a solid.

/// log10 of the ion activity product over the solubility product: above nought the solid can
/// form, below nought it dissolves. Whether it forms in the time at hand is not said.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct SaturationIndex(f64);

impl SaturationIndex {
    pub(crate) const fn of(log10: f64) -> Self {
        Self(log10)
    }

    /// The index itself, dimensionless.
    #[must_use]
    pub const fn log10(self) -> f64 {
        self.0
    }

    /// Whether the solid can form.
    #[must_use]
    pub fn is_supersaturated(self) -> bool {
        self.0 > 0.0
    }
}
