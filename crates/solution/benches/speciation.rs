//! Speciation with conductance, beside a yardstick of the machine.
//!
//! `cargo bench -p guardcell-solution --bench speciation`. The figure to quote is the ratio of a
//! `blend` to `thousand_exponentials` of the same run: times alone do not carry from machine to
//! machine. For the ratio to the geochemical reference, run `tests/oracle/iphreeqc_speed.py` on
//! the same machine at the same time and divide (see `tests/oracle/README-iphreeqc.md`).

use divan::black_box;
use guardcell_reference::{Composition, Solute};
use guardcell_solution::{Condition, speciate};
use guardcell_units::quantity::{ThermodynamicTemperature, mmol_per_l};
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

fn main() {
    divan::main();
}

/// A complete feed in hard water.
fn blend() -> Composition {
    use Solute::{Ca, Cl, Dic, K, Mg, Na, Nh4, No3, P, So4, Urea};
    let mut c = Composition::PURE_WATER;
    for (s, mmol_l) in [
        (Ca, 3.2),
        (Mg, 1.4),
        (K, 4.5),
        (Na, 1.1),
        (Nh4, 1.0),
        (No3, 10.2),
        (P, 1.1),
        (So4, 1.5),
        (Cl, 0.9),
        (Dic, 1.6),
        (Urea, 0.5),
    ] {
        c[s] = mmol_per_l(mmol_l);
    }
    c
}

#[divan::bench]
fn thousand_exponentials() -> f64 {
    (0..1000).map(|i| black_box(f64::from(i) * -1e-3).exp()).sum()
}

#[divan::bench(args = [25.0, 18.0])]
fn blend_with_conductance(bencher: divan::Bencher, celsius: f64) {
    let c = blend();
    let t = ThermodynamicTemperature::new::<degree_celsius>(celsius);
    bencher.bench_local(|| {
        speciate(black_box(&c), black_box(t), Condition::default()).map(|s| s.conductivity())
    });
}

#[divan::bench]
fn blend_at_18_with_specific_conductance(bencher: divan::Bencher) {
    let c = blend();
    let t = ThermodynamicTemperature::new::<degree_celsius>(18.0);
    bencher.bench_local(|| {
        speciate(black_box(&c), black_box(t), Condition::default())
            .and_then(|s| s.specific_conductance())
    });
}
