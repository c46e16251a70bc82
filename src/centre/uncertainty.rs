//! From the widest an error can be to what may be said of a result.
//!
//! Source: JCGM 100:2008 (GUM); NIST/SEMATECH e-Handbook of Statistical Methods, 2.5.7.

use super::readings::Measuring;

/// Coverage factor of every uncertainty that is told: about 95 % (GUM 6.3.3).
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

/// What is known of the error of one measured value.
///
/// The tape's error is not known to be one and the same for all readings (the blade is long or
/// short), nor to be fresh for each (it is held anew, pulled anew). So both are carried, and
/// [`Spread::of`] takes the worse for the result in hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ErrorModel {
    /// Variance of what is this value's own whatever the tape does, mm^2.
    own: f64,
    /// Variance from the tape if its error is fresh for each reading, mm^2.
    tape_each: f64,
    /// The most that the tape moves this value if its error is the same for all, mm.
    tape_common: f64,
    /// The most that this value can be wrong by, mm.
    limit: f64,
}

impl ErrorModel {
    /// A length of `length` mm read once, between ends found by eye `eyes` times (at the reading,
    /// and at the zero too where that is a feature), each within `reading` mm.
    pub(crate) fn reading(length: f64, measuring: &Measuring, reading: f64, eyes: f64) -> Self {
        let tape = measuring.tape.permissible_error(length);
        let found = rectangular(reading);
        let rounded = measuring.tape.rounding();
        Self {
            own: rounded * rounded + eyes * found * found,
            tape_each: rectangular(tape).powi(2),
            tape_common: tape,
            limit: measuring.tape.graduation / 2.0 + eyes * reading + tape,
        }
    }

    /// Half the sum of two readings from one zero. A common error moves both the same way, so
    /// the middle by the mean of what is permitted at each: no less, as a hook that is off moves
    /// both in full, and no more.
    pub(crate) fn midpoint(a: Self, b: Self) -> Self {
        Self {
            own: (a.own + b.own) / 4.0,
            tape_each: (a.tape_each + b.tape_each) / 4.0,
            tape_common: (a.tape_common + b.tape_common) / 2.0,
            limit: (a.limit + b.limit) / 2.0,
        }
    }

    /// The difference of two readings that lie close together on the tape, `apart` being the
    /// same tape's reading of the difference itself: a common error is that of the difference.
    pub(crate) fn difference(a: Self, b: Self, apart: Self) -> Self {
        Self {
            own: a.own + b.own,
            tape_each: a.tape_each + b.tape_each,
            tape_common: apart.tape_common,
            limit: a.limit + b.limit,
        }
    }

    /// Variance of the value's own scatter about its neighbours, mm^2.
    pub(crate) fn scatter(&self) -> f64 {
        self.own + self.tape_each
    }

    /// The most that the value can be wrong by, mm.
    pub(crate) fn limit(&self) -> f64 {
        self.limit
    }
}

/// Variances of a result, mm^2, kept apart by where they come from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spread {
    /// From what is each reading's own, raised by the scatter that is seen.
    pub(crate) own: f64,
    /// From the tape, the worse of fresh and common errors.
    pub(crate) tape: f64,
}

impl Spread {
    /// Of the sum of values, each times its coefficient (GUM 5.1.2 for the fresh errors, 5.2.2
    /// with all correlations 1 for the common one). `ratio`, 1 or more, is by how much the
    /// values scatter beyond their [`ErrorModel::scatter`].
    ///
    /// Errors that are partly common, with any one correlation from 0 to 1 between readings, give
    /// a variance between the two that are compared here, so the larger covers them too.
    pub(crate) fn of(models: &[ErrorModel], coefficients: &[f64], ratio: f64) -> Self {
        let excess = ratio * ratio - 1.0;
        let (mut own, mut each, mut common) = (0.0, 0.0, 0.0);
        for (model, coefficient) in models.iter().zip(coefficients) {
            let squared = coefficient * coefficient;
            own += squared * (model.own + excess * model.scatter());
            each += squared * model.tape_each;
            common += coefficient * model.tape_common;
        }
        Self {
            own,
            tape: each.max(rectangular(common).powi(2)),
        }
    }

    /// Standard uncertainty of all of it, mm.
    pub(crate) fn standard(&self) -> f64 {
        (self.own + self.tape).sqrt()
    }
}

/// By how much values scatter beyond what was expected of them, never less than 1: the Birge
/// ratio of `chi_squared` over `freedom` degrees of freedom (R. T. Birge, Phys. Rev. 40, 1932).
/// 1 where there is nothing to judge by.
pub(crate) fn scatter_ratio(chi_squared: f64, freedom: usize) -> f64 {
    if freedom == 0 {
        return 1.0;
    }
    (chi_squared / freedom as f64).max(1.0).sqrt()
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

    #[test]
    fn a_common_tape_error_is_not_averaged_away() {
        let measuring = Measuring::default();
        let reading = |length| ErrorModel::reading(length, &measuring, 0.5, 1.0);
        let pair = ErrorModel::midpoint(reading(112.0), reading(868.0));
        let one = Spread::of(&[pair], &[1.0], 1.0);
        let many = Spread::of(&[pair; 100], &[0.01; 100], 1.0);
        // 0.5 mm is permitted to a class II tape up to a metre.
        assert!((one.tape - 0.25 / 3.0).abs() < 1e-12, "{}", one.tape);
        assert!((many.tape - one.tape).abs() < 1e-12, "{}", many.tape);
        assert!((many.own - one.own / 100.0).abs() < 1e-12, "{}", many.own);
    }

    #[test]
    fn fresh_tape_errors_win_where_a_common_one_cancels() {
        let measuring = Measuring::default();
        let reading = ErrorModel::reading(500.0, &measuring, 0.5, 1.0);
        let spread = Spread::of(&[reading; 2], &[1.0, -1.0], 1.0);
        assert!((spread.tape - 2.0 * 0.25 / 3.0).abs() < 1e-12);
    }

    #[test]
    fn scatter_raises_and_never_lowers() {
        assert_eq!(scatter_ratio(0.1, 4), 1.0);
        assert_eq!(scatter_ratio(5.0, 0), 1.0);
        assert_eq!(scatter_ratio(16.0, 4), 2.0);
        let model = ErrorModel::reading(500.0, &Measuring::default(), 0.5, 1.0);
        let calm = Spread::of(&[model], &[1.0], 1.0);
        let raised = Spread::of(&[model], &[1.0], 2.0);
        let grown = raised.own - calm.own;
        assert!((grown - 3.0 * model.scatter()).abs() < 1e-12, "{grown}");
    }
}
