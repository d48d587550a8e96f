use super::*;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::mmol_per_l;

fn load() -> ArealMassDensity {
    ArealMassDensity::new::<gram_per_square_meter>(100.0)
}

#[test]
fn multiples() {
    let one = Spraying::one_pass(load());
    assert_eq!(one.feed_multiple(), 1.0);
    let kept = 1.0 / data::OVERSPRAY.value;
    assert!((one.passes(2).feed_multiple() - (1.0 + kept)).abs() < 1e-12);
    assert!((one.then_plain_water().feed_multiple() - kept).abs() < 1e-12);
    assert_eq!(one.passes(2).then_plain_water().scale_multiple(), 2.0);
}

#[test]
fn hard_water_leaves_scale_without_any_feed() {
    let mut c = Composition::PURE_WATER;
    c[Solute::Ca] = mmol_per_l(2.5);
    c[Solute::Mg] = mmol_per_l(0.5);
    c[Solute::Dic] = mmol_per_l(6.0);
    let air = MoistAir::from_celsius_percent(22.0, 60.0).expect("valid");
    let left = residue(
        &Mix::new(&c, air.temperature()),
        &Leaf::default(),
        &air,
        &AirSpeed::from(crate::AirWord::Light),
        &Spraying::one_pass(load()),
        &ResidueThreshold::shipped(),
    );
    assert_eq!(left.feed.value, 0.0);
    assert_eq!(left.state, FilmState::Dry);
    // 2.5 mmol/L CaCO3 and 0.5 mmol/L MgCO3·3H2O on 100 g/m².
    let g = 0.1 * (2.5 * 0.100_086 + 0.5 * 0.138_358);
    assert!((left.scale.get::<gram_per_square_meter>() / g - 1.0).abs() < 1e-6);
}
