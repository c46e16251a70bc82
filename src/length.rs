//! Lengths, angles and sides as people write them.

use crate::panel::Direction;

/// Units of bare numbers in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches of 25.4 mm exactly.
    In,
}

/// A distance along the datum edge to one side: `4 mm left`, or 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offset {
    /// Distance, mm, 0 or more.
    pub distance: f64,
    /// The vehicle's side; `None` only for 0.
    pub towards: Option<Direction>,
}
