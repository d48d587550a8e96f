//! Distributions of a share over a grid of its log odds, and the steps between a group and the
//! groups within it.

/// Points of the grid; shares beyond count at its ends.
pub(crate) const POINTS: usize = 29;
/// The distance of two points and the first one, in log odds: shares from 0.1 % to 99.9 %.
const STEP: f64 = 0.5;
const FIRST: f64 = -7.0;
/// No mean of a group comes nearer to 0 or 1.
const LEAST: f64 = 1e-4;

/// A number for each point of the grid.
pub(crate) type Curve = [f64; POINTS];
/// How the share of the group below lies, a row for each share of the group above.
pub(crate) type Step = Vec<Curve>;

/// The log odds at a point of the grid.
pub(crate) fn at(i: usize) -> f64 {
    FIRST + STEP * i as f64
}

/// The logarithm of the share at these log odds.
pub(crate) fn ln_share(x: f64) -> f64 {
    if x > 0.0 { -(-x).exp().ln_1p() } else { x - x.exp().ln_1p() }
}

pub(crate) fn sum(a: &Curve, b: &Curve, sign: f64) -> Curve {
    std::array::from_fn(|i| a[i] + sign * b[i])
}

/// All weight at one share, between the two points beside it.
pub(crate) fn point(share: f64) -> Curve {
    let share = share.clamp(LEAST, 1.0 - LEAST);
    let place = (((share / (1.0 - share)).ln() - FIRST) / STEP).clamp(0.0, (POINTS - 1) as f64);
    std::array::from_fn(|i| (1.0 - (place - i as f64).abs()).max(0.0))
}

/// A beta distribution of this weight around each share of the grid, shifted.
pub(crate) fn step(weight: f64, shift: f64) -> Step {
    (0..POINTS)
        .map(|row| {
            let mean = ln_share(at(row) + shift).exp().clamp(LEAST, 1.0 - LEAST);
            let (a, b) = (weight * mean, weight * (1.0 - mean));
            let ln = |x: f64| a * ln_share(x) + b * ln_share(-x);
            // The logarithms are below 0; the largest is taken out so that none vanishes.
            let largest = (0..POINTS).map(|i| ln(at(i))).fold(f64::NEG_INFINITY, f64::max);
            let mut curve: Curve = std::array::from_fn(|i| (ln(at(i)) - largest).exp());
            // What lies beyond the ends: there the density falls as an exponential.
            let (low, high) = (at(0) - STEP / 2.0, at(POINTS - 1) + STEP / 2.0);
            curve[0] += (ln(low) - largest).exp() / (a * STEP);
            curve[POINTS - 1] += (ln(high) - largest).exp() / (b * STEP);
            let all: f64 = curve.iter().sum();
            curve.map(|p| p / all)
        })
        .collect()
}

/// What a group says of the one above, as a logarithm.
pub(crate) fn up(step: &Step, below: &Curve) -> Curve {
    let largest = below.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let weights = below.map(|l| (l - largest).exp());
    let mut said = [0.0; POINTS];
    for (said, row) in said.iter_mut().zip(step) {
        *said = row.iter().zip(&weights).map(|(p, w)| p * w).sum::<f64>().ln() + largest;
    }
    said
}

/// How the group below lies, given how the one above does.
pub(crate) fn down(step: &Step, above: &Curve) -> Curve {
    let mut below = [0.0; POINTS];
    for (weight, row) in above.iter().zip(step) {
        for (below, p) in below.iter_mut().zip(row) {
            *below += weight * p;
        }
    }
    below
}

/// A distribution times a probability given as a logarithm, adding up to 1.
pub(crate) fn times(shares: &Curve, ln: &Curve) -> Curve {
    let largest = ln.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let curve: Curve = std::array::from_fn(|i| shares[i] * (ln[i] - largest).exp());
    let all: f64 = curve.iter().sum();
    curve.map(|p| p / all)
}
