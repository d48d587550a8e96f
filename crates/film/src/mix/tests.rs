use super::*;
use guardcell_reference::Solute;
use guardcell_reference::salts::{PAIRS, salt};
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

#[test]
fn pairs_print() {
    for p in PAIRS {
        let best = [0.2, 0.35, 0.5, 0.65, 0.8]
            .into_iter()
            .map(|x| {
                Mix::new(&of(&[(p.first, 4.0 * x), (p.second, 4.0 * (1.0 - x))]), celsius(30.0))
                    .dry_below
            })
            .collect::<Vec<_>>();
        println!(
            "{} + {}: {:?} published {:.3}",
            p.first,
            p.second,
            best,
            p.mutual_deliquescence().get::<ratio>()
        );
    }
    let t = std::time::Instant::now();
    for _ in 0..100 {
        std::hint::black_box(Mix::new(
            &of(&[
                ("calcium_nitrate", 1.0),
                ("potassium_nitrate", 1.0),
                ("magnesium_sulfate", 0.4),
                ("ammonium_dihydrogen_phosphate", 0.3),
                ("sodium_chloride", 0.2),
            ]),
            celsius(25.0),
        ));
    }
    println!("{:?}", t.elapsed() / 100);
    let m = Mix::new(
        &of(&[
            ("calcium_nitrate", 1.0),
            ("potassium_nitrate", 1.0),
            ("magnesium_sulfate", 0.4),
            ("ammonium_dihydrogen_phosphate", 0.3),
            ("sodium_chloride", 0.2),
        ]),
        celsius(25.0),
    );
    for n in &m.nodes {
        println!(
            "{:.4} W {:.4} salts {:.4} solids {:.4} bound {:.4}",
            n.a,
            n.water_g(),
            n.salts_g,
            n.solids_g,
            n.bound_g
        );
    }
    println!("{} {} {:?}", m.wet_above, m.dry_below, m.first_solid.map(|s| s.key));
}
