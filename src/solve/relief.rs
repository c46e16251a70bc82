//! Inner corners of an opening: where a hole is drilled before sawing, so that the corner is round.

use super::drilling::Corner;
use crate::geometry::outline::{Outline, Segment, Side};
use kurbo::Point;

/// The widest hole that a hole saw cuts in trim, mm: 6 in (common practice, no source). A wider
/// corner is sawn along its line.
const WIDEST_HOLE: f64 = 152.4;

/// Two arcs whose centres are nearer than this, mm, are one place to drill.
const ONE_PLACE: f64 = 0.01;

/// The corners of an opening where the side that is kept turns inward, each with the largest hole
/// that touches both its sides from the waste.
///
/// The opening runs counter-clockwise, so those corners are the arcs that turn left.
pub(super) fn corners(outline: &Outline) -> Vec<Corner> {
    let mut corners: Vec<Corner> = vec![];
    for side in outline.sides() {
        let (Some(at), Some(radius)) = (side.centre(), side.radius()) else {
            continue;
        };
        let diameter = 2.0 * radius;
        let turns_inward = side.bulge > 0.0 && side.side == Side::Cut;
        if !turns_inward || diameter > WIDEST_HOLE {
            continue;
        }
        let known = |corner: &Corner| {
            corner.at.distance(at) < ONE_PLACE && (corner.diameter - diameter).abs() < ONE_PLACE
        };
        if !corners.iter().any(known) {
            corners.push(Corner { at, diameter });
        }
    }
    corners
}

/// The corners of an outline whose curves were fitted with arcs: one for each run of arcs that
/// turns inward, of the least radius in it, so that its hole stays inside the line.
pub(super) fn corners_of_fitted(outline: &Outline) -> Vec<Corner> {
    let sides: Vec<_> = outline.sides().collect();
    let turns_inward = |side: &Segment| side.bulge > 0.0 && side.side == Side::Cut;
    let corner = |at: Point, diameter: f64| Corner { at, diameter };
    let Some(straight) = sides.iter().position(|side| !turns_inward(side)) else {
        // One closed curve: as large a hole as its middle has room for.
        let middle = outline.bounds().center();
        let diameter = 2.0 * outline.distance(middle).0;
        return if diameter > WIDEST_HOLE {
            vec![]
        } else {
            vec![corner(middle, diameter)]
        };
    };
    let around = sides[straight..].iter().chain(&sides[..straight]);
    let mut corners = vec![];
    let mut run: Vec<&Segment> = vec![];
    for side in around.chain([&sides[straight]]) {
        let goes_on = run.last().is_none_or(|last| {
            let (arriving, leaving) = (last.tangent(1.0), side.tangent(0.0));
            arriving.cross(leaving).abs() < SMOOTH * arriving.hypot() * leaving.hypot()
        });
        if turns_inward(side) && goes_on {
            run.push(side);
            continue;
        }
        corners.extend(sharpest_turn(&run).map(|(at, radius)| corner(at, 2.0 * radius)));
        run.clear();
        if turns_inward(side) {
            run.push(side);
        }
    }
    corners.retain(|corner| corner.diameter <= WIDEST_HOLE);
    apart(corners)
}

/// Corners that are worth a hole each: of two that lie mostly in one another, the smaller, which
/// stays inside the line.
fn apart(mut corners: Vec<Corner>) -> Vec<Corner> {
    corners.sort_by(|a, b| a.diameter.total_cmp(&b.diameter));
    let mut kept: Vec<Corner> = vec![];
    for corner in corners {
        let alike = |other: &Corner| corner.at.distance(other.at) < other.diameter / 2.0;
        if !kept.iter().any(alike) {
            kept.push(corner);
        }
    }
    kept
}

/// Centre and radius of the sharpest arc of a run that turns by more than a bend.
fn sharpest_turn(run: &[&Segment]) -> Option<(Point, f64)> {
    let turn: f64 = run.iter().map(|side| 4.0 * libm::atan(side.bulge)).sum();
    if turn < LEAST_TURN {
        return None;
    }
    run.iter()
        .filter_map(|side| Some((side.centre()?, side.radius()?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
}

/// A run of arcs that turns by less, radians, is a bend that a saw follows: 20 degrees.
const LEAST_TURN: f64 = 0.35;

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
