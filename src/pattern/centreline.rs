//! Where the centreline meets the panel.

use crate::panel::{Direction, Orientation};

/// How the centreline was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// Taken to be half the panel's width: nobody measured it.
    Assumed,
    /// Marked on the panel by the fitter: the pattern is laid to that mark.
    Marked,
}

/// The centreline in tape readings, and the way from readings to the panel frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Centreline {
    /// How it was found.
    pub basis: Basis,
    /// The end of the panel that readings start from.
    pub zero: Direction,
    /// Tape reading of the centreline at the datum edge, mm.
    pub reading: f64,
    /// +1 where readings grow along the frame's x, -1 where against it.
    sense: f64,
}

impl Centreline {
    /// A centreline half way along a panel of this width, with readings from its left end (its
    /// front end on a panel at the vehicle's flank).
    pub fn assumed(width: f64, orientation: Orientation) -> Self {
        Self::from_zero(
            Basis::Assumed,
            default_zero(orientation),
            width / 2.0,
            orientation,
        )
    }

    /// A centreline that the fitter marks; there are no readings.
    pub fn marked(orientation: Orientation) -> Self {
        Self::from_zero(Basis::Marked, default_zero(orientation), 0.0, orientation)
    }

    fn from_zero(basis: Basis, zero: Direction, reading: f64, orientation: Orientation) -> Self {
        let sense = if zero == orientation.frame_right() {
            -1.0
        } else {
            1.0
        };
        Self {
            basis,
            zero,
            reading,
            sense,
        }
    }

    /// Place along the frame's x of a tape reading, mm.
    pub fn frame_x(&self, reading: f64) -> f64 {
        self.sense * (reading - self.reading)
    }

    /// Where the centreline runs at a depth from the datum edge, mm along the frame's x.
    pub fn x_at(&self, _depth: f64) -> f64 {
        0.0
    }
}

/// The end that readings start from when nothing is said.
fn default_zero(orientation: Orientation) -> Direction {
    match orientation.frame_right() {
        Direction::Left | Direction::Right => Direction::Left,
        _ => Direction::Front,
    }
}
