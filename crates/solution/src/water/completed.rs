//! A completed water.

use super::assumed::Assumed;
use super::residue::WaterResidue;
use guardcell_error::Error;
use guardcell_reference::{Composition, Solute};
use guardcell_units::basis::{CaCO3, Of};
use guardcell_units::quantity::{
    ElectricalConductivity, ThermodynamicTemperature, in_mmol_per_l, us_per_cm,
};

/// A water with every total filled in, stated or assumed.
///
/// ```
/// # mod guardcell {
/// #     pub mod reference { pub use guardcell_reference::*; }
/// #     pub mod solution { pub use guardcell_solution::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::solution::{Water, WaterReport};
/// use guardcell::reference::Solute;
/// use guardcell::units::quantity::in_mmol_per_l;
/// let report = WaterReport::from_toml("ca_mg_l = 80\nmg_mg_l = 6\nalkalinity_mg_l_caco3 = 180\nna_mg_l = 10\ncl_mg_l = 20\nso4_mg_l = 30\nph = 7.5\n")?;
/// let water = Water::from_report(&report)?;
/// assert!((in_mmol_per_l(water.composition()[Solute::Ca]) - 1.996).abs() < 0.001);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Water {
    pub(super) name: String,
    pub(super) composition: Composition,
    pub(super) ec25: ElectricalConductivity,
    pub(super) ph: Option<f64>,
    pub(super) temperature: ThermodynamicTemperature,
    pub(super) alkalinity_meq_l: f64,
    /// Stated less computed specific conductance, µS/cm.
    pub(super) ec_offset_us_cm: f64,
    pub(super) assumed: Vec<Assumed>,
    /// What was added so that the charges cancel; part of `composition`, not of the report.
    pub(super) closing: Composition,
}

impl Water {
    /// Water with nothing dissolved.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// # }
    /// use guardcell::solution::Water;
    /// use guardcell::reference::Composition;
    /// assert_eq!(Water::pure().composition(), Composition::PURE_WATER);
    /// ```
    #[must_use]
    pub fn pure() -> Self {
        Self {
            name: "pure water".into(),
            composition: Composition::PURE_WATER,
            ec25: us_per_cm(0.0),
            ph: None,
            temperature: crate::conduct::reference_temperature(),
            alkalinity_meq_l: 0.0,
            ec_offset_us_cm: 0.0,
            assumed: Vec::new(),
            closing: Composition::PURE_WATER,
        }
    }

    /// The name on the report, or "water".
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Every total.
    #[must_use]
    pub fn composition(&self) -> Composition {
        self.composition
    }

    /// The specific conductance (at 25 °C): the one the report states, or the one computed.
    #[must_use]
    pub fn ec25(&self) -> ElectricalConductivity {
        self.ec25
    }

    /// The pH the report states.
    #[must_use]
    pub fn ph(&self) -> Option<f64> {
        self.ph
    }

    /// The water's temperature, 25 °C where the report states none.
    #[must_use]
    pub fn temperature(&self) -> ThermodynamicTemperature {
        self.temperature
    }

    /// The alkalinity.
    #[must_use]
    pub fn alkalinity(&self) -> Of<CaCO3> {
        // 1 meq/L is half a mmol/L of CaCO3.
        Of::from_molar(guardcell_units::quantity::mmol_per_l(self.alkalinity_meq_l / 2.0))
    }

    /// The hardness.
    #[must_use]
    pub fn hardness(&self) -> Of<CaCO3> {
        let c = &self.composition;
        let total = in_mmol_per_l(c[Solute::Ca]) + in_mmol_per_l(c[Solute::Mg]);
        Of::from_molar(guardcell_units::quantity::mmol_per_l(total))
    }

    /// What the report did not state and the completion assumed.
    #[must_use]
    pub fn assumed(&self) -> &[Assumed] {
        &self.assumed
    }

    /// The totals as the report states them or the completion assumes them, without what was added
    /// to cancel the charges.
    pub(crate) fn as_reported(&self) -> Composition {
        let mut c = self.composition;
        for (s, added) in self.closing.iter() {
            c[s] -= added;
        }
        c
    }

    pub(crate) fn alkalinity_meq_l(&self) -> f64 {
        self.alkalinity_meq_l
    }

    /// What a meter reads above the computed conductance of the water's ions, µS/cm.
    pub(crate) fn ec_offset_us_cm(&self) -> f64 {
        self.ec_offset_us_cm
    }

    /// Specific conductance over the conductivity at a temperature in °C, by the model.
    pub(crate) fn ec25_over(&self, temp_c: f64) -> Result<f64, Error> {
        let at = |t: f64| {
            crate::conduct::conductance_of(&self.composition, guardcell_units::quantity::celsius(t))
                .map(guardcell_units::quantity::in_us_per_cm)
        };
        Ok(at(25.0)? / at(temp_c)?)
    }

    /// What this water alone leaves when it dries.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::{Water, WaterReport};
    /// let report = WaterReport::from_toml("ca_mg_l = 80\nalkalinity_mg_l_caco3 = 200\nph = 7.5\n")?;
    /// let r = Water::from_report(&report)?.residue();
    /// assert!((r.scale_caco3_mg_l - 199.8).abs() < 0.5);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn residue(&self) -> WaterResidue {
        super::residue::of(&self.composition, self.alkalinity_meq_l)
    }
}
