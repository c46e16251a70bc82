//! A weighted straight line through the middles of pairs, with what is known of its slope.
//!
//! About the weighted mean depth, the offset and the slope of a weighted least squares line do
//! not mix, so both are plain weighted means and no system is solved. Every value that the line
//! gives is a sum of the middles times coefficients; uncertainty follows from those alone.

use super::combine::{rectangular, root_sum_square};
use super::uncertainty::{ErrorModel, Scatter, Spread};

/// The middle of one pair at its depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Sighting {
    pub(crate) depth: f64,
    pub(crate) middle: f64,
    pub(crate) errors: ErrorModel,
}

/// How the slope is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum SlopeFrom {
    /// From the readings where they settle it better than the limit does, else taken as 0.
    ReadingsOrLimit,
    /// From the readings and the limit together, each weighted by how much it tells: the limit
    /// counts as one more observation, of slope 0.
    Both,
}

#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    depths: Vec<f64>,
    errors: Vec<ErrorModel>,
    /// `1 / variance` of each middle, 1/mm^2.
    weights: Vec<f64>,
    total_weight: f64,
    mean_depth: f64,
    /// Weighted sum of squares of depths about their mean.
    depth_squares: f64,
    mean_middle: f64,
    slope: f64,
    /// Share of the readings' own slope that is taken over, 0 to 1.
    kept: f64,
    /// The widest that the slope can be.
    slope_limit: f64,
    scatter: Scatter,
    chi_squared: f64,
    freedom: usize,
}

impl Line {
    /// Through at least one sighting; `slope_limit` is the widest that the slope can be, 0 or more.
    pub(crate) fn through(sightings: &[Sighting], slope_limit: f64, from: SlopeFrom) -> Self {
        let errors: Vec<_> = sightings.iter().map(|s| s.errors).collect();
        let weights: Vec<_> = errors.iter().map(|e| 1.0 / e.scatter()).collect();
        let total_weight: f64 = weights.iter().sum();
        let weighted = |value: &dyn Fn(&Sighting) -> f64| {
            let products = weights.iter().zip(sightings).map(|(w, s)| w * value(s));
            products.sum::<f64>()
        };
        let mean_depth = weighted(&|s| s.depth) / total_weight;
        let mean_middle = weighted(&|s| s.middle) / total_weight;
        let depth_squares = weighted(&|s| (s.depth - mean_depth).powi(2));
        let cross = weighted(&|s| (s.depth - mean_depth) * (s.middle - mean_middle));
        let middle_squares = weighted(&|s| (s.middle - mean_middle).powi(2));

        let mut line = Self {
            depths: sightings.iter().map(|s| s.depth).collect(),
            errors,
            weights,
            total_weight,
            mean_depth,
            depth_squares,
            mean_middle,
            slope: 0.0,
            kept: 1.0,
            slope_limit,
            scatter: Scatter::EXPECTED,
            chi_squared: 0.0,
            freedom: sightings.len() - 1,
        };
        // What the limit tells of the slope, beside what the readings tell.
        let limit_weight = rectangular(slope_limit).powi(-2);
        let fitted = from == SlopeFrom::ReadingsOrLimit && line.readings_settle_slope();
        let held = if fitted { 0.0 } else { limit_weight };
        line.kept = match from {
            SlopeFrom::ReadingsOrLimit => f64::from(u8::from(fitted)),
            SlopeFrom::Both => depth_squares / (depth_squares + held),
        };
        if line.kept > 0.0 {
            line.slope = line.kept * cross / depth_squares;
        }
        let explained = if depth_squares > 0.0 {
            cross * cross / (depth_squares + held)
        } else {
            0.0
        };
        line.chi_squared = (middle_squares - explained).max(0.0);
        line.freedom -= usize::from(fitted);
        line.scatter = Scatter::seen(line.chi_squared, line.freedom);
        line
    }

    /// Judged from the depths alone, so that the choice does not hang on the noise of the middles.
    fn readings_settle_slope(&self) -> bool {
        self.depth_squares > 0.0
            && Spread::of(&self.errors, &self.slope_coefficients(), Scatter::EXPECTED).standard()
                < rectangular(self.slope_limit)
    }

    fn slope_coefficients(&self) -> Vec<f64> {
        if self.kept == 0.0 {
            return vec![0.0; self.depths.len()];
        }
        let arms = self.weights.iter().zip(&self.depths);
        arms.map(|(w, y)| self.kept * w * (y - self.mean_depth) / self.depth_squares)
            .collect()
    }

    /// What each middle counts for in the line's middle at `depth`; they sum to 1.
    pub(crate) fn coefficients(&self, depth: f64) -> Vec<f64> {
        let slopes = self.slope_coefficients();
        let parts = self.weights.iter().zip(slopes);
        parts
            .map(|(w, slope)| w / self.total_weight + slope * (depth - self.mean_depth))
            .collect()
    }

    pub(crate) fn middle(&self, depth: f64) -> f64 {
        self.mean_middle + self.slope * (depth - self.mean_depth)
    }

    pub(crate) fn slope(&self) -> f64 {
        self.slope
    }

    /// Whether the slope is the readings' own.
    pub(crate) fn slope_is_fitted(&self) -> bool {
        self.kept == 1.0
    }

    /// Half-width that a fitted slope is known to.
    pub(crate) fn slope_uncertainty(&self) -> f64 {
        let spread = Spread::of(&self.errors, &self.slope_coefficients(), self.scatter);
        spread.half_width(0.0).0
    }

    /// Half-width that the line's middle at `depth` is known to, mm, and its degrees of freedom.
    pub(crate) fn uncertainty(&self, depth: f64) -> (f64, f64) {
        let spread = Spread::of(&self.errors, &self.coefficients(depth), self.scatter);
        spread.half_width(self.open_slope(depth))
    }

    /// How far the slope that the readings leave open may move the line's middle at `depth`, mm.
    fn open_slope(&self, depth: f64) -> f64 {
        (1.0 - self.kept) * self.slope_limit * (depth - self.mean_depth).abs()
    }

    /// Standard uncertainty of what is left of the middle `index` after the line, mm, with the
    /// scatter that was expected.
    pub(crate) fn residual_uncertainty(&self, index: usize) -> f64 {
        let mut left_over = self.coefficients(self.depths[index]);
        for coefficient in &mut left_over {
            *coefficient = -*coefficient;
        }
        left_over[index] += 1.0;
        self.standard(&self.errors, &left_over, self.depths[index])
    }

    /// Standard uncertainty of the difference between a sighting that the line has not used and
    /// the line there, mm, with the scatter that was expected.
    pub(crate) fn difference_uncertainty(&self, other: &Sighting) -> f64 {
        let mut errors = self.errors.clone();
        errors.push(other.errors);
        let mut coefficients = self.coefficients(other.depth);
        coefficients.push(-1.0);
        self.standard(&errors, &coefficients, other.depth)
    }

    /// Of a sum of middles and what the open slope adds at `depth`, with the expected scatter.
    fn standard(&self, errors: &[ErrorModel], coefficients: &[f64], depth: f64) -> f64 {
        let spread = Spread::of(errors, coefficients, Scatter::EXPECTED);
        root_sum_square([spread.standard(), rectangular(self.open_slope(depth))])
    }

    /// Weighted sum of squares of what the line leaves over, the slope's limit counted in where
    /// the readings do not settle the slope.
    pub(crate) fn chi_squared(&self) -> f64 {
        self.chi_squared
    }

    pub(crate) fn freedom(&self) -> usize {
        self.freedom
    }

    /// How much the middles scatter, seen and expected together.
    pub(crate) fn scatter(&self) -> Scatter {
        self.scatter
    }
}
