//! A point placed by tape distances from known features: trilateration by weighted least squares.
//!
//! Two distances cross at an angle gamma, and the place they give is worse than a distance by
//! `1 / sin(gamma)`. More of them are adjusted together; what is left over of each, its residual,
//! shows one that disagrees.

use kurbo::{Point, Vec2};
use nalgebra::{Matrix2, Vector2};
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// Two distances that cross at less than this, degrees, place nothing: a design value, no source.
pub const LEAST_CROSSING: f64 = 20.0;

/// A sum of squared residuals that sound readings exceed once in a hundred times is told.
const SOUND: f64 = 0.99;

/// Rounds of the adjustment: each is nearer by the square of the last.
const ROUNDS: usize = 60;

/// Where the adjustment has settled, mm.
const SETTLED: f64 = 1e-12;

/// One distance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tie {
    /// The known feature, mm.
    pub from: Point,
    /// From the point that is placed to what the tape is held to there, mm: none to itself.
    pub to: Vec2,
    /// What the tape reads, mm, over 0.
    pub distance: f64,
    /// Standard uncertainty of the reading and of the feature's own place, mm, over 0.
    pub uncertainty: f64,
    /// How much of that may be the same in all distances, and in all features' places, as a tape that
    /// is wrong makes it; standard, mm, 0 or more.
    pub common: f64,
}

/// A point that was placed.
#[derive(Debug, Clone, PartialEq)]
pub struct Tied {
    /// Where it is, mm.
    pub at: Point,
    /// Its standard uncertainty along x and along y, mm.
    pub uncertainty: Vec2,
    /// How these two hang together, -1 to 1: 0 where the ellipse of the place lies along the axes.
    pub correlation: f64,
    /// The widest angle at which two of the distances cross, degrees, 0 to 90.
    pub crossing: f64,
    /// What each distance is longer than the place gives it, mm.
    pub residuals: Vec<f64>,
    /// The sum of squared residuals, each over its uncertainty; 0 for two.
    pub chi_squared: f64,
}

/// Why nothing could be placed.
#[derive(Debug, Clone, PartialEq)]
pub enum TieError {
    /// Two distances do not reach each other, by so many mm; places of the two.
    Apart(usize, usize, f64),
    /// All cross at too small an angle: the widest, degrees, the two that make it, and about where.
    TooFlat(f64, usize, usize, Point),
    /// Nowhere that they meet lies on the panel.
    OffPanel(Point),
    /// They meet in two places on the panel.
    Two(Point, Point),
}

impl Tie {
    /// From the feature to where the tape is held if the point stands at `at`.
    fn way(&self, at: Point) -> Vec2 {
        at + self.to - self.from
    }

    fn residual(&self, at: Point) -> f64 {
        self.distance - self.way(at).hypot()
    }
}

/// Places a point by two distances or more; `allowed` says where it may be.
///
/// # Errors
/// Distances that do not meet, cross too flat, or leave open which of two places is meant.
pub fn place(ties: &[Tie], allowed: impl Fn(Point) -> bool) -> Result<Tied, TieError> {
    let found = places(ties, &allowed)?;
    let nearest = found[0].at;
    let mut on_panel: Vec<Tied> = found.into_iter().filter(|one| allowed(one.at)).collect();
    match on_panel.len() {
        0 => Err(TieError::OffPanel(nearest)),
        1 => Ok(on_panel.remove(0)),
        _ => Err(TieError::Two(on_panel[0].at, on_panel[1].at)),
    }
}

/// The one place that all distances agree on best, or two that mirror each other and that they do not
/// tell apart.
fn places(ties: &[Tie], allowed: &impl Fn(Point) -> bool) -> Result<Vec<Tied>, TieError> {
    let pairs = || (0..ties.len()).flat_map(|i| (i + 1..ties.len()).map(move |j| (i, j)));
    // The two that cross best where they meet start the adjustment.
    let mut best: Option<(f64, usize, usize, [Point; 2])> = None;
    let mut apart: Option<(usize, usize, f64)> = None;
    for (i, j) in pairs() {
        match meet(&ties[i], &ties[j]) {
            Ok(both) => {
                let crossing = crossing(ties[i].way(both[0]), ties[j].way(both[0]));
                if best.is_none_or(|(most, ..)| crossing > most) {
                    best = Some((crossing, i, j, both));
                }
            }
            Err(by) if apart.is_none_or(|(.., most)| by > most) => apart = Some((i, j, by)),
            Err(_) => {}
        }
    }
    let Some((crossing, i, j, both)) = best else {
        let (i, j, by) = apart.unwrap_or_default();
        return Err(TieError::Apart(i, j, by));
    };
    if crossing < LEAST_CROSSING {
        let on_panel = both.into_iter().find(|at| allowed(*at));
        return Err(TieError::TooFlat(
            crossing,
            i,
            j,
            on_panel.unwrap_or(both[0]),
        ));
    }
    let mut found: Vec<Tied> = both.map(|start| adjusted(ties, start, crossing)).to_vec();
    if found[0].at.distance(found[1].at) < 1e-6 {
        found.truncate(1);
    }
    found.sort_by(|a, b| a.chi_squared.total_cmp(&b.chi_squared));
    // A third distance that the mirrored place contradicts has decided.
    if let [good, bad] = found.as_slice()
        && bad.chi_squared > limit(ties.len()) + good.chi_squared
    {
        found.truncate(1);
    }
    Ok(found)
}

impl Tied {
    /// Half-widths along x and y, mm, that hold the ellipse of `times` the standard uncertainty in
    /// every direction: of an ellipse along the axes they are its own.
    ///
    /// With the correlation r, `a^2 + 2 r a b + b^2 <= (1 + |r|) (a^2 + b^2)`.
    pub fn half_widths(&self, times: f64) -> Vec2 {
        self.uncertainty * (times * (1.0 + self.correlation.abs()).sqrt())
    }

    /// Whether the distances contradict one another more than their uncertainty explains.
    pub fn disagree(&self) -> bool {
        self.chi_squared > limit(self.residuals.len())
    }
}

/// What the sum of squared residuals of so many sound distances hardly ever exceeds.
fn limit(ties: usize) -> f64 {
    match ties.saturating_sub(2) {
        0 => 0.0,
        over => ChiSquared::new(over as f64).map_or(0.0, |law| law.inverse_cdf(SOUND)),
    }
}

/// Both places where two distances meet; how far they miss each other, mm, where they don't.
fn meet(one: &Tie, other: &Tie) -> Result<[Point; 2], f64> {
    // Circles of the point itself: what the tape is held to stands beside it.
    let (a, b) = (one.from - one.to, other.from - other.to);
    let (r, s) = (one.distance, other.distance);
    let between = b - a;
    let apart = between.hypot();
    let missed = (apart - r - s).max((r - s).abs() - apart);
    if missed > 0.0 || apart == 0.0 {
        return Err(missed.max(0.0));
    }
    let along = (apart * apart + r * r - s * s) / (2.0 * apart);
    let aside = (r * r - along * along).max(0.0).sqrt();
    let unit = between / apart;
    let foot = a + unit * along;
    let turned = Vec2::new(-unit.y, unit.x) * aside;
    Ok([foot + turned, foot - turned])
}

/// The angle at which two ways cross, degrees, 0 to 90; 0 where one has no length.
pub fn crossing(one: Vec2, other: Vec2) -> f64 {
    let sine = one.cross(other).abs() / (one.hypot() * other.hypot()).max(f64::MIN_POSITIVE);
    libm::asin(sine.min(1.0)).to_degrees()
}

/// The place where the weighted squares of what is left over are least (Gauss-Newton), from `start`.
fn adjusted(ties: &[Tie], start: Point, crossing: f64) -> Tied {
    let mut at = start;
    let mut inverse = Matrix2::identity();
    let mut along = Vector2::zeros();
    for _ in 0..ROUNDS {
        let mut normal = Matrix2::zeros();
        let mut right = Vector2::zeros();
        let mut all = Vector2::zeros();
        for tie in ties {
            let way = tie.way(at);
            let unit = way / way.hypot().max(f64::MIN_POSITIVE);
            let row = Vector2::new(unit.x, unit.y);
            let weight = 1.0 / (tie.uncertainty * tie.uncertainty);
            normal += row * row.transpose() * weight;
            right += row * (tie.residual(at) * weight);
            all += row * (tie.common * weight);
        }
        let Some(inverted) = normal.try_inverse() else {
            break;
        };
        inverse = inverted;
        along = inverse * all;
        let step = inverse * right;
        at += Vec2::new(step.x, step.y);
        if step.norm() < SETTLED {
            break;
        }
    }
    let residuals: Vec<f64> = ties.iter().map(|tie| tie.residual(at)).collect();
    let squares = residuals.iter().zip(ties);
    let chi_squared: f64 = squares
        .map(|(left, tie)| (left / tie.uncertainty).powi(2))
        .sum();
    // Readings that scatter more than they should are worse than they should be (Birge's ratio).
    let over = ties.len().saturating_sub(2);
    let wider = if over > 0 {
        (chi_squared / over as f64).sqrt().max(1.0)
    } else {
        1.0
    };
    // What is wrong alike in all of them is not lessened by their number: distances too long by it move
    // the place along, and features that are off by it take it with them. Whether readings of one tape
    // are wrong alike or each by itself nobody knows: both count.
    let shift = ties.iter().map(|tie| tie.common).fold(0.0, f64::max);
    let covariance = inverse * (wider * wider)
        + along * along.transpose()
        + Matrix2::identity() * (shift * shift);
    let uncertainty = Vec2::new(covariance[(0, 0)].sqrt(), covariance[(1, 1)].sqrt());
    Tied {
        at,
        uncertainty,
        correlation: (covariance[(0, 1)] / (uncertainty.x * uncertainty.y)).clamp(-1.0, 1.0),
        crossing,
        residuals,
        chi_squared: if over > 0 { chi_squared } else { 0.0 },
    }
}

/// How far each distance would be off if it alone were wrong, mm, longer where over 0: the rest
/// place the point without it. None for one without which they place nothing, or disagree still. Of
/// three each may be it; of four and more mostly one, unless another lies opposite.
pub fn alone_to_blame(ties: &[Tie], at: Point) -> Vec<Option<f64>> {
    let without = |left_out: usize| {
        let rest: Vec<Tie> = ties
            .iter()
            .enumerate()
            .filter(|(index, _)| *index != left_out)
            .map(|(_, tie)| *tie)
            .collect();
        let off = |one: &Tied| one.at.distance(at);
        places(&rest, &|_| true)
            .ok()?
            .into_iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)))
            .filter(|rest| !rest.disagree())
            .map(|rest| ties[left_out].residual(rest.at))
    };
    (0..ties.len()).map(without).collect()
}

#[cfg(test)]
mod tests;
