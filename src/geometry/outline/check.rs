//! The door: what may become an outline.

use super::polyline::to_polyline;
use super::{Outline, SHORTEST_SIDE, Vertex};
use crate::base::length::{Told, Units};
use cavalier_contours::core::Control;
use cavalier_contours::polyline::{PlineIntersect, PlineSelfIntersectOptions, PlineSource};
use kurbo::Point;
use std::fmt;

/// A side that bows less than this is straight, mm.
const FLATTEST_ARC: f64 = 1e-9;

/// Neighbours may meet once more this near to their joint, mm, or across sides no longer than
/// this. Where a side runs into an arc at a tangent, rounding moves the point where they meet by
/// `sqrt(1e-16)` of the radius.
const TANGENT_SLIP: f64 = 1e-3;

impl Outline {
    /// A closed outline from its vertices, in either direction.
    ///
    /// It is turned to run counter-clockwise, each side keeping its flag. Sides shorter than
    /// 1e-5 mm are dropped, and arcs of more than half a circle become two.
    ///
    /// # Errors
    /// Refuses numbers that are not finite, fewer than two sides, an outline without area, and
    /// one that crosses, touches or retraces itself.
    pub fn new(vertices: Vec<Vertex>) -> Result<Self, OutlineError> {
        let outline = Self::tidied(vertices)?;
        match outline.self_crossing() {
            Some(at) => Err(OutlineError::SelfCrossing { at }),
            None => Ok(outline),
        }
    }

    /// As [`Outline::new`], for vertices that are known not to cross: those of a union may touch
    /// at a point and are sound.
    pub(crate) fn tidied(vertices: Vec<Vertex>) -> Result<Self, OutlineError> {
        let finite = |vertex: &Vertex| vertex.point.is_finite() && vertex.bulge.is_finite();
        if !vertices.iter().all(finite) {
            return Err(OutlineError::NotFinite);
        }
        let mut vertices = without_short_sides(vertices);
        if vertices.len() < 2 {
            return Err(OutlineError::TooFewSides);
        }
        straighten(&mut vertices);
        let vertices = halved_arcs(vertices);
        let mut outline = Self { vertices };
        let area = outline.signed_area();
        if area.abs() < SHORTEST_SIDE * SHORTEST_SIDE {
            return Err(OutlineError::NoArea);
        }
        if area < 0.0 {
            outline.reverse();
        }
        Ok(outline)
    }

    /// Runs the other way, each side keeping its flag.
    fn reverse(&mut self) {
        let count = self.vertices.len();
        self.vertices = (0..count)
            .rev()
            .map(|index| {
                let before = self.vertices[(index + count - 1) % count];
                Vertex {
                    point: self.vertices[index].point,
                    bulge: -before.bulge,
                    side: before.side,
                }
            })
            .collect();
    }

    /// A point where it crosses, touches or retraces itself.
    fn self_crossing(&self) -> Option<Point> {
        let mut found = None;
        let mut visitor = |meeting: PlineIntersect<f64>| {
            let at = match meeting {
                PlineIntersect::Basic(basic) => {
                    let at = Point::new(basic.point.x, basic.point.y);
                    let (one, other) = (basic.start_index1, basic.start_index2);
                    if self.joins_at(one, other, at) || self.joins_at(other, one, at) {
                        return Control::Continue;
                    }
                    at
                }
                PlineIntersect::Overlapping(overlap) => {
                    Point::new(overlap.point1.x, overlap.point1.y)
                }
            };
            found = Some(at);
            Control::Break(())
        };
        let options = PlineSelfIntersectOptions {
            pos_equal_eps: SHORTEST_SIDE,
            ..Default::default()
        };
        to_polyline(self).visit_self_intersects_opt(&mut visitor, &options);
        found
    }

    /// Whether side `one` runs into side `other` about `at`, with next to nothing between them.
    fn joins_at(&self, one: usize, other: usize, at: Point) -> bool {
        let count = self.vertices.len();
        let mut joint = (one + 1) % count;
        loop {
            if self.vertices[joint].point.distance(at) > TANGENT_SLIP {
                return false;
            }
            if joint == other {
                return true;
            }
            joint = (joint + 1) % count;
            if joint == one {
                return false;
            }
        }
    }
}

/// Drops every vertex whose side is too short to be one.
fn without_short_sides(vertices: Vec<Vertex>) -> Vec<Vertex> {
    let mut kept: Vec<Vertex> = Vec::with_capacity(vertices.len());
    for vertex in vertices {
        match kept.last_mut() {
            Some(last) if last.point.distance(vertex.point) < SHORTEST_SIDE => {
                // The joint stays where it was first, so that many short sides add up to one.
                *last = Vertex {
                    point: last.point,
                    ..vertex
                };
            }
            _ => kept.push(vertex),
        }
    }
    while let [first, .., last] = kept.as_slice()
        && first.point.distance(last.point) < SHORTEST_SIDE
    {
        kept.pop();
    }
    kept
}

/// Makes sides straight that bow by nothing.
fn straighten(vertices: &mut [Vertex]) {
    for index in 0..vertices.len() {
        let end = vertices[(index + 1) % vertices.len()].point;
        let vertex = &mut vertices[index];
        if (vertex.point.distance(end) * vertex.bulge / 2.0).abs() < FLATTEST_ARC {
            vertex.bulge = 0.0;
        }
    }
}

/// Makes two arcs of each that is more than half a circle.
fn halved_arcs(vertices: Vec<Vertex>) -> Vec<Vertex> {
    if vertices.iter().all(|vertex| vertex.bulge.abs() <= 1.0) {
        return vertices;
    }
    let outline = Outline { vertices };
    let halves = outline.sides().flat_map(|side| {
        let whole = Vertex {
            point: side.start,
            bulge: side.bulge,
            side: side.side,
        };
        if side.bulge.abs() <= 1.0 {
            return [Some(whole), None];
        }
        let half = Vertex {
            bulge: libm::tan(side.sweep() / 8.0),
            ..whole
        };
        let second = Vertex {
            point: side.at(0.5),
            ..half
        };
        [Some(half), Some(second)]
    });
    halves.flatten().collect()
}

/// Why corners make no outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OutlineError {
    /// A number is infinite or none.
    NotFinite,
    /// Fewer than two sides are left.
    TooFewSides,
    /// It encloses nothing.
    NoArea,
    /// It crosses, touches or retraces itself.
    SelfCrossing {
        /// Where, mm.
        at: Point,
    },
    /// A corner's radius is negative.
    NegativeRadius {
        /// The corner, counted from 1.
        corner: usize,
        /// The radius asked for, mm.
        radius: f64,
    },
    /// A corner's radius does not fit between its neighbours.
    RadiusTooLarge {
        /// The corner, counted from 1.
        corner: usize,
        /// The radius asked for, mm.
        radius: f64,
        /// The largest that fits with its neighbours' radii as they are, mm.
        largest: f64,
    },
}

impl OutlineError {
    /// The corner that it is about, counted from 1.
    pub fn corner(&self) -> Option<usize> {
        match self {
            Self::NegativeRadius { corner, .. } | Self::RadiusTooLarge { corner, .. } => {
                Some(*corner)
            }
            _ => None,
        }
    }
}

impl fmt::Display for OutlineError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.tell(out, Units::Mm)
    }
}

impl Told for OutlineError {
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        match self {
            Self::NotFinite => out.write_str("a corner of the outline is not a finite number"),
            Self::TooFewSides => out.write_str("the outline has fewer than two sides"),
            Self::NoArea => out.write_str("the outline encloses no area"),
            Self::SelfCrossing { at } => write!(
                out,
                "the outline crosses or touches itself at x {}, y {}",
                units.exact(at.x),
                units.exact(at.y)
            ),
            Self::NegativeRadius { corner, radius } => write!(
                out,
                "the radius of corner {corner} is `{}`; it must be {} or more",
                units.exact(*radius),
                units.exact(0.0)
            ),
            Self::RadiusTooLarge {
                corner,
                radius,
                largest,
            } => write!(
                out,
                "the radius of corner {corner} is `{}`; the largest that fits is {}",
                units.exact(*radius),
                units.at_most(*largest)
            ),
        }
    }
}

impl std::error::Error for OutlineError {}
