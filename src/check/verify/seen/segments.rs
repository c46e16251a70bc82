//! The straight parts of a page's ink.

use crate::check::verify::measured::{MeasuredPage, Stroke};
use kurbo::{Line, PathEl, Point};

/// One straight part of a stroke.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Straight {
    pub(crate) line: Line,
    /// Index of the stroke on its page.
    pub(crate) stroke: usize,
    /// It is a whole subpath: nothing hangs on to it.
    pub(crate) alone: bool,
}

/// Straight parts that are of use: rulers' base lines, and marks shorter than `SHORT`.
#[derive(Debug, Default)]
pub(crate) struct Straights {
    pub(crate) long: Vec<Straight>,
    pub(crate) short: Vec<Straight>,
}

/// Longest graduation or arm of a cross, mm, at any believed scale.
const SHORT: f64 = 17.0;
/// Lengths of rulers at any believed scale, mm.
const RULERS: std::ops::RangeInclusive<f64> = 25.0..=310.0;

/// Straight parts of everything on the page that can be seen.
pub(crate) fn straights(page: &MeasuredPage) -> Straights {
    let mut found = Straights::default();
    for (index, stroke) in page.strokes.iter().enumerate() {
        if stroke.visible {
            collect(stroke, index, &mut found);
        }
    }
    found
}

fn collect(stroke: &Stroke, index: usize, found: &mut Straights) {
    let elements = stroke.path.elements();
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    for (place, element) in elements.iter().enumerate() {
        let line = match *element {
            PathEl::MoveTo(to) => {
                (start, last) = (to, to);
                continue;
            }
            PathEl::LineTo(to) => Line::new(last, to),
            PathEl::ClosePath => Line::new(last, start),
            ref curve => {
                last = curve.end_point().unwrap_or(last);
                continue;
            }
        };
        last = line.p1;
        let after_move = matches!(elements.get(place.wrapping_sub(1)), Some(PathEl::MoveTo(_)));
        let before_move = matches!(elements.get(place + 1), None | Some(PathEl::MoveTo(_)));
        let part = Straight {
            line,
            stroke: index,
            alone: after_move && before_move,
        };
        let length = (line.p1 - line.p0).hypot();
        if length <= SHORT {
            found.short.push(part);
        } else if RULERS.contains(&length) && part.alone {
            found.long.push(part);
        }
    }
}

/// Straight pieces that follow a path within `tolerance` mm.
pub(crate) fn flattened(path: &kurbo::BezPath, tolerance: f64, pieces: &mut Vec<Line>) {
    let (mut start, mut last) = (Point::ZERO, Point::ZERO);
    kurbo::flatten(path.iter(), tolerance, |element| match element {
        PathEl::MoveTo(to) => (start, last) = (to, to),
        PathEl::LineTo(to) => {
            pieces.push(Line::new(last, to));
            last = to;
        }
        PathEl::ClosePath => {
            if (last - start).hypot() > 1e-9 {
                pieces.push(Line::new(last, start));
            }
            last = start;
        }
        _ => {}
    });
}
