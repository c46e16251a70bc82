//! Readings that can't be true.

use super::Way;
use crate::base::fixed;
use std::fmt;

/// Why readings give no scale.
#[derive(Debug, Clone, PartialEq)]
pub enum ScaleError {
    /// A printed length that is no length, mm.
    Nominal(f64),
    /// A graduation out of range.
    Graduation {
        /// As given, mm.
        given: f64,
        /// Coarsest for this length, mm.
        at_most: f64,
    },
    /// A rule's permissible error out of range.
    Permissible {
        /// As given, mm.
        given: f64,
        /// Largest for this length, mm.
        at_most: f64,
    },
    /// A reading that no print gives.
    Absurd {
        /// Direction.
        way: Way,
        /// As read, mm.
        read: f64,
        /// As drawn, mm.
        nominal: f64,
        /// Least that is believed, mm.
        least: f64,
        /// Most that is believed, mm.
        most: f64,
    },
    /// Readings of one direction that can't all be true.
    Contradiction {
        /// Direction.
        way: Way,
        /// As read, mm: the one farthest from the others.
        read: f64,
        /// As drawn, mm.
        nominal: f64,
        /// What the other readings would make it, mm.
        expected: f64,
    },
    /// Diagonals that no figure with these sides has.
    Diagonals {
        /// Rising to the right, mm.
        rising: f64,
        /// Falling to the right, mm.
        falling: f64,
        /// What a square-cornered figure's diagonals measure at this scale, mm.
        expected: f64,
    },
}

impl fmt::Display for ScaleError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mm = |value: &f64| fixed(*value, 2);
        match self {
            Self::Nominal(given) => write!(
                out,
                "a printed length of `{} mm` can't be read; allowed: above 0 mm",
                mm(given)
            ),
            Self::Graduation { given, at_most } => write!(
                out,
                "graduation `{} mm` is out of range; allowed: above 0 to {} mm; hint: give the \
                 smallest division of the rule",
                mm(given),
                mm(at_most)
            ),
            Self::Permissible { given, at_most } => write!(
                out,
                "the rule's permissible error `{} mm` is out of range; allowed: 0 to {} mm",
                mm(given),
                mm(at_most)
            ),
            Self::Absurd {
                way,
                read,
                nominal,
                least,
                most,
            } => write!(
                out,
                "`{} mm` {} for a printed length of {} mm can't be right; allowed: {} to {} mm; \
                 hint: give the whole length in mm, read from end to end",
                mm(read),
                way.word(),
                mm(nominal),
                mm(least),
                mm(most)
            ),
            Self::Contradiction {
                way,
                read,
                nominal,
                expected,
            } => write!(
                out,
                "the readings {} contradict each other: `{} mm` for {} mm, where the others make \
                 it {} mm; hint: read it again, from end to end of the base line",
                way.word(),
                mm(read),
                mm(nominal),
                mm(expected)
            ),
            Self::Diagonals {
                rising,
                falling,
                expected,
            } => write!(
                out,
                "diagonals of `{}` and `{} mm` don't belong to this figure, whose diagonals \
                 measure about {} mm; hint: read from corner to corner",
                mm(rising),
                mm(falling),
                mm(expected)
            ),
        }
    }
}

impl std::error::Error for ScaleError {}
