//! Saturation pressure of water vapour over liquid water (ASHRAE 2017, Hyland & Wexler 1983).
//!
//! Below 0 °C the water is supercooled, not ice: a film on a leaf freezes later than at 0 °C.

use guardcell_reference::parameters::film as data;

/// Pressure in Pa at a temperature in K, and its derivative in Pa/K.
#[inline]
pub(crate) fn pressure_and_slope(t_k: f64) -> (f64, f64) {
    let (c8, c9, c10) = (
        data::SATURATION_C8.coefficient(),
        data::SATURATION_C9.number(),
        data::SATURATION_C10.coefficient(),
    );
    let (c11, c12, c13) = (
        data::SATURATION_C11.coefficient(),
        data::SATURATION_C12.coefficient(),
        data::SATURATION_C13.number(),
    );
    let p = (c8 / t_k + c9 + t_k * (c10 + t_k * (c11 + t_k * c12)) + c13 * t_k.ln()).exp();
    let slope = p * (-c8 / (t_k * t_k) + c10 + t_k * (2.0 * c11 + t_k * 3.0 * c12) + c13 / t_k);
    (p, slope)
}

/// Pressure in Pa at a temperature in K.
#[inline]
pub(crate) fn pressure(t_k: f64) -> f64 {
    pressure_and_slope(t_k).0
}

/// Temperature in K at which water saturates at this pressure in Pa.
pub(crate) fn temperature(p_pa: f64) -> f64 {
    // Start from the Magnus form, then Newton in ln p, which is nearly straight in 1/T.
    let x = (p_pa / 611.2).ln();
    let mut t = 273.15 + 243.12 * x / (17.62 - x);
    for _ in 0..20 {
        let (p, slope) = pressure_and_slope(t);
        let step = (p / p_pa).ln() * p / slope;
        t -= step;
        if step.abs() < 1e-11 {
            break;
        }
    }
    t
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inverse() {
        for c in -30..=50 {
            let t = 273.15 + f64::from(c);
            assert!((temperature(pressure(t)) - t).abs() < 1e-9);
        }
    }

    #[test]
    fn slope_is_the_derivative() {
        let h = 1e-4;
        let numeric = (pressure(298.15 + h) - pressure(298.15 - h)) / (2.0 * h);
        assert!((pressure_and_slope(298.15).1 / numeric - 1.0).abs() < 1e-7);
    }
}
