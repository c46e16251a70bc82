//! The centreline from pairs read from one zero.

use super::agreement::{Agreement, judge};
use super::combine::expanded;
use super::line::Sighting;
use super::middle::{Estimate, Middle, Skew};
use super::problem::CentreError;
use super::readings::Readings;
use super::zero::Zero;

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
