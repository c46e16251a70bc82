//! From the widest an error can be to what may be said of a result.
//!
//! Source: JCGM 100:2008 (GUM); NIST/SEMATECH e-Handbook of Statistical Methods, 2.5.7.

use super::combine::rectangular;
use super::coverage::about_both;
use super::measuring::Measuring;

/// What is known of the error of one measured value.
///
/// The tape's error is not known to be one and the same for all readings (the blade is long or
/// short), nor to be fresh for each (it is held anew, pulled anew). So both are carried, and
/// [`Spread::of`] takes the worse for the result in hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ErrorModel {
    /// Variance of what is this value's own whatever the tape does, mm^2.
    own: f64,
    /// Variance from the panel's uneven moulding, mm^2.
    moulding: f64,
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
            moulding: 0.0,
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
            moulding: 0.0,
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
            moulding: 0.0,
            tape_each: a.tape_each + b.tape_each,
            tape_common: apart.tape_common,
            limit: a.limit + b.limit,
        }
    }

    /// How far the middle of two features lies from the panel's, which nobody reads: 0 but for
    /// `moulding`, a standard deviation in mm.
    pub(crate) fn unevenness(moulding: f64) -> Self {
        Self {
            own: 0.0,
            moulding: moulding * moulding,
            tape_each: 0.0,
            tape_common: 0.0,
            limit: f64::INFINITY,
        }
    }

    /// The same value on a panel that is moulded unevenly.
    pub(crate) fn on_uneven(self, moulding: f64) -> Self {
        Self {
            moulding: moulding * moulding,
            ..self
        }
    }

    /// Variance of the value's own scatter about its neighbours, mm^2.
    pub(crate) fn scatter(&self) -> f64 {
        self.own + self.moulding + self.tape_each
    }

    /// The most that the value can be wrong by, mm.
    pub(crate) fn limit(&self) -> f64 {
        self.limit
    }
}

/// Degrees of freedom that the expected scatter is worth: those of a variance whose root is known
/// to some 30 % of itself, 1 / (2 x 0.29^2) (GUM G.4.2, equation G.3). A design value: simulation
/// says that with it the told intervals are neither too narrow on panels that are less even than
/// expected, nor too wide on the others.
const EXPECTED_FREEDOM: f64 = 6.0;

/// How much values scatter: what was expected of them and what is seen, pooled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Scatter {
    /// Variance over that of [`ErrorModel::scatter`].
    factor: f64,
    /// Degrees of freedom that this is known with.
    freedom: f64,
}

impl Scatter {
    /// As expected, and taken as known.
    pub(crate) const EXPECTED: Self = Self {
        factor: 1.0,
        freedom: f64::INFINITY,
    };

    /// What was expected, pooled with a `chi_squared` of `freedom` degrees of freedom that is seen
    /// (GUM 4.2.4; the expected variance counts as if seen with [`EXPECTED_FREEDOM`]).
    pub(crate) fn seen(chi_squared: f64, freedom: usize) -> Self {
        let both = EXPECTED_FREEDOM + freedom as f64;
        Self {
            factor: (EXPECTED_FREEDOM + chi_squared) / both,
            freedom: both,
        }
    }

    /// Scatter over what was expected.
    pub(crate) fn ratio(self) -> f64 {
        self.factor.sqrt()
    }

    /// Degrees of freedom that it is known with.
    pub(crate) fn freedom(self) -> f64 {
        self.freedom
    }

    /// Variance of a value less what a fresh tape error adds, mm^2: by the scatter, though never
    /// less than rounding and eye explain.
    fn own(self, model: &ErrorModel) -> f64 {
        (self.factor * model.scatter() - model.tape_each).max(model.own)
    }
}

/// Variances of a result, mm^2, kept apart by how well they are known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Spread {
    /// From what is each value's own.
    pub(crate) own: f64,
    /// Degrees of freedom of that.
    freedom: f64,
    /// From the tape, the worse of fresh and common errors.
    pub(crate) tape: f64,
    /// The most that a common error of the tape moves the result, mm; 0 where fresh ones are worse.
    tape_common: f64,
}

impl Spread {
    /// Of the sum of values, each times its coefficient (GUM 5.1.2 for the fresh errors, 5.2.2
    /// with all correlations 1 for the common one).
    ///
    /// Errors that are partly common, with any one correlation from 0 to 1 between readings, give
    /// a variance between the two that are compared here, so the larger covers them too.
    pub(crate) fn of(models: &[ErrorModel], coefficients: &[f64], scatter: Scatter) -> Self {
        let (mut own, mut each, mut common) = (0.0, 0.0, 0.0);
        for (model, coefficient) in models.iter().zip(coefficients) {
            let squared = coefficient * coefficient;
            own += squared * scatter.own(model);
            each += squared * model.tape_each;
            common += coefficient * model.tape_common;
        }
        let shared = rectangular(common).powi(2);
        Self {
            own,
            freedom: scatter.freedom,
            tape: each.max(shared),
            tape_common: if shared > each { common.abs() } else { 0.0 },
        }
    }

    /// Standard uncertainty of all of it, mm.
    pub(crate) fn standard(&self) -> f64 {
        (self.own + self.tape).sqrt()
    }

    /// Half-width of the interval that holds the true value in [`COVERAGE`](super::coverage::COVERAGE) of all cases, mm, and
    /// the degrees of freedom of its normal part; `open` is how far something else, that lies
    /// anywhere within it, moves the result at most, mm.
    ///
    /// The wider rectangle of tape and `open` stays a rectangle; all else is taken as normal, with
    /// the effective degrees of freedom of Welch and Satterthwaite (GUM G.4.1, equation G.2b).
    pub(crate) fn half_width(&self, open: f64) -> (f64, f64) {
        let widest = self.tape_common.max(open);
        let flat = self.tape + rectangular(open).powi(2) - rectangular(widest).powi(2);
        let variance = self.own + flat.max(0.0);
        let freedom = self.freedom * (variance / self.own).powi(2);
        (about_both(widest, variance.sqrt(), freedom), freedom)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_common_tape_error_is_not_averaged_away() {
        let measuring = Measuring::default();
        let reading = |length| ErrorModel::reading(length, &measuring, 0.5, 1.0);
        let pair = ErrorModel::midpoint(reading(112.0), reading(868.0));
        let one = Spread::of(&[pair], &[1.0], Scatter::EXPECTED);
        let many = Spread::of(&[pair; 100], &[0.01; 100], Scatter::EXPECTED);
        // 0.5 mm is permitted to a class II tape up to a metre.
        assert!((one.tape - 0.25 / 3.0).abs() < 1e-12, "{}", one.tape);
        assert!((many.tape - one.tape).abs() < 1e-12, "{}", many.tape);
        assert!((many.own - one.own / 100.0).abs() < 1e-12, "{}", many.own);
    }

    #[test]
    fn fresh_tape_errors_win_where_a_common_one_cancels() {
        let measuring = Measuring::default();
        let reading = ErrorModel::reading(500.0, &measuring, 0.5, 1.0);
        let spread = Spread::of(&[reading; 2], &[1.0, -1.0], Scatter::EXPECTED);
        assert!((spread.tape - 2.0 * 0.25 / 3.0).abs() < 1e-12);
    }

    /// Six degrees of freedom are expected; four seen, with three times the variance, make it
    /// (6 + 12) / 10 of what was expected.
    #[test]
    fn scatter_is_pooled_and_never_less_than_the_eye_explains() {
        let measuring = Measuring::default();
        let reading = ErrorModel::reading(500.0, &measuring, 0.5, 1.0);
        let model = reading.on_uneven(0.6);
        let seen = Scatter::seen(12.0, 4);
        assert_eq!((seen.factor, seen.freedom), (1.8, 10.0));
        let calm = Spread::of(&[model], &[1.0], Scatter::EXPECTED);
        let raised = Spread::of(&[model], &[1.0], seen);
        let grown = raised.own - calm.own;
        assert!((grown - 0.8 * model.scatter()).abs() < 1e-12, "{grown}");
        // Eye and rounding alone, however well the pairs agree by chance.
        let agreeing = Spread::of(&[model], &[1.0], Scatter::seen(0.0, 40));
        assert!((agreeing.own - reading.own).abs() < 1e-12, "{agreeing:?}");
        // With 8 of 12 of the variance due to it, Welch and Satterthwaite make 4 times 9/4.
        let part = Spread {
            own: 8.0,
            freedom: 4.0,
            tape: 4.0,
            tape_common: 0.0,
        };
        let (half, freedom) = part.half_width(0.0);
        assert!((freedom - 9.0).abs() < 1e-12, "{freedom}");
        // GUM table G.2: t of 9 degrees of freedom at 95.45 % is 2.32.
        assert!((half / 12.0_f64.sqrt() - 2.32).abs() < 0.005, "{half}");
    }
}
