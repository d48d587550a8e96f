//! Boundary layer and drying: check values of the literature, limits, conservation, monotonicity.

use guardcell::film::boundary_layer::conductances;
use guardcell::film::{
    AirSpeed, AirWord, Dissolved, FilmRequest, FilmState, Leaf, Mix, MoistAir, ResidueThreshold,
    Spraying, WetSides, drying, drying_course, film, residue, surface_balance,
};
use guardcell::units::quantity::{ArealMassDensity, Length, Ratio, TemperatureInterval, Velocity};
use guardcell::units::uom::si::{
    areal_mass_density::gram_per_square_meter, length::meter, ratio::ratio,
    temperature_interval::kelvin as kelvin_difference, thermodynamic_temperature::kelvin,
    velocity::meter_per_second,
};
use proptest::prelude::*;

fn speed(v: f64) -> Velocity {
    Velocity::new::<meter_per_second>(v)
}

fn grams(g: f64) -> ArealMassDensity {
    ArealMassDensity::new::<gram_per_square_meter>(g)
}

fn leaf(width: f64) -> Leaf {
    Leaf::new(Length::new::<meter>(width)).unwrap()
}

/// Leuning et al. 1995, appendix E: heat, one side, w = 0.068 m: forced at 3 m/s 0.01993 m/s, free
/// at 1 K 0.002368 m/s. Campbell & Norman 1998 (from memory): vapour, 0.5 m/s, 0.05 m: 0.01137 m/s.
#[test]
fn boundary_layers_of_the_literature() {
    let air = MoistAir::from_celsius_percent(20.0, 50.0).unwrap();
    let get = |w: f64, u: f64, dt: f64| {
        let d = TemperatureInterval::new::<kelvin_difference>(dt);
        let (heat, vapour) = conductances(&leaf(w), &air, speed(u), d);
        (heat.get::<meter_per_second>(), vapour.get::<meter_per_second>())
    };
    let forced = get(0.068, 3.0, 0.0).0;
    assert!((forced / 0.01993 - 1.0).abs() < 0.10, "{forced}");
    // Still-air diffusion joins the free term here, and adds 1 %.
    let free = get(0.068, 0.0, 1.0).0;
    assert!((free / 0.002368 - 1.0).abs() < 0.05, "{free}");
    let vapour = get(0.05, 0.5, 0.0).1;
    assert!((vapour / 0.01137 - 1.0).abs() < 0.03, "{vapour}");
}

/// A disk in still air: conductance 8 D/(π d), the exact solution (Weber's disk).
#[test]
fn still_air_limit() {
    let air = MoistAir::from_celsius_percent(20.0, 50.0).unwrap();
    let zero = TemperatureInterval::new::<kelvin_difference>(0.0);
    let (_, vapour) = conductances(&leaf(0.05), &air, speed(0.0), zero);
    let wanted = 8.0 / std::f64::consts::PI * air.vapour_diffusivity().value / 0.05;
    assert!((vapour.value / wanted - 1.0).abs() < 1e-6);
}

/// A leaf wet on both sides in a strong wind, without radiation, comes near the thermodynamic wet
/// bulb: below it by the ratio of the diffusivities, above it by long-wave exchange.
#[test]
fn wet_bulb_limit() {
    for (c, rh) in [(30.0, 20.0), (20.0, 50.0), (10.0, 80.0)] {
        let air = MoistAir::from_celsius_percent(c, rh).unwrap();
        let both = leaf(0.02).wet_on(WetSides::Both);
        let b = surface_balance(&both, &air, speed(20.0), Ratio::new::<ratio>(1.0));
        let wet_bulb = air.wet_bulb().get::<kelvin>();
        let depression = air.temperature().get::<kelvin>() - wet_bulb;
        let off = b.leaf_temperature.get::<kelvin>() - wet_bulb;
        assert!(off.abs() < 0.05 * depression, "{c} °C {rh} %: {off} of {depression} K");
    }
}

/// Doubling the speed in forced flow raises evaporation by less than √2; the evaporation of a film
/// is above that of open water by the Penman 1948 wind function in the same air (a leaf is small),
/// and below ten times that.
#[test]
fn open_water_bound() {
    let air = MoistAir::from_celsius_percent(20.0, 50.0).unwrap();
    let one = Ratio::new::<ratio>(1.0);
    for u in [0.5, 1.0, 2.0] {
        let b = surface_balance(&leaf(0.05), &air, speed(u), one);
        let twice = surface_balance(&leaf(0.05), &air, speed(2.0 * u), one);
        let gain = (twice.evaporation / b.evaporation).value;
        assert!(gain > 1.1 && gain < std::f64::consts::SQRT_2, "{gain}");
        // Penman 1948: E = 0.26 (1 + 0.54 u) (e_s − e) in mm/day, hPa, u at 2 m; from memory.
        let deficit_hpa = air.vapour_pressure_deficit().value / 100.0;
        let penman = 0.26 * (1.0 + 0.54 * u) * deficit_hpa;
        let film = b.evaporation.value * 86_400.0;
        assert!(film > penman && film < 10.0 * penman, "{u}: film {film}, Penman {penman} mm/day");
    }
}

/// Towards saturated air the time grows as the inverse of the deficit.
#[test]
fn humid_limit() {
    let minutes = |rh| film(&FilmRequest::new(22.0, rh)).unwrap().dry_minutes;
    assert_eq!(minutes(100.0), None);
    let (a, b) = (minutes(99.8).unwrap(), minutes(99.9).unwrap());
    assert!((b / a - 2.0).abs() < 0.1, "{a} {b}");
}

fn dissolved() -> impl Strategy<Value = Dissolved> {
    let a = 0.0..2.0_f64;
    (a.clone(), a.clone(), a.clone(), a.clone(), a.clone(), a.clone(), a).prop_map(
        |(urea, cn, kn, mkp, mgs, an, kcl)| Dissolved {
            urea_mmol_l: urea,
            ca_mmol_l: cn,
            no3_mmol_l: 2.0 * cn + kn + an,
            k_mmol_l: kn + mkp + kcl,
            p_mmol_l: mkp,
            mg_mmol_l: mgs,
            so4_mmol_l: mgs,
            nh4_mmol_l: an,
            cl_mmol_l: kcl,
            ..Dissolved::default()
        },
    )
}

/// Amounts over the whole range of doubles, down to subnormal ones.
fn any_amount() -> impl Strategy<Value = f64> {
    prop_oneof![
        3 => Just(0.0),
        3 => (-12.0..3.0_f64).prop_map(|e| 10f64.powf(e)),
        1 => (-320.0..-12.0_f64).prop_map(|e| 10f64.powf(e)),
        1 => Just(5e-324),
        1 => Just(1000.0),
    ]
}

fn any_dissolved() -> impl Strategy<Value = Dissolved> {
    prop::array::uniform11(any_amount()).prop_map(|a| Dissolved {
        ca_mmol_l: a[0],
        mg_mmol_l: a[1],
        k_mmol_l: a[2],
        na_mmol_l: a[3],
        nh4_mmol_l: a[4],
        no3_mmol_l: a[5],
        p_mmol_l: a[6],
        so4_mmol_l: a[7],
        cl_mmol_l: a[8],
        dic_mmol_l: a[9],
        urea_mmol_l: a[10],
    })
}

fn word() -> impl Strategy<Value = AirWord> {
    prop::sample::select(AirWord::ALL.to_vec())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is dissolved, in whatever proportion: an answer without NaN, with an imbalance that
    /// is a share.
    #[test]
    fn any_composition_has_an_answer(
        d in any_dissolved(), rh in 1.0..100.0_f64, c in -5.0..50.0_f64, w in word(),
    ) {
        let request = FilmRequest::new(c, rh).with_air_words(w).with_composition(d).with_course();
        let r = film(&request).unwrap();
        for n in [
            r.residue_g_m2, r.feed_residue_g_m2, r.scale_residue_g_m2, r.residue_low_g_m2,
            r.residue_high_g_m2, r.peak_concentration_g_l, r.strength_mg_l, r.scale_mg_l,
            r.liquid_left_g_m2, r.taken_up_g_m2, r.root_drop_peak_g_l,
        ] {
            prop_assert!(n.is_finite() && n >= 0.0, "{n} {r:?}");
        }
        prop_assert!((0.0..=1.0).contains(&r.residue_probability));
        prop_assert!(r.charge_imbalance_percent.abs() <= 100.0);
        prop_assert!(r.course.iter().all(|m| m.minutes.is_finite() && m.water_g_m2.is_finite()));
    }

    /// The same ions and alkalinity leave the same scale, whatever the pH and so the carbon
    /// dioxide at which the water was reported.
    #[test]
    fn scale_does_not_depend_on_the_reported_ph(
        ca in 0.1..4.0_f64, mg in 0.0..2.0_f64, na in 0.0..3.0_f64, share in 0.1..1.0_f64,
        ph in 5.5..9.5_f64,
    ) {
        // Alkalinity takes a share of the charge, chloride the rest; carbon by the first constant
        // of carbonic acid, pK 6.35 at 25 °C (Plummer & Busenberg 1982, from memory).
        let charge = 2.0 * (ca + mg) + na;
        let alkalinity = share * charge;
        let water = |ph: f64| Dissolved {
            ca_mmol_l: ca, mg_mmol_l: mg, na_mmol_l: na, cl_mmol_l: charge - alkalinity,
            dic_mmol_l: alkalinity * (1.0 + 10f64.powf(6.35 - ph)), ..Dissolved::default()
        };
        let scale = |ph| {
            let request = FilmRequest::new(22.0, 50.0).with_composition(water(ph));
            film(&request).unwrap()
        };
        let (at, neutral) = (scale(ph), scale(7.8));
        prop_assert!((at.scale_mg_l / neutral.scale_mg_l - 1.0).abs() < 0.02);
        prop_assert!(at.charge_imbalance_percent.abs() < 1e-6);
    }

    #[test]
    fn drier_air_never_dries_slower(
        d in dissolved(), rh in 2.0..100.0_f64, less in 0.0..1.0_f64,
        c in 5.0..40.0_f64, w in word(),
    ) {
        let ask = |rh| film(
            &FilmRequest::new(c, rh).with_air_words(w).with_composition(d.clone())
        ).unwrap();
        let (humid, dry) = (ask(rh), ask((rh * less).max(1.0)));
        let time = |m: Option<f64>| m.unwrap_or(f64::INFINITY);
        prop_assert!(time(dry.dry_minutes) <= time(humid.dry_minutes) * (1.0 + 1e-9));
        prop_assert!(dry.residue_g_m2 >= humid.residue_g_m2 * (1.0 - 1e-9));
    }

    #[test]
    fn stronger_feed_never_leaves_less(
        d in dissolved(), factor in 1.0..4.0_f64, rh in 5.0..99.0_f64, w in word(),
    ) {
        let air = MoistAir::from_celsius_percent(22.0, rh).unwrap();
        let c = d.composition().unwrap();
        let run = |mix: Mix| residue(
            &mix, &Leaf::default(), &air, &AirSpeed::from(w), &Spraying::one_pass(grams(100.0)),
            &ResidueThreshold::shipped(),
        );
        let (weak, strong) = (
            run(Mix::new(&c, air.temperature())),
            run(Mix::new(&(c * factor), air.temperature())),
        );
        prop_assert!(strong.total().value >= weak.total().value * (1.0 - 1e-9));
        prop_assert!(strong.probability.value >= weak.probability.value - 1e-9);
    }

    #[test]
    fn a_higher_threshold_never_forbids_more_and_rinsing_never_adds(
        d in dissolved(), rh in 5.0..99.0_f64, w in word(), low in 0.005..0.1_f64,
        factor in 1.0..5.0_f64, passes in 1_u8..4,
    ) {
        let ask = |threshold: f64, plain: bool| {
            let mut request = FilmRequest::new(22.0, rh)
                .with_composition(d.clone())
                .with_air_words(w)
                .with_passes(passes)
                .with_threshold_g_m2(threshold);
            request.plain_water_pass = plain;
            film(&request).unwrap()
        };
        let (base, high, rinsed) = (ask(low, false), ask(low * factor, false), ask(low, true));
        prop_assert!(high.residue_probability <= base.residue_probability + 1e-9);
        prop_assert!(rinsed.residue_g_m2 <= base.residue_g_m2 + 1e-12);
        prop_assert!(rinsed.residue_probability <= base.residue_probability + 1e-9);
    }

    #[test]
    fn energy_and_mass_are_conserved(
        d in dissolved(), rh in 5.0..95.0_f64, c in 0.0..45.0_f64, u in 0.0..5.0_f64,
    ) {
        let air = MoistAir::from_celsius_percent(c, rh).unwrap();
        let mix = Mix::new(&d.composition().unwrap(), air.temperature());
        let course = drying_course(&mix, &Leaf::default(), &air, speed(u), grams(100.0));
        let first = course.first().unwrap();
        let water = first.water + first.evaporated + first.bound;
        let salts = first.dissolved + first.solids;
        for m in &course {
            prop_assert!((((m.water + m.evaporated + m.bound) / water).value - 1.0).abs() < 1e-6);
            if salts.value > 0.0 {
                prop_assert!((((m.dissolved + m.solids) / salts).value - 1.0).abs() < 1e-6);
            }
            let b = &m.balance;
            let rest = b.net_radiation - b.long_wave - b.sensible - b.latent;
            prop_assert!(rest.value.abs() < 1e-6 * b.latent.value.abs().max(1.0));
            prop_assert!(m.time.value.is_finite());
        }
        prop_assert!(course.is_sorted_by(|a, b| a.time <= b.time && a.water >= b.water));
    }
}

/// Salts dry ten to a hundred times faster than they enter: half-times of uptake of 8 to 50 h with
/// a wetting agent (Schönherr 2000) against the drying of a film.
#[test]
fn drying_is_faster_than_uptake() {
    let air = MoistAir::from_celsius_percent(20.0, 60.0).unwrap();
    let dried = drying(&Mix::pure_water(), &Leaf::default(), &air, speed(0.2), grams(100.0));
    assert_eq!(dried.state, FilmState::Dry);
    let hours = dried.time_to_dry.unwrap().value / 3600.0;
    assert!(8.3 / hours > 5.0 && 49.5 / hours < 200.0, "{hours}");
}
