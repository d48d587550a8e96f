//! What must hold of the advice in any air: days and nights, fronts, gaps, forecasts, loggers that
//! end now.
#![allow(clippy::unwrap_used, reason = "a test")]

use guardcell_advice::{
    AdviceRequest, AdviceResponse, AirBasis, GroupStrength, PlantAdvice, Verdict, Window, advise,
};
use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use serde_json::{Value, json};

/// Air that changes: a daily course, a front, an error of an hour.
#[derive(Debug, Clone)]
struct Weather {
    mean_c: f64,
    swing_c: f64,
    mean_rh: f64,
    swing_rh: f64,
    air_m_s: f64,
    /// Hours from the start at which a front comes, and what it brings.
    front_h: i64,
    front_rh: f64,
    front_c: f64,
    /// Readings end so many hours after the start.
    known_h: i64,
    /// Hours without readings: from, how many.
    gap: (i64, i64),
    month: u8,
}

fn weather() -> impl Strategy<Value = Weather> {
    (
        (13.0..26.0_f64, 0.0..8.0_f64, 30.0..95.0_f64, 0.0..30.0_f64),
        (0.05..1.5_f64, -20_i64..60, -30.0..30.0_f64, -6.0..6.0_f64),
        (0_i64..100, 0_i64..40, 0_i64..12, 4_u8..9),
    )
        .prop_map(|(a, b, c)| Weather {
            mean_c: a.0,
            swing_c: a.1,
            mean_rh: a.2,
            swing_rh: a.3,
            air_m_s: b.0,
            front_h: b.1,
            front_rh: b.2,
            front_c: b.3,
            known_h: c.0,
            gap: (c.1, c.2),
            month: c.3,
        })
}

impl Weather {
    fn start(&self) -> Timestamp {
        format!("2026-{:02}-21T17:00:00Z", self.month).parse().unwrap()
    }

    fn readings(&self, more_rh: f64, slower: f64) -> Vec<Value> {
        (-30..=self.known_h)
            .filter(|h| !(self.gap.0..self.gap.0 + self.gap.1).contains(h))
            .map(|h| {
                let phase = (h + 17 - 15).rem_euclid(24) as f64 / 24.0 * std::f64::consts::TAU;
                let after = if h >= self.front_h { 1.0 } else { 0.0 };
                let rh = self.mean_rh - self.swing_rh / 2.0 * phase.cos() + after * self.front_rh;
                json!({
                    "time": (self.start() + SignedDuration::from_hours(h)).to_string(),
                    "temp_c": (self.mean_c + self.swing_c / 2.0 * phase.cos() + after * self.front_c)
                        .clamp(0.0, 45.0),
                    "rh_percent": (rh + more_rh).clamp(5.0, 100.0),
                    "air_m_s": self.air_m_s * slower
                })
            })
            .collect()
    }

    fn request(&self, plants: Vec<Value>, hours: u16) -> AdviceRequest {
        self.request_in(self.readings(0.0, 1.0), plants, hours)
    }

    fn request_in(&self, readings: Vec<Value>, plants: Vec<Value>, hours: u16) -> AdviceRequest {
        serde_json::from_value(json!({
            "site": {
                "name": "House", "latitude_deg": 45.0, "longitude_deg": 0.0,
                "time_zone": "Etc/UTC",
                "areas": [{"id": "house", "name": "House", "shelter": "glass"}],
                "grower": {"working_hours": [
                    {"from": "04:00", "to": "09:00"}, {"from": "17:00", "to": "22:00"}
                ]}
            },
            "readings": readings,
            "plants": plants,
            "feed": {
                "name": "Test 13-2-13",
                "derived_from": ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"],
                "guaranteed": {"n_percent": 13, "p2o5_percent": 2, "k2o_percent": 13}
            },
            "at": self.start().to_string(),
            "hours": hours
        }))
        .unwrap()
    }
}

fn plant(id: &str, name: &str, standing: &str, size: &str) -> Value {
    json!({
        "id": id, "name": name, "area": "house", "setting": "potted", "standing": standing,
        "size": size, "growth": "active"
    })
}

fn name() -> impl Strategy<Value = &'static str> {
    proptest::sample::select(vec![
        "Cattleya labiata",
        "Masdevallia",
        "Dendrobium",
        "Phalaenopsis",
        "Miltoniopsis",
    ])
}

fn amount(p: &PlantAdvice) -> f64 {
    p.feed_strength_mg_l.unwrap_or(0.0) * f64::from(p.passes)
}

fn wet_night(p: &PlantAdvice) -> bool {
    p.reasons.iter().any(|r| r.code == "wet-night")
}

fn ask(request: &AdviceRequest) -> AdviceResponse {
    advise(request).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn weaker_or_smaller_plants_never_get_more(w in weather(), name in name()) {
        let standings = ["established", "ordinary", "weak"];
        let plants = standings.iter().map(|s| plant(s, name, s, "large")).collect();
        let by_standing: Vec<f64> = ask(&w.request(plants, 36)).plants.iter().map(amount).collect();
        prop_assert!(by_standing.windows(2).all(|p| p[0] >= p[1]), "{by_standing:?}");
        let sizes = ["large", "medium", "small"];
        let plants = sizes.iter().map(|s| plant(s, name, "established", s)).collect();
        let by_size: Vec<f64> = ask(&w.request(plants, 36)).plants.iter().map(amount).collect();
        prop_assert!(by_size.windows(2).all(|p| p[0] >= p[1]), "{by_size:?}");
    }

    #[test]
    fn a_window_is_judged_the_same_however_far_one_looks(w in weather(), name in name()) {
        let plants = vec![plant("1", name, "established", "large")];
        let answers: Vec<PlantAdvice> = [6, 12, 36, 60, 96]
            .into_iter()
            .map(|hours| ask(&w.request(plants.clone(), hours)).plants.remove(0))
            .collect();
        for pair in answers.windows(2) {
            for short in &pair[0].windows {
                let same = pair[1].windows.iter().find(|l| l.start == short.start && l.phase == short.phase);
                if let Some(long) = same {
                    prop_assert_eq!(
                        (short.feed_strength_mg_l, short.passes, short.residue_probability, &short.end),
                        (long.feed_strength_mg_l, long.passes, long.residue_probability, &long.end)
                    );
                }
            }
            // A longer look can only find better.
            let worth = |p: &PlantAdvice| p.windows.first().map_or(-1.0, |w| w.worth);
            if pair[0].verdict == Verdict::Feed {
                prop_assert!(pair[1].verdict == Verdict::Feed);
                prop_assert!(worth(&pair[1]) >= worth(&pair[0]) - 0.021);
            }
        }
    }

    #[test]
    fn more_humid_air_never_gives_less_but_for_a_wet_night(
        w in weather(), name in name(), points in 0.5..20.0_f64
    ) {
        let plants = vec![plant("1", name, "established", "large")];
        let dry = ask(&w.request(plants.clone(), 36)).plants.remove(0);
        let humid = ask(&w.request_in(w.readings(points, 1.0), plants, 36)).plants.remove(0);
        prop_assert!(
            no_less(&dry, &humid),
            "{:?} then {:?}", dry.windows.first(), (humid.verdict, humid.windows.first())
        );
    }

    #[test]
    fn stiller_air_never_gives_less_but_for_a_wet_night(
        w in weather(), name in name(), slower in 0.1..1.0_f64
    ) {
        let plants = vec![plant("1", name, "established", "large")];
        let moved = ask(&w.request(plants.clone(), 36)).plants.remove(0);
        let still = ask(&w.request_in(w.readings(0.0, slower), plants, 36)).plants.remove(0);
        prop_assert!(
            no_less(&moved, &still),
            "{:?} then {:?}", moved.windows.first(), (still.verdict, still.windows.first())
        );
    }

    #[test]
    fn no_strength_above_that_of_ordinary_air_on_assumed_air(w in weather(), name in name()) {
        let plants = vec![plant("1", name, "established", "specimen")];
        let p = ask(&w.request(plants, 60)).plants.remove(0);
        for window in &p.windows {
            // 300 mg/L: common practice, no source.
            prop_assert!(window.feed_strength_mg_l <= 300.0 || window.basis != AirBasis::Assumed);
        }
    }

    #[test]
    fn who_is_not_fed_hears_until_when_or_what_would_help(w in weather(), name in name()) {
        let mut due = plant("2", name, "ordinary", "medium");
        due["last_fed"] = json!(w.start().to_string());
        let plants = vec![plant("1", name, "established", "large"), due];
        let answer = ask(&w.request(plants, 24));
        for p in &answer.plants {
            if p.verdict == Verdict::Wait {
                prop_assert!(p.until.is_some() || !p.changes.is_empty(), "{:?}", p.reasons);
            }
            for r in p.reasons.iter().chain(&p.near_limits) {
                prop_assert!(!r.message.contains("null") && !r.message.contains("  "), "{}", r.message);
            }
            for c in &p.changes {
                prop_assert!(!c.message.contains("null") && !c.message.contains("  "), "{}", c.message);
            }
        }
        let not_fed = answer.plants.iter().filter(|p| p.verdict != Verdict::Feed).count();
        prop_assert_eq!(answer.areas[0].not_fed, not_fed);
        prop_assert!(not_fed == 0 || !answer.areas[0].changes.is_empty());
    }

    #[test]
    fn a_pot_never_gets_more_than_its_week(
        w in weather(), name in name(), pot_l in 0.05..2.0_f64, root in 0.0..400.0_f64
    ) {
        let mut p = plant("1", name, "established", "large");
        p["pot_l"] = json!(pot_l);
        p["root_feed_mg_week"] = json!(root);
        let p = ask(&w.request(vec![p], 36)).plants.remove(0);
        // 350 mg of feed per litre of pot and week: common practice, no source.
        let weekly = p.weekly.unwrap();
        if p.verdict == Verdict::Feed {
            prop_assert!(weekly.leaf_mg + root <= 350.0 * pot_l + 1.0, "{weekly:?}");
        }
    }

    #[test]
    fn the_journal_caps_every_plant(w in weather(), name in name(), most in 10.0..600.0_f64) {
        let plants = vec![plant("1", name, "established", "large"), plant("2", name, "weak", "medium")];
        let mut request = w.request(plants, 36);
        request.site.grower.next_strength_mg_l = Some(most);
        for p in ask(&request).plants {
            prop_assert!(p.feed_strength_mg_l.unwrap_or(0.0) <= most);
        }
        // Plants that are looked at as a group have a strength of their own, up or down.
        request.site.grower.next_strengths = vec![GroupStrength {
            plants: vec!["1".into()],
            next_strength_mg_l: Some(40.0),
            next_strength_after_white_at_mg_l: Some(80.0),
        }];
        let answer = ask(&request);
        let mut alone = request.clone();
        alone.site.grower.next_strengths.clear();
        let other = ask(&alone);
        prop_assert!(answer.plants[0].feed_strength_mg_l.unwrap_or(0.0) <= 40.0);
        prop_assert_eq!(&answer.plants[1], &other.plants[1]);
        if answer.plants[0].feed_strength_mg_l == Some(40.0) {
            let why = answer.plants[0].reasons.iter().find(|r| r.code == "strength-lowered");
            prop_assert!(why.unwrap().message.contains("white was seen at 80 mg/L"));
        }
    }

    #[test]
    fn order_company_and_zone_change_nothing(w in weather(), name in name()) {
        let two = [plant("1", name, "established", "large"), plant("2", "Masdevallia", "weak", "small")];
        let both = ask(&w.request(two.to_vec(), 36)).plants;
        let turned = ask(&w.request(vec![two[1].clone(), two[0].clone()], 36)).plants;
        prop_assert_eq!(&both[0], &turned[1]);
        prop_assert_eq!(&both[1], &turned[0]);
        prop_assert_eq!(&both[0], &ask(&w.request(vec![two[0].clone()], 36)).plants[0]);
        let mut shuffled = w.request(two.to_vec(), 36);
        shuffled.readings.reverse();
        prop_assert_eq!(&both, &ask(&shuffled).plants);
        let mut written = w.request(two.to_vec(), 36);
        for r in &mut written.readings {
            let t: Timestamp = r.time.parse().unwrap();
            let zone = jiff::tz::TimeZone::fixed(jiff::tz::offset(5));
            r.time = t.to_zoned_datetime(zone).strftime("%Y-%m-%dT%H:%M:%S%:z").to_string();
        }
        prop_assert_eq!(&both, &ask(&written).plants);
    }
}

/// Whether the second answer gives no less than the first, or a wet night took the window.
///
/// Fed or not, a window that still holds the middle of the first one must give as much. Where none
/// does, only a wet night can have taken it, since nothing else grows worse with damper or stiller
/// air; then its leaves would have been wet in the dark, or the answer says so.
fn no_less(first: &PlantAdvice, second: &PlantAdvice) -> bool {
    let Some(was) = first.windows.first().filter(|_| first.verdict == Verdict::Feed) else {
        return true;
    };
    if amount(second) >= amount(first) {
        return true;
    }
    let time = |text: &str| text.parse::<Timestamp>().unwrap();
    let (start, end) = (time(&was.start), time(&was.end));
    let middle = start + end.duration_since(start) / 2;
    let given = |w: &Window| w.feed_strength_mg_l * f64::from(w.passes);
    let mut there =
        second.windows.iter().filter(|w| time(&w.start) <= middle && middle < time(&w.end));
    match there.next() {
        Some(w) => second.verdict == Verdict::Feed && given(w) >= given(was),
        None => second.verdict == Verdict::Feed || wet_night(second),
    }
}
