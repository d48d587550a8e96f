//! The table of units: code, spellings, kind, definition and source.
//!
//! Codes are those of UCUM where it has one; a few units of the trade have none there and keep
//! their usual symbol. [`unit_table`] gives the whole table for documentation.

use crate::dimension::Dimension as D;
use crate::equivalents as eq;

/// One unit, or one end of a quotient of units.
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
pub struct UnitDef {
    /// The code: UCUM where it has one.
    pub code: &'static str,
    /// How the trade writes it.
    pub trade: &'static str,
    /// What else is understood.
    pub spellings: &'static [&'static str],
    /// What it measures.
    pub dimension: D,
    /// How it is defined.
    pub definition: &'static str,
    /// Where the definition is published.
    pub source: &'static str,
    /// Added to the number before scaling (temperatures, injector ratios).
    pub(crate) shift: f64,
    /// SI units per unit.
    pub(crate) scale: f64,
}

/// The table has one row for each code.
impl PartialEq for UnitDef {
    fn eq(&self, other: &Self) -> bool {
        core::ptr::eq(self, other) || self.code == other.code
    }
}

const SI: &str = "BIPM, The International System of Units (SI Brochure), 9th edition, 2019";
const UCUM: &str = "UCUM 2.2, table of units";
const HB44: &str = "NIST Handbook 44, appendix C, General tables of units of measurement";
const UK85: &str = "Weights and Measures Act 1985 (UK), schedule 1";
const TRADE: &str = "common practice, no source";
const SP811: &str = "NIST Special Publication 811 (2008), appendix B.8";
const CORNELL: &str = "Mattson, N., Fertilizer calculations and practice questions, Cornell";

const G: f64 = 1e-3;
const LB: f64 = 0.453_592_37;
const L: f64 = 1e-3;
const ML: f64 = 1e-6;
const IN: f64 = 0.0254;
const US_GAL: f64 = eq::L_PER_US_GALLON * L;
const UK_GAL: f64 = eq::L_PER_IMPERIAL_GALLON * L;
/// Density of mercury (13 595.1 kg/m³) times standard gravity, per millimetre: the conventional
/// millimetre of mercury of ISO 80000-4.
const MMHG: f64 = 13.595_1 * 9.806_65;

macro_rules! units {
    ($($dim:ident, $code:literal, $trade:literal, [$($spelling:literal),*], $shift:expr, $scale:expr, $def:literal, $source:expr;)*) => {
        /// Every single unit.
        pub(crate) static UNITS: &[UnitDef] = &[
            $(UnitDef {
                code: $code,
                trade: $trade,
                spellings: &[$($spelling),*],
                dimension: D::$dim,
                definition: $def,
                source: $source,
                shift: $shift,
                scale: $scale,
            },)*
        ];
    };
}

units! {
    // Mass, in kg.
    Mass, "ug", "µg", ["mcg", "microgram", "micrograms"], 0.0, 1e-9, "10^-6 g", SI;
    Mass, "mg", "mg", ["milligram", "milligrams", "milligramme", "milligrammes"], 0.0, 1e-6, "10^-3 g", SI;
    Mass, "g", "g", ["gram", "grams", "gramme", "grammes", "gm", "gms"], 0.0, G, "10^-3 kg", SI;
    Mass, "kg", "kg", ["kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"], 0.0, 1.0, "base unit", SI;
    Mass, "[gr]", "grain", ["grains"], 0.0, eq::MG_PER_GRAIN * 1e-6, "64.79891 mg, 1/7000 lb", HB44;
    Mass, "[oz_av]", "oz", ["ounce", "ounces", "ozs", "oz av", "avoirdupois ounce", "avoirdupois ounces", "dry oz", "oz wt"], 0.0, LB / 16.0, "1/16 lb", HB44;
    Mass, "[lb_av]", "lb", ["lbs", "pound", "pounds"], 0.0, LB, "0.45359237 kg", HB44;

    // Volume, in m³.
    Volume, "uL", "µL", ["microlitre", "microlitres", "microliter", "microliters"], 0.0, 1e-9, "10^-6 L", SI;
    Volume, "mL", "mL", ["ml", "cc", "ccm", "cm3", "millilitre", "millilitres", "milliliter", "milliliters"], 0.0, ML, "10^-3 L", SI;
    Volume, "cL", "cL", ["cl", "centilitre", "centilitres", "centiliter", "centiliters"], 0.0, 1e-5, "10^-2 L", SI;
    Volume, "dL", "dL", ["dl", "decilitre", "decilitres", "deciliter", "deciliters"], 0.0, 1e-4, "10^-1 L", SI;
    Volume, "L", "L", ["l", "ltr", "litre", "litres", "liter", "liters", "dm3"], 0.0, L, "1 dm3", SI;
    Volume, "hL", "hL", ["hl", "hectolitre", "hectolitres", "hectoliter", "hectoliters"], 0.0, 100.0 * L, "100 L", SI;
    Volume, "m3", "m³", ["cubic metre", "cubic metres", "cubic meter", "cubic meters"], 0.0, 1.0, "cubic metre", SI;
    Volume, "[gal_us]", "US gal", ["gal", "gals", "gallon", "gallons", "us gal", "us gallon", "us gallons", "usg"], 0.0, US_GAL, "231 cubic inches", HB44;
    Volume, "[qt_us]", "US qt", ["qt", "qts", "quart", "quarts", "us qt", "us quart", "us quarts"], 0.0, US_GAL / 4.0, "1/4 US gallon", HB44;
    Volume, "[pt_us]", "US pt", ["pt", "pts", "pint", "pints", "us pt", "us pint", "us pints"], 0.0, US_GAL / 8.0, "1/8 US gallon", HB44;
    Volume, "[cup_us]", "US cup", ["cup", "cups", "us cup", "us cups"], 0.0, US_GAL / 16.0, "16 US tablespoons", HB44;
    Volume, "[foz_us]", "US fl oz", ["fl oz", "floz", "fl. oz", "fl. oz.", "fluid oz", "fluid ounce", "fluid ounces", "us fl oz", "us fluid ounce", "us fluid ounces"], 0.0, US_GAL / 128.0, "1/128 US gallon", HB44;
    Volume, "[tbs_us]", "US tbsp", ["tbsp", "tbsps", "tbs", "tblsp", "tablespoon", "tablespoons", "tablespoonful", "tablespoonfuls", "us tbsp", "us tablespoon", "us tablespoons"], 0.0, US_GAL / 256.0, "1/2 US fluid ounce", HB44;
    Volume, "[tsp_us]", "US tsp", ["tsp", "tsps", "teaspoon", "teaspoons", "teaspoonful", "teaspoonfuls", "us tsp", "us teaspoon", "us teaspoons"], 0.0, US_GAL / 768.0, "1/6 US fluid ounce", HB44;
    Volume, "[gal_br]", "imp gal", ["imp gallon", "imp gallons", "imperial gal", "imperial gallon", "imperial gallons", "uk gal", "uk gallon", "uk gallons"], 0.0, UK_GAL, "4.54609 L", UK85;
    Volume, "[qt_br]", "imp qt", ["imp quart", "imp quarts", "imperial quart", "imperial quarts", "uk quart", "uk quarts"], 0.0, UK_GAL / 4.0, "1/4 imperial gallon", UK85;
    Volume, "[pt_br]", "imp pt", ["imp pint", "imp pints", "imperial pint", "imperial pints", "uk pint", "uk pints"], 0.0, UK_GAL / 8.0, "1/8 imperial gallon", UK85;
    Volume, "[foz_br]", "imp fl oz", ["imp fluid ounce", "imp fluid ounces", "imperial fl oz", "imperial fluid ounce", "imperial fluid ounces", "uk fl oz", "uk fluid ounce", "uk fluid ounces"], 0.0, UK_GAL / 160.0, "1/160 imperial gallon", UK85;
    Volume, "[tsp_m]", "metric tsp", ["metric teaspoon", "metric teaspoons"], 0.0, 5.0 * ML, "5 mL", UCUM;
    Volume, "[tbs_m]", "metric tbsp", ["metric tablespoon", "metric tablespoons"], 0.0, 15.0 * ML, "15 mL (not the Australian 20 mL)", UCUM;
    Volume, "[foz_m]", "metric fl oz", ["metric fluid ounce", "metric fluid ounces"], 0.0, 30.0 * ML, "30 mL", UCUM;
    Volume, "[drp]", "drop", ["drops"], 0.0, ML / 20.0, "1/20 mL, the metric drop (real drops run from about 0.03 to 0.07 mL)", UCUM;
    Volume, "[cup_m]", "label cup", ["us label cup"], 0.0, 240.0 * ML, "240 mL, the cup of US food labels", UCUM;

    // Length and area.
    Length, "um", "µm", ["micron", "microns", "micrometre", "micrometres", "micrometer", "micrometers"], 0.0, 1e-6, "10^-6 m", SI;
    Length, "mm", "mm", ["millimetre", "millimetres", "millimeter", "millimeters"], 0.0, 1e-3, "10^-3 m", SI;
    Length, "cm", "cm", ["centimetre", "centimetres", "centimeter", "centimeters"], 0.0, 1e-2, "10^-2 m", SI;
    Length, "m", "m", ["metre", "metres", "meter", "meters"], 0.0, 1.0, "base unit", SI;
    Length, "km", "km", ["kilometre", "kilometres", "kilometer", "kilometers"], 0.0, 1e3, "1000 m", SI;
    Length, "[in_i]", "in", ["inch", "inches"], 0.0, IN, "2.54 cm", HB44;
    Length, "[ft_i]", "ft", ["foot", "feet"], 0.0, 12.0 * IN, "12 in", HB44;
    Length, "[yd_i]", "yd", ["yard", "yards"], 0.0, 36.0 * IN, "3 ft", HB44;
    Length, "[mi_i]", "mi", ["mile", "miles"], 0.0, 63_360.0 * IN, "5280 ft", HB44;
    Area, "cm2", "cm²", ["sq cm", "square centimetre", "square centimetres", "square centimeter", "square centimeters"], 0.0, 1e-4, "square centimetre", SI;
    Area, "m2", "m²", ["sq m", "sqm", "square metre", "square metres", "square meter", "square meters"], 0.0, 1.0, "square metre", SI;
    Area, "[sft_i]", "sq ft", ["ft2", "sqft", "square foot", "square feet"], 0.0, 144.0 * IN * IN, "144 square inches", HB44;

    // Time, in s.
    Time, "s", "s", ["sec", "secs", "second", "seconds"], 0.0, 1.0, "base unit", SI;
    Time, "min", "min", ["mins", "minute", "minutes"], 0.0, 60.0, "60 s", SI;
    Time, "h", "h", ["hr", "hrs", "hour", "hours"], 0.0, 3600.0, "60 min", SI;
    Time, "d", "d", ["day", "days"], 0.0, 86_400.0, "24 h", SI;
    Time, "wk", "wk", ["wks", "week", "weeks"], 0.0, 604_800.0, "7 d", UCUM;

    // Temperature, in K.
    Temperature, "Cel", "°C", ["degC", "deg C", "° C", "celsius", "degree celsius", "degrees celsius", "degrees C", "centigrade"], 273.15, 1.0, "kelvins above 273.15 K", SI;
    Temperature, "[degF]", "°F", ["degF", "deg F", "° F", "fahrenheit", "degree fahrenheit", "degrees fahrenheit", "degrees F"], 459.67, 5.0 / 9.0, "5/9 K, 32 °F at 0 °C", HB44;
    Temperature, "K", "K", ["kelvin", "kelvins"], 0.0, 1.0, "base unit", SI;

    // Pressure, in Pa.
    Pressure, "Pa", "Pa", ["pascal", "pascals"], 0.0, 1.0, "N/m2", SI;
    Pressure, "hPa", "hPa", ["hectopascal", "hectopascals"], 0.0, 1e2, "100 Pa", SI;
    Pressure, "kPa", "kPa", ["kilopascal", "kilopascals"], 0.0, 1e3, "1000 Pa", SI;
    Pressure, "MPa", "MPa", ["megapascal", "megapascals"], 0.0, 1e6, "10^6 Pa", SI;
    Pressure, "mbar", "mbar", ["millibar", "millibars"], 0.0, 1e2, "100 Pa", UCUM;
    Pressure, "bar", "bar", ["bars"], 0.0, 1e5, "10^5 Pa", UCUM;
    Pressure, "atm", "atm", ["atmosphere", "atmospheres"], 0.0, 101_325.0, "101325 Pa", UCUM;
    Pressure, "mm[Hg]", "mmHg", ["mm Hg", "torr"], 0.0, MMHG, "1 mm of mercury of 13595.1 kg/m3 at 9.80665 m/s2, 133.322 Pa", "ISO 80000-4:2019";
    Pressure, "[in_i'Hg]", "inHg", ["in Hg", "inches of mercury"], 0.0, MMHG * 25.4, "25.4 mm of mercury", UCUM;
    Pressure, "[psi]", "psi", [], 0.0, LB * 9.806_65 / (IN * IN), "pound-force per square inch", UCUM;

    // Speed: quotients are below; the knot has a code of its own.
    Speed, "[kn_i]", "kn", ["kt", "kts", "knot", "knots"], 0.0, 1852.0 / 3600.0, "1852 m/h", UCUM;

    // Power, in W, for quotients.
    Power, "W", "W", ["watt", "watts"], 0.0, 1.0, "kg m2/s3", SI;
    Power, "kW", "kW", ["kilowatt", "kilowatts"], 0.0, 1e3, "1000 W", SI;

    // Light, in lm and lx.
    LuminousFlux, "lm", "lm", ["lumen", "lumens"], 0.0, 1.0, "cd sr", SI;
    Illuminance, "lx", "lx", ["lux"], 0.0, 1.0, "lm/m2", SI;
    Illuminance, "klx", "klx", ["klux", "kilolux"], 0.0, 1e3, "1000 lx", SI;
    Illuminance, "fc", "fc", ["ftc", "ft-c", "foot-candle", "foot-candles", "foot candle", "foot candles", "footcandle", "footcandles"], 0.0, 1.0 / (144.0 * IN * IN), "1 lm/ft2, 10.76391 lx", SP811;

    // Amounts, in mol.
    Amount, "umol", "µmol", ["micromole", "micromoles"], 0.0, 1e-6, "10^-6 mol", SI;
    Amount, "mmol", "mmol", ["millimole", "millimoles"], 0.0, 1e-3, "10^-3 mol", SI;
    Amount, "mol", "mol", ["mole", "moles"], 0.0, 1.0, "base unit", SI;
    Charge, "ueq", "µeq", [], 0.0, 1e-6, "10^-6 mol of charge", UCUM;
    Charge, "meq", "meq", ["mval", "milliequivalent", "milliequivalents"], 0.0, 1e-3, "10^-3 mol of charge", UCUM;
    Charge, "eq", "eq", ["val", "equivalent", "equivalents"], 0.0, 1.0, "1 mol of charge", UCUM;

    // Conductance, in S, for quotients.
    Conductance, "uS", "µS", ["umho", "umhos", "microsiemens", "micromho", "micromhos"], 0.0, 1e-6, "10^-6 S", SI;
    Conductance, "mS", "mS", ["mmho", "mmhos", "millisiemens", "millimho", "millimhos"], 0.0, 1e-3, "10^-3 S", SI;
    Conductance, "dS", "dS", ["decisiemens"], 0.0, 1e-1, "10^-1 S", SI;
    Conductivity, "CF", "CF", ["cF", "conductivity factor"], 0.0, 1e-2, "0.1 mS/cm", TRADE;
    Conductance, "S", "S", ["mho", "mhos", "siemens"], 0.0, 1.0, "1/ohm", SI;

    // Hardness and alkalinity, in mol of charge per m³.
    Hardness, "°dH", "°dH", ["dH", "°dGH", "dGH", "°GH", "degrees dH", "german degrees", "german degree", "° dH"], 0.0, eq::MEQ_PER_GERMAN_DEGREE, "10 mg CaO/L", "DIN 38409-6 (from memory)";
    Hardness, "°fH", "°fH", ["fH", "°TH", "french degrees", "french degree", "° fH"], 0.0, eq::MEQ_PER_FRENCH_DEGREE, "10 mg CaCO3/L", "NF T 90-003 (from memory)";
    Hardness, "°e", "°e", ["°eH", "°Clark", "clark", "clark degrees", "clark degree", "english degrees", "english degree", "° e"], 0.0, eq::MEQ_PER_CLARK_DEGREE, "1 grain CaCO3 per imperial gallon", "definition of the Clark degree (from memory)";
    Hardness, "gpg", "gpg", ["grains per gallon", "grain per gallon"], 0.0, eq::MEQ_PER_GRAIN_PER_US_GALLON, "1 grain CaCO3 per US gallon", "definition of the trade (from memory)";
    Alkalinity, "°dKH", "°dKH", ["dKH", "°KH", "° dKH", "degrees dKH"], 0.0, eq::MEQ_PER_GERMAN_DEGREE, "alkalinity of 10 mg CaO/L", "DIN 38409-7 (from memory)";

    // Parts and shares.
    Ppm, "[ppm]", "ppm", [], 0.0, 1e-3, "1 mg/L in dilute solution (1 kg/L); on a meter, EC times the scale", UCUM;
    Ppm, "[ppb]", "ppb", [], 0.0, 1e-6, "1 µg/L in dilute solution (1 kg/L)", UCUM;
    Percentage, "%", "%", ["percent", "per cent", "pct"], 0.0, 1e-2, "1/100", UCUM;
    Percentage, "[ppth]", "‰", ["per mille", "per mil", "permille", "promille"], 0.0, 1e-3, "1/1000", UCUM;
    InjectorRatio, "1:N", "1 in N", [], 0.0, 1.0, "1 part of stock in N parts of finished feed", CORNELL;
    InjectorRatio, "1+N", "1 + N", [], 1.0, 1.0, "1 part of stock to N parts of water", TRADE;
}

/// A word for a quotient.
pub(crate) struct QuotientWord {
    pub(crate) spellings: &'static [&'static str],
    pub(crate) numerator: &'static str,
    pub(crate) count: f64,
    pub(crate) denominator: &'static str,
    /// A second divisor.
    pub(crate) per: Option<&'static str>,
}

/// Words for a quotient of units.
pub(crate) static QUOTIENT_WORDS: &[QuotientWord] = &[
    quotient(&["mph"], "[mi_i]", 1.0, "h"),
    quotient(&["kph", "kmh"], "km", 1.0, "h"),
    quotient(&["fpm"], "[ft_i]", 1.0, "min"),
    quotient(&["M", "molar"], "mol", 1.0, "L"),
    quotient(&["mM", "millimolar"], "mmol", 1.0, "L"),
    quotient(&["uM", "micromolar"], "umol", 1.0, "L"),
    photons(&["PPFD"], "umol", "m2", "s"),
    photons(&["DLI"], "mol", "m2", "d"),
];

const fn quotient(
    spellings: &'static [&'static str],
    numerator: &'static str,
    count: f64,
    denominator: &'static str,
) -> QuotientWord {
    QuotientWord { spellings, numerator, count, denominator, per: None }
}

const fn photons(
    spellings: &'static [&'static str],
    numerator: &'static str,
    denominator: &'static str,
    per: &'static str,
) -> QuotientWord {
    QuotientWord { spellings, numerator, count: 1.0, denominator, per: Some(per) }
}

/// Words with more than one meaning, and what to write instead.
pub(crate) static AMBIGUOUS: &[(&str, &[&str])] = &[
    ("t", &["tsp", "1000 kg"]),
    ("T", &["tbsp", "1000 kg"]),
    ("c", &["cup", "°C"]),
    ("C", &["°C", "cup"]),
    ("F", &["°F", "mg/L F for fluoride"]),
    ("°f", &["°F", "°fH"]),
    ("°", &["°C", "°F", "°dH", "°fH", "°e"]),
    ("deg", &["°C", "°F", "°dH", "°fH", "°e"]),
    ("degrees", &["°C", "°F", "°dH", "°fH", "°e"]),
    ("gr", &["g", "grain"]),
    ("ML", &["mL", "1000000 L for a megalitre"]),
    ("Mg", &["mg", "mg/L Mg for magnesium"]),
    ("ppt", &["g/L for parts per thousand", "ng/L for parts per trillion"]),
    ("spoon", &["tsp", "tbsp", "metric tsp", "metric tbsp"]),
    ("spoons", &["tsp", "tbsp", "metric tsp", "metric tbsp"]),
    ("metric cup", &["250 mL", "label cup for 240 mL"]),
    ("imp cup", &["250 mL", "284 mL", "cup for the US cup"]),
    ("ton", &["1000 kg", "2000 lb"]),
    ("tons", &["1000 kg", "2000 lb"]),
];

/// The quotients that mean something here.
pub(crate) fn quotient_dimension(numerator: D, denominator: D) -> Option<D> {
    Some(match (numerator, denominator) {
        (D::Mass, D::Volume) => D::MassPerVolume,
        (D::Volume, D::Volume) => D::VolumeFraction,
        (D::Mass, D::Mass) => D::MassFraction,
        (D::Mass, D::Area) => D::ArealMass,
        (D::Length, D::Time) => D::Speed,
        (D::Power, D::Area) => D::Irradiance,
        (D::LuminousFlux, D::Area) => D::Illuminance,
        (D::Amount, D::Volume) => D::AmountPerVolume,
        (D::Charge, D::Volume) => D::ChargePerVolume,
        (D::Conductance, D::Length) => D::Conductivity,
        _ => return None,
    })
}

/// Every single unit that is read and written. Quotients of them are read wherever they make a
/// known kind of quantity, such as mg/L, oz/100 gal, mS/cm or W/m2.
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::table::unit_table;
/// assert!(unit_table().any(|unit| unit.code == "[gal_us]" && unit.definition == "231 cubic inches"));
/// ```
pub fn unit_table() -> impl Iterator<Item = &'static UnitDef> {
    UNITS.iter()
}
