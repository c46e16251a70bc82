//! From the panel frame to the page: the same way up, or half a turn round; never mirrored.

use crate::model::panel::Orientation;
use kurbo::{Affine, BezPath, Point, Rect};

/// How the panel frame lies on the page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct View {
    /// +1 where the datum edge lies at the foot of the page, -1 where at the head.
    sense: f64,
}

impl View {
    pub(crate) fn of(orientation: Orientation) -> Self {
        Self {
            sense: if orientation.datum_at_head() {
                -1.0
            } else {
                1.0
            },
        }
    }

    /// A point of the panel frame on the page.
    pub(crate) fn point(self, frame: Point) -> Point {
        Point::new(self.sense * frame.x, self.sense * frame.y)
    }

    /// A point of the page in the panel frame.
    pub(crate) fn back(self, page: Point) -> Point {
        self.point(page)
    }

    /// A box of the panel frame on the page.
    pub(crate) fn rect(self, frame: Rect) -> Rect {
        Rect::from_points(
            self.point(Point::new(frame.x0, frame.y0)),
            self.point(Point::new(frame.x1, frame.y1)),
        )
    }

    /// Straight lines through points of the panel frame, on the page.
    pub(crate) fn path(self, frame: &[Point]) -> BezPath {
        let mut path = BezPath::new();
        for (i, point) in frame.iter().enumerate() {
            if i == 0 {
                path.move_to(self.point(*point))
            } else {
                path.line_to(self.point(*point))
            }
        }
        path
    }

    /// The turn itself, for whole paths.
    pub(crate) fn affine(self) -> Affine {
        Affine::scale(self.sense)
    }
}
