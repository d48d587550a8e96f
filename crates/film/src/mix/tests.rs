use super::*;
use guardcell_reference::Solute;
use guardcell_reference::salts::salt;
use guardcell_units::quantity::mmol_per_l;

fn of(salts: &[(&str, f64)]) -> Composition {
    let mut c = Composition::PURE_WATER;
    for (key, mmol) in salts {
        let s = salt(key).expect("in the table");
        c[s.cation] += mmol_per_l(mmol * f64::from(s.cations));
        if let Some(a) = s.anion {
            c[a] += mmol_per_l(mmol * f64::from(s.anions));
        }
    }
    c
}

fn celsius(c: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(c)
}

fn many() -> Composition {
    of(&[
        ("calcium_nitrate", 1.0),
        ("potassium_nitrate", 1.0),
        ("magnesium_sulfate", 0.4),
        ("ammonium_dihydrogen_phosphate", 0.3),
        ("sodium_chloride", 0.2),
        ("urea", 0.5),
    ])
}

#[test]
fn dilute_film_is_ideal() {
    // 3 mmol/L of ions and 0.5 of urea at W = 100 g/L: Raoult, a = 1/(1 + n/w), within 2 %
    // of its depression once osmotic coefficients near 0.9 are allowed for.
    let mix = Mix::new(&of(&[("potassium_chloride", 1.0)]), celsius(25.0));
    let a = mix.activity_at_water(100.0);
    // 0.01 mol/kg KCl: osmotic coefficient 0.966 (Robinson & Stokes 1959, from memory).
    let wanted = 2.0 * 0.01 * 0.966 * 0.018_015;
    assert!(((1.0 - a) / wanted - 1.0).abs() < 0.01, "{a}");
}

#[test]
fn nothing_is_lost_on_the_way() {
    let mix = Mix::new(&many(), celsius(25.0));
    for n in &mix.nodes {
        let all = n.salts_g + n.urea_g + n.solids_g - n.bound_g;
        assert!((all / mix.dissolved_g - 1.0).abs() < 1e-6, "{n:?}");
    }
    assert!(mix.nodes.is_sorted_by(|p, q| p.a >= q.a));
    assert!(mix.nodes.is_sorted_by(|p, q| p.solids_g <= q.solids_g));
    assert!(mix.nodes.is_sorted_by(|p, q| p.water_g() >= q.water_g()));
}

#[test]
fn water_and_activity_are_inverse() {
    let mix = Mix::new(&many(), celsius(25.0));
    for n in mix.nodes.iter().filter(|n| n.k > 0.0) {
        let a = mix.activity_at_water(n.water_g());
        assert!((a - n.a).abs() < 1e-9, "{a} {n:?}");
    }
    assert!(mix.activity_at_water(1000.0) > 0.9998);
}

#[test]
fn strength_does_not_move_the_humidities() {
    let (weak, strong) = (many(), many() * 7.0);
    let (weak, strong) = (Mix::new(&weak, celsius(25.0)), Mix::new(&strong, celsius(25.0)));
    assert!((weak.wet_above - strong.wet_above).abs() < 1e-9);
    assert!((weak.dry_below - strong.dry_below).abs() < 1e-9);
    assert!((strong.dissolved_g / weak.dissolved_g - 7.0).abs() < 1e-9);
}

#[test]
fn a_missing_counter_ion_is_reported() {
    let mut c = Composition::PURE_WATER;
    c[Solute::K] = mmol_per_l(3.0);
    c[Solute::No3] = mmol_per_l(2.0);
    let mix = Mix::new(&c, celsius(25.0));
    assert!((mix.charge_imbalance().get::<ratio>() - 0.2).abs() < 1e-9);
    // What is left is 2 mmol/L of potassium nitrate.
    assert!((mix.dissolved_g - 2.0 * 0.101_102).abs() < 1e-6);
}

#[test]
fn phosphate_takes_a_second_charge() {
    let mut c = Composition::PURE_WATER;
    c[Solute::K] = mmol_per_l(2.0);
    c[Solute::P] = mmol_per_l(1.0);
    let mix = Mix::new(&c, celsius(25.0));
    assert!(mix.charge_imbalance().get::<ratio>().abs() < 1e-12);
    assert!((in_g(&c) / mix.dissolved_g - 1.0).abs() < 1e-9);
}

fn in_g(c: &Composition) -> f64 {
    guardcell_units::quantity::in_mg_per_l(c.dissolved_mass()) / 1000.0
}

// By hand: 3 mmol/L × 101.103 g/mol.
#[test]
fn strength_by_hand() {
    let mix = Mix::new(&of(&[("potassium_nitrate", 3.0)]), celsius(25.0));
    let mg_l = guardcell_units::quantity::in_mg_per_l(mix.strength());
    assert!((mg_l - 303.3).abs() < 0.1, "{mg_l}");
    // Past the driest node the path keeps what it holds, at the humidity asked for.
    assert_eq!((mix.at(0.001).a, mix.at(0.001).salts_g), (0.001, 0.0));
}
