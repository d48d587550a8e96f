//! Salts: deliquescence and mutual deliquescence against published tables.

use guardcell::film::{FilmState, Mix};
use guardcell::reference::Composition;
use guardcell::reference::salts::{PAIRS, salt};
use guardcell::units::quantity::{Ratio, ThermodynamicTemperature, mmol_per_l};
use guardcell::units::uom::si::{ratio::percent, thermodynamic_temperature::degree_celsius};

fn mix(salts: &[(&str, f64)], celsius: f64) -> Mix {
    let mut c = Composition::PURE_WATER;
    for (key, mmol) in salts {
        let s = salt(key).unwrap();
        c[s.cation] += mmol_per_l(mmol * f64::from(s.cations));
        if let Some(a) = s.anion {
            c[a] += mmol_per_l(mmol * f64::from(s.anions));
        }
    }
    Mix::new(&c, ThermodynamicTemperature::new::<degree_celsius>(celsius))
}

/// Greenspan 1977 at 25 °C (values as used by later works): a film of the salt alone goes from wet
/// to dry there.
#[test]
fn single_salts_after_greenspan() {
    for (key, rh) in [
        ("magnesium_nitrate", 52.89),
        ("sodium_nitrate", 74.25),
        ("sodium_chloride", 75.29),
        ("ammonium_chloride", 78.57),
        ("ammonium_sulfate", 80.99),
        ("potassium_chloride", 84.34),
        ("potassium_nitrate", 93.58),
        ("potassium_sulfate", 97.30),
    ] {
        let m = mix(&[(key, 2.0)], 25.0);
        for (what, got) in [("wet above", m.stays_wet_above()), ("dry below", m.dry_below())] {
            let got = got.get::<percent>();
            assert!((got - rh).abs() < 1.0, "{key} {what} {got}, published {rh}");
        }
        assert_eq!(m.state_at(Ratio::new::<percent>(rh + 1.5)), FilmState::Wet, "{key}");
        assert_eq!(m.state_at(Ratio::new::<percent>(rh - 1.5)), FilmState::Dry, "{key}");
    }
}

/// Adams & Merz 1929 at 30 °C (fertiliser table): not what the values at 25 °C come from.
#[test]
fn single_salts_at_30_after_adams_and_merz() {
    for (key, rh) in [
        ("calcium_nitrate", 46.7),
        ("ammonium_nitrate", 59.4),
        ("sodium_nitrate", 72.4),
        ("ammonium_chloride", 77.2),
        ("ammonium_sulfate", 79.2),
        ("potassium_chloride", 84.0),
        ("potassium_nitrate", 90.5),
        ("potassium_sulfate", 96.3),
    ] {
        let got = salt(key)
            .unwrap()
            .deliquescence(ThermodynamicTemperature::new::<degree_celsius>(30.0))
            .get::<percent>();
        assert!((got - rh).abs() < 2.0, "{key} {got}, published {rh}");
    }
}

/// Humidity below which penetration into cuticles stops (Schönherr 2001 abstract, at 20 °C).
#[test]
fn penetration_stops_where_the_salt_dries() {
    for (key, rh) in [("calcium_nitrate", 55.0), ("calcium_chloride", 32.0)] {
        let got = salt(key)
            .unwrap()
            .deliquescence(ThermodynamicTemperature::new::<degree_celsius>(20.0))
            .get::<percent>();
        assert!((got - rh).abs() < 3.0, "{key} {got}, published {rh}");
    }
}

/// Adams & Merz 1929 at 30 °C. Three terms of the mixing rule are fitted to these pairs; the rule has
/// no term for most of them.
#[test]
fn published_pairs() {
    let mut squares = Vec::new();
    for p in PAIRS {
        let celsius = p.temperature().get::<degree_celsius>();
        let got = mix(&[(p.first, 2.0), (p.second, 2.0)], celsius).dry_below().get::<percent>();
        let published = p.mutual_deliquescence().get::<percent>();
        assert!((got - published).abs() < 15.0, "{} + {}: {got}, {published}", p.first, p.second);
        assert!(got > 0.0, "{} + {} never dries", p.first, p.second);
        squares.push((got - published).powi(2));
    }
    assert!(squares.len() >= 25);
    let rms = (squares.iter().sum::<f64>() / squares.len() as f64).sqrt();
    assert!(rms < 7.0, "{rms}");
}

/// Urea with ammonium nitrate takes up water from 18.1 % at 30 °C, far below either alone.
#[test]
fn urea_and_ammonium_nitrate() {
    let m = mix(&[("urea", 2.0), ("ammonium_nitrate", 2.0)], 30.0);
    let got = m.dry_below().get::<percent>();
    assert!((got - 18.1).abs() < 5.0, "{got}");
    assert_ne!(m.state_at(Ratio::new::<percent>(25.0)), FilmState::Dry);
    assert_eq!(m.state_at(Ratio::new::<percent>(10.0)), FilmState::Dry);
}

/// A mix never turns solid at a higher humidity than all its salts alone, and gypsum falls first
/// where calcium meets sulfate.
#[test]
fn solids_rise_as_the_air_dries() {
    let m = mix(
        &[
            ("calcium_nitrate", 1.0),
            ("magnesium_sulfate", 1.0),
            ("potassium_nitrate", 2.0),
            ("urea", 1.0),
        ],
        25.0,
    );
    let mut before = 0.0;
    for rh in (8..=99).rev() {
        let share = m.solid_share(Ratio::new::<percent>(f64::from(rh))).get::<percent>();
        assert!(share >= before - 0.3, "{rh} %: {share} after {before}");
        before = before.max(share);
    }
    // Gypsum, 1 mmol of 136 g/mol over all salts, is out while the potassium is dissolved.
    let wet = m.solid_share(Ratio::new::<percent>(97.0)).get::<percent>();
    assert!(wet > 10.0 && m.stays_wet_above().get::<percent>() < 95.0, "{wet}");
}
