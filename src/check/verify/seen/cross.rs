//! Register marks: crosses, each in the middle of the strip that two sheets share.
//!
//! A mark is told by its layer. Where layers are gone it is told by its part in the drawing: the
//! cross of a hole has the hole round it, that of a join stands alone and on two sheets.

use super::layers::Layers;
use super::segments::{Straight, Straights};
use crate::check::verify::measured::MeasuredPage;
use kurbo::{Affine, BezPath, ParamCurve, PathSeg, Point, Rect, Vec2};

/// Half the arm along a join, mm.
const ARM: f64 = 4.0;
/// How far the middles of two arms may be apart, mm.
const MIDDLE: f64 = 0.02;
/// How much an arm's length may be off, as a share: the page may be scaled by more, but then it
/// is measured on its rulers.
const ARM_WITHIN: f64 = 0.02;

/// Most crosses that are looked at: a sheet has eight.
const MOST: usize = 60;

/// The four edges of a window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Edge {
    Left,
    Right,
    Foot,
    Head,
}

/// A register mark, in the sheet's own directions.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cross {
    pub(crate) at: Point,
    pub(crate) edge: Edge,
}

/// The register marks in a window.
pub(crate) fn crosses(
    page: &MeasuredPage,
    straights: &Straights,
    layers: Layers,
    to_sheet: Affine,
    window: Rect,
    scale: f64,
) -> Vec<Cross> {
    let mut arms: Vec<&Straight> = straights
        .short
        .iter()
        .filter(|arm| {
            let stroke = &page.strokes[arm.stroke];
            let length = (arm.line.p1 - arm.line.p0).hypot() / scale;
            arm.alone
                && !stroke.dashes.any()
                && layers.may_be(stroke, layers.register)
                && length > 1.0
                && length < 2.0 * ARM * (1.0 + ARM_WITHIN)
        })
        .collect();
    let middle = |arm: &Straight| arm.line.midpoint();
    arms.sort_by(|a, b| middle(a).x.total_cmp(&middle(b).x));
    let holes = if layers.are_told() {
        vec![]
    } else {
        middles_of_holes(page)
    };
    let is_of_hole = |at: Point| holes.iter().any(|hole| hole.distance(at) <= MIDDLE);
    let mut found = vec![];
    for (index, first) in arms.iter().enumerate() {
        let near = arms[index + 1..]
            .iter()
            .take_while(|other| middle(other).x - middle(first).x <= MIDDLE);
        for second in near.take(MOST) {
            let (a, b) = (first.line, second.line);
            if (a.midpoint() - b.midpoint()).hypot() > MIDDLE {
                continue;
            }
            let (a, b) = (a.p1 - a.p0, b.p1 - b.p0);
            let (long, short) = (a.hypot().max(b.hypot()), a.hypot().min(b.hypot()));
            let square = a.dot(b).abs() < 0.02 * long * short;
            if square
                && (long / scale - 2.0 * ARM).abs() < 2.0 * ARM * ARM_WITHIN
                && !is_of_hole(first.line.midpoint())
            {
                found.push(to_sheet * first.line.midpoint());
            }
        }
    }
    found
        .into_iter()
        .filter(|at| window.contains(*at))
        .take(MOST)
        .map(|at| Cross {
            at,
            edge: nearest(at, window),
        })
        .collect()
}

/// Middles of all round lines: a hole's rim ends where it would run along the line to cut.
fn middles_of_holes(page: &MeasuredPage) -> Vec<Point> {
    let outlines = page.strokes.iter().filter(|stroke| stroke.visible);
    outlines
        .filter_map(|stroke| middle_of_round(&stroke.path))
        .collect()
}

/// The middle of a circle, or of an arc of one; `None` for any other path.
fn middle_of_round(path: &BezPath) -> Option<Point> {
    let mut points = vec![];
    for part in path.segments() {
        if matches!(part, PathSeg::Line(_)) {
            return None;
        }
        points.extend([part.start(), part.eval(0.5)]);
    }
    // All round, the last end is the first start.
    let end = path.segments().last()?.end();
    points.extend((end.distance(*points.first()?) > MIDDLE).then_some(end));
    let count = points.len();
    let [a, b, c] = [0, count / 3, 2 * count / 3].map(|at| points.get(at).copied());
    let middle = middle_through(a?, b?, c?)?;
    let radius = middle.distance(a?);
    let on_it = |at: &Point| (middle.distance(*at) - radius).abs() <= MIDDLE;
    points.iter().all(on_it).then_some(middle)
}

/// The middle of the circle through three places; `None` where they lie in a line.
fn middle_through(a: Point, b: Point, c: Point) -> Option<Point> {
    let (to_b, to_c) = (b - a, c - a);
    let twice = 2.0 * to_b.cross(to_c);
    let towards = (to_c * -to_b.hypot2() + to_b * to_c.hypot2()) / twice;
    let middle = a + Vec2::new(-towards.y, towards.x);
    middle.is_finite().then_some(middle)
}

fn nearest(at: Point, window: Rect) -> Edge {
    let far = [
        (at.x - window.x0, Edge::Left),
        (window.x1 - at.x, Edge::Right),
        (at.y - window.y0, Edge::Foot),
        (window.y1 - at.y, Edge::Head),
    ];
    let first = far[0];
    far.into_iter()
        .fold(
            first,
            |best, next| if next.0 < best.0 { next } else { best },
        )
        .1
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Arc, Circle, Shape};

    #[test]
    fn middles_of_circles_and_arcs_are_found_and_of_nothing_else() {
        let middle = Point::new(30.0, -7.0);
        let found = |path: BezPath| middle_of_round(&path);
        let near = |path: BezPath| found(path).is_some_and(|at| at.distance(middle) < 0.01);
        assert!(near(Circle::new(middle, 4.0).to_path(0.001)));
        for sweep in [-4.0, 0.8, 3.0, 4.7] {
            assert!(near(
                Arc::new(middle, (8.0, 8.0), 1.0, sweep, 0.0).to_path(0.001)
            ));
        }
        let oval = Arc::new(middle, (8.0, 5.0), 1.0, 4.7, 0.0).to_path(0.001);
        assert_eq!(found(oval), None);
        assert_eq!(found(Rect::new(0.0, 0.0, 4.0, 4.0).to_path(0.1)), None);
    }
}
