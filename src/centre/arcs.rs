//! The middle by arcs: distances from mirrored features to one mark.
//!
//! For a panel with no end to start a tape from. A pencil mark is made near the middle. From a
//! feature on the vehicle's left, and from its mirror image on the right, the distance to the mark
//! is measured, and, if they can be reached, the distance from the one to the other. Were the two
//! radii equal, the arcs swung from both would cross on the centreline, and the mark would lie on
//! it; as they differ, the mark lies off it by `x`, and the centreline is so far to the other side.
//!
//! With the centreline as one axis, features of swing `k` at `(-s, 0)` and `(s, 0)` and the mark
//! at `(x, h)`, `h` being how much deeper it lies than they do:
//!
//! ```text
//! left^2 = (x + s)^2 + h^2      right^2 = (x - s)^2 + h^2      apart = 2 s
//! x = (left^2 - right^2) / (2 apart)
//! ```
//!
//! Several swings to one mark share `x` and have `s` and `h` each: weighted least squares over
//! everything measured.

use super::centreline::Estimate;
use super::least_squares::{Prediction, Solution, solve};
use super::problem::{ArcGap, CentreError};
use super::readings::{Measuring, is_length};
use super::uncertainty::{
    ErrorModel, Spread, expanded, rectangular, root_sum_square, scatter_ratio,
};

/// Distances from a left and a right feature, mirror images of each other, to the mark.
#[derive(Debug, Clone, PartialEq)]
pub struct Swing {
    /// Name of the features.
    pub name: String,
    /// From the feature on the vehicle's left to the mark, mm.
    pub left: f64,
    /// From the feature on the vehicle's right to the mark, mm.
    pub right: f64,
    /// From the one feature to the other, mm, where it was measured; where it was not, the mark
    /// is taken to lie between them.
    pub apart: Option<f64>,
    /// Where the features lie, from the datum edge, mm.
    pub depth: f64,
}

/// All that was measured to one mark.
#[derive(Debug, Clone, PartialEq)]
pub struct ArcReadings {
    /// How it was measured.
    pub measuring: Measuring,
    /// Where the mark lies, from the datum edge, mm.
    pub mark_depth: f64,
    /// The swings, at least one.
    pub swings: Vec<Swing>,
}

/// What is left of one measured distance after the fit.
#[derive(Debug, Clone, PartialEq)]
pub struct ArcResidual {
    /// Name of the swing.
    pub name: String,
    /// Which distance: `left`, `right`, `apart` or `depth` (how much deeper the mark lies).
    pub what: &'static str,
    /// As measured, mm.
    pub measured: f64,
    /// That less what the fit gives, mm.
    pub residual: f64,
    /// What tape and eye explain of it, expanded, `k = 2`, mm either way.
    pub explained: f64,
}

/// Where the mark lies from the centreline.
#[derive(Debug, Clone, PartialEq)]
pub struct ArcCentre {
    mark_right_by: f64,
    spread: Spread,
    mark_depth: f64,
    slope_limit: f64,
    ratio: f64,
    residuals: Vec<ArcResidual>,
}

impl ArcCentre {
    /// How far the mark lies to the vehicle's right of the centreline, mm; negative where it lies
    /// to the left. The centreline is to be drawn that far to the other side of the mark.
    pub fn mark_right_by(&self) -> f64 {
        self.mark_right_by
    }

    /// The middle at `depth` mm from the datum edge, as read from the mark towards the vehicle's
    /// right: the negative of [`Self::mark_right_by`]. Away from the mark's own depth the limit of
    /// the skew adds to its uncertainty.
    pub fn at(&self, depth: f64) -> Estimate {
        let from_skew = rectangular(self.slope_limit) * (depth - self.mark_depth).abs();
        Estimate {
            middle: 0.0 - self.mark_right_by,
            uncertainty: expanded(root_sum_square([self.spread.standard(), from_skew])),
            from_readings: self.spread.own.sqrt(),
            from_tape: self.spread.tape.sqrt(),
            from_skew,
        }
    }

    /// One for each distance measured and each depth, swing by swing.
    pub fn residuals(&self) -> &[ArcResidual] {
        &self.residuals
    }

    /// By how much the distances disagree beyond what tape and eye explain; 1 where they do not.
    /// The readings' part of the uncertainty has been raised by it.
    pub fn scatter_ratio(&self) -> f64 {
        self.ratio
    }
}

/// One measured distance, and what it measures.
struct Observation {
    swing: usize,
    what: What,
    value: f64,
    errors: ErrorModel,
}

#[derive(Clone, Copy, PartialEq)]
enum What {
    Left,
    Right,
    Apart,
    Depth,
}

impl What {
    fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Apart => "apart",
            Self::Depth => "depth",
        }
    }
}

/// Works out where the mark lies from the centreline, by weighted least squares over all
/// distances.
///
/// Errors of the tape that all distances share almost cancel for a mark near the middle, so arcs
/// can know it better than readings from one end; the nearer the mark is to the line between
/// the features, the better.
///
/// # Errors
///
/// No swing; a distance that is no length; arcs that cannot meet at the mark with every reading
/// at its worst; arcs too flat to settle the middle.
pub fn solve_arcs(readings: &ArcReadings) -> Result<ArcCentre, Vec<CentreError>> {
    let mut problems = readings.measuring.problems();
    if readings.swings.is_empty() {
        problems.push(CentreError::NoPairs);
    }
    for (index, swing) in readings.swings.iter().enumerate() {
        problems.extend(lengths(index, swing, readings.mark_depth));
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut observations = Vec::new();
    let mut start = vec![0.0];
    for (index, swing) in readings.swings.iter().enumerate() {
        let observed = observe(readings, index, swing);
        match half_spacing(index, swing, &observed) {
            Ok((half, off)) => {
                start[0] += off / readings.swings.len() as f64;
                start.extend([half, readings.mark_depth - swing.depth]);
            }
            Err(problem) => problems.push(problem),
        }
        observations.extend(observed);
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let values: Vec<_> = observations.iter().map(|o| o.value).collect();
    let weights: Vec<_> = observations
        .iter()
        .map(|o| 1.0 / o.errors.scatter())
        .collect();
    let predict = |unknowns: &[f64]| predict(&observations, unknowns);
    let solution =
        solve(&values, &weights, start, predict).ok_or_else(|| vec![CentreError::ArcsTooFlat])?;
    Ok(told(readings, &observations, &solution))
}

fn told(readings: &ArcReadings, observations: &[Observation], solution: &Solution) -> ArcCentre {
    let freedom = observations.len() - solution.unknowns.len();
    let ratio = scatter_ratio(solution.chi_squared, freedom);
    let errors: Vec<_> = observations.iter().map(|o| o.errors).collect();
    let residuals = observations
        .iter()
        .enumerate()
        .map(|(index, observation)| {
            let mut left_over: Vec<f64> = (0..observations.len())
                .map(|other| {
                    let row = solution.derivatives[index].iter().zip(&solution.gains);
                    -row.map(|(slope, gain)| slope * gain[other]).sum::<f64>()
                })
                .collect();
            left_over[index] += 1.0;
            ArcResidual {
                name: readings.swings[observation.swing].name.clone(),
                what: observation.what.word(),
                measured: observation.value,
                residual: solution.residuals[index],
                explained: expanded(Spread::of(&errors, &left_over, 1.0).standard()),
            }
        })
        .collect();
    ArcCentre {
        mark_right_by: solution.unknowns[0],
        spread: Spread::of(&errors, &solution.gains[0], ratio),
        mark_depth: readings.mark_depth,
        slope_limit: readings.measuring.slope_limit(),
        ratio,
        residuals,
    }
}

fn lengths(index: usize, swing: &Swing, mark_depth: f64) -> Vec<CentreError> {
    let above_zero = [
        ("left", Some(swing.left)),
        ("right", Some(swing.right)),
        ("apart", swing.apart),
    ];
    let mut problems: Vec<_> = above_zero
        .into_iter()
        .filter_map(|(what, value)| value.map(|value| (what, value)))
        .filter(|(_, value)| !(*value > 0.0 && is_length(*value)))
        .map(|(what, value)| CentreError::NotPositive {
            swing: index,
            name: swing.name.clone(),
            what,
            value,
        })
        .collect();
    if !is_length(swing.depth) || !is_length(mark_depth) {
        problems.push(CentreError::NotALength {
            pair: index,
            name: swing.name.clone(),
            what: "from_datum",
        });
    }
    problems
}

fn observe(readings: &ArcReadings, swing_index: usize, swing: &Swing) -> Vec<Observation> {
    let measuring = &readings.measuring;
    let found = measuring.reading;
    let model = |length: f64, eyes| ErrorModel::reading(length, measuring, found, eyes);
    let deeper = readings.mark_depth - swing.depth;
    // The mark is a pencil cross, so only the feature's middle has to be found by eye; between
    // two features both middles have.
    let mut observed = vec![
        (What::Left, swing.left, model(swing.left, 1.0)),
        (What::Right, swing.right, model(swing.right, 1.0)),
    ];
    if let Some(apart) = swing.apart {
        observed.push((What::Apart, apart, model(apart, 2.0)));
    }
    let depth = ErrorModel::difference(
        model(readings.mark_depth, 1.0),
        model(swing.depth, 1.0),
        model(deeper, 0.0),
    );
    observed.push((What::Depth, deeper, depth));
    observed
        .into_iter()
        .map(|(what, value, errors)| Observation {
            swing: swing_index,
            what,
            value,
            errors,
        })
        .collect()
}

/// Half the distance between the features, and where the mark lies by this swing alone, mm.
fn half_spacing(
    index: usize,
    swing: &Swing,
    observed: &[Observation],
) -> Result<(f64, f64), CentreError> {
    let widest = |what| -> f64 {
        let of_kind = observed.iter().filter(|o| o.what == what);
        of_kind.map(|o| o.errors.limit()).sum()
    };
    let deeper: f64 = observed
        .iter()
        .filter(|o| o.what == What::Depth)
        .map(|o| o.value)
        .sum();
    let (left, right) = (swing.left, swing.right);
    let gap = |why, by: f64| CentreError::ArcsCannotMeet {
        swing: index,
        name: swing.name.clone(),
        why,
        by,
    };
    let shortest = [(left, What::Left), (right, What::Right)]
        .map(|(radius, what)| deeper.abs() - radius - widest(what) - widest(What::Depth));
    let short = shortest[0].max(shortest[1]);
    if short > 0.0 {
        return Err(gap(ArcGap::TooShallow, short));
    }
    if let Some(apart) = swing.apart {
        let allowed = widest(What::Left) + widest(What::Right) + widest(What::Apart);
        let short = apart - left - right - allowed;
        if short > 0.0 {
            return Err(gap(ArcGap::TooShort, short));
        }
        let uneven = (left - right).abs() - apart - allowed;
        if uneven > 0.0 {
            return Err(gap(ArcGap::TooUneven, uneven));
        }
        let off = (left - right) * (left + right) / (2.0 * apart);
        return Ok((apart / 2.0, off));
    }
    // Sum and product of x^2 and s^2 are known; s is the larger of the two.
    let sum = (left * left + right * right) / 2.0 - deeper * deeper;
    let product = (left - right) * (left + right) / 4.0;
    let root = (sum * sum - 4.0 * product * product).max(0.0).sqrt();
    let half = ((sum + root) / 2.0).max(0.0).sqrt();
    if half > 0.0 {
        Ok((half, product / half))
    } else {
        Err(CentreError::ArcsTooFlat)
    }
}

/// Unknowns: `x`, then `s` and `h` of each swing.
fn predict(observations: &[Observation], unknowns: &[f64]) -> Prediction {
    let mut prediction = Prediction {
        values: Vec::with_capacity(observations.len()),
        derivatives: Vec::with_capacity(observations.len()),
    };
    for observation in observations {
        let place = 1 + 2 * observation.swing;
        let (x, s, h) = (unknowns[0], unknowns[place], unknowns[place + 1]);
        let mut row = vec![0.0; unknowns.len()];
        let mut radius = |side: f64| {
            let across = x + side * s;
            let length = libm::hypot(across, h);
            if length > 0.0 {
                row[0] = across / length;
                row[place] = side * across / length;
                row[place + 1] = h / length;
            }
            length
        };
        let value = match observation.what {
            What::Left => radius(1.0),
            What::Right => radius(-1.0),
            What::Apart => {
                row[place] = 2.0;
                2.0 * s
            }
            What::Depth => {
                row[place + 1] = 1.0;
                h
            }
        };
        prediction.values.push(value);
        prediction.derivatives.push(row);
    }
    prediction
}
