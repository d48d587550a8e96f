//! Conversions by their definitions, and those that are refused.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used)]

use guardcell_units::convert::{ConvertRequest, ConvertResponse, EcCompensation, convert};
use guardcell_units::text::PpmMeaning;

fn request(quantity: &str, to: &str) -> ConvertRequest {
    ConvertRequest::new(quantity, to)
}

#[track_caller]
fn ask(quantity: &str, to: &str) -> ConvertResponse {
    convert(&request(quantity, to)).unwrap_or_else(|e| panic!("{quantity} to {to}: {e}"))
}

#[track_caller]
fn gives(quantity: &str, to: &str, value: f64, unit: &str, basis: Option<&str>) {
    let got = ask(quantity, to);
    assert!(
        (got.value - value).abs() <= 1e-9 * value.abs().max(1e-9),
        "{quantity} to {to}: {} and not {value}",
        got.value
    );
    assert_eq!((got.unit.as_str(), got.basis.as_deref()), (unit, basis), "{quantity} to {to}");
    assert!(!got.sources.is_empty());
}

#[track_caller]
fn refuses(quantity: &str, to: &str, code: &str, words: &str) {
    match convert(&request(quantity, to)) {
        Ok(got) => panic!("{quantity} to {to} gives {got:?}"),
        Err(e) => {
            assert_eq!(e.code().as_str(), code, "{quantity} to {to}: {e}");
            assert!(e.to_string().contains(words), "{quantity} to {to}: {e}");
        }
    }
}

// By hand from the abridged weights P 30.974, O 15.999, C 12.011, Ca 40.078, Mg 24.305, H 1.008.
const P_IN_P2O5: f64 = 2.0 * 30.974 / (2.0 * 30.974 + 5.0 * 15.999);
const CACO3: f64 = 40.078 + 12.011 + 3.0 * 15.999;
const CAO: f64 = 40.078 + 15.999;
const HCO3: f64 = 1.008 + 12.011 + 3.0 * 15.999;

#[test]
fn the_examples_of_the_manual() {
    gives("120 ppm P2O5", "ppm P", 120.0 * P_IN_P2O5, "mg/L", Some("P"));
    gives("14 °dH", "mg/L CaCO3", 140.0 * CACO3 / CAO, "mg/L", Some("CaCO3"));
    gives(
        "1.4 mS/cm at 18 °C",
        "mS/cm at 25 °C",
        1.4 / (1.0 - 0.019 * 7.0),
        "mS/cm",
        Some("at 25 °C"),
    );
    gives("350 ppm meter 500", "mS/cm", 0.7, "mS/cm", Some("at 25 °C"));
}

#[test]
fn answers_are_rounded_and_say_what_was_assumed() {
    let got = ask("100 mg/2 L N", "g/L");
    assert_eq!(got.value, 0.05);
    let got = ask("2 gal", "L");
    assert!(got.notes.iter().any(|n| n.contains("US measures")), "{:?}", got.notes);
    assert!(ask("2 imp gal", "L").notes.is_empty());
    let got = ask("1.4 mS/cm", "ppm meter 700");
    assert_eq!(got.value, 980.0);
    assert!(got.notes.iter().any(|n| n.contains("25 °C")));
    let got = ask("120 ppm P2O5", "ppm P");
    assert_eq!(got.message, "120 mg/L P2O5 = 52.371 mg/L P");
    assert_eq!(got.from.unit, "mg/L");
    let json = serde_json::to_value(&got).unwrap();
    assert_eq!(json["unit"], "mg/L");
    assert_eq!(json["basis"], "P");
    assert!(json["value"].is_f64());
}

#[test]
fn conductivity_both_ways() {
    gives("1.4 mS/cm at 18 °C", "uS/cm", 1400.0, "uS/cm", Some("at 18 °C"));
    gives("500 uS/cm", "uS/cm at 15 °C", 500.0 * (1.0 - 0.19), "uS/cm", Some("at 15 °C"));
    gives("490 ppm meter 700", "ppm meter 500", 350.0, "[ppm]", Some("meter 500"));
    gives("490 ppm meter 700", "µS/cm at 77 °F", 700.0, "uS/cm", Some("at 77 °F"));
    gives("1 mS/cm", "ppm 500", 500.0, "[ppm]", Some("meter 500"));
    let natural = request("1 mS/cm at 10 °C", "mS/cm at 25 °C")
        .with_ec_compensation(EcCompensation::NaturalWater);
    assert_eq!(convert(&natural).unwrap().value, 1.428);
    let two = request("1 mS/cm at 15 °C", "mS/cm at 25 °C").with_ec_percent_per_k(2.0);
    assert_eq!(convert(&two).unwrap().value, 1.25);
    let both = natural.with_ec_percent_per_k(2.0);
    assert_eq!(convert(&both).unwrap_err().pointer(), "/ec_percent_per_k");
    refuses("350 ppm meter 500", "mg/L feed", "not-convertible", "needs the product");
    refuses("350 ppm meter 500", "ppm N", "not-convertible", "label");
    refuses("1.4 mS/cm", "ppm", "ambiguous-ppm", "meter 640");
    refuses("300 mg/L feed", "ppm N", "not-convertible", "needs the product");
    refuses("300 mg/L feed", "ppm meter 500", "not-convertible", "needs the product");
    refuses("150 ppm N", "mS/cm", "not-convertible", "needs the product");
    refuses("1 mS/cm at 150 °C", "mS/cm at 25 °C", "out-of-range", "100 °C");
    refuses("1 mS/cm", "°C", "not-convertible", "a temperature");
}

#[test]
fn hardness_and_alkalinity() {
    gives("14 °dH", "mmol/L", 140.0 / CAO, "mmol/L", Some("hardness"));
    gives("14 °dH", "mg/L CaO", 140.0, "mg/L", Some("CaO"));
    gives("250 mg/L CaCO3", "°fH", 25.0, "°fH", None);
    gives("2 meq/L", "°dH", CAO / 10.0, "°dH", None);
    gives("1 mmol/L hardness", "mg/L CaCO3", CACO3, "mg/L", Some("CaCO3"));
    gives("40.078 mg/L Ca", "mg/L CaCO3", CACO3, "mg/L", Some("CaCO3"));
    gives("24.305 mg/L Mg", "mg/L CaCO3", CACO3, "mg/L", Some("CaCO3"));
    gives("40.078 mg/L Ca", "°dH", CAO / 10.0, "°dH", None);
    gives("3 meq/L", "mg/L HCO3", 3.0 * HCO3, "mg/L", Some("HCO3"));
    gives("150 mg/L CaCO3", "mg/L HCO3", 300.0 / CACO3 * HCO3, "mg/L", Some("HCO3"));
    gives("8 °dKH", "meq/L", 80.0 / (CAO / 2.0), "meq/L", Some("alkalinity"));
    refuses("14 °dH", "°dKH", "not-convertible", "softened");
    refuses("14 °dH", "mg/L Ca", "not-convertible", "magnesium");
    refuses("14 °dH", "mg/L", "no-basis", "CaCO3");
    refuses("3 meq/L alkalinity", "°dH", "not-convertible", "softened");
    refuses("100 mg/L K", "°dH", "not-convertible", "hardness");
}

#[test]
fn nutrients() {
    gives("2 mmol/L Ca", "mg/L Ca", 80.156, "mg/L", Some("Ca"));
    gives("2 meq/L Ca", "mg/L", 40.078, "mg/L", Some("Ca"));
    gives("150 ppm N", "mmol/L NO3", 150.0 / 14.007, "mmol/L", Some("NO3"));
    gives("0.5 g/L N", "ppm", 500.0, "mg/L", Some("N"));
    gives("20 % P2O5", "% P", 20.0 * P_IN_P2O5, "%", Some("P"));
    gives("20 % P2O5", "g/kg", 200.0, "g/kg", Some("P2O5"));
    gives("500 mg/kg Fe", "% Fe", 0.05, "%", Some("Fe"));
    gives("10 % w/v N", "g/L", 100.0, "g/L", Some("N"));
    refuses("150 ppm N", "ppm P", "not-convertible", "phosphorus");
    refuses("300 mg/L", "ppm N", "no-basis", "basis");
    refuses("20 % N", "g/L N", "needs-density", "safety data sheet");
    refuses("20 %", "% P", "no-basis", "basis");
    refuses("300 ppm", "mg/L", "ambiguous-ppm", "300 ppm feed");
    refuses("300 mg/L", "ppm", "ambiguous-ppm", "feed");
    let set = request("300 ppm", "mS/cm").with_ppm_means(PpmMeaning::Meter500);
    let got = convert(&set).unwrap();
    assert_eq!(got.value, 0.6);
    assert!(got.notes.iter().any(|n| n.contains("setting")), "{:?}", got.notes);
}

#[test]
fn measures_and_spoons() {
    gives("1 gal", "L", 3.785411784, "L", None);
    gives("1 imp gal", "L", 4.54609, "L", None);
    gives("1 oz", "g", 28.349523125, "g", None);
    gives("1 1/2 oz/100 gal", "mg/L", 1.5 * 28349.523125 / 378.5411784, "mg/L", None);
    gives("1 tsp/gal", "mL/L", 1000.0 / 768.0, "mL/L", None);
    gives("1:100", "%", 1.0, "%", None);
    gives("1 + 99", "1:N", 100.0, "1:N", None);
    gives("1 in 101", "1+N", 100.0, "1+N", None);
    gives("1:100", "mL/L", 10.0, "mL/L", None);
    gives("68 °F", "°C", 20.0, "Cel", None);
    gives("-40 °C", "°F", -40.0, "[degF]", None);
    gives("9 °F difference", "K", 5.0, "K", Some("difference"));
    gives("10 km/h", "m/s", 10.0 / 3.6, "m/s", None);
    gives("29.92 inHg", "hPa", 29.92 * 25.4 * 1.33322387415, "hPa", None);
    gives("70 % RH", "%", 70.0, "%", Some("RH"));
    refuses("2 tsp", "g", "needs-bulk-density", "ten level spoonfuls");
    refuses("2 tsp/gal", "g/L", "needs-bulk-density", "g/tsp");
    refuses("1 oz", "mL", "needs-bulk-density", "fl oz");
    let error = convert(&request("14 °dH", "°dKH")).unwrap_err();
    assert_eq!(error.pointer(), "/to");
    let error = convert(&request("2 tsp", "g")).unwrap_err();
    assert_eq!(error.pointer(), "/bulk_density");
    refuses("5 °C", "g", "not-convertible", "a temperature");
    let spoon = request("2 tsp", "g").with_bulk_density("4.6 g/tsp");
    assert_eq!(convert(&spoon).unwrap().value, 9.2);
    let dose = request("4.6 g/gal", "tsp/gal").with_bulk_density("4.6 g/tsp");
    assert_eq!(convert(&dose).unwrap().value, 1.0);
    let bad = spoon.with_bulk_density("4.6 g");
    assert_eq!(convert(&bad).unwrap_err().pointer(), "/bulk_density");
    assert_eq!(convert(&request("5 tps", "g")).unwrap_err().pointer(), "/quantity");
    assert_eq!(convert(&request("5 tsp", "gg")).unwrap_err().pointer(), "/to");
}

/// By definition: UCUM 2.2 (‰, metric drop), SI brochure (hectolitre), and CF = 10 × mS/cm.
#[test]
fn further_units_of_the_trade() {
    gives("14 CF", "mS/cm", 1.4, "mS/cm", Some("at 25 °C"));
    gives("1.4 mS/cm", "CF", 14.0, "CF", Some("at 25 °C"));
    gives("5 ‰", "%", 0.5, "%", None);
    gives("700 ‰ RH", "%", 70.0, "%", Some("RH"));
    gives("46 ‰ N", "% N", 4.6, "%", Some("N"));
    gives("2 hL", "L", 200.0, "L", None);
    gives("20 drops", "mL", 1.0, "mL", None);
    gives("10 drops/L", "mL/L", 0.5, "mL/L", None);
    assert!(ask("1 drop", "mL").notes.iter().any(|n| n.contains("1/20 mL")));
    gives("1 %", "mL/L", 10.0, "mL/L", None);
    gives("5 mL/L", "%", 0.5, "%", None);
    assert!(ask("1 %", "mL/L").notes.iter().any(|n| n.contains("by volume")));
    refuses("1 % w/w", "mL/L", "not-convertible", "share by mass");
    refuses("1200 ‰ RH", "%", "out-of-range", "0 to 100 %");
}

/// NIST SP 811, appendix B.8: 1 footcandle is 1.076 391 E+01 lx.
#[test]
fn illuminance() {
    let fc = ask("1 fc", "lux");
    assert!((fc.value - 10.763_91).abs() < 5e-6, "{}", fc.value);
    gives("2 klx", "lux", 2000.0, "lx", None);
    gives("108 lm/m2", "lux", 108.0, "lx", None);
    gives("1000 foot-candles", "fc", 1000.0, "fc", None);
    refuses("1000 lux", "PPFD", "needs-light-source", "spectrum");
    refuses("1000 lux", "W/m2", "not-convertible", "an illuminance");
}

/// Thimijan & Heins 1983 as reprinted by an instrument maker: full sunlight of 2000 µmol/m²/s is
/// 108 000 lux; 300 µmol/m²/s of high-pressure sodium is 24 600 lux, of metal halide 21 300 lux and
/// of cool white fluorescent 22 200 lux.
#[test]
fn photons_of_a_light_source() {
    use guardcell_units::light::LightSource as L;
    for (source, ppfd, lux) in [
        (L::Sunlight, 2000.0, 108_000.0),
        (L::HighPressureSodium, 300.0, 24_600.0),
        (L::MetalHalide, 300.0, 21_300.0),
        (L::CoolWhiteFluorescent, 300.0, 22_200.0),
    ] {
        let there = request(&format!("{ppfd} umol/m2/s"), "lux").with_light_source(source);
        assert!((convert(&there).unwrap().value - lux).abs() < 1e-6 * lux, "{source:?}");
        let back = request(&format!("{lux} lux"), "µmol m⁻² s⁻¹").with_light_source(source);
        let back = convert(&back).unwrap();
        assert!((back.value - ppfd).abs() < 1e-6 * ppfd, "{source:?}");
        assert_eq!(back.unit, "umol/m2/s");
        assert!(back.sources.iter().any(|s| s.contains("Thimijan")));
    }
    // 200 µmol/m²/s for 24 h: 200 × 86 400 s.
    gives("200 PPFD", "mol/m2/d", 17.28, "mol/m2/d", None);
    gives("17.28 DLI", "µmol/(m².s)", 200.0, "umol/m2/s", None);
    gives("5 mmol/s/m2", "umol/m2/s", 5000.0, "umol/m2/s", None);
    let error = convert(&request("1000 lux", "PPFD")).unwrap_err();
    assert_eq!(error.pointer(), "/light_source");
}

/// Handbook of Chemistry and Physics, concentrative properties of aqueous solutions: a solution of
/// 20 % KNO3 by mass has a density of 1.1326 kg/L and 226.5 g/L of the salt.
#[test]
fn shares_by_mass_and_mass_per_volume() {
    let dense = request("20 % w/w", "g/L").with_density("1.1326 kg/L");
    assert!((convert(&dense).unwrap().value - 226.5).abs() < 0.05);
    let back = request("226.5 g/L", "g/kg").with_density("1.1326 kg/L");
    assert!((convert(&back).unwrap().value - 200.0).abs() < 0.05);
    let label = request("7 % P2O5", "g/L P").with_density("1.2 kg/L");
    assert!((convert(&label).unwrap().value - 70.0 * 1.2 * P_IN_P2O5).abs() < 1e-6);
    let drum = request("100 mL", "g").with_density("1.2 kg/L");
    assert_eq!(convert(&drum).unwrap().value, 120.0);
    let over = request("1300 g/L", "%  w/w").with_density("1.2 kg/L");
    assert_eq!(convert(&over).unwrap_err().code().as_str(), "out-of-range");
    let other = request("7 % P2O5", "g/L N").with_density("1.2 kg/L");
    assert_eq!(convert(&other).unwrap_err().code().as_str(), "not-convertible");
    let twice = request("2 mL", "g").with_density("1.2 kg/L").with_bulk_density("0.9 g/mL");
    assert_eq!(convert(&twice).unwrap_err().pointer(), "/density");
    assert_eq!(convert(&request("20 % N", "g/L")).unwrap_err().pointer(), "/density");
}

/// 0 °F and −40 of both scales are points of the definitions (NIST Handbook 44, appendix C).
#[test]
fn temperatures_below_zero() {
    for text in ["-5 °C", "−5 °C", "-5℃", "-5 degrees Celsius"] {
        assert_eq!(ask(text, "°F").value, 23.0, "{text}");
    }
    // The nearest double of −160/9 °C lies a rounding away from 0 °F.
    let zero = ask("-17.77777777777778 °C", "°F");
    assert!(zero.value.abs() < 1e-12 && zero.unit == "[degF]", "{zero:?}");
}
