//! A quantity as its type.

use super::quantity::{Quantity, Subject};
use super::unit::Unit;
use crate::alkalinity::Alkalinity;
use crate::basis::{Basis, BasisInfo, CaCO3, CaO, HCO3};
use crate::conductivity::{Conductivity, SpecificConductance};
use crate::dimension::Dimension as D;
use crate::feed_strength::FeedStrength;
use crate::hardness::Hardness;
use crate::injector::{InjectorConvention, InjectorRatio};
use crate::quantity::{
    Area, ArealMassDensity, ElectricalConductivity, HeatFluxDensity, Illuminance, Length, Mass,
    MassConcentration, MolarConcentration, PhotonFluxDensity, Pressure, Ratio, TemperatureInterval,
    ThermodynamicTemperature, Time, Velocity, Volume,
};
use crate::tds_scale::Scale;
use uom::si::{
    area::square_meter, areal_mass_density::kilogram_per_square_meter,
    electrical_conductivity::siemens_per_meter, heat_flux_density::watt_per_square_meter,
    illuminance::lux, length::meter, mass::kilogram, mass_concentration::kilogram_per_cubic_meter,
    molar_concentration::mole_per_cubic_meter, molar_flux::mole_per_square_meter_second,
    pressure::pascal, ratio::ratio, temperature_interval::kelvin as kelvin_interval,
    thermodynamic_temperature::kelvin, time::second, velocity::meter_per_second,
    volume::cubic_meter,
};

/// A quantity as its type: one variant for each kind.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Measure {
    /// A mass.
    Mass(Mass),
    /// A volume.
    Volume(Volume),
    /// A length.
    Length(Length),
    /// An area.
    Area(Area),
    /// A time.
    Time(Time),
    /// An absolute temperature.
    Temperature(ThermodynamicTemperature),
    /// A temperature difference.
    TemperatureInterval(TemperatureInterval),
    /// A pressure.
    Pressure(Pressure),
    /// A speed.
    Speed(Velocity),
    /// An irradiance.
    Irradiance(HeatFluxDensity),
    /// An illuminance.
    Illuminance(Illuminance),
    /// A photosynthetic photon flux density.
    PhotonFluxDensity(PhotonFluxDensity),
    /// An EC at a stated temperature.
    Conductivity(Conductivity),
    /// An EC without a temperature, which is what a compensated meter shows: EC at 25 °C.
    SpecificConductance(SpecificConductance),
    /// A meter reading in ppm: the EC behind it, and its scale.
    Meter(SpecificConductance, Scale),
    /// A mass per volume of something not stated, or the bulk density of a powder.
    MassPerVolume(MassConcentration),
    /// A mass concentration on a basis.
    AsBasis(MassConcentration, &'static BasisInfo),
    /// A feed strength.
    FeedStrength(FeedStrength),
    /// An amount of substance per volume of something not stated.
    AmountPerVolume(MolarConcentration),
    /// An amount of charge per volume of something not stated.
    ChargePerVolume(MolarConcentration),
    /// A hardness.
    Hardness(Hardness),
    /// An alkalinity.
    Alkalinity(Alkalinity),
    /// A share by mass, of a basis if one is named.
    MassFraction(Ratio, Option<&'static BasisInfo>),
    /// A volume per volume.
    VolumeFraction(Ratio),
    /// A percentage of something not stated.
    Percentage(Ratio),
    /// A relative humidity.
    Humidity(Ratio),
    /// A mass per area.
    ArealMass(ArealMassDensity),
    /// An injector ratio.
    Injector(InjectorRatio),
    /// A part of a quotient on its own (amount of substance, charge, conductance, power, luminous
    /// flux), or a number that its kind cannot have.
    Other(D),
}

impl Quantity {
    /// The typed quantity.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::text::{Measure, Quantity};
    /// let q = Quantity::parse("1.4 mS/cm at 18 °C").unwrap();
    /// assert!(matches!(q.measure(), Measure::Conductivity(_)));
    /// ```
    #[must_use]
    pub fn measure(&self) -> Measure {
        typed(self)
    }
}

/// SI base units are exact in `uom`, so no digit is lost beyond the unit's own factor.
fn typed(q: &Quantity) -> Measure {
    let si = q.unit.to_si(q.number);
    match q.dimension() {
        D::Mass => Measure::Mass(Mass::new::<kilogram>(si)),
        D::Volume => Measure::Volume(Volume::new::<cubic_meter>(si)),
        D::Length => Measure::Length(Length::new::<meter>(si)),
        D::Area => Measure::Area(Area::new::<square_meter>(si)),
        D::Time => Measure::Time(Time::new::<second>(si)),
        D::Temperature => Measure::Temperature(ThermodynamicTemperature::new::<kelvin>(si)),
        D::TemperatureInterval => {
            Measure::TemperatureInterval(TemperatureInterval::new::<kelvin_interval>(
                q.unit.interval_to_si(q.number),
            ))
        }
        D::Pressure => Measure::Pressure(Pressure::new::<pascal>(si)),
        D::Speed => Measure::Speed(Velocity::new::<meter_per_second>(si)),
        D::Irradiance => Measure::Irradiance(HeatFluxDensity::new::<watt_per_square_meter>(si)),
        D::Illuminance => Measure::Illuminance(Illuminance::new::<lux>(si)),
        D::PhotonFluxDensity => {
            Measure::PhotonFluxDensity(PhotonFluxDensity::new::<mole_per_square_meter_second>(si))
        }
        D::Conductivity => conductivity(q, si),
        D::MeterPpm => match q.subject {
            // ppm and ppb differ by their factor; a meter shows ppm.
            Subject::Meter(scale) => Measure::Meter(scale.ec(si * 1000.0), scale),
            _ => Measure::Other(D::MeterPpm),
        },
        D::MassPerVolume => Measure::MassPerVolume(concentration(si)),
        D::FeedStrength => Measure::FeedStrength(FeedStrength::new(concentration(si))),
        D::AmountPerVolume => Measure::AmountPerVolume(amount(si)),
        D::ChargePerVolume => Measure::ChargePerVolume(amount(si)),
        D::AsBasis => as_basis(q, si),
        D::Hardness => Measure::Hardness(Hardness::from_equivalents(amount(hardness(q, si)))),
        D::Alkalinity => {
            Measure::Alkalinity(Alkalinity::from_equivalents(amount(alkalinity(q, si))))
        }
        D::MassFraction => Measure::MassFraction(Ratio::new::<ratio>(si), q.subject.basis()),
        D::VolumeFraction => Measure::VolumeFraction(Ratio::new::<ratio>(si)),
        D::Percentage => Measure::Percentage(Ratio::new::<ratio>(si)),
        D::Humidity => Measure::Humidity(Ratio::new::<ratio>(si)),
        D::ArealMass => Measure::ArealMass(ArealMassDensity::new::<kilogram_per_square_meter>(si)),
        D::InjectorRatio => injector(q),
        other => Measure::Other(other),
    }
}

fn conductivity(q: &Quantity, si: f64) -> Measure {
    let ec = ElectricalConductivity::new::<siemens_per_meter>(si);
    match q.subject {
        Subject::ReadAt { number, unit } => {
            let kelvins = Unit::single(unit).to_si(number);
            let at = ThermodynamicTemperature::new::<kelvin>(kelvins);
            Measure::Conductivity(Conductivity::new(ec, at))
        }
        _ => Measure::SpecificConductance(SpecificConductance::new(ec)),
    }
}

fn injector(q: &Quantity) -> Measure {
    let in_total = q.unit.definitions().any(|d| d.code == "1:N");
    let convention =
        if in_total { InjectorConvention::InTotal } else { InjectorConvention::ToWater };
    match InjectorRatio::new(q.number, convention) {
        Ok(injector) => Measure::Injector(injector),
        Err(_) => Measure::Other(D::InjectorRatio),
    }
}

fn concentration(kg_per_m3: f64) -> MassConcentration {
    MassConcentration::new::<kilogram_per_cubic_meter>(kg_per_m3)
}

fn amount(mol_per_m3: f64) -> MolarConcentration {
    MolarConcentration::new::<mole_per_cubic_meter>(mol_per_m3)
}

/// g/mol over 1000 is kg/mol.
fn kg_per_mol(basis: &BasisInfo) -> f64 {
    basis.formula.g_per_mol() / 1000.0
}

fn as_basis(q: &Quantity, si: f64) -> Measure {
    let Some(basis) = q.subject.basis() else {
        return Measure::Other(D::AsBasis);
    };
    let kg_m3 = match q.unit.dimension() {
        D::AmountPerVolume => si * kg_per_mol(basis),
        D::ChargePerVolume => si * kg_per_mol(basis) / f64::from(basis.charge.max(1)),
        _ => si,
    };
    Measure::AsBasis(concentration(kg_m3), basis)
}

/// mol of charge per m³ of a hardness.
fn hardness(q: &Quantity, si: f64) -> f64 {
    match q.unit.dimension() {
        D::MassPerVolume => match q.subject.basis() {
            Some(b) if b.symbol == CaO::SYMBOL => si / (kg_per_mol(CaO::INFO) / 2.0),
            _ => si / (kg_per_mol(CaCO3::INFO) / 2.0),
        },
        D::AmountPerVolume => si * 2.0,
        _ => si,
    }
}

/// mol of charge per m³ of an alkalinity.
fn alkalinity(q: &Quantity, si: f64) -> f64 {
    match q.unit.dimension() {
        D::MassPerVolume => match q.subject.basis() {
            Some(b) if b.symbol == HCO3::SYMBOL => si / kg_per_mol(HCO3::INFO),
            _ => si / (kg_per_mol(CaCO3::INFO) / 2.0),
        },
        _ => si,
    }
}
