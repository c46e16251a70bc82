//! Millimetres to points, and paths to the library's lines and rings.

use kurbo::{BezPath, PathEl, Point};
use printpdf::{Line, LinePoint, PolygonRing, Pt};

/// Points in a millimetre: 72 to the inch of 25.4 mm exactly.
pub(super) const POINTS: f64 = 72.0 / 25.4;

/// Millimetres in points, to four decimals as far as the library's own numbers go.
pub(super) fn pt(mm: f64) -> Pt {
    // Adding nothing turns a minus zero into a zero.
    Pt(((mm * POINTS * 1e4).round() / 1e4 + 0.0) as f32)
}

/// Each subpath as a line of its own.
///
/// Not as one polygon: the library closes only the last ring of one that is stroked.
pub(super) fn subpaths(path: &BezPath) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut line = Line::default();
    let mut start = Point::ZERO;
    let mut last = Point::ZERO;
    for element in path.elements() {
        if !matches!(element, PathEl::MoveTo(_)) && line.points.is_empty() {
            line.points.push(on(start));
        }
        match *element {
            PathEl::MoveTo(point) => {
                finish(&mut lines, &mut line);
                line.points.push(on(point));
                start = point;
            }
            PathEl::LineTo(point) => line.points.push(on(point)),
            PathEl::QuadTo(handle, point) => {
                // The same curve as a cubic, exactly.
                let first = last + (handle - last) * (2.0 / 3.0);
                let second = point + (handle - point) * (2.0 / 3.0);
                line.points.extend([off(first), off(second), on(point)]);
            }
            PathEl::CurveTo(first, second, point) => {
                line.points.extend([off(first), off(second), on(point)]);
            }
            PathEl::ClosePath => {
                line.is_closed = true;
                finish(&mut lines, &mut line);
            }
        }
        last = match *element {
            PathEl::ClosePath => start,
            _ => element.end_point().unwrap_or(last),
        };
    }
    finish(&mut lines, &mut line);
    lines
}

/// Each subpath as a ring to be filled.
pub(super) fn rings(path: &BezPath) -> Vec<PolygonRing> {
    subpaths(path)
        .into_iter()
        .map(|line| PolygonRing {
            points: line.points,
        })
        .collect()
}

/// A lone point has no ink.
fn finish(lines: &mut Vec<Line>, line: &mut Line) {
    let done = std::mem::take(line);
    if done.points.len() > 1 {
        lines.push(done);
    }
}

fn on(point: Point) -> LinePoint {
    LinePoint {
        p: printpdf::Point {
            x: pt(point.x),
            y: pt(point.y),
        },
        bezier: false,
    }
}

fn off(point: Point) -> LinePoint {
    LinePoint {
        bezier: true,
        ..on(point)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(line: &Line) -> (usize, usize, bool) {
        let handles = line.points.iter().filter(|point| point.bezier).count();
        (line.points.len() - handles, handles, line.is_closed)
    }

    #[test]
    fn subpaths_keep_their_curves_and_their_ends() {
        let path = BezPath::from_svg("M0 0L10 0L10 10Z M20 0C20 5 25 5 25 0 M30 0Q35 5 40 0Z L1 1")
            .unwrap();
        let shapes: Vec<_> = subpaths(&path).iter().map(shape).collect();
        // After a close, the next line begins where the closed subpath did.
        assert_eq!(
            shapes,
            [(3, 0, true), (2, 2, false), (2, 2, true), (2, 0, false)]
        );
        let last = &subpaths(&path)[3].points;
        assert_eq!(last[0].p.x.0, pt(30.0).0);
    }

    #[test]
    fn a_quadratic_is_raised_exactly() {
        let path = BezPath::from_svg("M0 0Q30 30 60 0").unwrap();
        let points = &subpaths(&path)[0].points;
        // By hand: handles two thirds of the way to (30, 30) from either end.
        for (point, (x, y)) in
            points
                .iter()
                .zip([(0.0, 0.0), (20.0, 20.0), (40.0, 20.0), (60.0, 0.0)])
        {
            assert_eq!((point.p.x.0, point.p.y.0), (pt(x).0, pt(y).0));
        }
    }

    #[test]
    fn lone_points_draw_nothing() {
        assert!(subpaths(&BezPath::from_svg("M5 5M6 6").unwrap()).is_empty());
    }

    #[test]
    fn points_are_those_of_the_standard() {
        // 100 mm is 283.4645669 pt; A4 is 595.2756 x 841.8898 pt (1/72 in, 25.4 mm to the inch).
        for (mm, points) in [
            (100.0, "283.4646"),
            (210.0, "595.2756"),
            (297.0, "841.8898"),
            (-0.0, "0"),
        ] {
            assert_eq!(pt(mm).0.to_string(), points);
        }
    }
}
