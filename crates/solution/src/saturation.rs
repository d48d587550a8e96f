//! How near a solution is to laying down a solid.

/// log10 of the ion activity product over the solubility product: above zero the solid can
/// form, below zero it dissolves. Whether it forms in the time available is not said.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct SaturationIndex(f64);

impl SaturationIndex {
    pub(crate) const fn of(log10: f64) -> Self {
        Self(log10)
    }

    /// The index itself, dimensionless.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute, aqueous::Phase};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::thermodynamic_temperature::degree_celsius};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::Ca, 40.0), (Solute::So4, 40.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// // 40 mmol/L of Ca and of SO4: gypsum forms
    /// let s = speciate(&c, t, Condition::default())?;
    /// let index = s.saturation_index(Phase::Gypsum).unwrap();
    /// assert!(index.log10() > 0.4);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub const fn log10(self) -> f64 {
        self.0
    }

    /// Whether the solid can form.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute, aqueous::Phase};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::thermodynamic_temperature::degree_celsius};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::Ca, 40.0), (Solute::So4, 40.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// // 40 mmol/L of Ca and of SO4: gypsum forms
    /// let s = speciate(&c, t, Condition::default())?;
    /// let index = s.saturation_index(Phase::Gypsum).unwrap();
    /// assert!(index.is_supersaturated());
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn is_supersaturated(self) -> bool {
        self.0 > 0.0
    }
}
