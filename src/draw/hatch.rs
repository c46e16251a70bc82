//! Hatching, clear of lettering: on the waste side of a cut line, and, wider and the other way, over
//! what no cut may come near.

use crate::geometry::outline::{CURVE_TOLERANCE, Outline, Side, offset};
use kurbo::{Affine, BezPath, PathEl, Point, Rect, Shape};
use std::f64::consts::FRAC_1_SQRT_2;

/// From one line of hatching to the next, mm.
const SPACING: f64 = 3.5;

/// The same in a keep-out area, mm.
const KEEP_OUT_SPACING: f64 = 7.0;

/// How far hatching reaches from the cut line into the waste, mm.
const BAND: f64 = 9.0;

/// How closely curves are followed, mm: hatching need not be exact.
const COARSE: f64 = 0.05;

/// The sine of a turn from which on the panel's edge has a corner.
const CORNER: f64 = 0.5;

/// A stretch of hatching shorter than this, mm, is left out: it would look like dirt.
const SHORTEST: f64 = 0.8;

/// Hatches a band inside the outline along its cut sides; `clear` boxes and `holes` stay white.
pub(super) fn hatch(outline: &Outline, clear: &[Rect], holes: &[(Point, f64)]) -> BezPath {
    let waste = polygon(&outline.closed_path(CURVE_TOLERANCE));
    let mut white: Vec<Vec<Point>> = offset(outline, -BAND)
        .iter()
        .map(|inner| polygon(&inner.outer.closed_path(CURVE_TOLERANCE)))
        .collect();
    if !white.is_empty() {
        white.extend(mouth(outline));
    }
    white.extend(clear.iter().map(|place| polygon(&place.to_path(COARSE))));
    white.extend(holes.iter().map(|(centre, radius)| {
        polygon(&kurbo::Circle::new(*centre, radius + 0.8).to_path(COARSE))
    }));
    lines(&waste, &white, SPACING)
}

/// Hatches the whole of a keep-out area, clear of these boxes.
pub(super) fn keep_out(area: &BezPath, clear: &[Rect]) -> BezPath {
    // Mirrored, and mirrored back, so that the lines run the other way.
    let mirrored = |path: BezPath| polygon(&(Affine::FLIP_X * path));
    let white = clear.iter().map(|place| mirrored(place.to_path(COARSE)));
    let white: Vec<Vec<Point>> = white.collect();
    Affine::FLIP_X * lines(&mirrored(area.clone()), &white, KEEP_OUT_SPACING)
}

/// Lines of hatching in an area, so far apart, less what stays white.
fn lines(waste: &[Point], white: &[Vec<Point>], spacing: f64) -> BezPath {
    let across: Vec<f64> = waste.iter().map(|point| turned(*point).1).collect();
    let first = across.iter().copied().fold(f64::INFINITY, f64::min);
    let last = across.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mut path = BezPath::new();
    // Lines stand at whole spacings of the page, so that neighbouring openings are in step.
    let mut v = ((first / spacing).floor() + 0.5) * spacing;
    while v < last {
        let mut stretches = crossings(waste, v);
        for region in white {
            stretches = without(&stretches, &crossings(region, v));
        }
        for (from, to) in stretches
            .into_iter()
            .filter(|(from, to)| to - from > SHORTEST)
        {
            path.move_to(turned_back(from, v));
            path.line_to(turned_back(to, v));
        }
        v += spacing;
    }
    path
}

/// The part of the band that would run along an open mouth, where nothing is cut.
fn mouth(outline: &Outline) -> Vec<Vec<Point>> {
    let sides: Vec<_> = outline.sides().collect();
    let start = sides
        .iter()
        .position(|side| side.side == Side::Cut)
        .unwrap_or(0);
    let mut runs: Vec<(Point, Point)> = vec![];
    let mut within = false;
    for side in sides.iter().cycle().skip(start).take(sides.len()) {
        let open = side.side == Side::Open;
        let goes_on = |run: &&mut (Point, Point)| {
            let (before, after) = (run.1 - run.0, side.end - side.start);
            before.cross(after).abs() < CORNER * before.hypot() * after.hypot()
        };
        match runs.last_mut().filter(|_| open && within).filter(goes_on) {
            Some(run) => run.1 = side.end,
            None if open => runs.push((side.start, side.end)),
            None => {}
        }
        within = open;
    }
    runs.into_iter()
        .filter(|(from, to)| from.distance(*to) > 2.0 * BAND)
        .map(|(from, to)| {
            let along = (to - from).normalize();
            let inward = kurbo::Vec2::new(-along.y, along.x);
            let (from, to) = (from + along * BAND, to - along * BAND);
            vec![
                from - inward * BAND,
                to - inward * BAND,
                to + inward * (BAND + 0.5),
                from + inward * (BAND + 0.5),
            ]
        })
        .collect()
}

/// A closed path as points.
fn polygon(path: &BezPath) -> Vec<Point> {
    let mut points = vec![];
    kurbo::flatten(path.iter(), COARSE, |element| {
        if let PathEl::MoveTo(point) | PathEl::LineTo(point) = element {
            points.push(point);
        }
    });
    points
}

/// Along and across hatching at 45 degrees.
fn turned(point: Point) -> (f64, f64) {
    (
        (point.x + point.y) * FRAC_1_SQRT_2,
        (point.y - point.x) * FRAC_1_SQRT_2,
    )
}

fn turned_back(u: f64, v: f64) -> Point {
    Point::new((u - v) * FRAC_1_SQRT_2, (u + v) * FRAC_1_SQRT_2)
}

/// Where the hatching line `v` runs inside a polygon.
fn crossings(polygon: &[Point], v: f64) -> Vec<(f64, f64)> {
    let mut at: Vec<f64> = vec![];
    for (i, point) in polygon.iter().enumerate() {
        let ((u0, v0), (u1, v1)) = (turned(*point), turned(polygon[(i + 1) % polygon.len()]));
        if (v0 <= v) != (v1 <= v) {
            at.push(u0 + (u1 - u0) * (v - v0) / (v1 - v0));
        }
    }
    at.sort_by(f64::total_cmp);
    at.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Stretches less what others cover.
fn without(stretches: &[(f64, f64)], covered: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut left = stretches.to_vec();
    for (from, to) in covered {
        left = left
            .into_iter()
            .flat_map(|(a, b)| [(a, b.min(*from)), (a.max(*to), b)])
            .filter(|(a, b)| a < b)
            .collect();
    }
    left
}

#[cfg(test)]
mod tests {
    use super::without;

    #[test]
    fn a_covered_stretch_is_cut_out_once() {
        assert_eq!(
            without(&[(0.0, 10.0)], &[(2.0, 3.0)]),
            [(0.0, 2.0), (3.0, 10.0)]
        );
        assert_eq!(without(&[(0.0, 10.0)], &[(-1.0, 3.0)]), [(3.0, 10.0)]);
        assert_eq!(without(&[(0.0, 10.0)], &[(-1.0, 11.0)]), []);
        assert_eq!(without(&[(0.0, 10.0)], &[(11.0, 12.0)]), [(0.0, 10.0)]);
    }
}
