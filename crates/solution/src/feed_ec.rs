//! What a conductivity meter reads of a feed in a water.

use crate::conduct::specific_conductance_of;
use crate::notice::Bounds;
use crate::product::{Product, conductance_bounds};
use crate::water::Water;
use guardcell_error::Error;
use guardcell_units::quantity::{MassConcentration, in_us_per_cm};

impl Product {
    /// The specific conductance (25 °C) of a feed strength in a water, µS/cm: the two closures
    /// where the materials are not named, widened by the doubt of the conductance model.
    ///
    /// # Errors
    /// As [`crate::speciate`].
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::solution::{Label, Product, Water};
    /// # use guardcell::units::quantity::mg_per_l;
    /// let label = Label::from_csv("name,n_percent,nitrate_n_percent,k2o_percent\nX,13,13,46\n")?.remove(0);
    /// let ec = Product::new(&label)?.ec25_us_cm_at(mg_per_l(300.0), &Water::pure())?;
    /// assert!(ec.low < ec.high);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn ec25_us_cm_at(
        &self,
        strength: MassConcentration,
        water: &Water,
    ) -> Result<Bounds, Error> {
        let kappas = self
            .compositions_at(strength)
            .into_iter()
            .map(|c| {
                specific_conductance_of(&(c + water.composition()))
                    .map(|k| in_us_per_cm(k) + water.ec_offset_us_cm())
            })
            .collect::<Result<Vec<_>, _>>()?;
        Ok(conductance_bounds(&kappas))
    }
}
