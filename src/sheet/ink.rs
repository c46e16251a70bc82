//! Where a drawing's ink lies, closely enough to tell which sheets stay empty.

use super::error::SheetError;
use crate::drawing::{Ink, Mark, Shade, lettering, mark_bounds};
use kurbo::{ParamCurve, ParamCurveExtrema, PathSeg, Point, Rect};

/// Longest side of a box that stands for a piece of a stroke, mm: short, so that the empty
/// middle of a large outline is seen to be empty.
const PIECE: f64 = 16.0;

/// The ink of a drawing as boxes.
#[derive(Debug, Clone)]
pub(crate) struct InkMap {
    /// Boxes that together hold all ink.
    pub(crate) boxes: Vec<Rect>,
    /// Boxes of the lettering alone.
    pub(crate) words: Vec<Rect>,
    /// The box round everything.
    pub(crate) bounds: Rect,
}

impl InkMap {
    /// Measures the marks. White fills clear a ground and are no ink.
    ///
    /// # Errors
    /// [`SheetError::NoWork`] without ink, [`SheetError::NotFinite`] where a number is not.
    pub(crate) fn of(marks: &[Mark]) -> Result<Self, SheetError> {
        let (mut boxes, mut words) = (Vec::new(), Vec::new());
        for mark in marks {
            match &mark.ink {
                Ink::Stroke { path, line } => {
                    let half = line.width.mm() / 2.0;
                    for segment in path.segments() {
                        pieces(segment, half, &mut boxes);
                    }
                }
                Ink::Fill {
                    shade: Shade::White,
                    ..
                } => {}
                Ink::Fill { .. } => boxes.push(mark_bounds(mark)),
                Ink::Text(text) => {
                    if !text.words.trim().is_empty() {
                        let bounds = lettering::bounds(text);
                        boxes.push(bounds);
                        words.push(bounds);
                    }
                }
            }
        }
        if boxes.iter().any(|ink| !ink.is_finite()) {
            return Err(SheetError::NotFinite);
        }
        let bounds = boxes
            .iter()
            .copied()
            .reduce(|all, ink| all.union(ink))
            .ok_or(SheetError::NoWork)?;
        Ok(Self {
            boxes,
            words,
            bounds,
        })
    }
}

/// Boxes of a segment, cut into pieces of at most [`PIECE`].
fn pieces(segment: PathSeg, half: f64, boxes: &mut Vec<Rect>) {
    let bounds = segment.bounding_box();
    let count = (bounds.width().max(bounds.height()) / PIECE).ceil();
    if !count.is_finite() {
        boxes.push(bounds);
        return;
    }
    let count = count.max(1.0);
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
