use super::*;
use crate::air_movement::AirWord;
use crate::dissolved::Dissolved;

#[test]
fn faults_are_placed() {
    let refused = |r: FilmRequest| film(&r).expect_err("out of range").pointer().to_owned();
    assert_eq!(refused(FilmRequest::new(250.0, 50.0)), "/temp_c");
    assert_eq!(refused(FilmRequest::new(20.0, 140.0)), "/rh_percent");
    assert_eq!(refused(FilmRequest::new(20.0, f64::NAN)), "/rh_percent");
    let ask = FilmRequest::new(20.0, 50.0);
    let both = ask.clone().with_air_m_s(1.0).with_air_words(AirWord::Fan);
    assert_eq!(refused(both), "/air_words");
    assert_eq!(refused(ask.clone().with_passes(10)), "/passes");
    assert_eq!(refused(ask.clone().with_driest_rh_percent(60.0)), "/driest_rh_percent");
    assert_eq!(refused(ask.clone().with_net_radiation_w_m2(900.0)), "/net_radiation_w_m2");
    let negative = Dissolved { k_mmol_l: -1.0, ..Dissolved::default() };
    assert_eq!(refused(ask.with_composition(negative)), "/composition/k_mmol_l");
}

#[test]
fn states_on_the_wire() {
    let json = |s: FilmState| serde_json::to_string(&s).expect("serialises");
    assert_eq!(json(FilmState::PartlySolid), "\"partly-solid\"");
    assert_eq!(json(FilmState::Wet), "\"wet\"");
    assert_eq!(json(FilmState::Dry), "\"dry\"");
}

#[test]
fn no_number_is_nan() {
    for rh in [1.0, 30.0, 75.0, 100.0] {
        for k in [0.0, 1e-9, 3.0, 900.0] {
            let mix =
                Dissolved { k_mmol_l: k, no3_mmol_l: k, urea_mmol_l: k, ..Dissolved::default() };
            let request = FilmRequest::new(20.0, rh).with_composition(mix).with_course();
            let text = serde_json::to_string(&film(&request).expect("valid")).expect("serialises");
            let value: serde_json::Value = serde_json::from_str(&text).expect("valid JSON");
            // serde_json writes NaN and infinity as null; only these may be null.
            for (key, v) in value.as_object().expect("an object") {
                let nullable = ["dry_minutes", "first_solid", "root_drop_minutes_above_limit"];
                assert!(!v.is_null() || nullable.contains(&key.as_str()), "{key} {rh} {k}");
            }
            assert!(!text.contains("\"concentration_g_l\":null"));
        }
    }
}

#[test]
fn an_open_charge_is_noticed() {
    let ask =
        |d: Dissolved| film(&FilmRequest::new(22.0, 50.0).with_composition(d)).expect("valid");
    let open = ask(Dissolved { k_mmol_l: 3.0, no3_mmol_l: 2.0, ..Dissolved::default() });
    assert!((open.charge_imbalance_percent - 20.0).abs() < 1e-6);
    assert_eq!(open.notices[0].code, FilmNoticeCode::ChargeImbalance);
    assert!(open.notices[0].message.contains("20 % more charge of cations"));
    let acid = ask(Dissolved { k_mmol_l: 2.0, no3_mmol_l: 3.0, ..Dissolved::default() });
    assert!((acid.charge_imbalance_percent + 20.0).abs() < 1e-6);
    assert!(acid.notices[0].message.contains("of anions than of cations"));
    let closed = ask(Dissolved { k_mmol_l: 3.0, no3_mmol_l: 2.9, ..Dissolved::default() });
    assert!(closed.notices.is_empty());
}
