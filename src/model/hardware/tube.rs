//! Receiver tubes, which are named by their inside.

use crate::base::length::{Told, Units};
use std::fmt;

/// A receiver tube's trade size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NominalTube {
    /// As it is called.
    pub name: &'static str,
    /// Its inside, mm: the trade size converted exactly.
    pub inside: f64,
    /// The pin that goes with it, mm (a maker's chart).
    pub pin: f64,
}

const INCH: f64 = 25.4;

/// What every tube needs, whatever it is called.
pub const MEASURE_OUTSIDE: &str = "measure the outside over the collar and give that as `outside`";

/// The trade sizes known.
pub const TUBES: &[NominalTube] = &[
    NominalTube {
        name: "1-1/4 in",
        inside: 1.25 * INCH,
        pin: 0.5 * INCH,
    },
    NominalTube {
        name: "2 in",
        inside: 2.0 * INCH,
        pin: 0.625 * INCH,
    },
    NominalTube {
        name: "2-1/2 in",
        inside: 2.5 * INCH,
        pin: 0.625 * INCH,
    },
];

/// The trade size that an inside of `inside` mm stands for, within 0.05 mm.
pub fn nominal_tube(inside: f64) -> Option<&'static NominalTube> {
    TUBES
        .iter()
        .find(|tube| (tube.inside - inside).abs() <= 0.05)
}

impl fmt::Display for NominalTube {
    /// Why the trade size alone makes no opening.
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.tell(out, Units::Mm)
    }
}

impl Told for NominalTube {
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        write!(
            out,
            "a {} receiver is named by its inside, {}; its outside varies with wall and collar",
            self.name,
            units.close(self.inside)
        )
    }
}

impl NominalTube {
    /// What to do instead.
    pub fn hint(&self) -> &'static str {
        MEASURE_OUTSIDE
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trade_sizes_are_the_inside_and_say_so() {
        let insides: Vec<f64> = TUBES.iter().map(|tube| tube.inside).collect();
        assert_eq!(insides, [31.75, 50.8, 63.5]);
        let two = nominal_tube(50.8).unwrap();
        assert!(two.to_string().contains("named by its inside, 50.8"));
        // 50 mm is the ISO coupling ball, not the tube.
        assert!(nominal_tube(50.0).is_none());
    }
}
