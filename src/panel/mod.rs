//! The panel: which way round it lies, and the outline of its datum edge.

mod orientation;

pub use orientation::{Direction, Face, Orientation, OrientationError};
