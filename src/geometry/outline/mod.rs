//! Closed outlines of straight sides and true arcs, in mm, y up.
//!
//! Waste lies at the left of each side: an opening runs counter-clockwise. Arcs stay arcs
//! through every operation here; only [`Outline::closed_path`] and [`Outline::cut_paths`] turn
//! them into curves, within a tolerance that the caller names.

mod boolean;
mod check;
mod edge;
mod measure;
mod nearest;
mod neck;
mod offset;
mod path;
mod polyline;
mod rounded;
mod runs;
mod segment;
mod sound;

#[cfg(test)]
mod boolean_tests;

pub use boolean::{Region, difference, intersection, union, union_of_regions, without};
pub(crate) use boolean::{outers, union_by_members};
pub use check::OutlineError;
pub use edge::{ON_EDGE, mark_open};
pub(crate) use neck::narrowest;
pub use offset::offset;
pub use path::CURVE_TOLERANCE;
pub(crate) use polyline::to_polyline;
pub use rounded::{Corner, rounded};
pub(crate) use runs::Runs;
pub use segment::Segment;

use kurbo::{Point, Vec2};

/// Sides shorter than this are no sides, mm: a hundredth of the last decimal that is written.
const SHORTEST_SIDE: f64 = 1e-5;

/// What lies along one side of an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// To be cut.
    Cut,
    /// On the panel's edge: nothing to cut.
    Open,
}

impl Side {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Cut, Self::Open];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Open => "open",
        }
    }
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

impl Outline {
    /// Its corners and joints in order, counter-clockwise.
    pub fn vertices(&self) -> &[Vertex] {
        &self.vertices
    }

    /// The same, to be cut all round.
    #[must_use]
    pub fn closed(mut self) -> Self {
        for vertex in &mut self.vertices {
            vertex.side = Side::Cut;
        }
        self
    }

    /// Its sides in order; side `n` begins at vertex `n`.
    pub fn sides(&self) -> impl ExactSizeIterator<Item = Segment> + Clone {
        let count = self.vertices.len();
        (0..count).map(move |index| {
            let from = self.vertices[index];
            Segment {
                start: from.point,
                end: self.vertices[(index + 1) % count].point,
                bulge: from.bulge,
                side: from.side,
            }
        })
    }

    /// The same outline turned about the origin by `turn` radians, counter-clockwise, then moved
    /// by `by`, mm. Quarter turns are exact.
    pub fn placed(&self, turn: f64, by: Vec2) -> Self {
        let (sine, cosine) = sine_and_cosine(turn);
        let vertices = self
            .vertices
            .iter()
            .map(|vertex| {
                let Point { x, y } = vertex.point;
                let turned = Point::new(x * cosine - y * sine, x * sine + y * cosine);
                Vertex {
                    point: turned + by,
                    ..*vertex
                }
            })
            .collect();
        Self { vertices }
    }
}

/// Sine and cosine of an angle in radians, exact for quarter turns.
fn sine_and_cosine(angle: f64) -> (f64, f64) {
    let quarters = angle / std::f64::consts::FRAC_PI_2;
    let whole = quarters.round();
    // A quarter turn in radians is never exact, and 6e-17 of a 2 m panel must not show as noise.
    if (quarters - whole).abs() < 1e-12 {
        match whole.rem_euclid(4.0) as u8 {
            0 => (0.0, 1.0),
            1 => (1.0, 0.0),
            2 => (0.0, -1.0),
            _ => (-1.0, 0.0),
        }
    } else {
        libm::sincos(angle)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::{FRAC_PI_2, PI};

    #[test]
    fn quarter_turns_are_exact_and_others_keep_area_and_length() {
        let sharp = |x, y| Corner {
            point: Point::new(x, y),
            radius: 3.0,
            side: Side::Cut,
        };
        let shape = rounded(&[
            sharp(0.0, 0.0),
            sharp(30.0, 0.0),
            sharp(20.0, 25.0),
            sharp(0.0, 10.0),
        ])
        .unwrap();
        let half = shape.placed(PI, Vec2::new(100.0, 0.0));
        for (was, is) in shape.vertices().iter().zip(half.vertices()) {
            assert_eq!(is.point, Point::new(100.0 - was.point.x, -was.point.y));
        }
        let quarter = shape.placed(FRAC_PI_2, Vec2::ZERO);
        assert_eq!(quarter.vertices()[0].point.x, -shape.vertices()[0].point.y);
        let odd = shape.placed(0.7, Vec2::new(-3.0, 900.0));
        assert!((odd.area() - shape.area()).abs() < 1e-9);
        assert!((odd.length() - shape.length()).abs() < 1e-9);
    }
}
