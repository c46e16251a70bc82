//! Non-linear weighted least squares for a handful of unknowns.
//!
//! Gauss and Newton's method with halved steps; normal equations by Cholesky's method. Sizes here
//! are a few unknowns for each pair of features, near enough solved at the start.

/// Values predicted from the unknowns, and their derivatives: one row for each value.
pub(crate) struct Prediction {
    pub(crate) values: Vec<f64>,
    pub(crate) derivatives: Vec<Vec<f64>>,
}

/// Where the weighted sum of squares is least.
pub(crate) struct Solution {
    pub(crate) unknowns: Vec<f64>,
    /// Observed less predicted.
    pub(crate) residuals: Vec<f64>,
    /// Weighted sum of squares of the residuals.
    pub(crate) chi_squared: f64,
    /// What each observation counts for in each unknown: one row for each unknown.
    pub(crate) gains: Vec<Vec<f64>>,
    /// Derivatives there, one row for each observation.
    pub(crate) derivatives: Vec<Vec<f64>>,
}

const STEPS: usize = 60;
const HALVINGS: usize = 30;
/// Unknowns are lengths in mm: a step below this is the floor of `f64` for a panel.
const SETTLED: f64 = 1e-10;

/// `None` where the observations do not settle the unknowns.
pub(crate) fn solve(
    observed: &[f64],
    weights: &[f64],
    start: Vec<f64>,
    predict: impl Fn(&[f64]) -> Prediction,
) -> Option<Solution> {
    let misses = |values: &[f64]| -> Vec<f64> {
        let both = observed.iter().zip(values);
        both.map(|(o, p)| o - p).collect()
    };
    let cost = |residuals: &[f64]| -> f64 {
        let both = residuals.iter().zip(weights);
        both.map(|(r, w)| w * r * r).sum()
    };
    let mut unknowns = start;
    let mut prediction = predict(&unknowns);
    let mut residuals = misses(&prediction.values);
    for _ in 0..STEPS {
        let gains = gains(&prediction.derivatives, weights)?;
        let step: Vec<f64> = gains.iter().map(|row| dot(row, &residuals)).collect();
        let largest = step
            .iter()
            .fold(0.0_f64, |most, value| most.max(value.abs()));
        if !largest.is_finite() {
            return None;
        }
        if largest < SETTLED {
            return Some(Solution {
                chi_squared: cost(&residuals),
                unknowns,
                residuals,
                gains,
                derivatives: prediction.derivatives,
            });
        }
        let before = cost(&residuals);
        let mut share = 1.0;
        for _ in 0..HALVINGS {
            let moved: Vec<f64> = unknowns
                .iter()
                .zip(&step)
                .map(|(value, step)| value + share * step)
                .collect();
            let at_moved = predict(&moved);
            let after = misses(&at_moved.values);
            // Rounding alone may raise a sum of squares that is already least.
            if cost(&after) <= before + 1e-9 * (1.0 + before) {
                (unknowns, prediction, residuals) = (moved, at_moved, after);
                break;
            }
            share /= 2.0;
        }
    }
    None
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// `(J^T W J)^-1 J^T W`; `None` where the normal matrix is singular to working precision.
fn gains(derivatives: &[Vec<f64>], weights: &[f64]) -> Option<Vec<Vec<f64>>> {
    let size = derivatives.first()?.len();
    let mut normal = vec![vec![0.0; size]; size];
    for (row, weight) in derivatives.iter().zip(weights) {
        for (i, a) in row.iter().enumerate() {
            for (j, b) in row.iter().enumerate() {
                normal[i][j] += weight * a * b;
            }
        }
    }
    let lower = cholesky(normal)?;
    let mut gains = vec![vec![0.0; derivatives.len()]; size];
    for (observation, (row, weight)) in derivatives.iter().zip(weights).enumerate() {
        let weighted: Vec<f64> = row.iter().map(|value| weight * value).collect();
        for (gain, value) in gains.iter_mut().zip(substitute(&lower, weighted)) {
            gain[observation] = value;
        }
    }
    Some(gains)
}

/// Lower factor of a symmetric positive definite matrix, in place of its lower half.
fn cholesky(mut matrix: Vec<Vec<f64>>) -> Option<Vec<Vec<f64>>> {
    for j in 0..matrix.len() {
        let original = matrix[j][j];
        let pivot = original - dot(&matrix[j][..j], &matrix[j][..j]);
        // A pivot that has lost ten digits says nothing any more; NaN is refused too.
        let sound = pivot > 1e-10 * original;
        if !sound {
            return None;
        }
        matrix[j][j] = pivot.sqrt();
        for i in j + 1..matrix.len() {
            let above = dot(&matrix[i][..j], &matrix[j][..j]);
            matrix[i][j] = (matrix[i][j] - above) / matrix[j][j];
        }
    }
    Some(matrix)
}

/// Solves `L L^T x = b`.
fn substitute(lower: &[Vec<f64>], mut b: Vec<f64>) -> Vec<f64> {
    for i in 0..b.len() {
        b[i] = (b[i] - dot(&lower[i][..i], &b[..i])) / lower[i][i];
    }
    for i in (0..b.len()).rev() {
        let below: f64 = (i + 1..b.len()).map(|j| lower[j][i] * b[j]).sum();
        b[i] = (b[i] - below) / lower[i][i];
    }
    b
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{DMatrix, DVector};

    #[test]
    fn a_linear_problem_is_solved_as_a_linear_algebra_crate_solves_it() {
        let rows = [
            [1.0, 0.5, -2.0],
            [0.3, 2.0, 1.0],
            [-1.0, 1.0, 1.0],
            [2.0, 0.1, 0.4],
        ];
        let (observed, weights) = ([3.0, -1.0, 2.0, 0.7], [1.0, 4.0, 0.5, 2.0]);
        let solution = solve(&observed, &weights, vec![0.0; 3], |unknowns| Prediction {
            values: rows.iter().map(|row| dot(row, unknowns)).collect(),
            derivatives: rows.iter().map(|row| row.to_vec()).collect(),
        })
        .unwrap();
        let j = DMatrix::from_fn(4, 3, |i, k| rows[i][k]);
        let w = DMatrix::from_diagonal(&DVector::from_row_slice(&weights));
        let inverse = (j.transpose() * &w * &j).try_inverse().unwrap();
        let gains = inverse * j.transpose() * w;
        let wanted = &gains * DVector::from_row_slice(&observed);
        for i in 0..3 {
            assert!((solution.unknowns[i] - wanted[i]).abs() < 1e-12);
            for k in 0..4 {
                assert!((solution.gains[i][k] - gains[(i, k)]).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn unknowns_that_nothing_settles_are_refused() {
        let solution = solve(&[1.0, 2.0], &[1.0; 2], vec![0.0; 2], |u| Prediction {
            values: vec![u[0] + u[1]; 2],
            derivatives: vec![vec![1.0, 1.0]; 2],
        });
        assert!(solution.is_none());
    }
}
