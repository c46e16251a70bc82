//! Straight lines through points, with strays left out.

/// `y = offset + slope x`, with what the points say of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fit {
    /// y at x = 0.
    pub(crate) offset: f64,
    /// Rise over run.
    pub(crate) slope: f64,
    /// Standard error of the slope.
    pub(crate) slope_error: f64,
    /// Root mean square of the residuals.
    pub(crate) rms: f64,
    /// Points used.
    pub(crate) count: usize,
}

/// Passes of leaving out strays.
const PASSES: usize = 4;

/// Least squares through `points`, strays beyond three times the typical residual left out, though
/// none nearer than `tolerance`. `None` for fewer than three points, or all at one x.
pub(crate) fn fit(points: &[(f64, f64)], tolerance: f64) -> Option<Fit> {
    let mut found = plain(points)?;
    for _ in 0..PASSES {
        let residual = |(x, y): &(f64, f64)| (y - found.offset - found.slope * x).abs();
        let mut sizes: Vec<f64> = points.iter().map(residual).collect();
        sizes.sort_by(f64::total_cmp);
        // 1.4826 makes the median of normal residuals their standard deviation.
        let typical = 1.4826 * sizes.get(sizes.len() / 2).copied().unwrap_or(0.0);
        let limit = (3.0 * typical).max(tolerance);
        let kept: Vec<(f64, f64)> = points
            .iter()
            .copied()
            .filter(|point| residual(point) <= limit)
            .collect();
        found = plain(&kept)?;
    }
    Some(found)
}

fn plain(points: &[(f64, f64)]) -> Option<Fit> {
    let count = points.len();
    if count < 3 {
        return None;
    }
    let share = 1.0 / count as f64;
    let mean_x = share * points.iter().map(|point| point.0).sum::<f64>();
    let mean_y = share * points.iter().map(|point| point.1).sum::<f64>();
    let (mut xx, mut xy) = (0.0, 0.0);
    for (x, y) in points {
        xx += (x - mean_x).powi(2);
        xy += (x - mean_x) * (y - mean_y);
    }
    if xx <= 0.0 {
        return None;
    }
    let slope = xy / xx;
    let offset = mean_y - slope * mean_x;
    let squares: f64 = points
        .iter()
        .map(|(x, y)| (y - offset - slope * x).powi(2))
        .sum();
    Some(Fit {
        offset,
        slope,
        slope_error: (squares / (count as f64 - 2.0) / xx).sqrt(),
        rms: (share * squares).sqrt(),
        count,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strays_are_left_out() {
        let points: Vec<(f64, f64)> = (0..50)
            .map(|at| {
                let x = f64::from(at);
                let stray = if at % 10 == 3 { 5.0 } else { 0.0 };
                (x, 2.0 + 0.3 * x + 0.01 * f64::from(at % 3 - 1) + stray)
            })
            .collect();
        let found = fit(&points, 0.05).unwrap();
        assert_eq!(found.count, 45);
        assert!(
            (found.slope - 0.3).abs() < 2e-4 && (found.offset - 2.0).abs() < 5e-3,
            "{found:?}"
        );
        assert!(fit(&points[..2], 0.1).is_none());
        assert!(fit(&[(1.0, 2.0); 5], 0.1).is_none());
    }
}
