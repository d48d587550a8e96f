//! How a leaf is sprayed.

use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::{ArealMassDensity, Ratio};
use guardcell_units::uom::si::ratio::ratio;

/// How the leaf is sprayed.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Spraying {
    /// The film that stays after run-off, per wet side and pass.
    pub load: ArealMassDensity,
    /// Passes of the feed, each laid when the one before has dried; at least 1 counts.
    pub passes: u8,
    /// A last pass of pure water.
    pub plain_water_pass: bool,
    /// Liquid sprayed in a pass over what stays: the surplus of a later pass dissolves what the
    /// earlier one left and carries it off. Less than 1 counts as 1.
    pub overspray: Ratio,
    /// A wetting agent is in the spray.
    pub wetting_agent: bool,
}

impl Spraying {
    /// One pass that leaves this film load, with the shipped overspray.
    #[must_use]
    pub fn one_pass(load: ArealMassDensity) -> Self {
        Self {
            load,
            passes: 1,
            plain_water_pass: false,
            overspray: Ratio::new::<ratio>(data::OVERSPRAY.number()),
            wetting_agent: false,
        }
    }

    /// The same with this many passes.
    #[must_use]
    pub const fn passes(self, passes: u8) -> Self {
        Self { passes, ..self }
    }

    /// The same with a last pass of pure water.
    #[must_use]
    pub const fn then_plain_water(self) -> Self {
        Self { plain_water_pass: true, ..self }
    }

    /// Feed salts that lie on the leaf in the end, over those of one pass.
    ///
    /// Of what an earlier pass left, the film keeps the share of the spray that stays on the leaf.
    pub(crate) fn feed_multiple(&self) -> f64 {
        let kept = 1.0 / self.overspray.get::<ratio>().max(1.0);
        let mut sum = 0.0;
        for _ in 0..self.passes.max(1) {
            sum = sum * kept + 1.0;
        }
        if self.plain_water_pass { sum * kept } else { sum }
    }

    /// Scale over that of one pass: carbonate does not dissolve again, and stays.
    pub(crate) fn scale_multiple(&self) -> f64 {
        f64::from(self.passes.max(1))
    }
}
