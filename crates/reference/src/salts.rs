//! The salts that a feed leaves: when they deliquesce and how much water their solution holds.

use crate::composition::Solute;
use crate::parameters::Basis;
use guardcell_units::atomic_weight::Element;
use guardcell_units::formula::Formula;
use guardcell_units::quantity::{Molality, MolarMass, Ratio, ThermodynamicTemperature};
use guardcell_units::uom::si::{
    molality::mole_per_kilogram,
    molar_mass::gram_per_mole,
    ratio::ratio,
    thermodynamic_temperature::{degree_celsius, kelvin},
};

const WATER: Formula = Formula::new(&[(Element::H, 2), (Element::O, 1)]);

/// How a salt takes part when a film dries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// A salt that keeps a film wet until its deliquescence humidity.
    Soluble,
    /// A salt that falls out long before the film is concentrated, such as gypsum.
    Sparing,
}

/// One salt (or urea), with its deliquescence and the water activity of its solutions.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Salt {
    /// The key in the tables.
    pub key: &'static str,
    /// The name.
    pub name: &'static str,
    /// The formula of the solid that forms near 25 °C.
    pub formula: &'static str,
    /// The cation; [`Solute::Urea`] for urea itself.
    pub cation: Solute,
    /// The anion; none for urea.
    pub anion: Option<Solute>,
    /// Cations in a formula unit.
    pub cations: u8,
    /// Anions in a formula unit.
    pub anions: u8,
    /// Water in a formula unit of the solid.
    pub hydrate: u8,
    pub(crate) drh25: f64,
    pub(crate) drh_b_k: f64,
    pub(crate) drh_low_c: f64,
    pub(crate) drh_high_c: f64,
    pub(crate) solubility_g_100g: Option<f64>,
    /// How it takes part when a film dries.
    pub role: Role,
    /// What the row rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks and doubts.
    pub note: &'static str,
    /// Water held per mole over the ideal `ν a/(1 − a)`, at `x = −ln(1 − a)` of
    /// 0, [`Self::GRID_STEP`], … (dimensionless; 25 °C).
    pub correction: &'static [f64; Self::GRID_LEN],
    /// The running integral of [`Self::correction`] over `x` (dimensionless), from which the
    /// activity of the salt follows by the Gibbs–Duhem equation.
    pub sums: &'static [f64; Self::GRID_LEN],
}

impl Salt {
    /// Step of the tables in `x = −ln(1 − water activity)`.
    pub const GRID_STEP: f64 = 0.1;
    /// Length of the tables.
    pub const GRID_LEN: usize = 121;

    /// Ions (or molecules) in a formula unit.
    #[must_use]
    pub const fn ions(&self) -> u8 {
        self.cations + self.anions
    }

    /// Humidity over the saturated solution. The temperature term is used inside the range of its
    /// source and held at its ends; salts without one have their 25 °C value throughout.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::reference::salts::salt;
    /// use guardcell::units::{quantity::ThermodynamicTemperature, uom::si::{ratio::percent, thermodynamic_temperature::degree_celsius}};
    /// let nitrate = salt("ammonium_nitrate").expect("in the table");
    /// let at_30 = nitrate.deliquescence(ThermodynamicTemperature::new::<degree_celsius>(30.0));
    /// assert!((at_30.get::<percent>() - 59.4).abs() < 1.0); // Adams & Merz 1929
    /// ```
    #[must_use]
    pub fn deliquescence(&self, temperature: ThermodynamicTemperature) -> Ratio {
        let c = temperature.get::<degree_celsius>().clamp(self.drh_low_c, self.drh_high_c);
        let t = ThermodynamicTemperature::new::<degree_celsius>(c).get::<kelvin>();
        let t25 = ThermodynamicTemperature::new::<degree_celsius>(25.0).get::<kelvin>();
        let value = self.drh25 * (self.drh_b_k * (1.0 / t - 1.0 / t25)).exp();
        Ratio::new::<ratio>(value.min(0.9999))
    }

    /// Solubility at 25 °C as molality, where the table has it.
    #[must_use]
    pub fn solubility(&self) -> Option<Molality> {
        let anhydrous = self.molar_mass().get::<gram_per_mole>();
        self.solubility_g_100g.map(|g| Molality::new::<mole_per_kilogram>(g * 10.0 / anhydrous))
    }

    /// Molality of the solution of this salt alone that has this water activity, at 25 °C; beyond
    /// saturation it is an extrapolation to the supersaturated solution.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::reference::salts::salt;
    /// use guardcell::units::{quantity::Ratio, uom::si::{molality::mole_per_kilogram, ratio::ratio}};
    /// let salt = salt("sodium_chloride").expect("in the table");
    /// // Robinson & Stokes 1959, appendix 8.3: 6 mol/kg has a water activity of 0.7598.
    /// let m = salt.molality_at(Ratio::new::<ratio>(0.7598));
    /// assert!((m.get::<mole_per_kilogram>() - 6.0).abs() < 0.06);
    /// ```
    #[must_use]
    pub fn molality_at(&self, water_activity: Ratio) -> Molality {
        let a = water_activity.get::<ratio>().clamp(1e-6, 1.0 - 1e-9);
        let x = (-(1.0 - a).ln() / Self::GRID_STEP).min((Self::GRID_LEN - 1) as f64);
        let i = (x as usize).min(Self::GRID_LEN - 2); // two neighbours exist up to LEN − 2
        let share = x - i as f64;
        let c = self.correction[i] * (1.0 - share) + self.correction[i + 1] * share;
        let water_per_mole = f64::from(self.ions()) * c * a / (1.0 - a);
        Molality::new::<mole_per_kilogram>(1000.0 / (WATER.g_per_mol() * water_per_mole))
    }

    /// Molar mass without the water of crystallisation.
    #[must_use]
    pub fn molar_mass(&self) -> MolarMass {
        let anion = self.anion.map_or(0.0, |a| a.formula().g_per_mol());
        MolarMass::new::<gram_per_mole>(
            f64::from(self.cations) * self.cation.formula().g_per_mol()
                + f64::from(self.anions) * anion,
        )
    }
}

/// A published mutual deliquescence humidity of two salts.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Pair {
    /// The key of the first salt.
    pub first: &'static str,
    /// The key of the second salt.
    pub second: &'static str,
    pub(crate) temp_c: f64,
    pub(crate) mutual: f64,
    /// What the value rests on.
    pub basis: Basis,
    /// Keys of the works it is from.
    pub sources: &'static [&'static str],
    /// Remarks and doubts.
    pub note: &'static str,
}

impl Pair {
    /// The temperature of the measurement.
    #[must_use]
    pub fn temperature(&self) -> ThermodynamicTemperature {
        ThermodynamicTemperature::new::<degree_celsius>(self.temp_c)
    }

    /// The humidity above which the mixture takes up water.
    #[must_use]
    pub fn mutual_deliquescence(&self) -> Ratio {
        Ratio::new::<ratio>(self.mutual)
    }
}

include!(concat!(env!("OUT_DIR"), "/salts.rs"));

/// The salt with this key.
///
/// ```
/// # mod guardcell { pub mod reference { pub use guardcell_reference::*; } }
/// assert!(guardcell::reference::salts::salt("urea").is_some());
/// ```
#[must_use]
pub fn salt(key: &str) -> Option<&'static Salt> {
    SALTS.iter().find(|s| s.key == key)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Robinson & Stokes 1959, appendix 8.10 (osmotic coefficients at 25 °C, from memory):
    // written as water activities.
    #[test]
    fn osmotic_coefficients_of_handbooks() {
        for (key, m, phi, tolerance) in [
            ("potassium_chloride", 4.0, 0.965, 0.01),
            ("sodium_chloride", 2.0, 0.983, 0.01),
            ("potassium_nitrate", 1.0, 0.756, 0.01),
            ("magnesium_sulfate", 2.0, 0.676, 0.03),
        ] {
            let s = salt(key).expect("in the table");
            let a = (-f64::from(s.ions()) * m * phi * 0.018_015).exp();
            let got = s.molality_at(Ratio::new::<ratio>(a)).get::<mole_per_kilogram>();
            assert!((got / m - 1.0).abs() < tolerance, "{key}: {got} for {m}");
        }
    }

    // The humidity over the saturated solution (Greenspan 1977) and the solubility (handbooks, from
    // memory) are independent of the water-activity parameters; where the solubility is within
    // their range the three must agree.
    #[test]
    fn saturated_solutions() {
        for key in [
            "potassium_chloride",
            "sodium_chloride",
            "ammonium_chloride",
            "sodium_nitrate",
            "magnesium_chloride",
        ] {
            let s = salt(key).expect("in the table");
            let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
            let got = s.molality_at(s.deliquescence(t));
            let solubility = s.solubility().expect("in the table");
            assert!(
                (got.value / solubility.value - 1.0).abs() < 0.15,
                "{key}: {got:?} {solubility:?}"
            );
        }
    }

    #[test]
    fn tables_are_positive() {
        for s in SALTS {
            assert!(s.correction.iter().all(|c| *c > 0.0), "{}", s.key);
            assert!(s.sums.is_sorted(), "{}", s.key);
        }
    }
}
