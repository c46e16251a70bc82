//! The centreline from pairs read from one zero.

use super::agreement::{Agreement, judge};
use super::line::{Line, Sighting, SlopeFrom};
use super::problem::CentreError;
use super::readings::{Readings, Zero};
use super::uncertainty::{expanded, root_sum_square};

/// Where the middle is at one depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// Tape reading of the middle from the zero end, mm.
    pub middle: f64,
    /// Expanded uncertainty of it, `k = 2`, mm either way.
    pub uncertainty: f64,
    /// Its standard part from readings, rounding and scatter, mm.
    pub from_readings: f64,
    /// Its standard part from the tape, mm.
    pub from_tape: f64,
    /// Its standard part from a skew that the readings do not settle, mm.
    pub from_skew: f64,
}

/// How the centreline leans; slopes are mm of middle for each mm of depth, positive where it leans
/// away from the zero end as depth grows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Skew {
    /// Worked out from the readings.
    Fitted {
        /// Slope.
        slope: f64,
        /// Expanded uncertainty of the slope, `k = 2`.
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
        let spread = self.line.spread(depth);
        let from_skew = self.line.open_slope(depth);
        Estimate {
            middle: self.line.middle(depth),
            uncertainty: expanded(root_sum_square([spread.standard(), from_skew])),
            from_readings: spread.own.sqrt(),
            from_tape: spread.tape.sqrt(),
            from_skew,
        }
    }

    /// How it leans.
    pub fn skew(&self) -> Skew {
        if self.line.slope_is_fitted() {
            Skew::Fitted {
                slope: self.line.slope(),
                uncertainty: expanded(self.line.slope_uncertainty()),
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

    /// By how much the middles scatter beyond what tape and eye explain; 1 where they do not. The
    /// readings' part of every uncertainty has been raised by it.
    pub fn scatter_ratio(&self) -> f64 {
        self.line.ratio()
    }
}

/// What is left of one pair after the fit.
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
    /// What tape, eye and skew explain of it, expanded, `k = 2`, mm either way.
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
    /// The middle at `depth` mm from the datum edge, from all pairs.
    pub fn at(&self, depth: f64) -> Estimate {
        self.middle.at(depth)
    }

    /// The line itself, from all pairs.
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
}

/// Works out the centreline from `readings` by weighted least squares (GUM 4.3.7, 5.1.2, 5.2.2,
/// 6.2.1).
///
/// Each middle weighs as its rounding, its `reading` and its tape error tell. The skew is fitted
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
    let middle = Middle::of(&sightings, slope_limit);
    let residuals: Vec<_> = readings
        .pairs
        .iter()
        .enumerate()
        .map(|(index, pair)| Residual {
            name: pair.name.clone(),
            depth: pair.depth,
            middle: pair.middle(),
            residual: pair.middle() - middle.line.middle(pair.depth),
            explained: expanded(middle.line.residual_uncertainty(index)),
        })
        .collect();
    Ok(Centre {
        zero: readings.zero,
        agreement: judge(&residuals, &sightings, slope_limit),
        middle,
        residuals,
    })
}
