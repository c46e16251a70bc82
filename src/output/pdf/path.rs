//! Millimetres to points, and paths to the operators of a content stream.

use crate::base::push_fixed;
use kurbo::{BezPath, PathEl, Point};

/// Points in a millimetre: 72 to the inch of 25.4 mm exactly.
pub(super) const POINTS: f64 = 72.0 / 25.4;

/// Decimals of a number in points.
const DECIMALS: usize = 4;

/// Millimetres in points, to four decimals as far as the library's own numbers go.
pub(super) fn pt(mm: f64) -> f32 {
    // Adding nothing turns a minus zero into a zero.
    ((mm * POINTS * 1e4).round() / 1e4 + 0.0) as f32
}

/// Writes a length in points to four decimals, and a space.
pub(super) fn push_points(out: &mut Vec<u8>, mm: f64) {
    push_fixed(out, mm * POINTS, DECIMALS);
    out.push(b' ');
}

/// Writes a path, not yet painted; whether there is anything to paint.
///
/// A lone point has no ink and is left out.
pub(super) fn push_path(out: &mut Vec<u8>, path: &BezPath) -> bool {
    let mut start = Point::ZERO;
    let mut last = Point::ZERO;
    // Where a subpath is to begin as soon as it has a side.
    let mut begin = Some(Point::ZERO);
    let mut drawn = false;
    for element in path.elements() {
        if let PathEl::MoveTo(point) = *element {
            (start, last, begin) = (point, point, Some(point));
            continue;
        }
        if let PathEl::ClosePath = element {
            if begin.is_none() {
                out.extend_from_slice(b"h\n");
            }
            // What follows without a move begins where the closed subpath did.
            (last, begin) = (start, Some(start));
            continue;
        }
        if let Some(point) = begin.take() {
            operator(out, &[point], b'm');
        }
        drawn = true;
        match *element {
            PathEl::LineTo(point) => operator(out, &[point], b'l'),
            PathEl::QuadTo(handle, point) => {
                // The same curve as a cubic, exactly.
                let first = last + (handle - last) * (2.0 / 3.0);
                let second = point + (handle - point) * (2.0 / 3.0);
                operator(out, &[first, second, point], b'c');
            }
            PathEl::CurveTo(first, second, point) => {
                operator(out, &[first, second, point], b'c');
            }
            PathEl::MoveTo(_) | PathEl::ClosePath => {}
        }
        last = element.end_point().unwrap_or(last);
    }
    drawn
}

fn operator(out: &mut Vec<u8>, points: &[Point], sign: u8) {
    for point in points {
        push_points(out, point.x);
        push_points(out, point.y);
    }
    out.extend_from_slice(&[sign, b'\n']);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(svg: &str) -> String {
        let mut out = vec![];
        let drawn = push_path(&mut out, &BezPath::from_svg(svg).unwrap());
        assert_eq!(drawn, !out.is_empty());
        String::from_utf8(out).unwrap().replace('\n', " ")
    }

    #[test]
    fn subpaths_keep_their_curves_and_their_ends() {
        let all = written("M0 0L25.4 0Z M50.8 0C50.8 5.08 0 5.08 0 0 L1.27 0Z L0 2.54");
        // 25.4 mm are 72 points. After a close, the next line begins where the closed subpath did.
        assert_eq!(
            all,
            "0 0 m 72 0 l h 144 0 m 144 14.4 0 14.4 0 0 c 3.6 0 l h 144 0 m 0 7.2 l "
        );
    }

    #[test]
    fn a_quadratic_is_raised_exactly() {
        // By hand: handles two thirds of the way to (76.2, 76.2) from either end.
        assert_eq!(
            written("M0 0Q76.2 76.2 152.4 0"),
            "0 0 m 144 144 288 144 432 0 c "
        );
    }

    #[test]
    fn lone_points_draw_nothing() {
        assert_eq!(written("M5 5M6 6Z"), "");
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
            assert_eq!(pt(mm).to_string(), points);
            let mut out = vec![];
            push_points(&mut out, mm);
            assert_eq!(out, format!("{points} ").into_bytes());
        }
    }
}
