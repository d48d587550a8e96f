//! The units of parameters: UCUM code → the marker type, the accessor and the quantity of the
//! generated constants. A unit that is not listed here fails the build.

use std::fmt::Write as _;

/// One unit.
pub(crate) struct Unit {
    /// The UCUM code in the tables.
    pub(crate) ucum: &'static str,
    /// The marker type in `parameters::unit`.
    pub(crate) marker: &'static str,
    /// The method that gives the number in this unit.
    accessor: &'static str,
    /// The `uom` quantity and the expression that makes one from `self.value`; `None` for
    /// coefficients of fits, which are numbers of their formula.
    quantity: Option<(&'static str, &'static str)>,
}

const fn unit(
    ucum: &'static str,
    marker: &'static str,
    accessor: &'static str,
    quantity: Option<(&'static str, &'static str)>,
) -> Unit {
    Unit { ucum, marker, accessor, quantity }
}

/// The unit of a coefficient in a fit formula: the code is kept, the number is used as it is.
const COEFFICIENT: Unit = unit("", "Coefficient", "coefficient", None);

/// Codes that occur only in the coefficients of fits.
const OF_COEFFICIENTS: &[&str] = &[
    "K-1",
    "K-2",
    "K-3",
    "K",
    "K2",
    "K3",
    "bar",
    "bar.K",
    "bar.K-1",
    "uPa.s",
    "kg{1/2}/mol{1/2}",
    "S.cm2/mol",
    "cm3.L{1/2}/mol{3/2}",
    "W.m-2.K-4",
];

macro_rules! units {
    ($($ucum:literal $marker:ident $accessor:ident $($quantity:ident = $make:literal)?;)+) => {
        &[$(unit($ucum, stringify!($marker), stringify!($accessor), units!(@ $($quantity $make)?))),+]
    };
    (@ $quantity:ident $make:literal) => { Some((stringify!($quantity), $make)) };
    (@) => { None };
}

const UNITS: &[Unit] = units! {
    "1" One number Ratio = "Ratio::new::<si::ratio::ratio>(self.value)";
    "%" Percent percent Ratio = "Ratio::new::<si::ratio::percent>(self.value)";
    "[ppth]" PerMille permille Ratio =
        "Ratio::new::<si::ratio::part_per_thousand>(self.value)";
    "%/h" PercentPerHour percent_per_hour;
    "[pH]" Ph ph;
    "Ao" Angstrom angstrom Length = "Length::new::<si::length::angstrom>(self.value)";
    "mm" Millimetre mm Length = "Length::new::<si::length::millimeter>(self.value)";
    "cm" Centimetre cm Length = "Length::new::<si::length::centimeter>(self.value)";
    "cm2" SquareCentimetre cm2 Area = "Area::new::<si::area::square_centimeter>(self.value)";
    "mL" Millilitre ml Volume = "Volume::new::<si::volume::milliliter>(self.value)";
    "L" Litre litres Volume = "Volume::new::<si::volume::liter>(self.value)";
    "ms" Millisecond ms Time = "Time::new::<si::time::millisecond>(self.value)";
    "min" Minute minutes Time = "Time::new::<si::time::minute>(self.value)";
    "h" Hour hours Time = "Time::new::<si::time::hour>(self.value)";
    "d" Day days Time = "Time::new::<si::time::day>(self.value)";
    "a" Year years;
    "h-1" PerHour per_hour;
    "d-1" PerDay per_day;
    "Cel" Celsius celsius ThermodynamicTemperature =
        "ThermodynamicTemperature::new::<si::thermodynamic_temperature::degree_celsius>(self.value)";
    "kPa" Kilopascal kpa Pressure = "Pressure::new::<si::pressure::kilopascal>(self.value)";
    "atm" Atmosphere atm Pressure = "Pressure::new::<si::pressure::atmosphere>(self.value)";
    "W/m2" WattPerSquareMetre w_per_m2 HeatFluxDensity =
        "HeatFluxDensity::new::<si::heat_flux_density::watt_per_square_meter>(self.value)";
    "m/s" MetrePerSecond m_per_s Velocity =
        "Velocity::new::<si::velocity::meter_per_second>(self.value)";
    "m.s-2" MetrePerSecondSquared m_per_s2;
    "m2.s-1" SquareMetrePerSecond m2_per_s;
    "g/m2" GramPerSquareMetre g_per_m2 ArealMassDensity =
        "ArealMassDensity::new::<si::areal_mass_density::gram_per_square_meter>(self.value)";
    "mg/L" MilligramPerLitre mg_per_l MassConcentration =
        "guardcell_units::quantity::mg_per_l(self.value)";
    "g/L" GramPerLitre g_per_l MassConcentration =
        "MassConcentration::new::<si::mass_concentration::gram_per_liter>(self.value)";
    "mmol/L" MillimolePerLitre mmol_per_l MolarConcentration =
        "guardcell_units::quantity::mmol_per_l(self.value)";
    "mol/kg" MolePerKilogram mol_per_kg Molality =
        "Molality::new::<si::molality::mole_per_kilogram>(self.value)";
    "kg/mol" KilogramPerMole kg_per_mol MolarMass =
        "MolarMass::new::<si::molar_mass::kilogram_per_mole>(self.value)";
    "meq/L" MilliequivalentPerLitre meq_per_l;
    "dS/m" DecisiemensPerMetre ds_per_m;
    "kg/L" KilogramPerLitre kg_per_l;
    "kg/m3" KilogramPerCubicMetre kg_per_m3 MassDensity =
        "MassDensity::new::<si::mass_density::kilogram_per_cubic_meter>(self.value)";
    "mL/g" MillilitrePerGram ml_per_g;
    "mg/g" MilligramPerGram mg_per_g;
    "J.kg-1.K-1" JoulePerKilogramKelvin j_per_kg_k;
    "kJ.kg-1.K-1" KilojoulePerKilogramKelvin kj_per_kg_k;
    "kJ/kg" KilojoulePerKilogram kj_per_kg;
};

/// The marker of a UCUM code.
pub(crate) fn find(ucum: &str) -> Option<&'static Unit> {
    if OF_COEFFICIENTS.contains(&ucum) {
        return Some(&COEFFICIENT);
    }
    UNITS.iter().find(|u| u.ucum == ucum)
}

/// The marker types and the accessors of parameters in each unit.
pub(crate) fn emit() -> String {
    let mut markers = String::new();
    let mut accessors = String::new();
    for u in UNITS.iter().chain([&COEFFICIENT]) {
        let Unit { ucum, marker, accessor, quantity } = u;
        let what = if ucum.is_empty() {
            "The unit that its formula gives to a coefficient.".to_owned()
        } else {
            format!("UCUM `{ucum}`.")
        };
        let _ = writeln!(
            markers,
            "    /// {what}\n    #[derive(Clone, Copy, Debug, PartialEq, Eq)]\n    pub enum {marker} {{}}"
        );
        let _ = writeln!(
            accessors,
            "impl Parameter<unit::{marker}> {{\n    /// The number in this unit ({}).\n    \
             #[must_use]\n    pub const fn {accessor}(self) -> f64 {{\n        self.value\n    }}",
            what.trim_end_matches('.')
        );
        if let Some((quantity, make)) = quantity {
            let _ = writeln!(
                accessors,
                "\n    /// The value as a quantity.\n    #[must_use]\n    \
                 pub fn quantity(self) -> guardcell_units::quantity::{quantity} {{\n        \
                 #[allow(unused_imports)]\n        \
                 use guardcell_units::{{quantity::*, uom::si}};\n        {make}\n    }}"
            );
        }
        accessors.push_str("}\n");
    }
    format!("/// Units of parameters, as marker types.\npub mod unit {{\n{markers}}}\n{accessors}")
}
