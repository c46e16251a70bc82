//! Plane geometry: closed outlines of lines and arcs, splines, and the development of curved
//! surfaces. Millimetres, y up; knows nothing of panels or parts.

pub mod development;
pub mod outline;
mod spline;

pub use spline::Spline;
