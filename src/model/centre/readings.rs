//! What a fitter reads: pairs of a left and a right feature, from one zero.

use super::measuring::Measuring;
use super::problem::CentreError;
use super::uncertainty::ErrorModel;
use super::zero::Zero;

/// A left and a right feature that lie as far from the centreline as each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Its name.
    pub name: String,
    /// Tape reading of the feature on the vehicle's left, from the zero end, mm.
    pub left: f64,
    /// Tape reading of the feature on the vehicle's right, from the same zero, mm.
    pub right: f64,
    /// Where the pair lies, from the datum edge, mm.
    pub depth: f64,
    /// How well the middles of these two are found, mm, where not as [`Measuring::reading`] says.
    pub reading: Option<f64>,
}

impl Pair {
    /// The middle between the two as read, mm from the zero end.
    pub fn middle(&self) -> f64 {
        (self.left + self.right) / 2.0
    }

    pub(crate) fn error_model(&self, measuring: &Measuring) -> ErrorModel {
        let found = self.reading.unwrap_or(measuring.reading);
        let model = |length| ErrorModel::reading(length, measuring, found, 1.0);
        ErrorModel::midpoint(model(self.left), model(self.right)).on_uneven(measuring.moulding)
    }
}

/// All that was read for one centreline.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    /// The end that every reading starts from.
    pub zero: Zero,
    /// How they were taken.
    pub measuring: Measuring,
    /// End to end along the datum edge, mm, where it is known.
    pub panel_width: Option<f64>,
    /// The pairs, at least one.
    pub pairs: Vec<Pair>,
}

/// Whether `value` is a length that a panel can have, mm: a number, within 100 m either way.
pub(crate) fn is_length(value: f64) -> bool {
    value.abs() <= 1e5
}

impl Readings {
    /// Everything that is wrong with them, in the order of the pairs.
    pub(crate) fn problems(&self) -> Vec<CentreError> {
        let mut problems = self.measuring.problems();
        if self.pairs.is_empty() {
            problems.push(CentreError::NoPairs);
        }
        for (index, pair) in self.pairs.iter().enumerate() {
            self.judge(index, pair, &mut problems);
        }
        problems
    }

    fn judge(&self, index: usize, pair: &Pair, problems: &mut Vec<CentreError>) {
        let before = problems.len();
        let name = || pair.name.clone();
        for (what, value) in [
            ("left", pair.left),
            ("right", pair.right),
            ("from_datum", pair.depth),
        ] {
            if !is_length(value) {
                problems.push(CentreError::NotALength {
                    pair: index,
                    name: name(),
                    what,
                });
            }
        }
        if let Some(reading) = pair.reading
            && !(0.0..=50.0).contains(&reading)
        {
            problems.push(CentreError::Setting {
                pair: Some(index),
                what: "reading",
                value: reading,
                at_least: 0.0,
                at_most: 50.0,
                unit: "mm",
            });
        }
        if problems.len() > before {
            return;
        }
        let width = self.panel_width.unwrap_or(f64::INFINITY);
        for (side, reading) in [(Zero::Left, pair.left), (Zero::Right, pair.right)] {
            if !(0.0..=width).contains(&reading) {
                problems.push(CentreError::OffPanel {
                    pair: index,
                    name: name(),
                    side,
                    reading,
                    width: self.panel_width,
                });
            }
        }
        if self.zero.to_the_right(pair.right, pair.left) <= 0.0 {
            problems.push(CentreError::SidesSwapped {
                pair: index,
                name: name(),
                left: pair.left,
                right: pair.right,
                zero: self.zero,
            });
        }
    }
}
