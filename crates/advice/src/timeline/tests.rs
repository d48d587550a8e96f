use super::film::Uptake;
use super::{AreaTimeline, Variation};
use crate::air::AirBasis;
use crate::counterfactual::{AirChange, Counterfactual};
use crate::dose::Dose;
use crate::trial::{House, t};
use jiff::civil::date;
use serde_json::json;

const JUNE: &str = "2026-06-21T12:00:00Z";
const DECEMBER: &str = "2026-12-21T12:00:00Z";

fn steady(start: &str, known: std::ops::RangeInclusive<i64>, rh: f64) -> House {
    House::new(start, 36, known, move |_| (20.0, rh, 0.3))
}

fn close(got: f64, by_hand: f64, error: f64) {
    assert!((got - by_hand).abs() <= error, "{got}, by hand {by_hand}");
}

// Steps of a quarter of an hour from noon on; 36 h looked at and 48 h past it are 84 × 4 steps.
#[test]
fn steps_and_moments() {
    steady(JUNE, -30..=84, 70.0).timeline(|line| {
        assert_eq!(line.time(5), t("2026-06-21T13:15:00Z"));
        assert_eq!(line.time_after(5), t("2026-06-21T13:30:00Z"));
        assert_eq!(line.step_at(t("2026-06-21T13:29:59Z")), 5);
        assert_eq!(line.step_at(t("2026-06-21T13:30:00Z")), 6);
        assert_eq!(line.step_at(t("2026-06-20T00:00:00Z")), 0);
        assert_eq!(line.step_at(t("2027-01-01T00:00:00Z")), 84 * 4 - 1);
        let steps = |from: &str, to: &str| {
            line.steps_in(t(&format!("2026-06-21T{from}Z")), t(&format!("2026-06-21T{to}Z")))
        };
        assert_eq!(steps("13:00:00", "14:00:00"), 4..8);
        assert_eq!(steps("13:05:00", "13:55:00"), 4..8);
        assert_eq!(steps("13:05:00", "14:00:00"), 4..8);
        assert_eq!(steps("13:05:00", "14:01:00"), 4..9);
        assert_eq!(steps("11:00:00", "12:10:00"), 0..1);
        assert!(steps("11:00:00", "12:00:00").is_empty());
        assert!(steps("13:00:00", "13:00:00").is_empty());
        assert!(steps("14:00:00", "13:00:00").is_empty());
    });
}

// One dry hour, 30 h (step 120) after the start; between readings it is interpolated.
#[test]
fn the_driest_air_from_a_step_to_the_end_of_the_day_that_follows() {
    let dip = |h: i64| (20.0, if h == 30 { 50.0 } else { 80.0 }, 0.3);
    House::new(JUNE, 36, -30..=84, dip).timeline(|line| {
        // The day that follows step 23 ends before step 119, where it has not begun to dry much:
        // 80 − 30 × 2/4 at step 118.
        assert_eq!(line.driest_after(22), 117);
        assert_eq!(line.driest_after(23), 118);
        assert_eq!(line.driest_after(24), 119);
        assert_eq!(line.driest_after(25), 120);
        assert_eq!(line.driest_after(120), 120);
        assert_eq!(line.driest_after(121), 121);
        // Of equals the earlier counts.
        assert_eq!(line.driest_after(124), 124);
        close(line.air(118).unwrap().air.rh_percent, 65.0, 1e-9);
        // Past the end the last step holds.
        assert_eq!(line.air(9999).unwrap(), line.air(84 * 4 - 1).unwrap());
    });
}

// Readings until 30 h after the start (step 120), the last day repeating after.
#[test]
fn what_is_read_forecast_and_assumed() {
    steady(JUNE, -30..=30, 70.0).timeline(|line| {
        // The first assumed step is 121; a day is 96 steps.
        assert!(line.known_day(25) && !line.known_day(26));
        assert_eq!(line.basis(0..1), AirBasis::Reading);
        assert_eq!(line.basis(0..2), AirBasis::Forecast);
        // A reading describes three hours after it.
        assert_eq!(line.basis(121..133), AirBasis::Reading);
        assert_eq!(line.basis(0..134), AirBasis::Assumed);
        // Advice goes on for 36 h.
        assert!(line.is_near_a_reading(264) && !line.is_near_a_reading(265));
        assert_eq!(line.advised_until(), Some(t("2026-06-24T06:00:00Z")));
        assert!(line.repeats());
    });
    steady(JUNE, 0..=2, 70.0).timeline(|line| assert!(!line.repeats()));
}

// Air as damp as before, but assumed: its standard deviation is 1 % and 0.4 % an hour, 10 % from
// 22.5 h (step 90) on, and it counts as drier by that.
#[test]
fn assumed_air_counts_as_drier_by_its_spread() {
    steady(JUNE, -30..=0, 70.0).timeline(|line| {
        assert!((90..96).contains(&line.driest_after(0)), "{}", line.driest_after(0));
        close(line.air(90).unwrap().rh_sd, 10.0, 1e-9);
        close(line.air(40).unwrap().rh_sd, 5.0, 1e-9);
    });
}

#[test]
fn means_of_temperature() {
    // A quarter of a kelvin a step from 10 °C on.
    House::new(JUNE, 36, -2..=40, |h| (10.0 + h as f64, 70.0, 0.3)).timeline(|line| {
        close(line.mean_c(0, 3).unwrap(), (10.0 + 10.25 + 10.5 + 10.75) / 4.0, 1e-9);
        close(line.mean_c(4, 4).unwrap(), 11.0, 1e-9);
        close(line.mean_c(3, 0).unwrap(), 10.75, 1e-9);
        assert_eq!(line.mean_c(9999, 9999), None);
    });
    // 10 °C in the first night and 12 °C in the second. The sun sets near 20:13 and rises near
    // 03:50 (any almanac).
    let nights = |h: i64| {
        let cold = if h < 20 { 10.0 } else { 12.0 };
        (if (7..=17).contains(&h.rem_euclid(24)) { cold } else { 20.0 }, 70.0, 0.3)
    };
    House::new(JUNE, 36, -30..=84, nights).timeline(|line| {
        let mean = |text: &str| line.night_mean_c(t(text)).unwrap();
        close(mean("2026-06-21T12:00:00Z"), 10.0, 1e-9);
        close(mean("2026-06-22T03:30:00Z"), 10.0, 1e-9);
        close(mean("2026-06-22T04:15:00Z"), 12.0, 1e-9);
    });
}

// At 50° N on 21 December the day lasts from 07:56 to 15:59 (any almanac), less than 10.5 h.
#[test]
fn dark_months_and_their_evenings() {
    let at = |house: House, text: &str| {
        house.timeline(|line| {
            (line.in_dark_month(t(text)).unwrap(), line.in_dark_evening(t(text)).unwrap())
        })
    };
    let december = || steady(DECEMBER, -30..=84, 70.0);
    // From two hours before the dark to its middle, near 23:57.
    assert_eq!(at(december(), "2026-12-21T13:45:00Z"), (true, false));
    assert_eq!(at(december(), "2026-12-21T14:15:00Z"), (true, true));
    assert_eq!(at(december(), "2026-12-21T23:45:00Z"), (true, true));
    assert_eq!(at(december(), "2026-12-22T00:15:00Z"), (true, false));
    // Growth that goes on, lamps and the open air know no such months; neither does June.
    let grow = december().with("/site/areas/0/winter", json!("grow"));
    assert_eq!(at(grow, "2026-12-21T14:15:00Z"), (false, false));
    let lamps = december()
        .with("/site/areas/0/light", json!("sun_and_lamps"))
        .with("/site/areas/0/lamps", json!([{"on": "06:00", "off": "20:00"}]));
    assert_eq!(at(lamps, "2026-12-21T14:15:00Z"), (false, false));
    let outdoors = december().with("/site/areas/0/shelter", json!("outdoors"));
    assert_eq!(at(outdoors, "2026-12-21T14:15:00Z"), (false, false));
    assert_eq!(at(steady(JUNE, -30..=84, 70.0), "2026-06-21T19:00:00Z"), (false, false));
    // By hand: 10.5 h of sun at 50° N want a declination of −10.4° (cos 78.75° =
    // (sin −0.83° − sin 50° sin δ) / (cos 50° cos δ)), that of 21 to 22 February.
    let end = december().timeline(|line| line.dark_months_end(t(DECEMBER)).unwrap().unwrap());
    assert!(date(2027, 2, 21) <= end && end <= date(2027, 2, 23), "{end}");
}

// Damp nights of 99 %, in which nothing dries, and dry days. Dark from 20:13 to 03:50; the limits
// are 4 h at 21 °C, 6 h at 15 and 10 °C (`data/clock.csv`), and 5 h half way between, at 18 °C.
#[test]
fn wet_nights_by_hand() {
    let wet = |temp_c: f64, at: &str| {
        let air = move |h: i64| {
            let damp = (8..=16).contains(&h.rem_euclid(24));
            (temp_c, if damp { 99.0 } else { 50.0 }, 0.2)
        };
        House::new(JUNE, 36, -30..=84, air).timeline(|line: &AreaTimeline<'_>| {
            line.wet_too_long(line.step_at(t(at)), AirChange::default()).unwrap()
        })
    };
    // 4:20 and 3:50 h at 21 °C.
    assert!(wet(21.0, "2026-06-21T23:30:00Z") && !wet(21.0, "2026-06-22T00:00:00Z"));
    // 5:20 and 4:50 h at 18 °C.
    assert!(wet(18.0, "2026-06-21T22:30:00Z") && !wet(18.0, "2026-06-21T23:00:00Z"));
    // 6:20 and 5:50 h at 10 °C.
    assert!(wet(10.0, "2026-06-21T21:30:00Z") && !wet(10.0, "2026-06-21T22:00:00Z"));
    // At noon it dries within the hour.
    assert!(!wet(21.0, "2026-06-21T12:00:00Z") && !wet(21.0, "2026-06-22T12:00:00Z"));
}

// First order, k = 0.0031 × 2^(10/40) = 0.003687 /h for salts and 0.12 × 2^(10/40) = 0.14271 /h
// for urea on a wet leaf (`data/uptake.csv`), 12 h at most, and a factor of e^1.2816 = 3.602 to
// either end.
#[test]
fn the_share_taken_up_by_hand() {
    let wet = Uptake { urea: 0.0 }.share(None);
    close(wet.likely, 1.0 - (-0.0036866 * 12.0_f64).exp(), 1e-6);
    close(wet.low, 1.0 - (-0.0036866 * 12.0 / 3.6022_f64).exp(), 1e-6);
    close(wet.high, 1.0 - (-0.0036866 * 12.0 * 3.6022_f64).exp(), 1e-5);
    assert_eq!((wet.of_the_most, wet.dry_minutes), (1.0, None));
    let hour = Uptake { urea: 0.0 }.share(Some(60.0));
    close(hour.likely, 0.0036798, 1e-6);
    close(hour.of_the_most, 0.0036798 / 0.043275, 1e-4);
    // A leaf that stays wet for longer takes up no more than is counted.
    assert_eq!(Uptake { urea: 0.0 }.share(Some(3000.0)).likely, wet.likely);
    // Half of it urea: 0.5 × 0.819579 + 0.5 × 0.043275.
    close(Uptake { urea: 0.5 }.share(None).likely, 0.431427, 1e-4);
}

// No label, so potassium sulfate, which is solid below 97 %: all of it in air of 40 %. A film of
// 100 g/m² with 300 mg/L leaves 0.030 g/m². Threshold 0.05 g/m² with a spread of 0.4, that of the
// film 0.3 (`data/film.csv`), together 0.5: Φ(ln(0.030/0.05) / 0.5) = Φ(−1.0217) = 0.1535.
#[test]
fn residue_in_dry_air_by_hand() {
    let house = steady(JUNE, -30..=84, 40.0).seeing(0.05, 0.4);
    house.timeline(|line| {
        let none = Counterfactual::default();
        let left = line.outcome(0, Dose::one_pass(300.0), none).unwrap();
        close(left.feed_g_m2, 0.030, 0.0003);
        close(left.residue_probability, 0.1535, 0.004);
        // Of equal air that is the surest to be dry which is forecast with the full error, 10 h on.
        assert_eq!((left.scale_g_m2, left.driest_at), (0.0, line.time(40)));
        // A second pass carries off a third of the first (`overspray` of `data/film.csv`): 1.667
        // times 0.030 is 0.05, Φ(0). Half: Φ(−2.408) = 0.0080.
        let twice = line.outcome(0, Dose { mg_l: 300.0, passes: 2 }, none).unwrap();
        close(twice.residue_probability, 0.5, 0.008);
        let half = line.outcome(0, Dose::one_pass(150.0), none).unwrap();
        close(half.residue_probability, 0.0080, 0.0005);
        // A strength that is unsure by 0.3 widens 0.5 to 0.5831: Φ(−0.8760) = 0.1905.
        let unsure = line.outcome_of_unsure(0, Dose::one_pass(300.0), 0.3).unwrap();
        close(unsure.residue_probability, 0.1905, 0.004);
        let sure = line.outcome_of_unsure(0, Dose::one_pass(300.0), 0.0).unwrap();
        assert_eq!(sure, left);
        // A threshold one standard deviation lower or higher: Φ(−0.2217) and Φ(−1.8217).
        let threshold = |threshold_sds| {
            let vary = Variation { threshold_sds, ..Variation::NONE };
            line.varied(0, Dose::one_pass(300.0), vary).unwrap()
        };
        close(threshold(-1.0), 0.4123, 0.008);
        close(threshold(1.0), 0.0343, 0.001);
        assert_eq!(line.scale_probability(0, 1, none).unwrap(), 0.0);
    });
}

// A forecast is wrong by 5 % from 10 h on: the probability is that at the nodes of a normal
// distribution of three points (Abramowitz & Stegun 1972, 25.4.46), √3 × 5 = 8.66 points apart.
#[test]
fn a_forecast_may_be_wrong() {
    // Potassium sulfate is solid below 97 %, so that damper air leaves less.
    steady(JUNE, -30..=84, 95.0).seeing(0.02, 0.4).timeline(|line| {
        let dose = Dose::one_pass(300.0);
        let at = |humidity| {
            let vary = Variation { humidity, as_read: true, ..Variation::NONE };
            line.varied(0, dose, vary).unwrap()
        };
        let (dry, middle, damp) = (at(-8.660_25), at(0.0), at(8.660_25));
        assert!(dry > middle + 0.1 && middle > damp + 0.1, "{dry} {middle} {damp}");
        let told = line.outcome(0, dose, Counterfactual::default()).unwrap().residue_probability;
        close(told, dry / 6.0 + middle * 2.0 / 3.0 + damp / 6.0, 1e-6);
        close(line.varied(0, dose, Variation::NONE).unwrap(), told, 1e-9);
    });
}

// What is kept humid is as damp as that; the spread of a guess does not hold for it.
#[test]
fn kept_humidity() {
    steady(JUNE, -30..=0, 60.0).timeline(|line| {
        let kept = |humidity_least| {
            let air = AirChange { still: false, humidity_least };
            let change = Counterfactual { air, ..Counterfactual::default() };
            line.outcome(0, Dose::one_pass(300.0), change).unwrap().driest
        };
        assert_eq!((kept(85).air.rh_percent, kept(85).rh_sd), (85.0, 0.0));
        close(kept(50).air.rh_percent, 60.0, 1e-6);
        close(kept(50).rh_sd, 10.0, 0.5);
    });
}

// Roots in the air: the velamen holds 300 g/m², three times the film of a leaf, and so stays wet
// about three times as long; in saturated air neither dries.
#[test]
fn velamen_and_leaf_dry_by_what_they_hold() {
    steady(JUNE, -30..=84, 60.0).timeline(|line| {
        let velamen = line.velamen_minutes(0, AirChange::default()).unwrap().unwrap();
        let leaf = line.share_taken_up(0, Dose::one_pass(100.0), Counterfactual::default());
        let leaf = leaf.unwrap().dry_minutes.unwrap();
        close(velamen / leaf, 3.0, 0.1);
        let still = AirChange { still: true, humidity_least: 0 };
        assert!(line.velamen_minutes(0, still).unwrap().unwrap() > velamen);
        let drop = line.root_drop(0, Dose::one_pass(300.0)).unwrap();
        assert!(drop.peak_g_l > 0.3, "a drop that dries becomes stronger: {drop:?}");
        assert!((1.0..100.0).contains(&drop.limit_g_l), "{drop:?}");
    });
    steady(JUNE, -30..=84, 100.0).timeline(|line| {
        assert_eq!(line.velamen_minutes(0, AirChange::default()).unwrap(), None);
    });
}

// A drop of 300 mg/L that dries becomes stronger: above the limit of 20 g/L (data/film.csv) for some
// minutes, and never above what dissolves, 111 g/L of potassium sulfate at 20 °C
// (data/solubility.csv).
#[test]
fn a_drop_at_a_root_tip_concentrates_up_to_what_dissolves() {
    for mg_l in [300.0, 600.0] {
        let drop = |rh| {
            let at = |line: &AreaTimeline<'_>| line.root_drop(20, Dose::one_pass(mg_l)).unwrap();
            steady(JUNE, -30..=84, rh).timeline(at)
        };
        let dry = drop(60.0);
        close(dry.limit_g_l, 20.0, 1e-9);
        assert!(dry.peak_g_l > 20.0 && dry.peak_g_l < 111.0, "{dry:?}");
        assert!(dry.minutes_above != Some(0.0), "{dry:?}");
        // Where it hardly dries it hardly concentrates, and never below what was sprayed.
        let damp = drop(99.9);
        assert!(damp.peak_g_l > 0.999 * mg_l / 1000.0 && damp.peak_g_l < 20.0, "{damp:?}");
        assert!(!damp.at_risk);
    }
}

// In the open leaves flutter in wind and dry up to 1.4 times as fast as under glass in the same air.
#[test]
fn leaves_in_the_open_dry_faster_in_wind() {
    let minutes = |shelter: &str| {
        let house = House::new(JUNE, 36, -30..=84, |_| (20.0, 70.0, 4.0))
            .with("/site/areas/0/shelter", json!(shelter));
        house.timeline(|line| {
            let share = line.share_taken_up(60, Dose::one_pass(300.0), Counterfactual::default());
            share.unwrap().dry_minutes.unwrap()
        })
    };
    let faster = minutes("glass") / minutes("outdoors");
    assert!(faster > 1.02 && faster < 1.41, "{faster}");
}
