//! Where the panel is, seen from an opening in it.

use crate::outline::{Outline, Segment, Side, nearest_of, to_polyline};
use cavalier_contours::core::math::Vector2;
use cavalier_contours::polyline::{PlineSource, Polyline};
use kurbo::{Point, Rect};

/// Distances that differ by less are alike, mm.
pub(super) const ALIKE: f64 = 1e-9;

/// How much deeper than told a part may reach into the panel at most, mm.
const DEPTH_TOLERANCE: f64 = 0.05;

/// The longest stretch of a part that is looked at in one go for how deep it reaches, mm.
const STRETCH: f64 = 1.0;

/// An opening, its cut sides apart from its open ones.
pub(super) struct Cutout {
    line: Polyline<f64>,
    cut: Vec<(Segment, Rect)>,
    open: Vec<Segment>,
}

impl Cutout {
    pub(super) fn new(opening: &Outline) -> Self {
        let (cut, open): (Vec<Segment>, Vec<Segment>) =
            opening.sides().partition(|side| side.side == Side::Cut);
        Self {
            line: to_polyline(opening),
            cut: cut.into_iter().map(|side| (side, side.bounds())).collect(),
            open,
        }
    }

    /// The nearest points of any of `pieces` and any cut side; none where nothing is cut.
    pub(super) fn nearest(&self, pieces: &[Segment]) -> Option<(Point, Point)> {
        nearest_of(pieces, &self.cut)
    }

    /// How deep `point` lies in the panel, mm, and the nearest cut: less than 0 within the
    /// opening, and past an open side of it.
    pub(super) fn depth(&self, point: Point) -> (f64, Point) {
        let nearest = |best: (f64, Point), side: &Segment| {
            let on_side = side.nearest(point);
            let distance = on_side.distance(point);
            if distance < best.0 {
                (distance, on_side)
            } else {
                best
            }
        };
        let none = (f64::INFINITY, point);
        let cut = self.cut.iter().map(|(side, _)| side).fold(none, nearest);
        let open = self.open.iter().fold(none, nearest);
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
            .iter()
            .flat_map(|(side, _)| [side.start, side.end])
            .filter(|&corner| part.contains(corner))
            .map(|corner| {
                let (distance, on_part) = part.distance(corner);
                (distance, on_part, corner)
            })
            .max_by(|one, other| one.0.total_cmp(&other.0))
    }
}
