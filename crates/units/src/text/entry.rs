//! From a text straight to one type: what request fields and table columns are read with.
//!
//! Each function takes what people write for that quantity and gives a `uom` quantity or one of
//! this crate's own types; a unit of another kind is an error that says what it is and what was
//! expected.

use super::measure::Measure;
use super::quantity::{Quantity, Subject};
use crate::alkalinity::Alkalinity;
use crate::basis::{Basis, BasisInfo, Of};
use crate::conductivity::{Compensation, Conductivity, SpecificConductance};
use crate::dimension::Dimension as D;
use crate::fault;
use crate::feed_strength::FeedStrength;
use crate::hardness::Hardness;
use crate::injector::InjectorRatio;
use crate::quantity::{
    Area, ArealMassDensity, HeatFluxDensity, Length, Mass, MassConcentration, MassDensity,
    Pressure, Ratio, TemperatureInterval, ThermodynamicTemperature, Time, Velocity, Volume,
    in_mmol_per_l,
};
use guardcell_error::Error;

/// A text as it was, or with this unit where it is a number alone: `22` is read as `22 °C` where
/// °C is the unit of a field.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::with_unit;
/// assert_eq!(with_unit(" 22 ", "°C"), "22 °C");
/// assert_eq!(with_unit("75 °F", "°C"), "75 °F");
/// assert_eq!(with_unit("nan", "°C"), "nan");
/// ```
#[must_use]
pub fn with_unit(text: &str, unit: &str) -> String {
    let text = text.trim();
    let number = text.ends_with(|c: char| c.is_ascii_digit())
        && text.parse::<f64>().is_ok_and(f64::is_finite);
    if number { format!("{text} {unit}") } else { text.to_owned() }
}

fn wrong(q: &Quantity, expected: D) -> Error {
    fault::wrong_dimension(&q.rounded(), q.dimension(), expected)
}

/// Reads a text and lets `pick` take the measure it wants.
fn take<T>(
    text: &str,
    expected: D,
    pick: impl FnOnce(&Quantity, Measure) -> Option<T>,
) -> Result<T, Error> {
    let q = Quantity::parse_for(text, expected)?;
    pick(&q, q.measure()).ok_or_else(|| wrong(&q, expected))
}

macro_rules! simple {
    ($($name:ident, $dim:ident, $type:ty, $words:literal, $good:literal, $bad:literal;)*) => {
        $(
            #[doc = concat!("Reads ", $words, ".")]
            ///
            /// # Errors
            /// When the text cannot be read or is a quantity of another kind.
            ///
            /// ```
            /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
            #[doc = concat!("use guardcell::units::text::entry::", stringify!($name), ";")]
            #[doc = concat!("assert!(", stringify!($name), "(\"", $good, "\").is_ok());")]
            #[doc = concat!("assert!(", stringify!($name), "(\"", $bad, "\").is_err());")]
            /// ```
            pub fn $name(text: &str) -> Result<$type, Error> {
                take(text, D::$dim, |_, measure| match measure {
                    Measure::$dim(value) => Some(value),
                    _ => None,
                })
            }
        )*
    };
}

simple! {
    parse_mass, Mass, Mass, "a mass", "1/2 oz", "2 tsp";
    parse_volume, Volume, Volume, "a volume", "2 gal", "2 g";
    parse_length, Length, Length, "a length", "12 cm", "12 cm2";
    parse_area, Area, Area, "an area", "0.5 m²", "0.5 m";
    parse_time, Time, Time, "a time", "30 min", "30 m";
    parse_temperature, Temperature, ThermodynamicTemperature, "an absolute temperature", "64 °F", "64 %";
    parse_pressure, Pressure, Pressure, "a pressure", "1013 hPa", "3 bananas";
    parse_air_speed, Speed, Velocity, "an air speed", "0.3 m/s", "0.3 m";
    parse_irradiance, Irradiance, HeatFluxDensity, "an irradiance (energy, not photons)", "350 W/m2", "350 W";
    parse_areal_mass, ArealMass, ArealMassDensity, "a mass per area, such as a film load", "80 g/m²", "80 g/L";
}

/// Reads an injector ratio: `1:100` and `1 in 100` count the finished feed, `1 + 100` the water.
///
/// # Errors
/// When the text cannot be read or is not an injector ratio.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_injector_ratio;
/// assert_eq!(parse_injector_ratio("1:100").unwrap().dilution(), 100.0);
/// assert_eq!(parse_injector_ratio("1 + 100").unwrap().dilution(), 101.0);
/// ```
pub fn parse_injector_ratio(text: &str) -> Result<InjectorRatio, Error> {
    take(text, D::InjectorRatio, |_, measure| match measure {
        Measure::Injector(value) => Some(value),
        _ => None,
    })
}

/// Reads a temperature difference; the word `difference` may be omitted here.
///
/// # Errors
/// When the text cannot be read or is a quantity of another kind.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_temperature_interval;
/// use guardcell::units::uom::si::temperature_interval::kelvin;
/// let d = parse_temperature_interval("9 °F").unwrap();
/// assert!((d.get::<kelvin>() - 5.0).abs() < 1e-12);
/// ```
pub fn parse_temperature_interval(text: &str) -> Result<TemperatureInterval, Error> {
    take(text, D::TemperatureInterval, |q, measure| match measure {
        Measure::TemperatureInterval(value) => Some(value),
        Measure::Temperature(_) => {
            let meant = Quantity { subject: Subject::Difference, ..*q };
            match meant.measure() {
                Measure::TemperatureInterval(value) => Some(value),
                _ => None,
            }
        }
        _ => None,
    })
}

/// Reads a relative humidity, 0 to 100 %; `RH` may be omitted here.
///
/// # Errors
/// When the text cannot be read, is a quantity of another kind or above 100 %.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_humidity;
/// assert!(parse_humidity("70 %").is_ok());
/// assert!(parse_humidity("RH 140 %").is_err());
/// ```
pub fn parse_humidity(text: &str) -> Result<Ratio, Error> {
    let value = take(text, D::Humidity, |_, measure| match measure {
        Measure::Humidity(value) | Measure::Percentage(value) => Some(value),
        _ => None,
    })?;
    // Without the word humidity the range is not yet checked.
    if value.value > 1.0 {
        let shown = format!("{} %", crate::round::significant(value.value * 100.0, 10));
        return Err(fault::out_of_range("the relative humidity", &shown, "0 to 100 %"));
    }
    Ok(value)
}

/// Reads a share by mass with its basis, if one is named: `20 % N`, `12 g/kg`, `46 % w/w`.
///
/// # Errors
/// When the text cannot be read, is a quantity of another kind or above 100 %.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_mass_fraction;
/// let (share, basis) = parse_mass_fraction("20 % P2O5").unwrap();
/// assert!((share.value - 0.2).abs() < 1e-15);
/// assert_eq!(basis.unwrap().symbol, "P2O5");
/// assert!(parse_mass_fraction("120 % N").is_err());
/// ```
pub fn parse_mass_fraction(text: &str) -> Result<(Ratio, Option<&'static BasisInfo>), Error> {
    take(text, D::MassFraction, |_, measure| match measure {
        Measure::MassFraction(value, basis) => Some((value, basis)),
        Measure::Percentage(value) if value.value <= 1.0 => Some((value, None)),
        _ => None,
    })
}

/// Reads a mass per volume of no stated basis: `2 g/L`, `1/2 oz/gal`.
///
/// # Errors
/// When the text cannot be read or is a quantity of another kind, a spoonful per volume included.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_concentration;
/// assert!(parse_concentration("1 1/2 oz/100 gal").is_ok());
/// let error = parse_concentration("2 tsp/gal").unwrap_err();
/// assert_eq!(error.code().as_str(), "needs-bulk-density");
/// ```
pub fn parse_concentration(text: &str) -> Result<MassConcentration, Error> {
    let q = Quantity::parse_for(text, D::MassPerVolume)?;
    match q.measure() {
        Measure::MassPerVolume(value) => Ok(value),
        Measure::FeedStrength(value) => Ok(value.mass_concentration()),
        Measure::VolumeFraction(_) => Err(fault::needs_bulk_density(&q.rounded(), "g/L")),
        _ => Err(wrong(&q, D::MassPerVolume)),
    }
}

/// Reads the bulk density of a powder: `0.93 g/mL`, `4.6 g/tsp`.
///
/// # Errors
/// When the text cannot be read, is a quantity of another kind, zero, or above 20 g/mL, which no
/// powder is.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_bulk_density;
/// assert!(parse_bulk_density("4.6 g/tsp").is_ok());
/// assert!(parse_bulk_density("0 g/mL").is_err());
/// ```
pub fn parse_bulk_density(text: &str) -> Result<MassDensity, Error> {
    let value = take(text, D::MassPerVolume, |_, measure| match measure {
        Measure::MassPerVolume(value) => Some(value),
        _ => None,
    })?;
    let density: MassDensity = value.into();
    if density.value > 0.0 && density.value <= 20_000.0 {
        Ok(density)
    } else {
        let shown = format!("{} g/mL", crate::round::significant(density.value / 1000.0, 6));
        let range = "above 0 and at most 20 g/mL (fertiliser powders are near 1 g/mL)";
        Err(fault::out_of_range("the density", &shown, range))
    }
}

/// Reads a volume per volume: `5 mL/L`, `1 tsp/gal`.
///
/// # Errors
/// When the text cannot be read or is a quantity of another kind.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_volume_fraction;
/// assert!((parse_volume_fraction("5 mL/L").unwrap().value - 0.005).abs() < 1e-15);
/// ```
pub fn parse_volume_fraction(text: &str) -> Result<Ratio, Error> {
    take(text, D::VolumeFraction, |_, measure| match measure {
        Measure::VolumeFraction(value) => Some(value),
        _ => None,
    })
}

/// Reads a mass concentration as basis `B`, from any basis of the same analyte and from mmol/L
/// or meq/L.
///
/// # Errors
/// When the text cannot be read, says no basis, or is of another analyte.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::basis::{P, N};
/// use guardcell::units::text::entry::parse_of;
/// let p = parse_of::<P>("120 ppm P2O5").unwrap();
/// assert!((p.mg_per_l() - 52.37).abs() < 0.01);
/// assert!(parse_of::<N>("120 ppm P2O5").is_err());
/// assert!(parse_of::<N>("120 ppm").is_err());
/// ```
pub fn parse_of<B: Basis>(text: &str) -> Result<Of<B>, Error> {
    let q = Quantity::parse_for(text, D::AsBasis)?;
    match q.measure() {
        Measure::AsBasis(mass, basis) => match basis.factor_to(B::INFO) {
            Some(factor) => Ok(Of::new(mass * factor)),
            None => {
                let why = format!("one is {}, the other {}", basis.analyte, B::INFO.analyte);
                let to = format!("mg/L {}", B::SYMBOL);
                Err(fault::not_convertible(&q.rounded(), &to, &why, "give the same nutrient"))
            }
        },
        Measure::AmountPerVolume(n) => Ok(from_formula_units(in_mmol_per_l(n))),
        Measure::ChargePerVolume(_)
        | Measure::MassPerVolume(_)
        | Measure::Percentage(_)
        | Measure::FeedStrength(_) => {
            Err(fault::no_basis(&q.rounded(), "150 mg/L N, 40 mg/L P2O5 or 2 meq/L Ca"))
        }
        _ => Err(wrong(&q, D::AsBasis)),
    }
}

fn from_formula_units<B: Basis>(mmol_per_l: f64) -> Of<B> {
    Of::from_mg_per_l(mmol_per_l * B::FORMULA.g_per_mol())
}

/// Reads a feed strength; `feed` may be omitted after mg/L or g/L here, not after ppm.
///
/// # Errors
/// When the text cannot be read, is a bare ppm, or is a quantity of another kind.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_feed_strength;
/// assert_eq!(parse_feed_strength("300 mg/L").unwrap().mg_per_l(), 300.0);
/// assert_eq!(parse_feed_strength("300 ppm").unwrap_err().code().as_str(), "ambiguous-ppm");
/// ```
pub fn parse_feed_strength(text: &str) -> Result<FeedStrength, Error> {
    take(text, D::FeedStrength, |_, measure| match measure {
        Measure::FeedStrength(value) => Some(value),
        Measure::MassPerVolume(value) => Some(FeedStrength::new(value)),
        _ => None,
    })
}

/// Reads an EC. Without a temperature it is taken as compensated to 25 °C, which is what meters
/// show; a reading on a TDS scale gives the EC behind it.
///
/// # Errors
/// When the text cannot be read or is a quantity of another kind.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::quantity::in_celsius;
/// use guardcell::units::text::entry::parse_conductivity;
/// assert!((in_celsius(parse_conductivity("1.4 mS/cm at 18 °C").unwrap().at()) - 18.0).abs() < 1e-9);
/// assert!((in_celsius(parse_conductivity("1,4 mS/cm").unwrap().at()) - 25.0).abs() < 1e-9);
/// ```
pub fn parse_conductivity(text: &str) -> Result<Conductivity, Error> {
    take(text, D::Conductivity, |_, measure| match measure {
        Measure::Conductivity(value) => Some(value),
        Measure::SpecificConductance(value) | Measure::Meter(value, _) => Some(value.into()),
        _ => None,
    })
}

/// Reads an EC and brings it to 25 °C.
///
/// # Errors
/// When the text cannot be read, is a quantity of another kind, or states a temperature outside
/// the range of the compensation.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::conductivity::Compensation;
/// use guardcell::units::text::entry::parse_specific_conductance;
/// let ec = parse_specific_conductance("1.4 mS/cm at 18 °C", Compensation::METER).unwrap();
/// assert!((ec.us_per_cm() - 1614.8).abs() < 0.1);
/// ```
pub fn parse_specific_conductance(
    text: &str,
    compensation: Compensation,
) -> Result<SpecificConductance, Error> {
    take(text, D::Conductivity, |_, measure| match measure {
        Measure::Conductivity(value) => Some(value.at_25(compensation)),
        Measure::SpecificConductance(value) | Measure::Meter(value, _) => Some(Ok(value)),
        _ => None,
    })?
}

/// Reads a hardness: degrees, gpg, mg/L or ppm CaCO3, mmol/L of Ca + Mg, meq/L.
///
/// # Errors
/// When the text cannot be read or is a quantity of another kind, alkalinity included.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_hardness;
/// assert!((parse_hardness("14 °dH").unwrap().mg_per_l_caco3() - 249.87).abs() < 0.01);
/// assert!(parse_hardness("8 °dKH").is_err());
/// ```
pub fn parse_hardness(text: &str) -> Result<Hardness, Error> {
    take(text, D::Hardness, |_, measure| match measure {
        Measure::Hardness(value) => Some(value),
        Measure::ChargePerVolume(value) => Some(Hardness::from_equivalents(value)),
        Measure::AmountPerVolume(value) => Some(Hardness::from_equivalents(value * 2.0)),
        Measure::AsBasis(mass, b) if matches!(b.symbol, "CaCO3" | "CaO") => {
            Some(Hardness::from_equivalents((mass / b.formula.molar_mass() * 2.0).into()))
        }
        _ => None,
    })
}

/// Reads an alkalinity: meq/L, mmol/L, mg/L or ppm CaCO3 or HCO3, °dKH.
///
/// # Errors
/// When the text cannot be read or is a quantity of another kind, hardness included.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::text::entry::parse_alkalinity;
/// assert!((parse_alkalinity("183 mg/L HCO3").unwrap().meq_per_l() - 3.0).abs() < 0.01);
/// assert!(parse_alkalinity("14 °dH").is_err());
/// ```
pub fn parse_alkalinity(text: &str) -> Result<Alkalinity, Error> {
    take(text, D::Alkalinity, |_, measure| match measure {
        Measure::Alkalinity(value) => Some(value),
        Measure::ChargePerVolume(value) | Measure::AmountPerVolume(value) => {
            Some(Alkalinity::from_equivalents(value))
        }
        Measure::AsBasis(mass, b) if matches!(b.symbol, "CaCO3" | "HCO3") => {
            let charges = if b.symbol == "CaCO3" { 2.0 } else { 1.0 };
            Some(Alkalinity::from_equivalents((mass / b.formula.molar_mass() * charges).into()))
        }
        _ => None,
    })
}
