//! Register marks: crosses, each in the middle of the strip that two sheets share.
//!
//! A mark is told by its layer. Where layers are gone it is told by its part in the drawing: the
//! cross of a hole has the hole round it, that of a join stands alone and on two sheets.

use super::layers::Layers;
use super::segments::{Straight, Straights};
use crate::check::verify::measured::MeasuredPage;
use kurbo::{Affine, PathSeg, Point, Rect, Shape};

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

/// Middles of all round outlines.
fn middles_of_holes(page: &MeasuredPage) -> Vec<Point> {
    let outlines = page.strokes.iter().filter(|stroke| stroke.visible);
    outlines
        .filter(|stroke| {
            stroke
                .path
                .segments()
                .all(|part| !matches!(part, PathSeg::Line(_)))
        })
        .map(|stroke| stroke.path.bounding_box())
        .filter(|bounds| (bounds.width() - bounds.height()).abs() <= MIDDLE)
        .map(|bounds| bounds.center())
        .collect()
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
