//! A profile from readings, each good to a stated error.
//!
//! The curve is the not-a-knot cubic through smoothed readings. Smoothing trades the sum of
//! squared residuals against `integral f'''^2`, which is 0 for a parabola: it draws readings
//! towards a panel of even curvature and never towards a flat one. How much is settled by
//! generalised cross-validation (Craven and Wahba, 1979; from memory), so that readings without
//! noise are left as they are, and never so much that a residual exceeds the reading error.

use super::{Profile, SurfaceError};
use crate::geometry::Spline;
use nalgebra::{DMatrix, SymmetricEigen};

/// How well a reading is known unless it is said, mm.
pub const READING_ERROR: f64 = 0.5;

/// More readings than this say nothing more of one cross-section.
pub const MOST_READINGS: usize = 200;

/// Of all the smoothings that cross-validation puts nearly on a par with the best, the least is
/// taken: this much above the best score is on a par.
const ON_A_PAR: f64 = 1.3;

/// A reading this many reading errors off what the others foretell may be called rough.
const FAR_OFF: f64 = 3.0;

/// ... if without it the roughness of the curve falls below this part. Tried on noise, which is
/// called rough in fewer than 1 of 100 profiles, and on single slips of ten reading errors, which
/// are named in more than 8 of 10.
const COLLAPSE: f64 = 0.1;

/// Smoothing by cross-validation alone that needs this many reading errors is called rough too.
const OVERSMOOTHED: f64 = 1.5;

/// Fewer readings than this cannot tell a slip from a bend.
const FEWEST_TO_JUDGE: usize = 6;

/// Steps that the eigenvalues of [`MOST_READINGS`] readings are found in: two or three each, and
/// ten times that for safety.
const MOST_STEPS: usize = 6000;

/// What smoothing did to the readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Smoothing {
    /// Reading less curve at each reading, mm.
    pub residuals: Vec<f64>,
    /// The reading farthest from the curve, counted from 0.
    pub largest: usize,
    /// A reading that no smooth developable panel would give.
    pub rough: Option<RoughReading>,
}

/// A reading that does not go with the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoughReading {
    /// Which, counted from 0.
    pub reading: usize,
    /// Where along the panel, mm.
    pub at: f64,
    /// What was read, mm.
    pub read: f64,
    /// What the other readings foretell there, mm.
    pub foretold: f64,
}

/// The profile of `readings`: place along the panel and how far the panel falls away from the
/// reader there, mm. Places must rise; `error` is how well each is known, mm, 0 or more, and 0
/// leaves the readings as they are. Two readings give a straight line, three a parabola.
///
/// The curve is then moved to fall 0 at place 0.
///
/// # Errors
/// Refuses fewer than two readings or more than [`MOST_READINGS`], places that do not rise,
/// numbers that are not finite, and a negative error.
pub fn profile_of_readings(
    readings: &[(f64, f64)],
    error: f64,
) -> Result<(Profile, Smoothing), SurfaceError> {
    let count = readings.len();
    if !(2..=MOST_READINGS).contains(&count) {
        return Err(SurfaceError::ReadingCount { count });
    }
    let finite = |&(at, fall): &(f64, f64)| at.is_finite() && fall.is_finite();
    if let Some(reading) = readings.iter().position(|reading| !finite(reading)) {
        return Err(SurfaceError::ReadingNotFinite { reading });
    }
    if let Some(before) = readings.windows(2).position(|pair| pair[0].0 >= pair[1].0) {
        return Err(SurfaceError::ReadingOrder {
            reading: before + 1,
        });
    }
    if !(error.is_finite() && error >= 0.0) {
        return Err(SurfaceError::ReadingError { error });
    }
    let modes = Modes::of(readings).ok_or_else(|| SurfaceError::ReadingOrder {
        reading: closest(readings),
    })?;
    let (fewest, best) = modes.cross_validated();
    let residuals = modes.residuals(modes.within(error, fewest));
    let smoothed: Vec<(f64, f64)> = readings
        .iter()
        .zip(&residuals)
        .map(|(&(at, fall), residual)| (at, fall - residual))
        .collect();
    let spline = Spline::through(&smoothed).ok_or(SurfaceError::ReadingCount { count })?;
    let rough = (count >= FEWEST_TO_JUDGE)
        .then(|| slip(readings, error).or_else(|| modes.oversmoothed(readings, best, error)))
        .flatten();
    let smoothing = Smoothing {
        largest: largest(&residuals),
        residuals,
        rough,
    };
    Ok((Profile::curve(spline), smoothing))
}

/// The readings taken apart into shapes of rising roughness.
struct Modes {
    /// Roughness of each shape, its heights at the readings, and its share in them.
    modes: Vec<(f64, Vec<f64>, f64)>,
}

impl Modes {
    /// None where readings lie so close that numbers run out.
    fn of(readings: &[(f64, f64)]) -> Option<Self> {
        let SymmetricEigen {
            eigenvalues,
            eigenvectors,
        } = SymmetricEigen::try_new(roughness(readings), f64::EPSILON, MOST_STEPS)?;
        let mut modes: Vec<(f64, Vec<f64>, f64)> = eigenvalues
            .iter()
            .zip(eigenvectors.column_iter())
            .map(|(rough, shape)| {
                let share = shape.iter().zip(readings).map(|(a, b)| a * b.1).sum();
                (rough.max(0.0), shape.iter().copied().collect(), share)
            })
            .collect();
        modes.sort_by(|one, other| one.0.total_cmp(&other.0));
        // Parabolas have none: what is there is rounding.
        modes.iter_mut().take(3).for_each(|mode| mode.0 = 0.0);
        Some(Self { modes })
    }

    /// Reading less curve under one weight of the roughness.
    fn residuals(&self, weight: f64) -> Vec<f64> {
        let mut residuals = vec![0.0; self.modes.len()];
        for (rough, shape, share) in &self.modes {
            let removed = part_removed(weight, *rough) * share;
            for (residual, height) in residuals.iter_mut().zip(shape) {
                *residual += removed * height;
            }
        }
        residuals
    }

    /// Weights to try, rising, from no smoothing worth the name to nearly a parabola.
    fn weights(&self) -> Vec<f64> {
        let mut rough = self
            .modes
            .iter()
            .map(|mode| mode.0)
            .filter(|rough| *rough > 0.0);
        let Some(least) = rough.next() else {
            return Vec::new();
        };
        let most = rough.next_back().unwrap_or(least);
        let (from, to) = (libm::log10(1e-2 / most), libm::log10(1e4 / least));
        (0..=120)
            .map(|step| libm::exp10(from + (to - from) * f64::from(step) / 120.0))
            .collect()
    }

    /// The least weight on a par with the best by generalised cross-validation, and the best.
    fn cross_validated(&self) -> (f64, f64) {
        let weights = self.weights();
        let scores: Vec<f64> = weights.iter().map(|&weight| self.score(weight)).collect();
        let best = scores.iter().copied().fold(f64::INFINITY, f64::min);
        let first = |limit: f64| {
            scores
                .iter()
                .position(|&score| score <= limit)
                .map_or(0.0, |index| weights[index])
        };
        (first(best * ON_A_PAR), first(best))
    }

    fn score(&self, weight: f64) -> f64 {
        let mut squares = 0.0;
        let mut freedom = 0.0;
        for (rough, _, share) in &self.modes {
            let removed = part_removed(weight, *rough);
            squares += (removed * share).powi(2);
            freedom += removed;
        }
        squares / (freedom * freedom)
    }

    /// `weight`, or where a residual would exceed `error` the largest at which none does.
    fn within(&self, error: f64, weight: f64) -> f64 {
        let fits = |weight: f64| self.residuals(weight).iter().all(|r| r.abs() <= error);
        if fits(weight) {
            return weight;
        }
        let (mut low, mut high) = (0.0, weight);
        for _ in 0..60 {
            let middle = (low + high) / 2.0;
            if fits(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    }

    /// The reading that the best smoothing leaves too far off, if one is.
    fn oversmoothed(&self, readings: &[(f64, f64)], best: f64, error: f64) -> Option<RoughReading> {
        let residuals = self.residuals(best);
        let reading = largest(&residuals);
        let (at, read) = readings[reading];
        (residuals[reading].abs() > OVERSMOOTHED * error.max(f64::MIN_POSITIVE)).then(|| {
            RoughReading {
                reading,
                at,
                read,
                foretold: read - residuals[reading],
            }
        })
    }
}

fn part_removed(weight: f64, rough: f64) -> f64 {
    weight * rough / (1.0 + weight * rough)
}

/// The second of the two readings that lie closest.
fn closest(readings: &[(f64, f64)]) -> usize {
    let apart = |reading: &usize| readings[*reading].0 - readings[reading - 1].0;
    (1..readings.len())
        .min_by(|one, other| apart(one).total_cmp(&apart(other)))
        .unwrap_or(0)
}

fn largest(residuals: &[f64]) -> usize {
    (0..residuals.len())
        .max_by(|&one, &other| residuals[one].abs().total_cmp(&residuals[other].abs()))
        .unwrap_or(0)
}

/// The matrix whose quadratic form is `integral f'''^2` of the cubic through readings.
fn roughness(readings: &[(f64, f64)]) -> DMatrix<f64> {
    let count = readings.len();
    let columns: Vec<Vec<f64>> = (0..count)
        .map(|one| {
            let unit: Vec<(f64, f64)> = readings
                .iter()
                .enumerate()
                .map(|(at, reading)| (reading.0, f64::from(u8::from(at == one))))
                .collect();
            Spline::through(&unit).map_or_else(Vec::new, |spline| spline.third_derivatives())
        })
        .collect();
    let product = |one: &[f64], other: &[f64]| -> f64 {
        readings
            .windows(2)
            .zip(one.iter().zip(other))
            .map(|(pair, (a, b))| (pair[1].0 - pair[0].0) * a * b)
            .sum()
    };
    DMatrix::from_fn(count, count, |row, column| {
        product(&columns[row], &columns[column])
    })
}

/// `integral f'''^2` of the cubic through the readings.
fn roughness_of(readings: &[(f64, f64)], spline: &Spline) -> f64 {
    readings
        .windows(2)
        .zip(spline.third_derivatives())
        .map(|(pair, third)| (pair[1].0 - pair[0].0) * third * third)
        .sum()
}

/// The one reading without which the rest are smooth, and which lies far from them.
fn slip(readings: &[(f64, f64)], error: f64) -> Option<RoughReading> {
    let whole = roughness_of(readings, &Spline::through(readings)?);
    let without = |reading: usize| -> Option<(f64, RoughReading)> {
        let mut others = readings.to_vec();
        let (at, read) = others.remove(reading);
        let spline = Spline::through(&others)?;
        let foretold = spline.at(at);
        let far = (read - foretold).abs() > FAR_OFF * error;
        let left = roughness_of(&others, &spline);
        let rough = RoughReading {
            reading,
            at,
            read,
            foretold,
        };
        (far && left < COLLAPSE * whole).then_some((left, rough))
    };
    // Beyond its last reading a curve foretells nothing.
    (1..readings.len() - 1)
        .filter_map(without)
        .min_by(|one, other| one.0.total_cmp(&other.0))
        .map(|(_, rough)| rough)
}
