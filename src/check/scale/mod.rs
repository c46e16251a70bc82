//! Whether a print came out full size, from what its check rulers read.
//!
//! [`estimate()`] makes a scale across and down, with its uncertainty, of readings; [`Squareness`]
//! does the same for a figure's two diagonals. [`judge`] says what that makes of a cut, [`faults`]
//! which settings of a print dialog would give it, and [`Printer`] draws sheets that print true.
//!
//! A scale is what was read over what is drawn: 0.97 where 100 mm reads 97. Millimetres.
//! Uncertainties are expanded, k = 2, from rectangular parts (GUM; NIST/SEMATECH e-Handbook 2.5.7).

mod cut;
mod error;
mod estimate;
mod evidence;
mod fault;
mod fault_table;
mod printer;
#[cfg(test)]
mod printer_tests;
mod reading;
mod reason;
mod square;
mod verdict;

pub use error::ScaleError;
pub use estimate::{Estimate, estimate};
pub use evidence::Evidence;
pub use fault::{Circumstances, FileKind, faults};
pub use fault_table::{Borders, Cause, Fault};
pub use printer::{Printer, PrinterError};
pub use reading::{Gauge, Read, Reading, Rule};
pub use reason::{Judgement, Reason};
pub use square::Squareness;
pub use verdict::{Cut, Verdict, judge};

/// A direction of the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Way {
    /// Along the sheet's width.
    Across,
    /// Along its height.
    Down,
}

impl Way {
    /// The direction's name.
    pub fn word(self) -> &'static str {
        match self {
            Self::Across => "across",
            Self::Down => "down",
        }
    }
}

/// A value with its expanded uncertainty, k = 2.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// The value.
    pub value: f64,
    /// Half-width of the interval that holds the true value in some 95 of 100 cases, 0 or more.
    pub uncertainty: f64,
}

impl Measured {
    /// Whether `value` lies within the uncertainty, its ends included.
    pub fn allows(&self, value: f64) -> bool {
        // The rounding of a sum must not shut out a value on the very end.
        (self.value - value).abs() <= self.uncertainty + 1e-12
    }
}

/// What is known of a print's scale.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Scales {
    /// Across the sheet; `None` where not read.
    pub across: Option<Measured>,
    /// Down the sheet; `None` where not read.
    pub down: Option<Measured>,
    /// Skew angle, degrees: by how much the corner between right and up falls short of a right
    /// angle; `None` where not read.
    pub skew: Option<Measured>,
}

impl Scales {
    /// The scale along one direction.
    pub fn along(&self, way: Way) -> Option<Measured> {
        match way {
            Way::Across => self.across,
            Way::Down => self.down,
        }
    }
}
