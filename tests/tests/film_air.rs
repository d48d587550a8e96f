//! Moist air against PsychroLib (oracle table), printed tables of ASHRAE and of the WMO.

use guardcell::film::{AirRequest, MoistAir, air};
use guardcell::units::uom::si::pressure::{kilopascal, pascal};

fn near(got: f64, wanted: f64, share: f64, what: &str) {
    let scale = wanted.abs().max(1e-12);
    assert!((got - wanted).abs() <= share * scale, "{what}: {got}, wanted {wanted}");
}

/// Within 0.1 % of PsychroLib 2.5.0 (ASHRAE 2017); temperatures within 0.1 % of their value or
/// 0.01 K, whichever is more (PsychroLib finds its wet bulb to 0.001 K).
#[test]
fn psychrolib() {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(include_str!("../oracle/psychrolib_air.csv").as_bytes());
    let mut rows = 0;
    for record in reader.records() {
        let record = record.unwrap();
        let f: Vec<f64> = record.iter().map(|s| s.parse().unwrap()).collect();
        let what = format!("{} °C {} %", f[0], f[1]);
        let report =
            air(&AirRequest { temp_c: f[0], rh_percent: f[1], pressure_kpa: Some(f[2] / 1000.0) })
                .unwrap();
        near(report.saturation_pressure_pa, f[3], 1e-3, &what);
        near(report.vapour_pressure_pa, f[4], 1e-3, &what);
        for (got, wanted) in [(report.dew_point_c, f[5]), (report.wet_bulb_c, f[6])] {
            let allowed = (1e-3 * wanted.abs()).max(0.01);
            assert!((got - wanted).abs() <= allowed, "{what}: {got}, wanted {wanted}");
        }
        assert!((report.vpd_kpa * 1000.0 - f[7]).abs() <= 1e-3 * f[3], "{what}");
        near(report.humidity_ratio_kg_kg, f[8], 1e-3, &what);
        near(report.density_kg_m3, f[9], 1e-3, &what);
        rows += 1;
    }
    assert!(rows > 200, "the table is short: {rows} rows");
}

/// ASHRAE Handbook Fundamentals 2017, chapter 1, table 3 (from memory): saturation pressure in kPa.
#[test]
fn ashrae_table_3() {
    for (c, kpa) in [
        (5.0, 0.8726),
        (10.0, 1.2282),
        (20.0, 2.3393),
        (25.0, 3.1698),
        (30.0, 4.2467),
        (40.0, 7.3844),
        (50.0, 12.3513),
    ] {
        let p = MoistAir::from_celsius_percent(c, 50.0)
            .unwrap()
            .saturation_pressure()
            .get::<kilopascal>();
        near(p, kpa, 1e-3, &format!("{c} °C"));
    }
}

/// Smithsonian and WMO tables after Goff & Gratch (from memory), over water, also supercooled:
/// saturation pressure in hPa.
#[test]
fn wmo_over_water() {
    for (c, hpa) in [
        (-5.0, 4.2148),
        (0.0, 6.1078),
        (10.0, 12.272),
        (20.0, 23.373),
        (30.0, 42.430),
        (40.0, 73.777),
    ] {
        let p =
            MoistAir::from_celsius_percent(c, 50.0).unwrap().saturation_pressure().get::<pascal>();
        near(p / 100.0, hpa, 1e-3, &format!("{c} °C"));
    }
}

/// Beyond the valid range it is refused with the place.
#[test]
fn refusals() {
    for (c, rh, p, place) in [
        (-5.1, 50.0, 101.0, "/temp_c"),
        (50.1, 50.0, 101.0, "/temp_c"),
        (20.0, 0.0, 101.0, "/rh_percent"),
        (20.0, 100.5, 101.0, "/rh_percent"),
        (20.0, 50.0, 1013.25, "/pressure_kpa"),
        (f64::NAN, 50.0, 101.0, "/temp_c"),
        (f64::INFINITY, 50.0, 101.0, "/temp_c"),
    ] {
        let message = air(&AirRequest { temp_c: c, rh_percent: rh, pressure_kpa: Some(p) })
            .unwrap_err()
            .to_string();
        assert!(message.starts_with(place), "{message}");
    }
}
