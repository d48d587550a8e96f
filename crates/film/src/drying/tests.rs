use super::*;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::mmol_per_l;
use guardcell_units::uom::si::areal_mass_density::gram_per_square_meter;
use guardcell_units::uom::si::time::minute;

fn feed() -> Mix {
    let mut c = Composition::PURE_WATER;
    c[Solute::K] = mmol_per_l(2.0);
    c[Solute::Ca] = mmol_per_l(0.5);
    c[Solute::No3] = mmol_per_l(3.0);
    c[Solute::Urea] = mmol_per_l(1.0);
    Mix::new(&c, MoistAir::from_celsius_percent(22.0, 50.0).expect("valid").temperature())
}

fn run(mix: &Mix, rh: f64, u: f64, g: f64) -> Drying {
    drying(
        mix,
        &Leaf::default(),
        &MoistAir::from_celsius_percent(22.0, rh).expect("valid"),
        Velocity::new::<meter_per_second>(u),
        ArealMassDensity::new::<gram_per_square_meter>(g),
    )
}

#[test]
fn pure_water_lasts_as_long_as_load_over_flux() {
    let d = run(&Mix::pure_water(), 60.0, 0.5, 100.0);
    let air = MoistAir::from_celsius_percent(22.0, 60.0).expect("valid");
    let b = crate::surface_balance(
        &Leaf::default(),
        &air,
        Velocity::new::<meter_per_second>(0.5),
        Ratio::new::<ratio>(1.0),
    );
    let seconds = 0.1 / b.evaporation.value;
    let got = d.time_to_dry.expect("it dries").get::<second>();
    assert!((got / seconds - 1.0).abs() < 1e-3, "{got} {seconds}");
}

#[test]
fn saturated_air_never_dries() {
    assert!(run(&Mix::pure_water(), 100.0, 0.5, 100.0).time_to_dry.is_none());
    assert!(run(&feed(), 100.0, 0.5, 100.0).time_to_dry.is_none());
    assert_eq!(run(&feed(), 99.0, 0.5, 100.0).state, FilmState::Wet);
}

#[test]
fn time_grows_without_bound_towards_saturation() {
    let t =
        |rh| run(&Mix::pure_water(), rh, 0.5, 100.0).time_to_dry.expect("it dries").get::<minute>();
    assert!(t(99.9) > 8.0 * t(99.0) && t(99.0) > 8.0 * t(90.0));
}

#[test]
fn no_film_takes_no_time() {
    let t = |g| run(&feed(), 40.0, 0.5, g).time_to_dry.expect("it dries").get::<minute>();
    assert!(t(0.0) == 0.0);
    assert!((t(10.0) / t(0.01) / 1000.0 - 1.0).abs() < 0.01);
}

#[test]
fn course_agrees_with_the_fast_path() {
    let air = MoistAir::from_celsius_percent(22.0, 40.0).expect("valid");
    let load = ArealMassDensity::new::<gram_per_square_meter>(100.0);
    let u = Velocity::new::<meter_per_second>(0.5);
    let mix = feed();
    let course = drying_course(&mix, &Leaf::default(), &air, u, load);
    let fast = drying(&mix, &Leaf::default(), &air, u, load);
    let damp = course
        .iter()
        .find(|m| m.water.get::<gram_per_square_meter>() <= 1.0)
        .expect("it gets there");
    let (a, b) = (damp.time.get::<minute>(), fast.time_to_dry.expect("it dries").get::<minute>());
    assert!((a / b - 1.0).abs() < 0.02, "{a} {b}");
}

#[test]
fn water_and_solutes_are_conserved() {
    let air = MoistAir::from_celsius_percent(22.0, 30.0).expect("valid");
    let load = ArealMassDensity::new::<gram_per_square_meter>(100.0);
    let course = drying_course(
        &feed(),
        &Leaf::default(),
        &air,
        Velocity::new::<meter_per_second>(0.5),
        load,
    );
    let first = course.first().expect("not empty");
    let salts = first.dissolved + first.solids;
    let water = first.water + first.evaporated + first.bound;
    let mut evaporated = 0.0;
    for pair in course.windows(2) {
        let (a, b) = (&pair[0], &pair[1]);
        assert!(((b.dissolved + b.solids) / salts).value - 1.0 < 1e-6);
        assert!((((b.water + b.evaporated + b.bound) / water).value - 1.0).abs() < 1e-6);
        let rest =
            b.balance.net_radiation - b.balance.long_wave - b.balance.sensible - b.balance.latent;
        assert!(rest.value.abs() < 1e-6 * b.balance.latent.value.abs().max(1.0));
        // The flux over the leg, by the mean that is exact for a straight flux, gives the loss.
        let (e1, e2) = (a.balance.evaporation.value, b.balance.evaporation.value);
        let mean = if (e1 - e2).abs() < 1e-9 * e1 { e1 } else { (e1 - e2) / (e1 / e2).ln() };
        evaporated += mean * (b.time - a.time).value;
    }
    let last = course.last().expect("not empty");
    let loss = (first.water - last.water).value;
    assert!((evaporated / loss - 1.0).abs() < 1e-5, "{evaporated} {loss}");
}

// By hand: a flux that does not change takes loss / flux; one that halves with the water takes
// loss × ln(1/2) / (half − whole).
#[test]
fn a_leg_of_the_way_by_hand() {
    assert!((path::leg(0.1, 1e-5, 1e-5).expect("goes on") - 1e4).abs() < 1e-6);
    let halved = path::leg(0.1, 2e-5, 1e-5).expect("goes on");
    assert!((halved - 0.1 * std::f64::consts::LN_2 / 1e-5).abs() < 1e-6, "{halved}");
    assert_eq!((path::leg(0.1, 0.0, 1e-5), path::leg(0.1, 1e-5, 0.0)), (None, None));
}

// Sodium chloride of 2.8 mol/kg has a water activity of 0.901 (Robinson & Stokes 1959, from
// memory): 10 mmol/L on 100 g/m² hold 1 mmol/m² / 2.8 mol/kg = 0.36 g/m² of water there.
#[test]
fn a_salt_holds_its_water() {
    let mut c = Composition::PURE_WATER;
    c[Solute::Na] = mmol_per_l(10.0);
    c[Solute::Cl] = mmol_per_l(10.0);
    let mix =
        Mix::new(&c, MoistAir::from_celsius_percent(25.0, 50.0).expect("valid").temperature());
    let rests = Path::new(&mix, 0.1).resting_water(0.9);
    assert!((rests / 0.36e-3 - 1.0).abs() < 0.1, "{rests}");
    let wet = Path::new(&mix, 0.1);
    assert_eq!(wet.resting_water(1.0), wet.start);
    let pure = Mix::pure_water();
    assert_eq!(Path::new(&pure, 0.1).resting_water(0.9), 0.0);
    assert_eq!(Path::new(&pure, 0.1).resting_water(1.0), 0.1);
}

// While all is dissolved, concentration times water is what was sprayed: 0.3033 g/L of potassium
// nitrate at first (3 mmol/L), ten times as much in a tenth of the water. In the end no water.
#[test]
fn a_course_concentrates_what_was_sprayed() {
    let mut c = Composition::PURE_WATER;
    c[Solute::K] = mmol_per_l(3.0);
    c[Solute::No3] = mmol_per_l(3.0);
    let air = MoistAir::from_celsius_percent(22.0, 50.0).expect("valid");
    let mix = Mix::new(&c, air.temperature());
    let speed = Velocity::new::<meter_per_second>(0.2);
    let load = ArealMassDensity::new::<gram_per_square_meter>(100.0);
    let course = drying_course(&mix, &Leaf::default(), &air, speed, load);
    let water = |m: &Moment| m.water.get::<gram_per_square_meter>();
    let g_l = |m: &Moment| guardcell_units::quantity::in_mg_per_l(m.concentration) / 1000.0;
    for m in course.iter().filter(|m| water(m) > 10.0) {
        assert!((g_l(m) * water(m) / 100.0 / 0.3033 - 1.0).abs() < 0.02, "{m:?}");
    }
    assert!(course.iter().any(|m| (10.0..30.0).contains(&water(m))));
    assert!(course.last().is_some_and(|m| water(m) < 1e-6), "{:?}", course.last());
}
