//! Least squares with non-negative unknowns (Lawson & Hanson 1974, chapter 23), for the few
//! materials of a label.

/// Minimises ‖A·x − b‖² + ridge·‖x‖² with every x ≥ 0. `rows` holds A by rows.
pub(super) fn solve(rows: &[Vec<f64>], b: &[f64], ridge: f64, n: usize) -> Vec<f64> {
    let mut gram = vec![vec![0.0; n]; n];
    let mut right = vec![0.0; n];
    for (row, &target) in rows.iter().zip(b) {
        for (i, &a) in row.iter().enumerate().take(n) {
            right[i] += a * target;
            for (j, &c) in row.iter().enumerate().take(n) {
                gram[i][j] += a * c;
            }
        }
    }
    for (i, line) in gram.iter_mut().enumerate() {
        line[i] += ridge;
    }
    let mut x = vec![0.0; n];
    let mut free = vec![false; n];
    let scale = right.iter().fold(0.0_f64, |m, v| m.max(v.abs())).max(1e-300);
    for _ in 0..8 * n.max(1) {
        let slope: Vec<f64> =
            (0..n).map(|i| right[i] - (0..n).map(|j| gram[i][j] * x[j]).sum::<f64>()).collect();
        let best = (0..n)
            .filter(|&i| !free[i] && slope[i] > 1e-12 * scale)
            .max_by(|&a, &b| slope[a].total_cmp(&slope[b]));
        let Some(best) = best else { break };
        free[best] = true;
        // Each pass frees or fixes at least one unknown, so n + 1 passes are enough.
        for _ in 0..=n {
            let trial = restricted(&gram, &right, &free);
            let negative = (0..n).filter(|&i| free[i] && trial[i] <= 0.0);
            let step = negative
                .map(|i| x[i] / (x[i] - trial[i]))
                .filter(|s| s.is_finite())
                .fold(1.0_f64, f64::min);
            if (0..n).all(|i| !free[i] || trial[i] > 0.0) {
                x = trial;
                break;
            }
            for i in 0..n {
                x[i] += step * (trial[i] - x[i]);
                if free[i] && x[i] <= 1e-14 * scale.max(1.0) {
                    x[i] = 0.0;
                    free[i] = false;
                }
            }
        }
    }
    x
}

/// The unrestricted minimum over the free unknowns, by Cholesky; the ridge keeps it definite.
fn restricted(gram: &[Vec<f64>], right: &[f64], free: &[bool]) -> Vec<f64> {
    let index: Vec<usize> = (0..free.len()).filter(|&i| free[i]).collect();
    let m = index.len();
    let mut l = vec![vec![0.0; m]; m];
    for i in 0..m {
        for j in 0..=i {
            let sum: f64 = (0..j).map(|k| l[i][k] * l[j][k]).sum();
            let value = gram[index[i]][index[j]] - sum;
            l[i][j] = if i == j { value.max(1e-300).sqrt() } else { value / l[j][j] };
        }
    }
    let mut y = vec![0.0; m];
    for i in 0..m {
        let sum: f64 = (0..i).map(|k| l[i][k] * y[k]).sum();
        y[i] = (right[index[i]] - sum) / l[i][i];
    }
    for i in (0..m).rev() {
        let sum: f64 = (i + 1..m).map(|k| l[k][i] * y[k]).sum();
        y[i] = (y[i] - sum) / l[i][i];
    }
    let mut x = vec![0.0; free.len()];
    for (i, &at) in index.iter().enumerate() {
        x[at] = y[i];
    }
    x
}

#[cfg(test)]
mod tests {
    use super::solve;
    use proptest::prelude::*;

    // Lawson & Hanson, Solving Least Squares Problems (1974), chapter 23: an unrestricted minimum
    // with a negative part moves to the edge.
    #[test]
    fn edge_and_interior() {
        let a = vec![vec![1.0, 0.0], vec![0.0, 1.0], vec![1.0, 1.0]];
        let x = solve(&a, &[2.0, -1.0, 1.0], 1e-12, 2);
        assert!((x[0] - 1.5).abs() < 1e-9 && x[1] == 0.0, "{x:?}");
        let x = solve(&a, &[2.0, 1.0, 3.0], 1e-12, 2);
        assert!((x[0] - 2.0).abs() < 1e-9 && (x[1] - 1.0).abs() < 1e-9, "{x:?}");
    }

    proptest! {
        // The conditions of Kuhn and Tucker: no unknown negative, no slope that would improve.
        #[test]
        fn optimal(a in proptest::collection::vec(proptest::collection::vec(0.0..5.0f64, 6), 5),
                   b in proptest::collection::vec(-3.0..10.0f64, 5)) {
            let ridge = 1e-6;
            let x = solve(&a, &b, ridge, 6);
            for i in 0..6 {
                prop_assert!(x[i] >= 0.0);
                let slope: f64 = a.iter().zip(&b).map(|(row, t)| {
                    let fit: f64 = row.iter().zip(&x).map(|(r, v)| r * v).sum();
                    row[i] * (t - fit)
                }).sum::<f64>() - ridge * x[i];
                prop_assert!(slope < 1e-5);
                prop_assert!(x[i] == 0.0 || slope.abs() < 1e-5, "{i} {slope} {x:?}");
            }
        }
    }
}
