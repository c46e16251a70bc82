//! `[panel.surface]` as written: how the panel leans and curves.

use super::problem::Placed;
use crate::geometry::development::{Along, Bulge};
use std::ops::Range;

/// `[panel.surface]`.
#[derive(Debug, Clone)]
pub struct SurfaceSpec {
    /// How far it leans, degrees: positive where the head of the page leans away from the reader.
    pub rake: Placed<f64>,
    /// How it is curved.
    pub form: FormSpec,
    /// Which way it is curved.
    pub along: Along,
    /// The table, for messages.
    pub span: Option<Range<usize>>,
}

/// How a panel is curved.
#[derive(Debug, Clone)]
pub enum FormSpec {
    /// Not at all.
    Flat,
    /// To a circle.
    Circle {
        /// Its size.
        size: CircleSize,
        /// Which way it bulges.
        bulges: Bulge,
        /// Where its crown stands along the curved direction, mm: from the centreline, or from the
        /// datum edge for a rolled panel.
        crown: f64,
    },
    /// As it was read, at one place or at two.
    Profile {
        /// The readings.
        one: ProfileSpec,
        /// Readings at another place, where the panel may curve both ways.
        other: Option<ProfileSpec>,
        /// How well each is known, mm.
        error: f64,
    },
}

/// What is known of a circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CircleSize {
    /// Its chord and the rise over it, mm.
    Chord {
        /// From end to end.
        chord: f64,
        /// Height over the chord.
        rise: f64,
    },
    /// Its radius, mm.
    Radius(f64),
}

/// Readings of a cross-section.
#[derive(Debug, Clone)]
pub struct ProfileSpec {
    /// Place along the curved direction, and how far the panel falls away from the reader there,
    /// mm. Places across the panel are to the right as one faces it with the datum edge at the
    /// foot.
    pub readings: Placed<Vec<(f64, f64)>>,
    /// Where it was taken, square to the curved direction, mm: from the datum edge, or to the right
    /// of the centreline for a rolled panel.
    pub at: f64,
}

/// How a shape was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measured {
    /// As seen along the way that the part passes through, or else along the reader's look.
    SquareOn,
    /// With a tape laid on the panel.
    OnPanel,
}

impl Measured {
    /// Both.
    pub const ALL: [Self; 2] = [Self::SquareOn, Self::OnPanel];

    /// The words for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::SquareOn => "square-on",
            Self::OnPanel => "on the panel",
        }
    }
}
