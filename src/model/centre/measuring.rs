//! How readings are taken.

use super::problem::CentreError;
use super::tape::Tape;

/// How readings are taken, and what is known of the panel beforehand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measuring {
    /// The tape.
    pub tape: Tape,
    /// How well a feature's middle is found, mm: the widest miss either way, 0 or more.
    pub reading: f64,
    /// How unevenly the panel is moulded: standard deviation of the middle of a pair from the
    /// panel's own, mm, 0 or more. Two pairs in three lie within it.
    pub moulding: f64,
    /// How far the centreline can lean from square to the datum edge, degrees either way, 0 to 10.
    pub skew_limit: f64,
}

impl Default for Measuring {
    /// A class II tape in millimetres, middles found within 0.5 mm, pairs moulded even to 0.7 mm,
    /// a lean of up to 0.5 degrees. All but the tape are design values, no source.
    fn default() -> Self {
        Self {
            tape: Tape::default(),
            reading: 0.5,
            moulding: 0.7,
            skew_limit: 0.5,
        }
    }
}

impl Measuring {
    /// The largest slope of the centreline, mm of middle for each mm of depth.
    pub(crate) fn slope_limit(&self) -> f64 {
        libm::tan(self.skew_limit.to_radians())
    }

    pub(crate) fn problems(&self) -> Vec<CentreError> {
        let bounds = [
            ("graduation", self.tape.graduation, 0.01, 50.0, "mm"),
            ("reading", self.reading, 0.0, 50.0, "mm"),
            ("moulding", self.moulding, 0.0, 20.0, "mm"),
            ("skew_limit", self.skew_limit, 0.0, 10.0, "deg"),
        ];
        bounds
            .into_iter()
            .filter(|(_, value, least, most, _)| !(least..=most).contains(&value))
            .map(
                |(what, value, at_least, at_most, unit)| CentreError::Setting {
                    pair: None,
                    what,
                    value,
                    at_least,
                    at_most,
                    unit,
                },
            )
            .collect()
    }
}
