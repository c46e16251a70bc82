//! Where ink lies, and moving it.

use super::lettering;
use super::mark::{Ink, Mark};
use kurbo::{Affine, Rect, Shape, Vec2};

/// The box that holds all ink of `mark`, mm: half a line's width is counted in.
///
/// Exact for lines and text; a curve's box is that of the curve itself, not of its handles. A
/// mark without points gives an empty box at the origin.
pub fn mark_bounds(mark: &Mark) -> Rect {
    match &mark.ink {
        Ink::Stroke { path, line } => {
            let half = line.width.mm() / 2.0;
            path.bounding_box().inflate(half, half)
        }
        Ink::Fill { path, .. } => path.bounding_box(),
        Ink::Text(text) => lettering::bounds(text),
    }
}

impl Mark {
    /// The same mark, moved by `by` mm.
    pub fn moved(&self, by: Vec2) -> Self {
        self.placed(Affine::translate(by), 0.0)
    }

    /// The same mark turned by `quarters` right angles about the origin, counter-clockwise, then
    /// moved by `by` mm. Right angles are exact.
    pub fn turned(&self, quarters: u8, by: Vec2) -> Self {
        let (cosine, sine, degrees) = match quarters % 4 {
            0 => (1.0, 0.0, 0.0),
            1 => (0.0, 1.0, 90.0),
            2 => (-1.0, 0.0, 180.0),
            _ => (0.0, -1.0, 270.0),
        };
        self.placed(
            Affine::new([cosine, sine, -sine, cosine, by.x, by.y]),
            degrees,
        )
    }

    fn placed(&self, affine: Affine, degrees: f64) -> Self {
        let mut mark = self.clone();
        match &mut mark.ink {
            Ink::Stroke { path, .. } | Ink::Fill { path, .. } => path.apply_affine(affine),
            Ink::Text(text) => {
                text.at = affine * text.at;
                text.turn = (text.turn + degrees) % 360.0;
            }
        }
        mark
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::ink::{Layer, Line, Width};
    use kurbo::{BezPath, Point};

    fn stroke() -> Mark {
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        path.line_to((10.0, 4.0));
        Mark::stroke(Layer::Cut, path, Line::continuous(Width::Thick))
    }

    #[test]
    fn half_a_line_width_is_ink() {
        let bounds = mark_bounds(&stroke());
        assert!((bounds.x0 + 0.35).abs() < 1e-12 && (bounds.y1 - 4.35).abs() < 1e-12);
    }

    #[test]
    fn a_quarter_turn_is_exact() {
        let bounds = stroke().turned(1, Vec2::new(100.0, 0.0));
        let Ink::Stroke { path, .. } = bounds.ink else {
            panic!("a stroke stays a stroke");
        };
        let last = path.segments().last().map(|segment| match segment {
            kurbo::PathSeg::Line(line) => line.p1,
            _ => Point::ZERO,
        });
        assert_eq!(last, Some(Point::new(96.0, 10.0)));
    }
}
