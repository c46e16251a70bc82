//! The solved pattern: outlines on the panel, and every finding.
//!
//! Everything here stands in the panel frame: x along the datum edge from the point where the
//! centreline meets it, to the reader's right when the datum edge lies at the foot; y away from
//! the datum edge. Millimetres.

mod centreline;
mod check_points;
mod doubts;
mod edge;
mod finding;
mod locator;
mod opening;
mod panel;
mod relief;
mod solve;

pub use centreline::{Basis, Centreline};
pub use finding::{Finding, Severity};
pub use locator::Locator;
pub use opening::{Declared, Opening};
pub use panel::Panel;
pub use relief::Relief;
pub use solve::solve;

use crate::length::Units;
use crate::panel::Orientation;
use crate::spec::Identity;

/// A pattern with every outline worked out.
#[derive(Debug, Clone)]
pub struct Pattern {
    /// What identifies it.
    pub identity: Identity,
    /// Units of the dimensions on the sheet.
    pub units: Units,
    /// Which way round the panel lies.
    pub orientation: Orientation,
    /// The panel.
    pub panel: Panel,
    /// The centreline and how it was found.
    pub centreline: Centreline,
    /// Openings, united where they overlap, each with its outline cut at the panel's edge.
    pub openings: Vec<Opening>,
    /// Features that place the pattern.
    pub locators: Vec<Locator>,
    /// What was found while solving.
    pub findings: Vec<Finding>,
}
