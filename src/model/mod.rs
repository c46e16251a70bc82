//! What stands in the bay, as numbers: the panel and which way round it lies, its centreline from
//! readings, hardware, materials, points placed by
//! the tape, and the clearance budget.

pub mod centre;
pub mod clearance;
pub mod hardware;
pub mod material;
pub mod panel;
pub mod ties;
