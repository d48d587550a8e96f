//! Pure water: density, permittivity, viscosity and the Debye–Hückel constants that follow.

use guardcell_reference::parameters::solution as data;

/// Pure water at one temperature and one atmosphere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Water {
    pub(crate) kelvin: f64,
    pub(crate) density_kg_l: f64,
    pub(crate) permittivity: f64,
    pub(crate) viscosity_mpa_s: f64,
    /// A of log γ, in (kg/mol)^½.
    pub(crate) debye_a: f64,
    /// B of log γ, in (kg/mol)^½ per ångström.
    pub(crate) debye_b: f64,
}

impl Water {
    pub(crate) fn at(celsius: f64) -> Self {
        let kelvin = celsius + 273.15;
        let density_kg_l = density_kg_l(celsius);
        let permittivity = permittivity(kelvin);
        let et = permittivity * kelvin;
        let root = density_kg_l.sqrt();
        // Truesdell & Jones (1974): the constants e²/(k_B…) in practical units.
        let debye_b = 50.2916 * root / et.sqrt();
        let debye_a = 1.82483e6 * root / (et * et.sqrt());
        Self {
            kelvin,
            density_kg_l,
            permittivity,
            viscosity_mpa_s: viscosity_mpa_s(kelvin),
            debye_a,
            debye_b,
        }
    }
}

impl Water {
    /// The viscosity at 25 °C, in mPa·s.
    pub(crate) fn viscosity_25() -> f64 {
        static AT_25: std::sync::LazyLock<f64> =
            std::sync::LazyLock::new(|| viscosity_mpa_s(298.15));
        *AT_25
    }
}

/// Kell (1975), 0–100 °C.
fn density_kg_l(t: f64) -> f64 {
    let n = [
        data::WATER_DENSITY_N5.kg_per_m3(),
        data::WATER_DENSITY_N4.kg_per_m3(),
        data::WATER_DENSITY_N3.kg_per_m3(),
        data::WATER_DENSITY_N2.kg_per_m3(),
        data::WATER_DENSITY_N1.kg_per_m3(),
        data::WATER_DENSITY_N0.kg_per_m3(),
    ];
    let numerator = n.iter().fold(0.0, |sum, c| sum * t + c);
    numerator / (1.0 + data::WATER_DENSITY_D1.number() * t) / 1000.0
}

/// Bradley & Pitzer (1979), 0–350 °C, at 1.013 bar.
fn permittivity(kelvin: f64) -> f64 {
    let at_1000_bar = data::WATER_PERMITTIVITY_U1.number()
        * (kelvin
            * (data::WATER_PERMITTIVITY_U2.coefficient()
                + kelvin * data::WATER_PERMITTIVITY_U3.coefficient()))
        .exp();
    let c = data::WATER_PERMITTIVITY_U4.number()
        + data::WATER_PERMITTIVITY_U5.coefficient()
            / (data::WATER_PERMITTIVITY_U6.coefficient() + kelvin);
    let b = data::WATER_PERMITTIVITY_U7.coefficient()
        + data::WATER_PERMITTIVITY_U8.coefficient() / kelvin
        + data::WATER_PERMITTIVITY_U9.coefficient() * kelvin;
    at_1000_bar + c * ((b + 1.01325) / (b + 1000.0)).ln()
}

/// Pátek et al. (2009), the IAPWS correlation at 0.1 MPa, 253–383 K.
fn viscosity_mpa_s(kelvin: f64) -> f64 {
    let t = (kelvin / 300.0).ln();
    [
        (data::WATER_VISCOSITY_A1.coefficient(), data::WATER_VISCOSITY_B1.number()),
        (data::WATER_VISCOSITY_A2.coefficient(), data::WATER_VISCOSITY_B2.number()),
        (data::WATER_VISCOSITY_A3.coefficient(), data::WATER_VISCOSITY_B3.number()),
        (data::WATER_VISCOSITY_A4.coefficient(), data::WATER_VISCOSITY_B4.number()),
    ]
    .iter()
    .map(|(a, b)| a * (b * t).exp())
    .sum::<f64>()
        / 1000.0
}

#[cfg(test)]
mod tests {
    use super::Water;

    /// Handbook values: CRC Handbook of Chemistry and Physics, properties of water in the range
    /// 0–100 °C (density, permittivity, viscosity), entered from memory.
    #[test]
    fn water_of_the_handbook() {
        for (t, density, permittivity, viscosity) in [
            (10.0, 0.99970, 83.96, 1.3059),
            (25.0, 0.99705, 78.36, 0.8900),
            (40.0, 0.99222, 73.17, 0.6527),
        ] {
            let w = Water::at(t);
            assert!((w.density_kg_l - density).abs() < 2e-5, "{w:?}");
            assert!((w.permittivity / permittivity - 1.0).abs() < 2e-3, "{w:?}");
            assert!((w.viscosity_mpa_s / viscosity - 1.0).abs() < 2e-3, "{w:?}");
        }
        // Truesdell & Jones (1974) print A = 0.5092 and B = 0.3283 at 25 °C.
        let w = Water::at(25.0);
        assert!((w.debye_a - 0.5092).abs() < 1e-3, "{w:?}");
        assert!((w.debye_b - 0.3283).abs() < 5e-4, "{w:?}");
    }
}
