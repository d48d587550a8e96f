use super::*;
use crate::request::Reading;
use crate::series::checked;
use guardcell_clock::{Latitude, Light, Location, Longitude, Shelter as Cover, Site, light_hours};
use guardcell_units::uom::si::pressure::pascal;

fn light(from: Timestamp) -> LightHours {
    let place = Location::new(
        Latitude::from_degrees(0.0).unwrap(),
        Longitude::from_degrees(0.0).unwrap(),
        "Etc/UTC",
    )
    .unwrap();
    let site = Site { location: place, light: Light::Sun, shelter: Cover::UnderCover };
    light_hours(&site, from - SignedDuration::from_hours(25), from + SignedDuration::from_hours(96))
        .unwrap()
}

fn reading(t: Timestamp, temp_c: f64, rh_percent: f64) -> Reading {
    Reading {
        time: t.to_string(),
        area: None,
        temp_c,
        rh_percent,
        air_m_s: Some(0.2),
        radiation_w_m2: None,
    }
}

fn air(readings: &[Reading], now: Timestamp) -> AreaAir {
    let series = Series::of_area(&checked(readings).unwrap(), "a");
    AreaAir::new(series, Shelter::Glass, &light(now), now, Pressure::new::<pascal>(101_325.0))
}

fn t(text: &str) -> Timestamp {
    text.parse().unwrap()
}

fn hour(h: i64) -> SignedDuration {
    SignedDuration::from_hours(h)
}

#[test]
fn the_last_full_day_repeats() {
    let start = t("2026-03-20T00:00:00Z");
    let course = |h: i64| 20.0 + 5.0 * ((h % 24) as f64 / 24.0 * std::f64::consts::TAU).sin();
    let rs: Vec<Reading> = (0..=48).map(|h| reading(start + hour(h), course(h), 60.0)).collect();
    let a = air(&rs, start + hour(48));
    for h in 49..96 {
        let got = a.at(start + hour(h)).unwrap().unwrap();
        assert!((got.air.temp_c - course(h)).abs() < 1e-9, "{h}");
        assert!((got.air.rh_percent - 60.0).abs() < 1e-6, "{h}: {}", got.air.rh_percent);
        assert_eq!(got.basis == AirBasis::Assumed, h > 51, "{h}");
    }
}

#[test]
fn a_departure_of_the_last_reading_fades() {
    let start = t("2026-03-20T00:00:00Z");
    let mut rs: Vec<Reading> = (0..=48).map(|h| reading(start + hour(h), 20.0, 80.0)).collect();
    // A front in the last hour: as warm, half the vapour.
    rs[48].rh_percent = 40.0;
    let a = air(&rs, start + hour(48));
    let rh = |h: i64| a.at(start + hour(h)).unwrap().unwrap().air.rh_percent;
    // 40 % missing, fading with exp(−h/6): by hand 80 − 40·e^(−1) = 65.3 after six hours.
    assert!((rh(54) - (80.0 - 40.0 * (-1.0_f64).exp())).abs() < 0.05, "{}", rh(54));
    assert!(rh(49) < rh(54) && rh(54) < rh(70) && rh(70) < 80.0);
}

#[test]
fn a_lone_reading_gets_the_course_of_a_day_and_keeps_its_vapour() {
    // Noon on the equator: the sun rises near 06:07 and sets near 18:14.
    let now = t("2026-03-20T06:07:00Z");
    let a = air(&[reading(now, 15.0, 90.0)], now);
    let at = |h: f64| a.at(now + SignedDuration::from_secs_f64(h * 3600.0)).unwrap().unwrap();
    // The reading is at the coldest hour; the warmest is 0.65 of the lit time later, 7 K up
    // (the swing under glass of data/practice.csv).
    let warmest = at(0.65 * 12.12);
    assert!((warmest.air.temp_c - 22.0).abs() < 0.1, "{}", warmest.air.temp_c);
    // By hand: saturation 1.705 kPa at 15 °C and 2.645 kPa at 22 °C (ASHRAE 2017, chapter 1,
    // table 3), so 90 % becomes 58 %.
    assert!((warmest.air.rh_percent - 90.0 * 1.7057 / 2.6453).abs() < 0.5);
    // The next dawn is as cold and damp again.
    assert!((at(24.0).air.temp_c - 15.0).abs() < 0.1);
    assert!((at(24.0).air.rh_percent - 90.0).abs() < 0.8);
}

#[test]
fn the_uncertainty_grows_with_the_time_from_a_reading_up_to_a_most() {
    let now = t("2026-03-20T06:00:00Z");
    let a = air(&[reading(now, 15.0, 90.0)], now);
    let sd = |h: i64| a.at(now + hour(h)).unwrap().unwrap().rh_sd;
    // 1 % and 0.4 % an hour, at most 10 %.
    assert!((sd(1) - 1.4).abs() < 1e-9 && (sd(10) - 5.0).abs() < 1e-9);
    assert_eq!(sd(60), 10.0);
    assert_eq!(a.at(now).unwrap().unwrap().rh_sd, 0.0);
}

#[test]
fn a_gap_is_bridged_from_both_ends() {
    let now = t("2026-03-20T00:00:00Z");
    let rs = [reading(now, 15.0, 90.0), reading(now + hour(10), 25.0, 50.0)];
    let a = air(&rs, now + hour(10));
    let at = |minutes: i64| a.at(now + SignedDuration::from_mins(minutes)).unwrap().unwrap();
    assert!((at(599).air.temp_c - 25.0).abs() < 0.1 && (at(599).air.rh_percent - 50.0).abs() < 0.6);
    assert!((at(1).air.temp_c - 15.0).abs() < 0.1 && (at(1).air.rh_percent - 90.0).abs() < 0.6);
    assert_eq!(at(300).basis, AirBasis::Assumed);
    assert_eq!(at(599).basis, AirBasis::Reading);
}

#[test]
fn what_comes_after_now_is_a_forecast() {
    let now = t("2026-03-20T00:00:00Z");
    let rs: Vec<Reading> = (0..=48).map(|h| reading(now + hour(h), 20.0, 60.0)).collect();
    let a = air(&rs, now + hour(24));
    let basis = |h: i64| a.at(now + hour(h)).unwrap().unwrap().basis;
    assert_eq!((basis(24), basis(25)), (AirBasis::Reading, AirBasis::Forecast));
    // It is no surer than an assumption so long after a reading, and wrong by 5 % at most.
    let sd = |h: i64| a.at(now + hour(h)).unwrap().unwrap().rh_sd;
    assert_eq!(sd(24), 0.0);
    assert!((sd(25) - 1.4).abs() < 1e-9 && (sd(30) - 3.4).abs() < 1e-9);
    assert_eq!((sd(34), sd(48)), (5.0, 5.0));
}
