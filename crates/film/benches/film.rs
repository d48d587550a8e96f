//! How long one mix, one drying and one residue with its probability take.
#![allow(missing_docs, clippy::expect_used)] // a program that measures

use guardcell_film::{
    AirSpeed, AirWord, Leaf, Mix, MoistAir, ResidueThreshold, Spraying, drying, residue,
};
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::{ArealMassDensity, mmol_per_l};
use guardcell_units::uom::si::areal_mass_density::gram_per_square_meter;

fn main() {
    divan::main();
}

fn feed() -> Composition {
    let mut c = Composition::PURE_WATER;
    for (s, n) in [
        (Solute::Ca, 1.0),
        (Solute::Mg, 0.4),
        (Solute::K, 1.6),
        (Solute::Na, 0.3),
        (Solute::Nh4, 0.2),
        (Solute::No3, 3.4),
        (Solute::P, 0.2),
        (Solute::So4, 0.3),
        (Solute::Cl, 0.3),
        (Solute::Dic, 0.4),
        (Solute::Urea, 0.5),
    ] {
        c[s] = mmol_per_l(n);
    }
    c
}

fn air() -> MoistAir {
    MoistAir::from_celsius_percent(22.0, 60.0).expect("valid")
}

fn load() -> ArealMassDensity {
    ArealMassDensity::new::<gram_per_square_meter>(100.0)
}

#[divan::bench]
fn mix() -> Mix {
    Mix::new(divan::black_box(&feed()), air().temperature())
}

#[divan::bench]
fn one_drying(bencher: divan::Bencher) {
    let mix = Mix::new(&feed(), air().temperature());
    let speed = AirSpeed::from(AirWord::Light);
    bencher
        .bench(|| drying(&mix, &Leaf::default(), divan::black_box(&air()), speed.likely(), load()));
}

#[divan::bench]
fn one_residue(bencher: divan::Bencher) {
    let mix = Mix::new(&feed(), air().temperature());
    let speed = AirSpeed::from(AirWord::Light);
    bencher.bench(|| {
        residue(
            &mix,
            &Leaf::default(),
            divan::black_box(&air()),
            &speed,
            &Spraying::one_pass(load()),
            &ResidueThreshold::shipped(),
        )
    });
}
