//! Definitions as written: TOML read with its source places, all errors of a file at once.

mod pattern;
mod problem;
mod shape;

pub use pattern::{Extent, Identity, LocatorSpec, OpeningSpec, PanelSpec, PatternSpec, Value};
pub use problem::{Placed, Problem, Source};
pub use shape::{CornerSpec, ParameterSpec, ShapeSpec};
