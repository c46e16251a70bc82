//! Ready sizes from published tables: bolts, tubes, and the shop's tools.

mod bolt;
mod cutter;
mod tool;
mod tube;

pub use bolt::{BOLTS, Bolt, Fit, UnknownBolt, bolt};
pub use cutter::{Cutter, takes_hole_saw};
pub use tool::{
    THIN_SHEET, Tool, ToolKind, default_tools, for_thin_sheet, largest_tool_at_most, own_tools,
};
pub use tube::{MEASURE_OUTSIDE, NominalTube, TUBES, nominal_tube};
