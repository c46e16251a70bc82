//! Eigenvalues of small symmetric matrices, by Jacobi's turns.

/// Sweeps over all pairs; convergence is quadratic, and 200 rows need fewer than ten.
const SWEEPS: usize = 40;

/// Eigenvalues, rising, and for each its unit vector. `matrix` must be square and symmetric.
pub(super) fn eigen(mut matrix: Vec<Vec<f64>>) -> Vec<(f64, Vec<f64>)> {
    let count = matrix.len();
    let mut vectors: Vec<Vec<f64>> = (0..count)
        .map(|row| {
            (0..count)
                .map(|at| f64::from(u8::from(at == row)))
                .collect()
        })
        .collect();
    let size: f64 = matrix.iter().flatten().map(|value| value * value).sum();
    for _ in 0..SWEEPS {
        let mut off = 0.0;
        for p in 0..count {
            for q in p + 1..count {
                off += matrix[p][q] * matrix[p][q];
                turn(&mut matrix, &mut vectors, p, q);
            }
        }
        if off <= 1e-32 * size {
            break;
        }
    }
    let mut pairs: Vec<(f64, Vec<f64>)> = vectors
        .into_iter()
        .enumerate()
        .map(|(at, vector)| (matrix[at][at], vector))
        .collect();
    pairs.sort_by(|one, other| one.0.total_cmp(&other.0));
    pairs
}

/// Turns rows and columns `p` and `q` so that their common entry vanishes.
fn turn(matrix: &mut [Vec<f64>], vectors: &mut [Vec<f64>], p: usize, q: usize) {
    let common = matrix[p][q];
    if common == 0.0 {
        return;
    }
    let theta = (matrix[q][q] - matrix[p][p]) / (2.0 * common);
    let tangent = theta.signum() / (theta.abs() + (theta * theta + 1.0).sqrt());
    let cosine = 1.0 / (tangent * tangent + 1.0).sqrt();
    let sine = tangent * cosine;
    for row in matrix.iter_mut() {
        let (a, b) = (row[p], row[q]);
        row[p] = cosine * a - sine * b;
        row[q] = sine * a + cosine * b;
    }
    for rows in [matrix, vectors] {
        let (head, tail) = rows.split_at_mut(q);
        for (one, other) in head[p].iter_mut().zip(&mut tail[0]) {
            let (a, b) = (*one, *other);
            *one = cosine * a - sine * b;
            *other = sine * a + cosine * b;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::eigen;

    // The second difference matrix of n rows has eigenvalues 2 - 2 cos(k pi / (n + 1)).
    #[test]
    fn second_differences_have_their_closed_form() {
        let count = 12;
        let matrix: Vec<Vec<f64>> = (0..count)
            .map(|row: i32| {
                (0..count)
                    .map(|at: i32| match (row - at).abs() {
                        0 => 2.0,
                        1 => -1.0,
                        _ => 0.0,
                    })
                    .collect()
            })
            .collect();
        for (index, (value, vector)) in eigen(matrix.clone()).into_iter().enumerate() {
            let angle = (index + 1) as f64 * std::f64::consts::PI / f64::from(count + 1);
            assert!((value - (2.0 - 2.0 * angle.cos())).abs() < 1e-12, "{value}");
            for (row, entry) in matrix.iter().zip(&vector) {
                let product: f64 = row.iter().zip(&vector).map(|(a, b)| a * b).sum();
                assert!((product - value * entry).abs() < 1e-12);
            }
        }
    }
}
