//! Gauss–Hermite points for a standard normal variable, and its distribution function.
//!
//! Abscissas and weights of Abramowitz & Stegun 1964, table 25.10, scaled to the normal
//! distribution: z = √2 x, w / √π.

/// Three points: exact for polynomials to the fifth degree.
pub(crate) const NORMAL_3: [(f64, f64); 3] =
    [(-1.732_050_807_568_877, 1.0 / 6.0), (0.0, 2.0 / 3.0), (1.732_050_807_568_877, 1.0 / 6.0)];

/// Five points: exact for polynomials to the ninth degree.
pub(crate) const NORMAL_5: [(f64, f64); 5] = [
    (-2.856_970_013_872_806, 0.011_257_411_327_720_7),
    (-1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (0.0, 0.533_333_333_333_333_4),
    (1.355_626_179_974_266, 0.222_075_922_005_612_6),
    (2.856_970_013_872_806, 0.011_257_411_327_720_7),
];

/// The standard normal distribution function, by Abramowitz & Stegun 1964, eq. 26.2.17
/// (absolute error below 7.5e-8).
pub(crate) fn standard_normal(z: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * z.abs());
    let poly = t
        * (0.319_381_530
            + t * (-0.356_563_782
                + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    let tail = (-0.5 * z * z).exp() / (2.0 * core::f64::consts::PI).sqrt() * poly;
    if z >= 0.0 { 1.0 - tail } else { tail }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Abramowitz & Stegun 1964, table 26.1.
    #[test]
    fn normal_table() {
        for (z, p) in [(0.0, 0.5), (1.0, 0.841_344_75), (1.96, 0.975_002_1), (-2.0, 0.022_750_13)] {
            assert!((standard_normal(z) - p).abs() < 1e-7, "{z}");
        }
    }

    #[test]
    fn weights_sum_to_one() {
        assert!((NORMAL_3.iter().map(|p| p.1).sum::<f64>() - 1.0).abs() < 1e-12);
        assert!((NORMAL_5.iter().map(|p| p.1).sum::<f64>() - 1.0).abs() < 1e-12);
        let variance: f64 = NORMAL_5.iter().map(|(z, w)| z * z * w).sum();
        assert!((variance - 1.0).abs() < 1e-12);
    }
}
