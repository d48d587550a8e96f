use super::*;
use guardcell::units::convert;
use proptest::prelude::*;

fn words() -> impl Strategy<Value = String> {
    let known = prop::sample::select(vec![
        "ppm P2O5",
        "ppm N",
        "ppm",
        "mg/L Ca",
        "°dH",
        "mS/cm at 18 °C",
        "mS/cm",
        "CF",
        "ppm meter 500",
        "meter 500 ppm",
        "scale 350 ppm",
        "tsp",
        "g",
        "oz/100 gal",
        "% N",
        "% RH",
        "% w/v",
        "%",
        "‰",
        "°C",
        "F",
        "K difference",
        "in",
        "in 100",
        "1/2 tsp",
        "e3 mg",
        ":100",
        "mmol/L",
        "meq/L",
        "mg/L feed",
        "gal",
        "foo",
        "hPa",
        "lux",
        "umol/m2/s",
        "mg/L CaCO3",
        "mg/L CaCO3 alkalinity",
        "500",
        "NO3-N mg/L",
        "drops",
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
    fn answers_do_not_depend_on_earlier_rows(
        rows in prop::collection::vec(
            (numbers(), words(), words(), "[ ]{0,2}", any::<bool>()), 1..16),
    ) {
        let mut kinds = Kinds::default();
        for (number, unit, to, blank, density) in rows {
            let quantity = format!("{number}{blank}{unit}");
            let mut request = ConvertRequest::new(&quantity, &to);
            if density {
                request = request.with_bulk_density("0.9 g/mL");
            }
            let wanted = convert(&request);
            // Twice: read and remembered.
            for _ in 0..2 {
                let make = |first: &ConvertResponse| Ok(first.unit.clone());
                let found = |kind: &Kind<String>, number: f64| {
                    assert_eq!(kind.made, kind.conversion.response(number)?.unit);
                    kind.conversion.response(number)
                };
                let got = if density {
                    kinds.request(&request, make, found)
                } else {
                    kinds.texts(&quantity, &to, make, found)
                };
                prop_assert_eq!(&got, &wanted, "{:?}", request);
            }
        }
    }

    /// A number apart from its unit converts as the two in one text.
    #[test]
    fn a_number_and_a_unit_are_a_quantity(
        rows in prop::collection::vec((0_u32..100_000, words(), words()), 1..16),
    ) {
        let mut kinds = Kinds::default();
        for (number, unit, to) in rows {
            let number = f64::from(number) / 100.0;
            let wanted = convert(&ConvertRequest::new(format!("{number} {unit}"), &to));
            for _ in 0..2 {
                let got = kinds.number(
                    number,
                    &unit,
                    &to,
                    |_| Ok(()),
                    |kind, number| kind.conversion.response(number),
                );
                prop_assert_eq!(&got, &wanted, "{} {:?} {:?}", number, unit, to);
            }
        }
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
