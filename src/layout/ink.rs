//! Where a drawing's ink lies, closely enough to tell which sheets stay empty.

use super::error::SheetError;
use crate::draw::ink::{Ink, Layer, Mark, Shade, mark_bounds};
use kurbo::{ParamCurve, ParamCurveExtrema, PathSeg, Point, Rect};

/// Longest side of a box that stands for a piece of a stroke, mm: short, so that the empty corners
/// beside slanting and round lines are seen to be empty.
const PIECE: f64 = 4.0;

/// Farthest that ink may lie from the drawing's origin, mm: four times the longest length that
/// a definition may hold, so that sheets stay countable.
const FARTHEST: f64 = 20_000.0;
/// Shortest line that should not run along a join, mm.
const LONG: f64 = 20.0;
/// Air that it asks for at both sides, mm.
const BESIDE: f64 = 3.0;
/// Lean under which a line counts as upright or level, mm.
const STRAIGHT: f64 = 1e-3;

/// The ink of a drawing as boxes.
#[derive(Debug, Clone)]
pub(crate) struct InkMap {
    /// Boxes that together hold all ink.
    pub(crate) boxes: Vec<Rect>,
    /// Boxes that together hold the cut line.
    pub(crate) cut: Vec<Rect>,
    /// Where long upright lines run, with air at both sides: from x to x.
    pub(crate) upright: Vec<(f64, f64)>,
    /// The same of level lines: from y to y.
    pub(crate) level: Vec<(f64, f64)>,
    /// The box round everything.
    pub(crate) bounds: Rect,
}

impl InkMap {
    /// Measures the marks. White fills clear a ground and are no ink.
    ///
    /// # Errors
    /// [`SheetError::NoWork`] without ink, [`SheetError::NotFinite`] where a number is not finite,
    /// [`SheetError::TooFar`] where it is out of all bounds.
    pub(crate) fn of(marks: &[Mark]) -> Result<Self, SheetError> {
        let (mut boxes, mut cut) = (Vec::new(), Vec::new());
        let (mut upright, mut level) = (Vec::new(), Vec::new());
        for mark in marks {
            let bounds = mark_bounds(mark);
            // A box leaves out what is not a number, so paths are asked themselves.
            let whole = match &mark.ink {
                Ink::Stroke { path, .. } | Ink::Fill { path, .. } => path.is_finite(),
                Ink::Text(_) => true,
            };
            if !whole || !bounds.is_finite() {
                return Err(SheetError::NotFinite);
            }
            if [bounds.x0, bounds.y0, bounds.x1, bounds.y1]
                .iter()
                .any(|at| at.abs() > FARTHEST)
            {
                return Err(SheetError::TooFar(FARTHEST));
            }
            match &mark.ink {
                Ink::Stroke { path, line } => {
                    let half = line.width.mm() / 2.0;
                    for segment in path.segments() {
                        pieces(segment, half, &mut boxes);
                        if mark.layer == Layer::Cut {
                            pieces(segment, half, &mut cut);
                        }
                        let PathSeg::Line(line) = segment else {
                            continue;
                        };
                        if mark.layer == Layer::Waste || line.p0.distance(line.p1) < LONG {
                            continue;
                        }
                        if (line.p0.x - line.p1.x).abs() < STRAIGHT {
                            upright.push((line.p0.x - BESIDE, line.p0.x + BESIDE));
                        }
                        if (line.p0.y - line.p1.y).abs() < STRAIGHT {
                            level.push((line.p0.y - BESIDE, line.p0.y + BESIDE));
                        }
                    }
                }
                Ink::Fill {
                    shade: Shade::White,
                    ..
                } => {}
                Ink::Fill { .. } => boxes.push(bounds),
                Ink::Text(text) => {
                    if !text.words.trim().is_empty() {
                        boxes.push(bounds);
                    }
                }
            }
        }
        let bounds = boxes
            .iter()
            .copied()
            .reduce(|all, ink| all.union(ink))
            .ok_or(SheetError::NoWork)?;
        Ok(Self {
            boxes,
            cut,
            upright,
            level,
            bounds,
        })
    }
}

/// Boxes of a segment, cut into pieces of at most [`PIECE`].
fn pieces(segment: PathSeg, half: f64, boxes: &mut Vec<Rect>) {
    let bounds = segment.bounding_box();
    let count = (bounds.width().max(bounds.height()) / PIECE)
        .ceil()
        .max(1.0);
    for index in 0..count as usize {
        let range = index as f64 / count..(index + 1) as f64 / count;
        let piece = segment.subsegment(range).bounding_box();
        boxes.push(piece.inflate(half, half));
    }
}

/// Whether `inner` lies wholly in `outer`, edges included.
pub(crate) fn holds(outer: Rect, inner: Rect) -> bool {
    outer.x0 <= inner.x0 && outer.y0 <= inner.y0 && outer.x1 >= inner.x1 && outer.y1 >= inner.y1
}

/// Whether two boxes share a point, edges included.
pub(crate) fn touches(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// Distance between two points along the longer of the two directions, for ranking.
pub(crate) fn farther(a: Point, b: Point) -> f64 {
    (a.x - b.x).abs().max((a.y - b.y).abs())
}
