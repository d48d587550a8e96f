//! A feed strength with its passes.

/// A feed strength with its passes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Dose {
    pub(crate) mg_l: f64,
    pub(crate) passes: u8,
}

impl Dose {
    pub(crate) const WATER: Self = Self { mg_l: 0.0, passes: 1 };

    pub(crate) const fn one_pass(mg_l: f64) -> Self {
        Self { mg_l, passes: 1 }
    }

    /// Strength times passes, mg/L.
    pub(crate) fn amount(self) -> f64 {
        self.mg_l * f64::from(self.passes)
    }

    /// The strength in µg/L, as a key.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 1e7")]
    pub(crate) fn micrograms(self) -> u64 {
        (self.mg_l * 1000.0).round() as u64
    }
}
