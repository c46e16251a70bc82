//! Definitions as written: TOML read with its source places, all errors of a file at once.
//!
//! A file is one struct, filled by one function a table. Every length in it is in mm and in
//! range; what needs more than the file to judge, such as a shape's parameters, comes later.

mod check_pattern;
mod field;
mod file;
mod pattern;
mod problem;
mod read_pattern;
mod read_shape;
mod reading;
mod report;
mod shape;
mod source;
mod table;
#[cfg(test)]
mod tests;

pub use pattern::{Extent, Identity, LocatorSpec, OpeningSpec, PanelSpec, PatternSpec, Value};
pub use problem::{Placed, Problem};
pub use report::Report;
pub use shape::{CornerSpec, ParameterSpec, ShapeSpec};
pub use source::Source;
