//! Standard uncertainties, and how they come together.
//!
//! Source: JCGM 100:2008 (GUM).

/// Coverage factor of what explains a residual: about 95 % (GUM 6.3.3).
pub const COVERAGE_FACTOR: f64 = 2.0;

/// Standard uncertainty of an error that lies anywhere within `half_width` either way, in the same
/// unit: `a / sqrt 3` (GUM 4.3.7).
pub fn rectangular(half_width: f64) -> f64 {
    half_width / 3.0_f64.sqrt()
}

/// Root of the sum of squares: what independent parts come to together (GUM 5.1.2).
pub fn root_sum_square(parts: impl IntoIterator<Item = f64>) -> f64 {
    parts
        .into_iter()
        .map(|part| part * part)
        .sum::<f64>()
        .sqrt()
}

/// Expanded uncertainty, `k = 2`, of a `standard` one (GUM 6.2.1).
pub fn expanded(standard: f64) -> f64 {
    COVERAGE_FACTOR * standard
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The worked budget: half-widths with the sums that they come to.
    #[test]
    fn the_worked_budget_comes_out() {
        let half_widths = [0.5, 0.25, 0.84, 0.84, 0.5, 0.5];
        let worst: f64 = half_widths.iter().sum();
        let together = root_sum_square(half_widths);
        let standard = root_sum_square(half_widths.map(rectangular));
        for (found, wanted, within) in [
            (worst, 3.43, 1e-12),
            (together, 1.491, 5e-4),
            (standard, 0.8609, 5e-5),
            (expanded(standard), 1.722, 5e-4),
        ] {
            assert!(
                (found - wanted).abs() < within,
                "{found} is not {wanted} within {within}"
            );
        }
    }
}
