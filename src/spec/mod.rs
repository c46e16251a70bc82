//! Definitions as written: TOML read with its source places, all errors of a file at once.
//!
//! A file is one struct, filled by one function a table. Every length in it is in mm and in
//! range; what needs more than the file to judge, such as a shape's parameters, comes later.

mod centreline;
mod check_pattern;
mod field;
mod file;
mod outright;
mod pattern;
mod printer;
mod problem;
mod read_centreline;
mod read_pattern;
mod read_shape;
mod reading;
mod report;
mod shape;
mod source;
mod table;
#[cfg(test)]
mod tests;

pub use centreline::{CentrelineSpec, MarkSpec, PairSpec, SwingSpec};
pub use outright::Outright;
pub use pattern::{
    Extent, Identity, LocatorSpec, OpeningSpec, PanelSpec, PatternSpec, SquareTo, Value,
};
pub use printer::PrinterSpec;
pub use problem::{Placed, Problem};
pub use report::Report;
pub use shape::{CornerSpec, ParameterSpec, ShapeSpec};
pub use source::Source;
