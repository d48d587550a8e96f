use super::*;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::mmol_per_l;

fn feed(mmol: f64) -> Mix {
    let mut c = Composition::PURE_WATER;
    c[Solute::K] = mmol_per_l(mmol);
    c[Solute::No3] = mmol_per_l(mmol);
    let t = MoistAir::from_celsius_percent(22.0, 50.0).expect("valid");
    Mix::new(&c, t.temperature())
}

#[test]
fn stronger_feed_is_longer_above_the_limit() {
    let air = MoistAir::from_celsius_percent(22.0, 60.0).expect("valid");
    let run = |mmol| {
        burn(&feed(mmol), &air, Velocity::new::<meter_per_second>(0.2), root_drop(), burn_limit())
    };
    let (weak, strong) = (run(1.0), run(6.0));
    assert!(weak.above_limit.expect("dries") < strong.above_limit.expect("dries"));
    assert!(weak.peak_concentration <= strong.peak_concentration);
    assert!(!weak.at_risk || strong.at_risk);
}

#[test]
fn saturated_air_never_concentrates() {
    let air = MoistAir::from_celsius_percent(22.0, 100.0).expect("valid");
    let b =
        burn(&feed(3.0), &air, Velocity::new::<meter_per_second>(0.2), root_drop(), burn_limit());
    assert!(!b.at_risk);
    assert!(b.peak_concentration < burn_limit());
}
