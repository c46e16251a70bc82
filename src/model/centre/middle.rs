//! A line of middles, and what is known of one of them.

use super::line::{Line, Sighting, SlopeFrom};

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
    pub(super) line: Line,
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
