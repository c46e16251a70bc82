//! `[clearance]` as written, and openings worked out from parts.

use super::problem::Placed;
use crate::model::clearance::{Combine, Temperatures};

/// `[clearance]`: what is not given has its stated default.
#[derive(Debug, Clone, Default)]
pub struct ClearanceSpec {
    /// What shall remain, mm.
    pub gap: Option<f64>,
    /// How far the part may stand from where it was measured, mm either way.
    pub position: Option<f64>,
    /// How well the centreline is known, mm either way; from the readings unless given.
    pub centre: Option<f64>,
    /// How far the marked line may lie from the pattern's, mm either way.
    pub marking: Option<f64>,
    /// How far the cut may lie from the marked line, mm either way.
    pub cutting: Option<f64>,
    /// How far the print may be off at the opening, mm either way; worked out unless given.
    pub print: Option<f64>,
    /// Error of the printed scale, as a share: 0.003, written `"0.3 %"`. Files give it with its
    /// `%` only: a bare 0.3 could be meant either way.
    pub scale_error: Option<f64>,
    /// Growth of the panel, mm; worked out unless given.
    pub thermal: Option<f64>,
    /// Temperatures for it: `fitted`, `coldest` and `hottest` in files.
    pub temperatures: Temperatures,
    /// How chance terms are put together.
    pub combine: Combine,
}

/// How a worked-out opening follows its parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Follow {
    /// One rectangle round all of them.
    #[default]
    Box,
    /// Their own outlines, grown.
    Contour,
}

impl Follow {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Box, Self::Contour];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Box => "box",
            Self::Contour => "contour",
        }
    }
}

/// An opening worked out from parts: `around = [...]`.
#[derive(Debug, Clone)]
pub struct AroundSpec {
    /// Names of the parts.
    pub parts: Vec<Placed<String>>,
    /// How it follows them.
    pub follow: Follow,
    /// Whether it is open at the datum edge.
    pub open_at_edge: bool,
    /// Radius of a box's corners, mm; the largest of the shop's tools that clears unless given.
    pub corner_radius: Option<Placed<f64>>,
}
