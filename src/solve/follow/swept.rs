//! What a part covers when it moves.

use crate::geometry::outline::{Outline, Segment, Side};
use crate::model::clearance::EachWay;
use kurbo::{Point, Vec2};

/// Movements shorter than this are none, mm.
const NO_MOVE: f64 = 1e-9;

/// Lines and arcs among which is the whole edge of what `part` covers when it moves along the
/// axis that `moves` is longer on, by as much as that is longer.
pub(super) fn pieces(part: &Outline, moves: EachWay) -> Vec<Segment> {
    let lesser = moves.lesser();
    let by = Vec2::new(moves.sideways - lesser, moves.depthways - lesser);
    if by.hypot() < NO_MOVE {
        return part.sides().collect();
    }
    let path = |point: Point| Segment {
        start: point - by,
        end: point + by,
        bulge: 0.0,
        side: Side::Cut,
    };
    let square = Vec2::new(-by.y, by.x).normalize();
    let mut pieces = Vec::with_capacity(4 * part.vertices().len());
    for side in part.sides() {
        pieces.extend([side.moved(-by), side.moved(by), path(side.start)]);
        if let Some((centre, radius)) = side.centre().zip(side.radius()) {
            let tops = [square, -square]
                .into_iter()
                .filter(|&direction| side.part_of_sweep(direction).is_some());
            pieces.extend(tops.map(|direction| path(centre + direction * radius)));
        }
    }
    pieces
}
