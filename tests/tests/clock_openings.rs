//! What is published, and what growers do, about when orchids open their stomata.

use guardcell::clock::*;
use guardcell::units::quantity::{Pressure, Ratio, ThermodynamicTemperature, Time};
use guardcell::units::uom::si::{
    pressure::kilopascal, ratio::ratio, thermodynamic_temperature::degree_celsius, time::hour,
};
use jiff::{Timestamp, ZonedDateTime, civil};

fn place(lat: f64, lon: f64, zone: &str) -> Location {
    Location::new(Latitude::from_degrees(lat).unwrap(), Longitude::from_degrees(lon).unwrap(), zone)
        .unwrap()
}

fn site(light: Light, shelter: Shelter) -> Site {
    Site { location: place(38.5, -28.0, "Atlantic/Azores"), light, shelter }
}

fn at(text: &str) -> ZonedDateTime {
    format!("{text}[Atlantic/Azores]").parse().unwrap()
}

fn lamps(on: i8, off: i8) -> Lamps {
    Lamps::between(civil::time(on, 0, 0, 0), civil::time(off, 0, 0, 0)).unwrap()
}

/// A day and a half of the same air.
fn air(from: &ZonedDateTime, temp_c: f64, vpd_kpa: f64) -> Vec<AirHour> {
    (0..48)
        .map(|h| AirHour {
            start: Timestamp::from_second(from.timestamp().as_second() + h * 3600).unwrap(),
            temperature: ThermodynamicTemperature::new::<degree_celsius>(temp_c),
            vpd: Pressure::new::<kilopascal>(vpd_kpa),
        })
        .collect()
}

fn midsummer(plant: TraitView, water: WaterStatus, hours: &[AirHour]) -> Openings {
    let site = site(Light::Sun, Shelter::UnderCover);
    openings(&plant, &site, &at("2026-06-21T12:00"), &at("2026-06-22T12:00"), hours, water).unwrap()
}

fn phases(o: &Openings) -> Vec<Phase> {
    o.openings.iter().map(|o| o.phase).collect()
}

/// Osmond 1978 (phases from memory): a watered CAM leaf opens by night, after dawn and before dusk.
#[test]
fn watered_cam_has_three_phases_of_opening() {
    let found = midsummer(TraitView::of(Pathway::Cam), WaterStatus::Watered, &[]);
    use Phase::{PhaseI, PhaseII, PhaseIV};
    assert_eq!(phases(&found), [PhaseIV, PhaseI, PhaseI, PhaseI, PhaseII]);
    assert_eq!(found.ranked()[0].part, Some(PeakTime::PreDawn));
    assert_eq!(found.ranked()[0].preference.code, Code::CamBeforeDawnBest);
}

/// Phases II and IV go first in drought; in severe drought stomata stay shut (evidence file, from
/// memory; Chen & Lin 2012: water stress changes the pattern most).
#[test]
fn drought_takes_the_day_tails_then_all() {
    let dry = midsummer(TraitView::of(Pathway::Cam), WaterStatus::Drought, &[]);
    assert!(phases(&dry).iter().all(|p| *p == Phase::PhaseI) && !dry.openings.is_empty());
    for pathway in [Pathway::Cam, Pathway::C3, Pathway::Unknown] {
        let idle = midsummer(TraitView::of(pathway), WaterStatus::SevereDrought, &[]);
        assert!(idle.openings.is_empty());
        assert_eq!(idle.reasons[0].code, Code::DroughtShuts);
    }
}

/// Goh et al. 1977: widest in Cattleya hybrids very early in the morning, in Arachnis in the
/// evening, in Aranda at night.
#[test]
fn the_measured_peak_has_the_highest_probability() {
    for peak in [PeakTime::PreDawn, PeakTime::Evening, PeakTime::Night] {
        let plant = TraitView { opens_peak: Some(peak), ..TraitView::of(Pathway::Cam) };
        let found = midsummer(plant, WaterStatus::Watered, &[]);
        let best = found
            .openings
            .iter()
            .max_by(|a, b| a.probability.value.total_cmp(&b.probability.value))
            .unwrap();
        assert_eq!(best.part, Some(peak));
        assert!(best.reasons.iter().any(|r| r.code == Code::MeasuredPeak));
    }
}

/// Common practice, no source: C3 in the morning.
#[test]
fn c3_opens_in_the_light_and_is_fed_in_the_morning() {
    let found = midsummer(TraitView::of(Pathway::C3), WaterStatus::Watered, &[]);
    let light = light_hours(
        &site(Light::Sun, Shelter::UnderCover),
        at("2026-06-21T12:00").timestamp(),
        at("2026-06-22T12:00").timestamp(),
    )
    .unwrap();
    let lit = light.lit();
    for o in &found.openings {
        assert!(lit.iter().any(|l| l.start <= o.start && o.end <= l.end), "{o:?}");
    }
    assert_eq!(found.ranked()[0].preference.code, Code::C3MorningBest);
}

/// Oren et al. 1999: relative conductance 1 - 0.6 ln(D/kPa), which is under a half above 2.3 kPa.
#[test]
fn dry_air_narrows_and_then_shuts() {
    let from = at("2026-06-21T00:00");
    let of =
        |vpd| midsummer(TraitView::of(Pathway::C3), WaterStatus::Watered, &air(&from, 22.0, vpd));
    let (humid, dry) = (of(0.8), of(2.0));
    let p = |o: &Openings| o.openings[0].probability.get::<ratio>();
    assert!((p(&dry) / p(&humid) - (1.0 - 0.6 * 2.0_f64.ln())).abs() < 1e-9);
    let parched = of(2.4);
    assert!(parched.openings.is_empty());
    assert!(parched.reasons.iter().any(|r| r.code == Code::VpdShuts));
}

/// Chang, Chen & Lee (abstract): uptake of Oncidium falls sharply above 32 °C.
#[test]
fn heat_narrows_c3_above_32_degrees() {
    let from = at("2026-06-21T00:00");
    let of = |t| midsummer(TraitView::of(Pathway::C3), WaterStatus::Watered, &air(&from, t, 0.8));
    let narrowed = |o: &Openings| {
        o.openings.iter().any(|o| o.reasons.iter().any(|r| r.code == Code::HeatNarrows))
    };
    assert!(!narrowed(&of(31.5)));
    assert!(narrowed(&of(33.0)));
}

/// Cockburn et al. 1985: the roots of a shootless orchid have no stomata.
#[test]
fn leafless_plants_have_no_leaf_opening() {
    let plant = TraitView { leafless: true, ..TraitView::of(Pathway::Cam) };
    let found = midsummer(plant, WaterStatus::Watered, &[]);
    assert!(found.openings.is_empty());
    assert_eq!(found.reasons[0].code, Code::LeaflessRootOnly);
    assert!(found.reasons[0].code.sources().contains(&"cockburn1985photosynthetic"));
}

/// Where the pathway is not settled, the overlap comes first: just after dawn and late in the
/// afternoon, when either pathway opens.
#[test]
fn the_safe_overlap_comes_first() {
    for plant in [
        TraitView::of(Pathway::Unknown),
        TraitView::of(Pathway::Facultative),
        TraitView { cam_share: Some(Ratio::new::<ratio>(0.4)), ..TraitView::of(Pathway::Variable) },
    ] {
        let found = midsummer(plant, WaterStatus::Watered, &[]);
        let best = found.ranked()[0];
        assert!(best.either_pathway, "{plant:?}: {best:?}");
        assert_eq!((best.phase, best.preference.rank), (Phase::PhaseII, 1));
        let used: Vec<Phase> = phases(&found);
        for phase in [Phase::DayOpen, Phase::PhaseI, Phase::PhaseII, Phase::PhaseIV] {
            assert!(used.contains(&phase), "{plant:?} lacks {phase:?}");
        }
    }
    let unknown = midsummer(TraitView::of(Pathway::Unknown), WaterStatus::Watered, &[]);
    assert!(unknown.reasons.iter().any(|r| r.code == Code::PathwayUnknown));
}

/// A room lit by night has its night in the afternoon: nothing starts at 06:00.
#[test]
fn lamps_make_the_day() {
    let shelf = site(Light::Lamps(lamps(22, 12)), Shelter::UnderCover);
    let (from, to) = (at("2026-06-21T12:00"), at("2026-06-22T12:00"));
    let found =
        openings(&TraitView::of(Pathway::Cam), &shelf, &from, &to, &[], WaterStatus::Watered)
            .unwrap();
    let best = found.ranked()[0];
    assert_eq!((best.start.hour(), best.end.hour()), (19, 22)); // before the lamps go on at 22:00
}

/// Common practice, no source: evening feeding not outdoors in winter nor in a cool room, and
/// else only where the plant dries or the night is warm.
#[test]
fn evenings_have_their_conditions() {
    let evening = |shelter, date: &str, hours: &[AirHour]| {
        let from = at(&format!("{date}T12:00"));
        let to = at(&format!("{date}T22:00"));
        let plant = TraitView::of(Pathway::Cam);
        let o =
            openings(&plant, &site(Light::Sun, shelter), &from, &to, hours, WaterStatus::Watered)
                .unwrap();
        o.openings.iter().find(|o| o.phase == Phase::PhaseIV).unwrap().preference
    };
    let winter = "2026-12-21";
    let summer = "2026-06-21";
    assert_eq!(evening(Shelter::Outdoors, winter, &[]).code, Code::DuskNotInWinter);
    assert_eq!(evening(Shelter::Outdoors, summer, &[]).code, Code::CamDuskIfDry);
    let hours = |date: &str, t| air(&at(&format!("{date}T00:00")), t, 0.3);
    assert_eq!(
        evening(Shelter::UnderCover, winter, &hours(winter, 12.0)).code,
        Code::DuskNotInCoolRoom
    );
    let warm = evening(Shelter::UnderCover, summer, &hours(summer, 20.0));
    assert_eq!((warm.code, warm.rank), (Code::CamDuskWarm, 2));
    assert!(evening(Shelter::UnderCover, winter, &hours(winter, 12.0)).rank > 3);
}

/// Sirjusingh & Sutton 1996 (abstract): inoculated leaves of geranium needed 6, 4, 6 and 6 h of
/// wetness at 15, 21, 25 and 30 °C.
#[test]
fn wet_nights_follow_the_infection_table() {
    for (t, h) in [(15.0, 6.0), (21.0, 4.0), (25.0, 6.0), (30.0, 6.0)] {
        let mean = ThermodynamicTemperature::new::<degree_celsius>(t);
        let of = |wet: f64| wet_night(Time::new::<hour>(wet), mean).unwrap();
        assert_eq!(of(h + 0.1).verdict, WetNightVerdict::TooLong, "{t} °C");
        assert_eq!(of(h - 0.1).verdict, WetNightVerdict::Near, "{t} °C");
        assert_eq!(of(h / 2.0).verdict, WetNightVerdict::Fine, "{t} °C");
    }
    let mean = ThermodynamicTemperature::new::<degree_celsius>(20.0);
    assert!(wet_night(Time::new::<hour>(-1.0), mean).is_err());
    assert!(wet_night(Time::new::<hour>(f64::NAN), mean).is_err());
}

/// Polar cases by name: lamps still make a night there.
#[test]
fn polar_sites_are_answered() {
    let place = place(78.2, 15.6, "Arctic/Longyearbyen");
    let ask = |light, date: &str| {
        let site = Site { location: place.clone(), light, shelter: Shelter::UnderCover };
        let from: ZonedDateTime = format!("{date}T00:00[Arctic/Longyearbyen]").parse().unwrap();
        let to = from.tomorrow().unwrap();
        openings(&TraitView::of(Pathway::Cam), &site, &from, &to, &[], WaterStatus::Watered)
            .unwrap()
    };
    let june = ask(Light::Sun, "2026-06-21");
    assert!(june.openings.is_empty());
    assert!(june.reasons.iter().any(|r| r.code == Code::NoNight));
    let december = ask(Light::Sun, "2026-12-21");
    assert!(december.openings.is_empty());
    assert!(december.reasons.iter().any(|r| r.code == Code::NoLight));
    assert!(!ask(Light::Lamps(lamps(6, 20)), "2026-12-21").openings.is_empty());
}

/// Europe/London 2026: clocks go forward on 29 March at 01:00 and back on 25 October at 02:00
/// (the Summer Time Order 2002). The Azores change at local midnight, so that day starts at 01:00.
#[test]
fn days_of_a_change_of_clocks_are_whole() {
    let london = place(51.5, 0.0, "Europe/London");
    let azores = place(38.5, -28.0, "Atlantic/Azores");
    for (place, date, hours) in [
        (&london, civil::date(2026, 3, 29), 23),
        (&london, civil::date(2026, 10, 25), 25),
        (&london, civil::date(2026, 6, 1), 24),
        (&azores, civil::date(2026, 3, 29), 23),
        (&azores, civil::date(2026, 10, 25), 25),
    ] {
        let light = Light::Lamps(lamps(1, 2)); // on in the gap: an hour that does not exist
        let site = Site { location: place.clone(), light, shelter: Shelter::UnderCover };
        let d = day(&site, date).unwrap();
        let span = |a: &ZonedDateTime, b: &ZonedDateTime| {
            b.timestamp().as_second() - a.timestamp().as_second()
        };
        assert_eq!(span(&d.start, &d.end), hours * 3600, "{date}");
        let covered: i64 = d.lit.iter().chain(&d.dark).map(|s| span(&s.start, &s.end)).sum();
        assert_eq!(covered, hours * 3600, "{date}");
    }
    let d = day(&site(Light::Sun, Shelter::UnderCover), civil::date(2026, 3, 29)).unwrap();
    assert_eq!(d.start.hour(), 1);
}
