//! Properties that hold for every unit, basis and text.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used)]

use guardcell_units::basis::{BASES, Basis, K, K2O, N, NO3, Of, P, P2O5};
use guardcell_units::convert::{ConvertRequest, convert};
use guardcell_units::dimension::Dimension as D;
use guardcell_units::table::unit_table;
use guardcell_units::text::{Quantity, Target};
use proptest::prelude::*;

/// A text of the unit with whatever it needs beside it, and a number.
fn written(code: &str, dimension: D, number: f64) -> String {
    match dimension {
        D::InjectorRatio if code == "1:N" => format!("1 in {:?}", number.abs() + 1.0),
        D::InjectorRatio => format!("1 + {:?}", number.abs()),
        D::Ppm => format!("{:?} {code} P2O5", number.abs()),
        _ => format!("{:?} {code}", number.abs()),
    }
}

fn unit_row() -> impl Strategy<Value = (&'static str, D)> {
    let rows: Vec<_> = unit_table().map(|r| (r.code, r.dimension)).collect();
    proptest::sample::select(rows)
}

/// Positive numbers of any size that a bucket, a bench or a beaker could need, and far beyond.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        (1e-9..1e9_f64),
        (0_u32..100_000).prop_map(f64::from),
        (0_u32..100_000).prop_map(|n| f64::from(n) / 1000.0),
        prop::num::f64::POSITIVE.prop_filter("in range", |x| *x > 1e-200 && *x < 1e200),
    ]
}

fn scaled(dimension: D, n: f64) -> f64 {
    match dimension {
        // Shares stop at 100 %.
        D::MassFraction | D::Percentage => n % 1.0,
        _ => n,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(600))]

    #[test]
    fn printing_and_reading_gives_the_same_to_the_last_bit((code, dimension) in unit_row(), n in number()) {
        let text = written(code, dimension, scaled(dimension, n));
        let q = Quantity::parse(&text).map_err(|e| TestCaseError::fail(e.to_string()))?;
        for form in [q.to_string(), q.trade().to_string()] {
            let back = Quantity::parse(&form).map_err(|e| TestCaseError::fail(e.to_string()))?;
            prop_assert_eq!(back, q, "{} read as {}", form, back);
            prop_assert_eq!(back.number().to_bits(), q.number().to_bits());
        }
    }

    #[test]
    fn every_unit_converts_to_every_other_of_its_kind_and_back((code, dimension) in unit_row(), n in 1e-3..1e4_f64) {
        let n = scaled(dimension, n);
        let text = written(code, dimension, n);
        let Ok(q) = Quantity::parse(&text) else { return Err(TestCaseError::fail(text)) };
        for row in unit_table().filter(|r| r.dimension == dimension && r.dimension != D::Ppm) {
            let to = if dimension == D::InjectorRatio { row.trade } else { row.code };
            let there = convert(&ConvertRequest::new(text.clone(), to)).map_err(|e| TestCaseError::fail(e.to_string()))?;
            let there_text = if dimension == D::InjectorRatio {
                there.message.rsplit(" = ").next().unwrap_or_default().to_owned()
            } else {
                format!("{} {}", there.value, there.unit)
            };
            if dimension == D::InjectorRatio {
                prop_assert!(Quantity::parse(&there_text).is_ok(), "{}", there_text);
                continue;
            }
            let back = convert(&ConvertRequest::new(there_text, q.unit().code())).map_err(|e| TestCaseError::fail(e.to_string()))?;
            // Answers carry ten significant digits; absolute temperatures lose what their zero
            // points add.
            let slack = if dimension == D::Temperature { 1e-6 } else { 0.0 };
            prop_assert!((back.value - q.number()).abs() <= 3e-9 * q.number().abs() + slack,
                "{} to {} and back is {}", text, to, back.value);
        }
    }

    #[test]
    fn a_basis_there_and_back(mg_l in 1e-6..1e6_f64) {
        fn back<A: Basis, B: Basis<Analyte = A::Analyte>>(mg_l: f64) -> f64 {
            Of::<A>::from_mg_per_l(mg_l).to::<B>().to::<A>().mg_per_l()
        }
        for got in [back::<P2O5, P>(mg_l), back::<K2O, K>(mg_l), back::<N, NO3>(mg_l)] {
            prop_assert!((got - mg_l).abs() <= 1e-12 * mg_l);
        }
        for a in BASES {
            for b in BASES.iter().filter(|b| b.analyte == a.analyte) {
                let (Some(there), Some(home)) = (a.factor_to(b), b.factor_to(a)) else {
                    return Err(TestCaseError::fail("same analyte"));
                };
                prop_assert!((mg_l * there * home - mg_l).abs() <= 1e-12 * mg_l);
            }
        }
    }

    #[test]
    fn every_basis_is_read_back(i in 0..BASES.len(), n in number()) {
        let text = format!("{n:?} mg/L {}", BASES[i].symbol);
        let q = Quantity::parse(&text).map_err(|e| TestCaseError::fail(e.to_string()))?;
        prop_assert_eq!(q.subject().basis(), Some(BASES[i]));
        prop_assert_eq!(Quantity::parse(&q.to_string()).ok(), Some(q));
    }
}

// Set PROPTEST_CASES for a longer search.
proptest! {
    #[test]
    fn no_text_panics(text in any::<String>(), to in any::<String>()) {
        let _ = Quantity::parse(&text);
        let _ = Target::parse(&text);
        let _ = convert(&ConvertRequest::new(text, to));
    }

    #[test]
    fn no_pair_of_quantity_and_target_panics(
        (from, from_kind) in unit_row(),
        (to, _) in unit_row(),
        basis in prop::sample::select(vec!["", " N", " Ca", " CaCO3", " HCO3", " hardness", " feed"]),
        liquid in any::<bool>(),
        n in number(),
    ) {
        let request = ConvertRequest::new(format!("{}{basis}", written(from, from_kind, scaled(from_kind, n))), to)
            .with_light_source(guardcell_units::light::LightSource::Sunlight);
        let request = if liquid {
            request.with_density("1.2 kg/L")
        } else {
            request.with_bulk_density("0.9 g/mL")
        };
        match convert(&request) {
            Ok(answer) => prop_assert!(answer.value.is_finite(), "{request:?}"),
            Err(e) => prop_assert!(!e.to_string().is_empty()),
        }
    }

    #[test]
    fn no_near_quantity_panics(text in r"[0-9,./ \u{2009}½+−:-]{0,8}[ a-zA-Z°%µ/\[\]{}()@.^0-9-]{0,24}") {
        match Quantity::parse(&text) {
            Ok(q) => prop_assert_eq!(Quantity::parse(&q.to_string()), Ok(q)),
            Err(e) => {
                prop_assert!(e.place().and_then(|p| p.column).is_some(), "{:?}: {}", text, e);
                prop_assert!(!e.hint().is_empty());
            }
        }
    }

    #[test]
    fn words_in_any_order_never_panic(
        words in prop::collection::vec(prop::sample::select(vec![
            "1", "2,5", "1/2", "½", "ppm", "mg/L", "tsp", "/", "per", "gal", "N", "K", "P2O5", "at",
            "18", "°C", "meter", "500", "scale", "(", ")", "RH", "%", "w/w", "feed", "hardness",
            "CaCO3", "mS/cm", "in", ":", "+", "-", "1:100", "°dH", "m-2", "g", ".", "difference",
        ]), 0..9)
    ) {
        let text = words.join(" ");
        if let Ok(q) = Quantity::parse(&text) {
            prop_assert_eq!(Quantity::parse(&q.to_string()), Ok(q));
            prop_assert_eq!(Quantity::parse(&q.trade().to_string()), Ok(q));
        }
        let _ = Target::parse(&text);
    }
}
