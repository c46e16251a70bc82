//! Definitions as written: TOML read with its source places, all errors of a file at once.
//!
//! Each table of a file is described once, key by key, where its struct stands (`field::keys`); all
//! else follows that description. Every length in it is in mm and in
//! range; what needs more than the file to judge, such as a shape's parameters, comes later.

mod centreline;
mod check_features;
mod check_kit;
mod check_names;
mod check_panel;
mod check_parts;
mod check_pattern;
mod clearance;
mod entry;
pub mod families;
mod field;
mod file;
mod file_kind;
mod foot;
mod got;
mod judging;
pub mod keys;
mod kit;
mod load;
mod locator;
mod opening;
mod outright;
mod part;
mod pattern;
mod printer;
mod problem;
mod reading;
mod report;
mod scalar;
mod schema;
mod shape;
mod shop;
mod source;
mod surface;
mod syntax;
mod taken;
#[cfg(test)]
mod tests;
mod torque;
mod trim;
mod value;

pub use centreline::{CentrelineSpec, MarkSpec, PairSpec, SwingSpec};
pub use clearance::{AroundSpec, ClearanceSpec, Follow, GapToSpec};
pub use file_kind::FileKind;
pub use foot::{FeatureKind, FeatureSpec, FootSpec};
pub use judging::{AcceptedSpec, Guarded, KeepOutSpec, LineKind, LineSpec};
pub use keys::POUND;
pub use kit::{
    BoltPosition, CarriedSpec, Fastener, HandoverSpec, KitIdentity, KitPanel, KitPattern, KitSpec,
    RatingSpec, Reuse, StackItem,
};
pub use locator::{HoleSpec, LocatorSpec};
pub use opening::{OpeningGiven, OpeningSpec, ShapeAt, SquareTo};
pub use outright::Outright;
pub use part::{PartBody, PartPlace, PartSpec, RoundKind, TieSpec, TiesSpec, WaySpec};
pub use pattern::{Extent, Identity, PanelSpec, PatternSpec};
pub use printer::{PrinterFile, PrinterSpec};
pub use problem::{Placed, Problem};
pub use report::Report;
pub use schema::{schema, unit};
pub use shape::{CornerSpec, ParameterKind, ParameterSpec, ShapeSpec};
pub use shop::ShopSpec;
pub use source::Source;
pub use surface::{CircleSize, FormSpec, Measured, ProfileSpec, SurfaceSpec};
pub(crate) use taken::misread;
pub use torque::POUND_FOOT;
pub use trim::{TrimGiven, TrimLine, TrimSpec};
pub use value::{Torque, Value};
