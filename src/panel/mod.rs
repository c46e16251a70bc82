//! The panel: which way round it lies, and where its edges run.

mod edge;
mod orientation;
mod spline;

pub use edge::{DatumEdge, panel_outline};
pub use orientation::{Direction, Face, Orientation, OrientationError};
pub use spline::Spline;
