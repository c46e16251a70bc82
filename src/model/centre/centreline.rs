//! The centreline from pairs read from one zero.

use super::agreement::{Agreement, judge};
use super::line::{Line, Sighting, SlopeFrom};
use super::problem::CentreError;
use super::readings::{Readings, Zero};
use super::uncertainty::expanded;

/// Where the middle is at one depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// Tape reading of the middle from the zero end, mm.
    pub middle: f64,
    /// How far the true middle lies from it at most, in about 95 of 100 cases, mm either way.
    pub uncertainty: f64,
    /// Effective degrees of freedom of that (GUM G.4.1), for Student's t.
    pub freedom: f64,
}

/// How the centreline leans; slopes are mm of middle for each mm of depth, positive where it leans
/// away from the zero end as depth grows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Skew {
    /// Worked out from the readings.
    Fitted {
        /// Slope.
        slope: f64,
        /// How far the true slope lies from it at most, in about 95 of 100 cases.
        uncertainty: f64,
    },
    /// Taken as 0, the readings not settling it better than its limit is known.
    Assumed {
        /// The widest slope allowed for, either way.
        limit: f64,
    },
}

impl Skew {
    /// The slope that the centreline is drawn with.
    pub fn slope(self) -> f64 {
        match self {
            Self::Fitted { slope, .. } => slope,
            Self::Assumed { .. } => 0.0,
        }
    }

    /// The same as an angle from square to the datum edge, degrees.
    pub fn degrees(self) -> f64 {
        libm::atan(self.slope()).to_degrees()
    }
}

/// A line of middles, good for any depth.
#[derive(Debug, Clone, PartialEq)]
pub struct Middle {
    line: Line,
    slope_limit: f64,
}

impl Middle {
    pub(super) fn of(sightings: &[Sighting], slope_limit: f64) -> Self {
        Self {
            line: Line::through(sightings, slope_limit, SlopeFrom::ReadingsOrLimit),
            slope_limit,
        }
    }

    /// The middle at `depth` mm from the datum edge. Its uncertainty grows with the distance from
    /// the depth of the pairs.
    pub fn at(&self, depth: f64) -> Estimate {
        let (uncertainty, freedom) = self.line.uncertainty(depth);
        Estimate {
            middle: self.line.middle(depth),
            uncertainty,
            freedom,
        }
    }

    /// How it leans.
    pub fn skew(&self) -> Skew {
        if self.line.slope_is_fitted() {
            Skew::Fitted {
                slope: self.line.slope(),
                uncertainty: self.line.slope_uncertainty(),
            }
        } else {
            Skew::Assumed {
                limit: self.slope_limit,
            }
        }
    }

    /// Whether it leans further than the limit of the skew allows, by more than uncertainty
    /// explains: the limit is wrong, or some reading is.
    pub fn leans_too_far(&self) -> bool {
        match self.skew() {
            Skew::Fitted { slope, uncertainty } => slope.abs() - uncertainty > self.slope_limit,
            Skew::Assumed { .. } => false,
        }
    }

    /// How much the middles scatter, over what tape, eye and moulding explain: expected and seen
    /// scatter pooled. Every uncertainty has been raised or lowered by it.
    pub fn scatter_ratio(&self) -> f64 {
        self.line.scatter().ratio()
    }

    /// Degrees of freedom that the scatter is known with.
    pub fn freedom(&self) -> f64 {
        self.line.scatter().freedom()
    }
}

/// What is left of one pair after the fit; of one that was left out, too.
#[derive(Debug, Clone, PartialEq)]
pub struct Residual {
    /// Name of the pair.
    pub name: String,
    /// Depth of the pair, mm.
    pub depth: f64,
    /// The pair's own middle, a tape reading, mm.
    pub middle: f64,
    /// That less the centreline's middle at the same depth, mm.
    pub residual: f64,
    /// What tape, eye, moulding and skew explain of it, expanded, `k = 2`, mm either way; of a pair
    /// that was left out as [`OddPair`](super::OddPair) says.
    pub explained: f64,
}

/// A solved centreline.
#[derive(Debug, Clone, PartialEq)]
pub struct Centre {
    zero: Zero,
    middle: Middle,
    residuals: Vec<Residual>,
    agreement: Agreement,
}

impl Centre {
    /// The middle at `depth` mm from the datum edge, from all pairs but one that is left out.
    pub fn at(&self, depth: f64) -> Estimate {
        self.middle.at(depth)
    }

    /// The line itself, from all pairs but one that is left out.
    pub fn middle(&self) -> &Middle {
        &self.middle
    }

    /// How it leans.
    pub fn skew(&self) -> Skew {
        self.middle.skew()
    }

    /// The end that middles are read from.
    pub fn zero(&self) -> Zero {
        self.zero
    }

    /// One for each pair, in the order given.
    pub fn residuals(&self) -> &[Residual] {
        &self.residuals
    }

    /// Whether the pairs agree, and if not, which one is odd.
    pub fn agreement(&self) -> &Agreement {
        &self.agreement
    }

    /// Place of the pair that was left out, from 0, where one was.
    pub fn left_out(&self) -> Option<usize> {
        self.agreement.left_out().map(|odd| odd.index)
    }
}

/// Works out the centreline from `readings` by weighted least squares (GUM 4.3.7, 5.1.2, 5.2.2,
/// 6.2.1).
///
/// Each middle weighs as its rounding, its `reading`, its tape error and the moulding tell; a pair
/// that is left out for being far off all others, which agree, counts in nothing. The skew is fitted
/// where the depths settle it better than `skew_limit`; otherwise it is taken as 0 and the
/// limit enters the uncertainty with the distance from the weighted mean depth of the pairs. A
/// depth is taken as exact: with a skew of a degree, a millimetre of depth moves the middle by
/// 0.02 mm.
///
/// # Errors
///
/// Everything that is wrong with the readings: none at all, not a number, out of range, off the
/// panel, or left and right the wrong way round.
pub fn solve(readings: &Readings) -> Result<Centre, Vec<CentreError>> {
    let problems = readings.problems();
    if !problems.is_empty() {
        return Err(problems);
    }
    let slope_limit = readings.measuring.slope_limit();
    let sightings: Vec<_> = readings
        .pairs
        .iter()
        .map(|pair| Sighting {
            depth: pair.depth,
            middle: pair.middle(),
            errors: pair.error_model(&readings.measuring),
        })
        .collect();
    let agreement = judge(&readings.pairs, &sightings, slope_limit);
    let mut kept: Vec<_> = (0..sightings.len()).collect();
    kept.retain(|index| agreement.left_out().is_none_or(|odd| odd.index != *index));
    let counted: Vec<_> = kept.iter().map(|index| sightings[*index]).collect();
    let middle = Middle::of(&counted, slope_limit);
    let explained = |index: usize| match (
        kept.iter().position(|at| *at == index),
        agreement.left_out(),
    ) {
        (Some(place), _) => expanded(middle.line.residual_uncertainty(place)),
        (None, odd) => odd.map_or(0.0, |odd| odd.explained),
    };
    let pairs = readings.pairs.iter().enumerate();
    let residuals = pairs.map(|(index, pair)| Residual {
        name: pair.name.clone(),
        depth: pair.depth,
        middle: pair.middle(),
        residual: pair.middle() - middle.line.middle(pair.depth),
        explained: explained(index),
    });
    Ok(Centre {
        zero: readings.zero,
        residuals: residuals.collect(),
        agreement,
        middle,
    })
}
