//! Surfaces and passages that cannot be.

use crate::base::fixed;
use crate::base::length::{Told, Units};
use crate::geometry::outline::OutlineError;
use kurbo::Point;
use std::fmt;

/// Why there is no pattern of a surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SurfaceError {
    /// A chord and a rise that no circle has.
    ChordRise {
        /// The chord, mm.
        chord: f64,
        /// The rise, mm.
        rise: f64,
    },
    /// A radius that no panel has, or a crown that lies off its circle.
    Radius {
        /// The radius, mm.
        radius: f64,
        /// Where its crown was to stand, mm along the panel.
        crown: f64,
    },
    /// Too few readings for a profile, or too many.
    ReadingCount {
        /// How many there are.
        count: usize,
    },
    /// A reading whose place does not lie beyond the one before.
    ReadingOrder {
        /// Which, counted from 0.
        reading: usize,
    },
    /// A reading that is not a number.
    ReadingNotFinite {
        /// Which, counted from 0.
        reading: usize,
    },
    /// A reading error that is negative or not a number.
    ReadingError {
        /// The error, mm.
        error: f64,
    },
    /// A rake, slope or yaw too steep to work with.
    Steep {
        /// `rake`, `slope` or `yaw`.
        what: &'static str,
        /// The angle, radians.
        angle: f64,
    },
    /// A length that is negative or not finite.
    Length {
        /// What it is.
        what: &'static str,
        /// The length, mm.
        length: f64,
    },
    /// Looked along its passage, a part meets the panel edge-on or from behind.
    Hidden {
        /// Where in the plane square to the passage, mm.
        at: Point,
    },
    /// The panel is thicker than its own radius.
    TooThick {
        /// Its thickness, mm.
        thickness: f64,
        /// Its radius at the part, mm.
        radius: f64,
    },
    /// Two profiles of one panel at one height.
    SameHeight {
        /// The height, mm.
        height: f64,
    },
    /// The mapped outline cannot be followed with arcs.
    NoFit {
        /// Where on the pattern, mm.
        at: Point,
    },
    /// The mapped outline is no outline.
    Outline(OutlineError),
}

impl From<OutlineError> for SurfaceError {
    fn from(cause: OutlineError) -> Self {
        Self::Outline(cause)
    }
}

impl fmt::Display for SurfaceError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.tell(out, Units::Mm)
    }
}

impl Told for SurfaceError {
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        let length = |mm: f64| units.exact(mm);
        match *self {
            Self::ChordRise { chord, rise } => write!(
                out,
                "`rise` is `{}` over a `chord` of `{}`; it must be over 0 and under half of the \
                 chord, {}",
                length(rise),
                length(chord),
                length(chord / 2.0)
            ),
            Self::Radius { radius, crown } => write!(
                out,
                "`radius` is `{}`; it must be over 0, and over {}, how far the crown stands off",
                length(radius),
                length(crown.abs())
            ),
            Self::ReadingCount { count } => write!(
                out,
                "`profile` has {count} readings; it must have 2 to {}",
                super::MOST_READINGS
            ),
            Self::ReadingOrder { reading } => write!(
                out,
                "reading {} of `profile` does not lie beyond the one before; places must rise",
                reading + 1
            ),
            Self::ReadingNotFinite { reading } => write!(
                out,
                "reading {} of `profile` is not a finite number",
                reading + 1
            ),
            Self::ReadingError { error } => write!(
                out,
                "the reading error is `{}`; it must be {} or more",
                length(error),
                length(0.0)
            ),
            Self::Steep { what, angle } => write!(
                out,
                "`{what}` is `{} deg`; it must lie between -85 and 85 deg",
                fixed(angle.to_degrees(), 3)
            ),
            Self::Length { what, length: is } => write!(
                out,
                "`{what}` is `{}`; it must be {} or more, and finite",
                length(is),
                length(0.0)
            ),
            Self::Hidden { at } => write!(
                out,
                "seen along its passage, the part meets the panel edge-on or from behind at \
                 x {}, y {}",
                length(at.x),
                length(at.y)
            ),
            Self::TooThick { thickness, radius } => write!(
                out,
                "a panel `{}` thick cannot be bent to a radius of {}, as it is at the part",
                length(thickness),
                length(radius)
            ),
            Self::SameHeight { height } => write!(
                out,
                "both profiles are given at the height `{}`; they must be apart",
                length(height)
            ),
            Self::NoFit { at } => write!(
                out,
                "the developed outline cannot be followed with arcs near x {}, y {}: what is cut there \
                 meets the panel too far aslant, or the panel's readings are uneven there",
                length(at.x),
                length(at.y)
            ),
            Self::Outline(cause) => {
                out.write_str("the developed outline is none: ")?;
                cause.tell(out, units)
            }
        }
    }
}

impl std::error::Error for SurfaceError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Outline(cause) => Some(cause),
            _ => None,
        }
    }
}
