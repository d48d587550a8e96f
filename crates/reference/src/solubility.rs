//! Solubility in water of the single materials of feeds.

use guardcell_units::quantity::ThermodynamicTemperature;
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

/// Solubility of one material, as the anhydrous substance, at 0, 10, 20, 30 and 40 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Solubility {
    /// The name of the [`crate::material::Material`].
    pub material: &'static str,
    /// Grams of anhydrous substance in 100 g of water at 0, 10, 20, 30 and 40 °C.
    pub g_per_100_g: [f64; 5],
    /// Keys of the works it is from; empty where from memory.
    pub sources: &'static [&'static str],
    /// Remarks.
    pub note: &'static str,
}

include!(concat!(env!("OUT_DIR"), "/solubility.rs"));

impl Solubility {
    /// Grams of anhydrous substance in 100 g of water, linear between the table's temperatures
    /// and held at its ends.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::reference::solubility::solubility;
    /// use guardcell::units::quantity::ThermodynamicTemperature;
    /// use guardcell::units::uom::si::thermodynamic_temperature::degree_celsius;
    /// let cold = ThermodynamicTemperature::new::<degree_celsius>(0.0);
    /// let kno3 = solubility("potassium nitrate").unwrap();
    /// assert!(kno3.at(cold) < 15.0);
    /// ```
    #[must_use]
    pub fn at(&self, temperature: ThermodynamicTemperature) -> f64 {
        let t = (temperature.get::<degree_celsius>() / 10.0).clamp(0.0, 4.0);
        let [a, b, c, d, e] = self.g_per_100_g;
        let steps = [(0.0, a, b), (1.0, b, c), (2.0, c, d), (3.0, d, e)];
        steps
            .into_iter()
            .find(|(start, _, _)| t <= start + 1.0)
            .map_or(e, |(start, low, high)| low + (t - start) * (high - low))
    }
}

/// The solubility of a material by its name; `None` where the table has none.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::solubility::solubility("urea").is_some());
/// ```
#[must_use]
pub fn solubility(material: &str) -> Option<&'static Solubility> {
    SOLUBILITIES.iter().find(|s| s.material == material)
}
