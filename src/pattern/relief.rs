//! Holes drilled at inner corners before sawing, so that the corner is round.

use crate::hardware::{Tool, largest_tool_at_most};
use crate::outline::{Outline, Side};
use kurbo::Point;

/// The widest hole that a hole saw cuts in trim, mm: 6 in (common practice, no source). A wider
/// corner is sawn along its line.
const WIDEST_HOLE: f64 = 152.4;

/// A tool within this of a hole's diameter, mm, is of its size: cutters are named in rounded sizes.
const SAME_SIZE: f64 = 0.06;

/// Two arcs whose centres are nearer than this, mm, are one place to drill.
const ONE_PLACE: f64 = 0.01;

/// A place to drill: the hole touches both sides of its corner from the waste.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Relief {
    /// Centre of the hole, panel frame, mm.
    pub at: Point,
    /// Diameter of the hole: twice the corner's radius, mm.
    pub diameter: f64,
    /// The shop's tool for it: the largest that stays inside the line.
    pub tool: Option<Tool>,
}

impl Relief {
    /// Whether its tool leaves nothing to be filed off.
    pub fn is_finished_by_tool(&self) -> bool {
        self.tool
            .is_some_and(|tool| tool.diameter > self.diameter - SAME_SIZE)
    }
}

/// The relief holes of an opening: one for each place where the side that is kept turns inward.
///
/// The opening runs counter-clockwise, so those corners are the arcs that turn left.
pub(super) fn relief_holes(outline: &Outline, tools: &[Tool]) -> Vec<Relief> {
    let mut holes: Vec<Relief> = vec![];
    for side in outline.sides() {
        let (Some(at), Some(radius)) = (side.centre(), side.radius()) else {
            continue;
        };
        let diameter = 2.0 * radius;
        let turns_inward = side.bulge > 0.0 && side.side == Side::Cut;
        if !turns_inward || diameter > WIDEST_HOLE {
            continue;
        }
        let known = |hole: &Relief| {
            hole.at.distance(at) < ONE_PLACE && (hole.diameter - diameter).abs() < ONE_PLACE
        };
        if !holes.iter().any(known) {
            holes.push(Relief {
                at,
                diameter,
                tool: largest_tool_at_most(tools, (diameter + SAME_SIZE) / 2.0),
            });
        }
    }
    holes
}

/// Less than this, in radians, two sides meet smoothly: the kink is not felt.
const SMOOTH: f64 = 0.05;

/// A corner without a radius where the side that is kept turns inward, if there is one.
pub(super) fn sharp_inner_corner(outline: &Outline) -> Option<Point> {
    let sides: Vec<_> = outline.sides().collect();
    (0..sides.len()).find_map(|i| {
        let (before, after) = (&sides[i], &sides[(i + 1) % sides.len()]);
        let cut = before.side == Side::Cut && after.side == Side::Cut;
        let (arriving, leaving) = (before.tangent(1.0), after.tangent(0.0));
        let turn = libm::atan2(arriving.cross(leaving), arriving.dot(leaving));
        (cut && turn > SMOOTH).then_some(after.start)
    })
}
