//! Closed outlines of straight sides and true arcs, in mm, y up.
//!
//! Waste lies at the left of each side: an opening runs counter-clockwise.

use kurbo::Point;

/// What lies along one side of an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// To be cut.
    Cut,
    /// On the panel's edge: nothing to cut.
    Open,
}

/// A corner or joint of an outline, and the side from it to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Vertex {
    /// Where it stands, mm.
    pub point: Point,
    /// Of the side to the next vertex: tangent of a quarter of its sweep, positive to the left;
    /// 0 for a straight side.
    pub bulge: f64,
    /// What lies along that side.
    pub side: Side,
}

/// A closed outline, counter-clockwise, with at least two sides.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    vertices: Vec<Vertex>,
}
