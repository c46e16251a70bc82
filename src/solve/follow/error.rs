//! Why no opening can be worked out.

use crate::base::length::{Told, Units};
use crate::geometry::outline::OutlineError;
use std::fmt;

/// Why no opening can be worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OpeningError {
    /// There is no part to go round.
    NoParts,
    /// The shop has no tool.
    NoTools,
    /// A number is infinite, none, or less than 0.
    BadNumber,
    /// The given corner radius comes nearer to a part than its clearance.
    RadiusTooLarge {
        /// The radius given, mm.
        radius: f64,
        /// The largest that clears, mm.
        largest: f64,
    },
    /// The opening lies wholly past the edge that it shall be open to.
    PastEdge,
    /// The outline itself is unsound.
    Outline(OutlineError),
}

impl OpeningError {
    /// What to do about it, where that is not plain from what it says.
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::NoParts => Some("name at least one part in `around`"),
            Self::NoTools => Some("list at least one drill or hole saw diameter in `tools`"),
            Self::PastEdge => Some("check the part's `from_datum`"),
            Self::BadNumber | Self::RadiusTooLarge { .. } | Self::Outline(_) => None,
        }
    }
}

impl fmt::Display for OpeningError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.tell(out, Units::Mm)
    }
}

impl Told for OpeningError {
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        match self {
            Self::NoParts => out.write_str("the opening goes round no part"),
            Self::NoTools => out.write_str("the shop's list of tools is empty"),
            Self::BadNumber => write!(
                out,
                "a clearance, radius or tool diameter is not a number of {} or more",
                units.exact(0.0)
            ),
            Self::RadiusTooLarge { radius, largest } => write!(
                out,
                "a corner radius of `{}` comes nearer to the part than its clearance; the largest that clears is {}",
                units.exact(*radius),
                units.at_most(*largest)
            ),
            Self::PastEdge => out.write_str("the opening lies wholly past the panel's edge"),
            Self::Outline(cause) => cause.tell(out, units),
        }
    }
}

impl std::error::Error for OpeningError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Outline(cause) => Some(cause),
            _ => None,
        }
    }
}

impl From<OutlineError> for OpeningError {
    fn from(cause: OutlineError) -> Self {
        Self::Outline(cause)
    }
}
