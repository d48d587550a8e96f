//! The `uom` quantities used across guardcell, and constructors for the units of the trade.
//!
//! Absolute temperature ([`ThermodynamicTemperature`]) and temperature difference
//! ([`TemperatureInterval`]) are different types.

pub use uom::si::f64::{
    AmountOfSubstance, Area, ArealMassDensity, ElectricalConductivity, HeatFluxDensity,
    Illuminance, Length, Mass, MassConcentration, MassDensity, MassFlux, Molality,
    MolarConcentration, MolarMass, Pressure, Ratio, TemperatureInterval, ThermodynamicTemperature,
    Time, Velocity, Volume,
};

/// Photosynthetic photon flux density: mol of photons (400 to 700 nm) per area and time.
pub type PhotonFluxDensity = uom::si::f64::MolarFlux;

use uom::si::{
    electrical_conductivity::siemens_per_meter, mass::gram, mass_concentration::gram_per_liter,
    molar_concentration::mole_per_cubic_meter, molar_flux::mole_per_square_meter_second,
    thermodynamic_temperature::degree_celsius, volume::liter,
};

/// A mass concentration from a number of mg/L.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_mg_per_l, mg_per_l};
/// assert_eq!(in_mg_per_l(mg_per_l(300.0)), 300.0);
/// ```
#[must_use]
pub fn mg_per_l(value: f64) -> MassConcentration {
    MassConcentration::new::<gram_per_liter>(value / 1000.0)
}

/// The number of mg/L in a mass concentration.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_mg_per_l, mg_per_l};
/// assert_eq!(in_mg_per_l(mg_per_l(150.0)), 150.0);
/// ```
#[must_use]
pub fn in_mg_per_l(c: MassConcentration) -> f64 {
    c.get::<gram_per_liter>() * 1000.0
}

/// A molar concentration from a number of mmol/L (the same number as mol/m³).
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_mmol_per_l, mmol_per_l};
/// assert_eq!(in_mmol_per_l(mmol_per_l(1.5)), 1.5);
/// ```
#[must_use]
pub fn mmol_per_l(value: f64) -> MolarConcentration {
    MolarConcentration::new::<mole_per_cubic_meter>(value)
}

/// The number of mmol/L in a molar concentration.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_mmol_per_l, mmol_per_l};
/// assert_eq!(in_mmol_per_l(mmol_per_l(2.0) * 3.0), 6.0);
/// ```
#[must_use]
pub fn in_mmol_per_l(c: MolarConcentration) -> f64 {
    c.get::<mole_per_cubic_meter>()
}

/// A conductivity from a number of µS/cm (1 µS/cm is 10⁻⁴ S/m).
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_us_per_cm, us_per_cm};
/// assert!((in_us_per_cm(us_per_cm(1413.0)) - 1413.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn us_per_cm(value: f64) -> ElectricalConductivity {
    ElectricalConductivity::new::<siemens_per_meter>(value * 1e-4)
}

/// The number of µS/cm in a conductivity.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_us_per_cm, us_per_cm};
/// assert!((in_us_per_cm(us_per_cm(84.0)) - 84.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn in_us_per_cm(k: ElectricalConductivity) -> f64 {
    k.get::<siemens_per_meter>() * 1e4
}

/// A temperature from a number of °C.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{celsius, in_celsius};
/// assert!((in_celsius(celsius(18.0)) - 18.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn celsius(value: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(value)
}

/// The number of °C in a temperature.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{celsius, in_celsius};
/// assert!((in_celsius(celsius(-5.0)) + 5.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn in_celsius(t: ThermodynamicTemperature) -> f64 {
    t.get::<degree_celsius>()
}

/// A volume from a number of litres.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_litres, litres};
/// assert!((in_litres(litres(8.0)) - 8.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn litres(value: f64) -> Volume {
    Volume::new::<liter>(value)
}

/// The number of litres in a volume.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_litres, litres};
/// assert!((in_litres(litres(0.5)) - 0.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn in_litres(v: Volume) -> f64 {
    v.get::<liter>()
}

/// A mass from a number of grams.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{grams, in_grams};
/// assert!((in_grams(grams(12.0)) - 12.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn grams(value: f64) -> Mass {
    Mass::new::<gram>(value)
}

/// The number of grams in a mass.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{grams, in_grams};
/// assert!((in_grams(grams(1.5) * 2.0) - 3.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn in_grams(m: Mass) -> f64 {
    m.get::<gram>()
}

/// A photon flux density from a number of µmol/(m² s).
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_umol_per_m2_s, umol_per_m2_s};
/// assert!((in_umol_per_m2_s(umol_per_m2_s(200.0)) - 200.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn umol_per_m2_s(value: f64) -> PhotonFluxDensity {
    PhotonFluxDensity::new::<mole_per_square_meter_second>(value * 1e-6)
}

/// The number of µmol/(m² s) in a photon flux density.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::{in_umol_per_m2_s, umol_per_m2_s};
/// assert!((in_umol_per_m2_s(umol_per_m2_s(50.0) * 2.0) - 100.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn in_umol_per_m2_s(light: PhotonFluxDensity) -> f64 {
    light.get::<mole_per_square_meter_second>() * 1e6
}
