use super::*;
use crate::convert::{EcCompensation, convert};
use proptest::prelude::*;

fn words() -> impl Strategy<Value = String> {
    let known = prop::sample::select(vec![
        "ppm P2O5",
        "ppm N",
        "ppm",
        "ppm K",
        "mg/L Ca",
        "°dH",
        "mS/cm at 18 °C",
        "mS/cm",
        "ppm meter 500",
        "meter 500 ppm",
        "ppm 500 scale",
        "scale",
        "scale 350 ppm",
        "tsp",
        "g",
        "kg",
        "lb",
        "oz/100 gal",
        "tsp/gal",
        "% N",
        "% RH",
        "% w/v",
        "%",
        "°C",
        "F",
        "K difference",
        "in",
        "in 100",
        "in 100 parts",
        "1/2 tsp",
        "e3 mg",
        "E2 g",
        ":100",
        "mmol/L",
        "meq/L",
        "mg/L",
        "mg/L feed",
        "gal",
        "us gal",
        "foo",
        "C",
        "hPa",
        "psi",
        "mg/L CaCO3",
        "mg/L CaCO3 alkalinity",
        "meq/L hardness",
        "500",
        "NO3-N mg/L",
    ]);
    prop_oneof![9 => known.prop_map(str::to_owned), 1 => "[a-zA-Z0-9%°/.: ]{0,8}"]
}

fn numbers() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => (0_u32..100_000).prop_map(|n| format!("{}", f64::from(n) / 100.0)),
        1 => prop::sample::select(vec![
            "1", "0", "100", "101", "500", "700", "-5", "1.", ".5", "1,5", "1 1/2", "½",
            "1e3", "007", "1.2.3", "99999999999999999999999999", "1 000", "+3", "36",
        ]).prop_map(str::to_owned),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever was converted before, the answer and the error are those of `convert`.
    #[test]
    fn as_convert_says(
        rows in prop::collection::vec(
            (numbers(), words(), words(), "[ ]{0,2}", any::<Option<bool>>()), 1..16),
    ) {
        let mut converter = Converter::default();
        for (number, unit, to, blank, more) in rows {
            let request = ConvertRequest {
                quantity: format!("{number}{blank}{unit}"),
                to,
                bulk_density: (more == Some(true)).then(|| "0.9 g/mL".to_owned()),
                ec_compensation: (more == Some(false)).then_some(EcCompensation::NaturalWater),
                ppm_means: more.map(|m| if m { PpmMeaning::N } else { PpmMeaning::Meter500 }),
                ..ConvertRequest::default()
            };
            // Twice: read and remembered.
            for _ in 0..2 {
                let many = converter.convert(&request).map(|c| c.whole());
                prop_assert_eq!(&many, &convert(&request), "{:?}", request);
                let plain = ConvertRequest {
                    quantity: request.quantity.clone(),
                    to: request.to.clone(),
                    ..ConvertRequest::default()
                };
                let texts = converter.convert_texts(&plain.quantity, &plain.to);
                prop_assert_eq!(&texts.map(|c| c.whole()), &convert(&plain), "{:?}", plain);
            }
        }
    }
}

#[test]
fn what_is_remembered_is_bounded() {
    let mut converter = Converter::default();
    for n in 1..1200 {
        let request = ConvertRequest {
            quantity: "5 mg/L N".to_owned(),
            to: format!("oz/{n} gal N"),
            ..ConvertRequest::default()
        };
        assert!(converter.convert(&request).is_ok());
        assert!(converter.kinds.len() <= MOST_KINDS);
    }
}

#[test]
fn texts_that_start_with_a_plain_number() {
    assert_eq!(number_first(" 1.5 mg/L N "), Some((1.5, "mg/L N")));
    assert_eq!(number_first("15mL"), Some((15.0, "mL")));
    for other in ["1e3 mg", "1/2 tsp", "1:100", "1 in 100", "500 scale", "5", "", "1,5 L"] {
        assert_eq!(number_first(other), None, "{other}");
    }
}

/// What a caller keeps for a kind is of that kind only.
#[test]
fn the_same_kind_says_the_same_words() {
    let mut converter = Converter::default();
    let mut seen: HashMap<u64, (String, Option<String>, Vec<String>)> = HashMap::new();
    for n in 0..3000 {
        let (unit, to) = match n % 4 {
            0 => ("ppm P2O5".to_owned(), "ppm P".to_owned()),
            1 => ("°dH".to_owned(), "mg/L CaCO3".to_owned()),
            2 => ("mg/L N".to_owned(), format!("oz/{} gal N", n + 1)),
            _ => ("1/2 tsp".to_owned(), "mL".to_owned()),
        };
        let quantity = format!("{}.5 {unit}", n % 90);
        let Ok(c) = converter.convert_texts(&quantity, &to) else { continue };
        let words = (c.unit().to_owned(), c.basis().map(str::to_owned), c.notes().to_vec());
        if let Some(kind) = c.kind() {
            assert_eq!(seen.entry(kind).or_insert_with(|| words.clone()), &words, "{quantity}");
        }
    }
    assert!(seen.len() > 700, "{}", seen.len());
}

proptest! {
    /// Reading digits by arithmetic is reading them.
    #[test]
    fn numbers_are_read_to_the_last_bit(text in "[0-9]{1,18}([.][0-9]{1,20})?") {
        let written = format!("{text} g");
        let (number, words) = number_first(&written).unwrap();
        prop_assert_eq!(number.to_bits(), text.parse::<f64>().unwrap().to_bits());
        prop_assert_eq!(words, "g");
    }
}
