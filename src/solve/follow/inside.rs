//! Where the panel is, seen from an opening in it.

use crate::geometry::outline::{Outline, Runs, Segment, Side, to_polyline};
use cavalier_contours::core::math::Vector2;
use cavalier_contours::polyline::{PlineSource, Polyline};
use kurbo::Point;

/// Distances that differ by less are alike, mm.
pub(super) const ALIKE: f64 = 1e-9;

/// How much deeper than told a part may reach into the panel at most, mm.
const DEPTH_TOLERANCE: f64 = 0.05;

/// The longest stretch of a part that is looked at in one go for how deep it reaches, mm.
const STRETCH: f64 = 1.0;

/// An opening, its cut sides apart from its open ones.
pub(super) struct Cutout {
    line: Polyline<f64>,
    cut: Runs,
    open: Runs,
}

impl Cutout {
    pub(super) fn new(opening: &Outline) -> Self {
        let (cut, open): (Vec<Segment>, Vec<Segment>) =
            opening.sides().partition(|side| side.side == Side::Cut);
        Self {
            line: to_polyline(opening),
            cut: Runs::new(cut),
            open: Runs::new(open),
        }
    }

    /// The nearest points of any of `pieces` and any cut side; none where nothing is cut.
    pub(super) fn nearest(&self, pieces: &[Segment]) -> Option<(Point, Point)> {
        Runs::new(pieces.iter().copied()).nearest_to(&self.cut, f64::INFINITY)
    }

    /// How deep `point` lies in the panel, mm, and the nearest cut: less than 0 within the
    /// opening, and past an open side of it.
    pub(super) fn depth(&self, point: Point) -> (f64, Point) {
        let (cut, open) = (self.cut.nearest(point), self.open.nearest(point));
        let inside = self.line.winding_number(Vector2::new(point.x, point.y)) != 0;
        if inside || open.0 <= cut.0 + ALIKE {
            (-cut.0.min(open.0), cut.1)
        } else {
            cut
        }
    }

    /// The point of `pieces` that lies deepest in the panel, how deep, and the cut nearest to it.
    pub(super) fn deepest(&self, pieces: &[Segment]) -> Option<(f64, Point, Point)> {
        let mut best: Option<(f64, Point, Point)> = None;
        for piece in pieces {
            let length = piece.length();
            let stretches = (length / STRETCH).ceil().max(1.0);
            let mut waiting: Vec<(f64, f64)> = (0..stretches as usize)
                .map(|index| (index as f64 / stretches, (index + 1) as f64 / stretches))
                .collect();
            while let Some((from, to)) = waiting.pop() {
                let middle = f64::midpoint(from, to);
                let at = piece.at(middle);
                let (depth, on_cut) = self.depth(at);
                if best.is_none_or(|best| depth > best.0) {
                    best = Some((depth, at, on_cut));
                }
                // Depth changes no faster than the way along the piece.
                let half = (to - from) * length / 2.0;
                if best.is_some_and(|best| depth + half > best.0 + DEPTH_TOLERANCE) {
                    waiting.extend([(from, middle), (middle, to)]);
                }
            }
        }
        best
    }

    /// The corner of a cut side that lies deepest within `part`, how deep, and the point of the
    /// part nearest to it.
    pub(super) fn deepest_corner(&self, part: &Outline) -> Option<(f64, Point, Point)> {
        self.cut
            .sides()
            .flat_map(|side| [side.start, side.end])
            .filter(|&corner| part.contains(corner))
            .map(|corner| {
                let (distance, on_part) = part.distance(corner);
                (distance, on_part, corner)
            })
            .max_by(|one, other| one.0.total_cmp(&other.0))
    }
}
