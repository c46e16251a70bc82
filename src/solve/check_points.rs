//! Points of an opening that a tape can be laid to before anything is cut.

use super::Relief;
use crate::geometry::outline::{Outline, Side};
use kurbo::{Point, Rect};

/// Two points nearer than this, mm, are one to a tape.
const ONE_POINT: f64 = 3.0;

/// Up to four points that stand for an opening's corners, counter-clockwise from the lower left:
/// crosses of relief holes, and the ends of the cut line at the panel's edge; sharp corners
/// where there are neither.
pub(super) fn check_points(outline: &Outline, relief: &[Relief]) -> Vec<Point> {
    let mut marked: Vec<Point> = relief.iter().map(|hole| hole.at).collect();
    marked.extend(mouth_ends(outline));
    if marked.is_empty() {
        marked = outline
            .vertices()
            .iter()
            .map(|vertex| vertex.point)
            .collect();
    }
    let box_corners = corners(outline.bounds());
    let mut chosen: Vec<Point> = vec![];
    for corner in box_corners {
        let nearest = marked
            .iter()
            .min_by(|a, b| a.distance(corner).total_cmp(&b.distance(corner)));
        if let Some(point) = nearest
            && chosen
                .iter()
                .all(|other| other.distance(*point) > ONE_POINT)
        {
            chosen.push(*point);
        }
    }
    chosen
}

/// Where the cut line meets the panel's edge.
fn mouth_ends(outline: &Outline) -> Vec<Point> {
    let sides: Vec<_> = outline.sides().collect();
    (0..sides.len())
        .filter(|i| {
            let next = &sides[(i + 1) % sides.len()];
            (sides[*i].side == Side::Cut) != (next.side == Side::Cut)
        })
        .map(|i| sides[i].end)
        .collect()
}

/// The corners of a box, counter-clockwise from the lower left.
pub(super) fn corners(bounds: Rect) -> [Point; 4] {
    [
        Point::new(bounds.x0, bounds.y0),
        Point::new(bounds.x1, bounds.y0),
        Point::new(bounds.x1, bounds.y1),
        Point::new(bounds.x0, bounds.y1),
    ]
}
