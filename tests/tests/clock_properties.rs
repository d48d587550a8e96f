//! Whatever the place, date, zone, light and plant: no panic, and openings in order inside the
//! window.

use guardcell::clock::*;
use guardcell::units::quantity::{Pressure, Ratio, ThermodynamicTemperature, Time};
use guardcell::units::uom::si::{
    pressure::kilopascal, ratio::ratio, thermodynamic_temperature::degree_celsius, time::hour,
};
use jiff::{Timestamp, civil};
use proptest::prelude::*;

const ZONES: [&str; 12] = [
    "Etc/UTC",
    "Europe/London",
    "Atlantic/Azores",
    "America/New_York",
    "America/St_Johns",
    "America/Bogota",
    "Asia/Kathmandu",
    "Australia/Lord_Howe",
    "Pacific/Auckland",
    "Pacific/Apia",
    "Pacific/Kiritimati",
    "Africa/Casablanca",
];

fn light() -> impl Strategy<Value = Light> {
    let lamps =
        (0i8..24, 0i8..60, 0i8..24, 0i8..60, any::<bool>()).prop_map(|(h, m, g, n, cycle)| {
            if cycle {
                let hours =
                    |a: i8, b: i8| Time::new::<hour>(f64::from(a) + f64::from(b + 15) / 60.0);
                return Lamps::cycle(Timestamp::UNIX_EPOCH, hours(h, m), hours(g, n)).unwrap();
            }
            Lamps::between(civil::time(h, m, 0, 0), civil::time(g, n, 0, 0))
                .unwrap_or_else(|_| Lamps::always())
        });
    prop_oneof![
        Just(Light::Sun),
        lamps.clone().prop_map(Light::Lamps),
        lamps.prop_map(Light::SunAndLamps)
    ]
}

fn site() -> impl Strategy<Value = Site> {
    (-90.0..=90.0f64, -180.0..=180.0f64, 0..ZONES.len(), light(), any::<bool>()).prop_map(
        |(lat, lon, zone, light, out)| Site {
            location: Location::new(
                Latitude::from_degrees(lat).unwrap(),
                Longitude::from_degrees(lon).unwrap(),
                ZONES[zone],
            )
            .unwrap(),
            light,
            shelter: if out { Shelter::Outdoors } else { Shelter::UnderCover },
        },
    )
}

fn plant() -> impl Strategy<Value = TraitView> {
    let pathway = prop::sample::select(Pathway::ALL);
    let peak = prop::option::of(prop::sample::select(PeakTime::ALL));
    (pathway, peak, prop::option::of(0.0..=1.0f64)).prop_map(|(pathway, opens_peak, share)| {
        TraitView {
            pathway,
            opens_peak,
            cam_share: share.map(Ratio::new::<ratio>),
            leafless: false,
        }
    })
}

fn air(start: i64) -> impl Strategy<Value = Vec<AirHour>> {
    prop::collection::vec((0.2..3.0f64, -20.0..50.0f64, 0.0..8.0f64), 0..60).prop_map(move |rows| {
        let mut at = start;
        rows.into_iter()
            .map(|(gap_h, t, d)| {
                at += (gap_h * 3600.0) as i64;
                AirHour {
                    start: Timestamp::from_second(at).unwrap(),
                    temperature: ThermodynamicTemperature::new::<degree_celsius>(t),
                    vpd: Pressure::new::<kilopascal>(d),
                }
            })
            .collect()
    })
}

fn window() -> impl Strategy<Value = (i64, i64, Vec<AirHour>)> {
    // 1901 to 2199
    (-2_177_452_800i64..7_226_582_400, 60i64..6 * 86_400)
        .prop_flat_map(|(from, long)| (Just(from), Just(from + long), air(from - 3600)))
}

fn water() -> impl Strategy<Value = WaterStatus> {
    prop::sample::select(vec![
        WaterStatus::Watered,
        WaterStatus::Drought,
        WaterStatus::SevereDrought,
    ])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(192))]

    #[test]
    fn openings_lie_in_order_inside_the_window(
        site in site(), plant in plant(), (from, to, air) in window(), water in water(),
    ) {
        let zoned = |s| Timestamp::from_second(s).unwrap()
            .to_zoned_datetime(site.location.zone().clone());
        let (from, to) = (zoned(from), zoned(to));
        let found = openings(&plant, &site, &from, &to, &air, water).unwrap();
        let mut last = from.clone();
        for o in &found.openings {
            prop_assert!(last <= o.start && o.start < o.end && o.end <= to, "{o:?}");
            let p = o.probability.get::<ratio>();
            prop_assert!(p > 0.0 && p <= 1.0, "{p}");
            prop_assert!(o.preference.rank >= 1);
            prop_assert!(!o.reasons.is_empty());
            last = o.end.clone();
        }
    }

    #[test]
    fn light_and_dark_fill_the_window(site in site(), (from, to, _) in window()) {
        let hours = light_hours(
            &site, Timestamp::from_second(from).unwrap(), Timestamp::from_second(to).unwrap(),
        ).unwrap();
        let mut spans = [hours.lit(), hours.dark()].concat();
        spans.sort_by_key(|s| s.start.timestamp());
        prop_assert_eq!(spans.first().unwrap().start.timestamp().as_second(), from);
        prop_assert_eq!(spans.last().unwrap().end.timestamp().as_second(), to);
        for pair in spans.windows(2) {
            prop_assert_eq!(&pair[0].end, &pair[1].start);
        }
    }

    #[test]
    fn any_day_has_an_answer(site in site(), year in 1901i16..2199, day_of_year in 1i16..=365) {
        let date = civil::date(year, 1, 1).with().day_of_year(day_of_year).build().unwrap();
        match day(&site, date) {
            Ok(d) => {
                for t in [&d.sun.sunrise, &d.sun.sunset, &d.sun.noon].into_iter().flatten() {
                    prop_assert!(d.start <= *t && *t < d.end);
                    prop_assert_eq!(t.date(), date);
                }
                let none = d.sun.sunrise.is_none() && d.sun.sunset.is_none();
                let polar = matches!(d.sun.course, SunCourse::PolarDay | SunCourse::PolarNight);
                prop_assert_eq!(none, polar);
            }
            // a date that a zone skipped, as Samoa did on 2011-12-30
            Err(e) => prop_assert!(e.detail().contains("does not exist"), "{e}"),
        }
    }

    /// Drier air never opens more.
    #[test]
    fn drier_air_never_opens_more(plant in plant(), dry in 0.0..4.0f64, more in 0.0..4.0f64) {
        let place = Location::new(
            Latitude::from_degrees(10.0).unwrap(), Longitude::from_degrees(0.0).unwrap(), "Etc/UTC",
        ).unwrap();
        let site = Site { location: place, light: Light::Sun, shelter: Shelter::UnderCover };
        let from: jiff::ZonedDateTime = "2026-03-01T00:00[Etc/UTC]".parse().unwrap();
        let to = from.tomorrow().unwrap();
        let open = |vpd: f64| -> f64 {
            let air: Vec<AirHour> = (0..24).map(|h| AirHour {
                start: Timestamp::from_second(from.timestamp().as_second() + h * 3600).unwrap(),
                temperature: ThermodynamicTemperature::new::<degree_celsius>(20.0),
                vpd: Pressure::new::<kilopascal>(vpd),
            }).collect();
            openings(&plant, &site, &from, &to, &air, WaterStatus::Watered).unwrap().openings.iter()
                .map(|o| o.probability.get::<ratio>()
                    * (o.end.timestamp().as_second() - o.start.timestamp().as_second()) as f64)
                .sum()
        };
        prop_assert!(open(dry + more) <= open(dry) + 1e-6);
    }
}

#[test]
fn errors_say_what_would_be_right() {
    let ask = |json: &str| {
        let ask: DayRequest = serde_json::from_str(json).unwrap();
        report(&ask).unwrap_err().to_string()
    };
    let of = |lat: &str, zone: &str, date: &str, rest: &str| {
        ask(&format!(
            r#"{{"latitude_deg": {lat}, "longitude_deg": 0, "time_zone": "{zone}", "date": "{date}"{rest}}}"#
        ))
    };
    let message = of("91", "Etc/UTC", "2026-06-21", "");
    assert!(message.contains("-90 to 90"), "{message}");
    let message = of("9", "Mars/Olympus", "2026-06-21", "");
    assert!(message.contains("Europe/London"), "{message}");
    let message = of("9", "Etc/UTC", "21.6.2026", "");
    assert!(message.contains("/date") && message.contains("2026-06-21"), "{message}");
    let message = of("9", "Etc/UTC", "1066-10-14", "");
    assert!(message.contains("1900"), "{message}");
    let message = of("9", "Etc/UTC", "2026-06-21", r#", "light": "lamps""#);
    assert!(message.contains("/lamps"), "{message}");
    let message = of(
        "9",
        "Etc/UTC",
        "2026-06-21",
        r#", "hours": [{"start": "2026-06-21T00:00:00Z", "temp_c": 250, "vpd_kpa": 1}]"#,
    );
    assert!(message.contains("70 °C"), "{message}");
}
