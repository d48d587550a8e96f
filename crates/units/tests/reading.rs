//! What people write, and what it is read as.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used)]

use guardcell_units::dimension::Dimension as D;
use guardcell_units::text::Quantity;

#[track_caller]
fn reads(text: &str, code: &str, dimension: D) {
    match Quantity::parse(text) {
        Ok(q) => {
            assert_eq!(q.to_string(), code, "{text}");
            assert_eq!(q.dimension(), dimension, "{text}");
            let back = Quantity::parse(code).unwrap_or_else(|e| panic!("{code}: {e}"));
            assert_eq!(back, q, "{code} reads back as {back}");
            let trade = q.trade().to_string();
            let back = Quantity::parse(&trade).unwrap_or_else(|e| panic!("{trade}: {e}"));
            assert_eq!(back, q, "{trade} reads back as {back}");
        }
        Err(e) => panic!("{text}: {e}"),
    }
}

#[track_caller]
fn refuses(text: &str, code: &str, column: u64) {
    match Quantity::parse(text) {
        Ok(q) => panic!("{text} is read as {q}"),
        Err(e) => {
            let at = e.place().and_then(|p| p.column);
            assert_eq!((e.code().as_str(), at), (code, Some(column)), "{text}: {e}");
            assert!(!e.hint().is_empty());
        }
    }
}

#[test]
fn strengths() {
    reads("2 tsp/gal", "2 [tsp_us]/[gal_us]", D::VolumeFraction);
    reads("1/4 tsp per gallon", "0.25 [tsp_us]/[gal_us]", D::VolumeFraction);
    reads("½ tsp. / gal.", "0.5 [tsp_us]/[gal_us]", D::VolumeFraction);
    reads("1½ tbsp per imperial gallon", "1.5 [tbs_us]/[gal_br]", D::VolumeFraction);
    reads("1 1/2 oz/100 gal", "1.5 [oz_av]/(100.[gal_us])", D::MassPerVolume);
    reads("1.5 [oz_av]/(100.[gal_us])", "1.5 [oz_av]/(100.[gal_us])", D::MassPerVolume);
    reads("2 lb per 100 US gallons of water", "2 [lb_av]/(100.[gal_us])", D::MassPerVolume);
    reads("5 fl. oz. per gal", "5 [foz_us]/[gal_us]", D::VolumeFraction);
    reads("1 g per litre", "1 g/L", D::MassPerVolume);
    reads("1 g L-1", "1 g/L", D::MassPerVolume);
    reads("1 g·L⁻¹", "1 g/L", D::MassPerVolume);
    reads("1 g.l-1", "1 g/L", D::MassPerVolume);
    reads("5 mL/L", "5 mL/L", D::VolumeFraction);
    reads("5 ML/l".to_lowercase().as_str(), "5 mL/L", D::VolumeFraction);
}

#[test]
fn concentrations_on_a_basis() {
    reads("150ppm N", "150 mg/L{N}", D::AsBasis);
    reads("120 ppm P2O5", "120 mg/L{P2O5}", D::AsBasis);
    reads("120 ppm P₂O₅", "120 mg/L{P2O5}", D::AsBasis);
    reads("N 150 ppm", "150 mg/L{N}", D::AsBasis);
    reads("ppm N 150", "150 mg/L{N}", D::AsBasis);
    reads("K: 150 ppm", "150 mg/L{K}", D::AsBasis);
    reads("50 mg/L S", "50 mg/L{S}", D::AsBasis);
    reads("25 mg/l Mg", "25 mg/L{Mg}", D::AsBasis);
    reads("44 mg/L NO3", "44 mg/L{NO3}", D::AsBasis);
    reads("44 mg/l no3", "44 mg/L{NO3}", D::AsBasis);
    reads("44 mg/L NO3-", "44 mg/L{NO3}", D::AsBasis);
    reads("44 mg/L as NO3", "44 mg/L{NO3}", D::AsBasis);
    reads("10 mg/L NO3-N", "10 mg/L{N}", D::AsBasis);
    reads("30 mg/L SO42-", "30 mg/L{SO4}", D::AsBasis);
    reads("80 mg/L Ca2+", "80 mg/L{Ca}", D::AsBasis);
    reads("80 mg/L Ca²⁺", "80 mg/L{Ca}", D::AsBasis);
    reads("2 meq/L Ca", "2 meq/L{Ca}", D::AsBasis);
    reads("20 µg/L B", "20 ug/L{B}", D::AsBasis);
    reads("20 ppb B", "20 ug/L{B}", D::AsBasis);
    reads("1,5 mM K", "1.5 mmol/L{K}", D::AsBasis);
    reads("0.5 ppm iron", "0.5 mg/L{Fe}", D::AsBasis);
    reads("150 mg/L{N}", "150 mg/L{N}", D::AsBasis);
    reads("300 ppm feed", "300 mg/L{feed}", D::FeedStrength);
    reads("300 mg/L feed", "300 mg/L{feed}", D::FeedStrength);
    reads("300 ppm as feed salts", "300 mg/L{feed}", D::FeedStrength);
    reads("20 % P2O5", "20 %{P2O5}", D::MassFraction);
    reads("46% w/w", "46 %{w/w}", D::MassFraction);
    reads("10 % w/v N", "10 g/(100.mL){N}", D::AsBasis);
    reads("500 mg/kg Fe", "500 mg/kg{Fe}", D::MassFraction);
}

#[test]
fn conductivity() {
    reads("1,4 mS/cm", "1.4 mS/cm", D::Conductivity);
    reads("EC 1.4 mS/cm", "1.4 mS/cm", D::Conductivity);
    reads("1.4 ms/cm", "1.4 mS/cm", D::Conductivity);
    reads("1.4 mS cm-1", "1.4 mS/cm", D::Conductivity);
    reads("700 µS/cm", "700 uS/cm", D::Conductivity);
    reads("700 μS/cm", "700 uS/cm", D::Conductivity);
    reads("700 us/cm", "700 uS/cm", D::Conductivity);
    reads("700 umhos/cm", "700 uS/cm", D::Conductivity);
    reads("0.7 dS/m", "0.7 dS/m", D::Conductivity);
    reads("1.4 mS/cm at 18 °C", "1.4 mS/cm{at_18_Cel}", D::Conductivity);
    reads("1.4 mS/cm @ 64.4°F", "1.4 mS/cm{at_64.4_[degF]}", D::Conductivity);
    reads("at 18 °C 1.4 mS/cm", "1.4 mS/cm{at_18_Cel}", D::Conductivity);
    reads("350 ppm meter 500", "350 [ppm]{meter_500}", D::MeterPpm);
    reads("350 ppm (500 scale)", "350 [ppm]{meter_500}", D::MeterPpm);
    reads("350 ppm TDS 640", "350 [ppm]{meter_640}", D::MeterPpm);
    reads("350 ppm on the 700 scale", "350 [ppm]{meter_700}", D::MeterPpm);
    reads("500 ppm meter 500", "500 [ppm]{meter_500}", D::MeterPpm);
    reads("meter 700: 490 ppm", "490 [ppm]{meter_700}", D::MeterPpm);
}

#[test]
fn hardness_and_alkalinity() {
    reads("14 °dH", "14 °dH", D::Hardness);
    reads("°dGH 8", "8 °dH", D::Hardness);
    reads("8 dGH", "8 °dH", D::Hardness);
    reads("25 °fH", "25 °fH", D::Hardness);
    reads("17.5 °Clark", "17.5 °e", D::Hardness);
    reads("14.6 gpg", "14.6 gpg", D::Hardness);
    reads("14.6 grains per gallon", "14.6 gpg", D::Hardness);
    reads("250 mg/L CaCO3 hardness", "250 mg/L{CaCO3_hardness}", D::Hardness);
    reads("hardness 250 ppm CaCO3", "250 mg/L{CaCO3_hardness}", D::Hardness);
    reads("2.5 mmol/L hardness", "2.5 mmol/L{hardness}", D::Hardness);
    reads("150 mg/L CaCO3 alkalinity", "150 mg/L{CaCO3_alkalinity}", D::Alkalinity);
    reads("183 mg/L HCO3 alkalinity", "183 mg/L{HCO3_alkalinity}", D::Alkalinity);
    reads("8,4 °dKH", "8.4 °dKH", D::Alkalinity);
    reads("3 meq/L alkalinity", "3 meq/L{alkalinity}", D::Alkalinity);
}

#[test]
fn room_and_plant() {
    reads("64 °F", "64 [degF]", D::Temperature);
    reads("-5 °C", "-5 Cel", D::Temperature);
    reads("−5℃", "-5 Cel", D::Temperature);
    reads("18 degrees C", "18 Cel", D::Temperature);
    reads("300 K", "300 K", D::Temperature);
    reads("3 K difference", "3 K{difference}", D::TemperatureInterval);
    reads("70% RH", "70 %{RH}", D::Humidity);
    reads("RH 70 %", "70 %{RH}", D::Humidity);
    reads("relative humidity 70 %", "70 %{RH}", D::Humidity);
    reads("0.3 m/s", "0.3 m/s", D::Speed);
    reads("0.3 m s-1", "0.3 m/s", D::Speed);
    reads("3 mph", "3 [mi_i]/h", D::Speed);
    reads("10 km/h", "10 km/h", D::Speed);
    reads("4 knots", "4 [kn_i]", D::Speed);
    reads("60 ft/min", "60 [ft_i]/min", D::Speed);
    reads("200 µmol/m²/s", "200 umol/m2/s", D::PhotonFluxDensity);
    reads("200 µmol m-2 s-1", "200 umol/m2/s", D::PhotonFluxDensity);
    reads("200 umol/(m2.s)", "200 umol/m2/s", D::PhotonFluxDensity);
    reads("200 µmol s⁻¹ m⁻²", "200 umol/m2/s", D::PhotonFluxDensity);
    reads("200 µmol per m² per second", "200 umol/m2/s", D::PhotonFluxDensity);
    reads("200 µmol/m²/s PPFD", "200 umol/m2/s", D::PhotonFluxDensity);
    reads("200 PPFD", "200 umol/m2/s", D::PhotonFluxDensity);
    reads("12 mol/m2/d", "12 mol/m2/d", D::PhotonFluxDensity);
    reads("10000 lux", "10000 lx", D::Illuminance);
    reads("900 foot candles", "900 fc", D::Illuminance);
    reads("14 CF", "14 CF", D::Conductivity);
    reads("3 ‰", "3 [ppth]", D::Percentage);
    reads("8 drops", "8 [drp]", D::Volume);
    reads("350 W/m²", "350 W/m2", D::Irradiance);
    reads("0.35 kW/m2", "0.35 kW/m2", D::Irradiance);
    reads("5 in", "5 [in_i]", D::Length);
    reads("3 meters", "3 m", D::Length);
    reads("760 mmHg", "760 mm[Hg]", D::Pressure);
    reads("1013 hPa", "1013 hPa", D::Pressure);
    reads("80 g/m²", "80 g/m2", D::ArealMass);
    reads("80 g m^-2", "80 g/m2", D::ArealMass);
    reads("1:100", "1 in 100", D::InjectorRatio);
    reads("1 + 100", "1 + 100", D::InjectorRatio);
    reads("1+99.5", "1 + 99.5", D::InjectorRatio);
}

#[test]
fn numbers() {
    reads("1.400,5 g", "1400.5 g", D::Mass);
    reads("1,400.5 g", "1400.5 g", D::Mass);
    reads("1,234,567 g", "1234567 g", D::Mass);
    reads("0,400 g", "0.4 g", D::Mass);
    reads("1400,125 g", "1400.125 g", D::Mass);
    reads("1\u{2009}400 g", "1400 g", D::Mass);
    reads("1\u{a0}400 g", "1400 g", D::Mass);
    reads(".5 g", "0.5 g", D::Mass);
    reads("1.4e3 g", "1400 g", D::Mass);
    reads("1e-7 g", "1e-7 g", D::Mass);
    reads("3⁄4 oz", "0.75 [oz_av]", D::Mass);
    reads("⅓ cup", "0.3333333333333333 [cup_us]", D::Volume);
    reads("2 US fl oz", "2 [foz_us]", D::Volume);
    refuses("1,400 g", "ambiguous-number", 1);
    refuses("1.2.3 g", "bad-number", 1);
    refuses("1/0 g", "bad-number", 1);
    refuses("1e999 g", "bad-number", 1);
    refuses("100-150 ppm N", "second-number", 4);
    refuses("100 – 150 ppm N", "second-number", 5);
    refuses("100 150 ppm N", "second-number", 5);
    let error = Quantity::parse("1,400 mg/L N").unwrap_err().to_string();
    assert!(error.contains("1400") && error.contains("1.4 "), "{error}");
}

#[test]
fn what_is_refused() {
    refuses("", "empty", 1);
    refuses("   ", "empty", 1);
    refuses("300 ppm", "ambiguous-ppm", 5);
    refuses("ppm 300", "ambiguous-ppm", 1);
    refuses("300 ppm meter", "ambiguous-ppm", 9);
    refuses("300", "no-unit", 4);
    refuses("mg/L N", "no-number", 1);
    refuses("1 metric cup", "ambiguous-word", 3);
    refuses("5 t/gal", "ambiguous-word", 3);
    refuses("5 ML/L", "ambiguous-word", 3);
    refuses("5 tps", "unknown-word", 3);
    refuses("5 °", "ambiguous-word", 3);
    refuses("5 мг/л", "unknown-word", 3);
    refuses("5 🌱", "unexpected-character", 3);
    refuses("5 g\0", "unexpected-character", 4);
    refuses("<5 g", "unexpected-character", 1);
    refuses("5 g P N", "conflicting-units", 7);
    refuses("5 g N", "conflicting-units", 5);
    refuses("5 mS/cm N", "conflicting-units", 9);
    refuses("5 g m", "conflicting-units", 5);
    refuses("5 g/m", "no-such-quotient", 3);
    refuses("5 umol/m2", "no-such-quotient", 3);
    refuses("5 umol/m2/kg", "no-such-quotient", 3);
    refuses("5 mg/L/day", "no-such-quotient", 3);
    refuses("5 mg/", "no-unit", 6);
    refuses("5 mg/0 L", "bad-number", 6);
    refuses("-5 g", "out-of-range", 1);
    refuses("-300 °C", "out-of-range", 1);
    refuses("140 % RH", "out-of-range", 1);
    refuses("120 % N", "out-of-range", 1);
    refuses("2:100", "bad-number", 1);
    refuses("1.4 mS/cm at 18", "no-unit", 11);
    refuses("30 ppm nitrate", "ambiguous-word", 8);
    refuses("3 meq/L N", "no-charge", 9);
    refuses("250 mg/L hardness", "no-basis", 5);
    let long = "9".repeat(5000);
    refuses(&long, "too-long", 201);
    let similar = Quantity::parse("5 tps").unwrap_err().to_string();
    assert!(similar.contains("tsp"), "{similar}");
}
