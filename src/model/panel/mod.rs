//! The panel: which way round it lies, and where its edges run.

mod edge;
mod orientation;

pub use edge::{DatumEdge, panel_outline};
pub use orientation::{Face, Orientation, OrientationError};
