//! Definitions as written: TOML read with its source places, all errors of a file at once.
//!
//! A file is one struct, filled by one function a table. Every length in it is in mm and in
//! range; what needs more than the file to judge, such as a shape's parameters, comes later.

mod centreline;
mod check_kit;
mod check_parts;
mod check_pattern;
mod clearance;
pub mod families;
mod field;
mod file;
mod judging;
mod kit;
mod measure;
mod outright;
mod pairs;
mod part;
mod pattern;
mod printer;
mod problem;
mod quantity;
mod read_centreline;
mod read_clearance;
mod read_judging;
mod read_kit;
mod read_opening;
mod read_part;
mod read_pattern;
mod read_shape;
mod read_surface;
mod read_tools;
mod reading;
mod report;
mod shape;
mod shop;
mod source;
mod surface;
mod syntax;
mod table;
#[cfg(test)]
mod tests;

pub use centreline::{CentrelineSpec, MarkSpec, PairSpec, SwingSpec};
pub use clearance::{AroundSpec, ClearanceSpec, Follow};
pub use judging::{AcceptedSpec, Guarded, KeepOutSpec, LineKind, LineSpec};
pub use kit::{
    BoltPosition, CarriedSpec, Fastener, HandoverSpec, KitIdentity, KitPanel, KitPattern, KitSpec,
    RatingSpec, Reuse, StackItem, Torque,
};
pub use measure::{POUND, POUND_FOOT};
pub use outright::Outright;
pub use part::{PartBody, PartSpec, RoundKind, WaySpec};
pub use pattern::{
    Extent, Identity, LocatorSpec, OpeningGiven, OpeningSpec, PanelSpec, PatternSpec, ShapeAt,
    SquareTo, Value,
};
pub use printer::PrinterSpec;
pub use problem::{Placed, Problem};
pub use report::Report;
pub use shape::{CornerSpec, ParameterKind, ParameterSpec, ShapeSpec};
pub use shop::ShopSpec;
pub use source::Source;
pub use surface::{CircleSize, FormSpec, Measured, ProfileSpec, SurfaceSpec};
