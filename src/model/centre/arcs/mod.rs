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
//! Several swings to one mark share `x` and have `s` and `h` each, and `e`, by which the middle of
//! their features lies off the panel's where it is moulded unevenly: `x + e` stands for `x`, and `e`
//! counts as observed to be 0, as well as the panel is even. Weighted least squares over it all.

pub(super) mod model;

use super::combine::expanded;
use super::least_squares::{Solution, solve};
use super::measuring::Measuring;
use super::middle::Estimate;
use super::problem::CentreError;
use super::readings::is_length;
use super::uncertainty::{Scatter, Spread};
use model::{Observation, What, half_spacing, observe, predict};

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
    /// What tape, eye and moulding explain of it, expanded, `k = 2`, mm either way.
    pub explained: f64,
}

/// Where the mark lies from the centreline.
#[derive(Debug, Clone, PartialEq)]
pub struct ArcCentre {
    mark_right_by: f64,
    spread: Spread,
    mark_depth: f64,
    slope_limit: f64,
    scatter: Scatter,
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
        let open = self.slope_limit * (depth - self.mark_depth).abs();
        let (uncertainty, freedom) = self.spread.half_width(open);
        Estimate {
            middle: 0.0 - self.mark_right_by,
            uncertainty,
            freedom,
        }
    }

    /// One for each distance measured and each depth, swing by swing.
    pub fn residuals(&self) -> &[ArcResidual] {
        &self.residuals
    }

    /// How much the distances disagree, over what tape, eye and moulding explain: expected and
    /// seen pooled. The uncertainty has been raised or lowered by it.
    pub fn scatter_ratio(&self) -> f64 {
        self.scatter.ratio()
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
                start.extend([half, readings.mark_depth - swing.depth, 0.0]);
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
    let scatter = Scatter::seen(solution.chi_squared, freedom);
    let errors: Vec<_> = observations.iter().map(|o| o.errors).collect();
    let residuals = observations
        .iter()
        .enumerate()
        .filter(|(_, observation)| observation.what != What::Uneven)
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
                explained: expanded(Spread::of(&errors, &left_over, Scatter::EXPECTED).standard()),
            }
        })
        .collect();
    ArcCentre {
        mark_right_by: solution.unknowns[0],
        spread: Spread::of(&errors, &solution.gains[0], scatter),
        mark_depth: readings.mark_depth,
        slope_limit: readings.measuring.slope_limit(),
        scatter,
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
