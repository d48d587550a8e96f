//! Mixing of ions of one sign and different charge: the higher electrostatic terms.

/// J(x) and x·J′(x) by the approximation of Pitzer (1975), equation 47.
fn j(x: f64) -> (f64, f64) {
    const C: [f64; 4] = [4.581, 0.7237, 0.0120, 0.528];
    if x <= 0.0 {
        return (0.0, 0.0);
    }
    let tail = C[0] * x.powf(-C[1]) * (-C[2] * x.powf(C[3])).exp();
    let under = 4.0 + tail;
    let slope = tail * (C[1] + C[2] * C[3] * x.powf(C[3])); // −x·d(tail)/dx
    (x / under, x / under + x * slope / (under * under))
}

/// ᴱθ and its derivative by the ionic strength, for two ions of charge numbers of one sign.
pub(super) fn electrostatic(z: f64, other: f64, a_phi: f64, strength: f64) -> (f64, f64) {
    if z == other || strength <= 0.0 {
        return (0.0, 0.0);
    }
    let x = |a: f64, b: f64| j(6.0 * a * b * a_phi * strength.sqrt());
    let (mixed, first, second) = (x(z, other), x(z, z), x(other, other));
    let value = z * other / (4.0 * strength) * (mixed.0 - 0.5 * (first.0 + second.0));
    let slope = z * other / (8.0 * strength * strength) * (mixed.1 - 0.5 * (first.1 + second.1))
        - value / strength;
    (value, slope)
}

#[cfg(test)]
mod tests {
    use super::{electrostatic, j};

    /// J of 1 is 0.116 (Pitzer 1975, table I, from memory); the approximation is within 2 %.
    #[test]
    fn the_integral_at_one() {
        assert!((j(1.0).0 / 0.116 - 1.0).abs() < 0.02, "{:?}", j(1.0));
    }

    #[test]
    fn the_derivative_is_that_of_the_value() {
        let step = 1e-5;
        for x in [0.3, 1.0, 5.0, 40.0] {
            let numeric = (j(x * (1.0 + step)).0 - j(x * (1.0 - step)).0) / (2.0 * step);
            assert!((numeric / j(x).1 - 1.0).abs() < 1e-6, "{x}: {numeric} {:?}", j(x));
        }
        let at = |i: f64| electrostatic(2.0, 1.0, 0.39, i);
        let numeric = (at(2.0 + step).0 - at(2.0 - step).0) / (2.0 * step);
        assert!((numeric - at(2.0).1).abs() < 1e-7);
    }
}
