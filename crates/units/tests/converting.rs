//! Conversions by their definitions, and those that are refused.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used)]

use guardcell_units::convert::{Convert, ConvertRequest, EcCompensation, convert};
use guardcell_units::text::PpmMeaning;

fn request(quantity: &str, to: &str) -> ConvertRequest {
    ConvertRequest { quantity: quantity.to_owned(), to: to.to_owned(), ..ConvertRequest::default() }
}

#[track_caller]
fn ask(quantity: &str, to: &str) -> Convert {
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
fn refuses(quantity: &str, to: &str, code: &str, says: &str) {
    match convert(&request(quantity, to)) {
        Ok(got) => panic!("{quantity} to {to} gives {got:?}"),
        Err(e) => {
            assert_eq!(e.code(), code, "{quantity} to {to}: {e}");
            assert!(e.to_string().contains(says), "{quantity} to {to}: {e}");
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
    assert_eq!(got.says, "120 mg/L P2O5 = 52.371 mg/L P");
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
    let natural = ConvertRequest {
        ec_compensation: Some(EcCompensation::NaturalWater),
        ..request("1 mS/cm at 10 °C", "mS/cm at 25 °C")
    };
    assert_eq!(convert(&natural).unwrap().value, 1.428);
    let two = ConvertRequest {
        ec_percent_per_k: Some(2.0),
        ..request("1 mS/cm at 15 °C", "mS/cm at 25 °C")
    };
    assert_eq!(convert(&two).unwrap().value, 1.25);
    let both = ConvertRequest { ec_percent_per_k: Some(2.0), ..natural };
    assert_eq!(convert(&both).unwrap_err().pointer(), Some("/ec_percent_per_k"));
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
    refuses("20 % N", "g/L N", "not-convertible", "density");
    refuses("20 %", "% P", "no-basis", "basis");
    refuses("300 ppm", "mg/L", "ambiguous-ppm", "300 ppm feed");
    refuses("300 mg/L", "ppm", "ambiguous-ppm", "feed");
    let set =
        ConvertRequest { ppm_means: Some(PpmMeaning::Meter500), ..request("300 ppm", "mS/cm") };
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
    assert_eq!((error.pointer(), error.column()), (Some("/to"), Some(1)));
    let error = convert(&request("2 tsp", "g")).unwrap_err();
    assert_eq!(error.pointer(), Some("/bulk_density"));
    refuses("5 °C", "g", "not-convertible", "a temperature");
    let spoon =
        ConvertRequest { bulk_density: Some("4.6 g/tsp".to_owned()), ..request("2 tsp", "g") };
    assert_eq!(convert(&spoon).unwrap().value, 9.2);
    let dose = ConvertRequest {
        to: "tsp/gal".to_owned(),
        quantity: "4.6 g/gal".to_owned(),
        ..spoon.clone()
    };
    assert_eq!(convert(&dose).unwrap().value, 1.0);
    let bad = ConvertRequest { bulk_density: Some("4.6 g".to_owned()), ..spoon };
    assert_eq!(convert(&bad).unwrap_err().pointer(), Some("/bulk_density"));
    assert_eq!(convert(&request("5 tps", "g")).unwrap_err().pointer(), Some("/quantity"));
    assert_eq!(convert(&request("5 tsp", "gg")).unwrap_err().pointer(), Some("/to"));
}
