//! The panel's outline in the panel frame: datum edge at the foot, x from the centre.

use crate::geometry::Spline;
use crate::geometry::outline::{Outline, OutlineError, Side, Vertex};
use kurbo::{Point, Rect};

/// How closely straight pieces follow a bowed edge, mm.
const EDGE_TOLERANCE: f64 = 0.005;

/// The datum edge: straight along y = 0, or bowed between its ends.
///
/// A place where the edge stands out past the straight line through its ends has y below 0.
#[derive(Debug, Clone, PartialEq)]
pub struct DatumEdge {
    bow: Option<Spline>,
}

impl DatumEdge {
    /// A straight edge.
    pub fn straight() -> Self {
        Self { bow: None }
    }

    /// An edge through `(x, y)` points of the panel frame, x rising; straight for fewer than two.
    pub fn through(points: &[(f64, f64)]) -> Self {
        Self {
            bow: Spline::through(points),
        }
    }

    /// The same edge with its points at other places along it: `to` must rise or fall throughout.
    pub fn moved(&self, to: impl Fn(f64) -> f64) -> Self {
        let points = self.bow.iter().flat_map(Spline::readings);
        let mut points: Vec<(f64, f64)> = points.map(|(x, y)| (to(x), y)).collect();
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self::through(&points)
    }

    /// Where the edge stands at `x`, mm.
    pub fn at(&self, x: f64) -> f64 {
        self.bow.as_ref().map_or(0.0, |bow| bow.at(x))
    }

    /// Points of the edge from `from` to `to`, within 0.005 mm of it.
    pub fn points(&self, from: f64, to: f64) -> Vec<Point> {
        match &self.bow {
            Some(bow) => bow
                .flattened(from, to, EDGE_TOLERANCE)
                .into_iter()
                .map(|(x, y)| Point::new(x, y))
                .collect(),
            None => vec![Point::new(from, 0.0), Point::new(to, 0.0)],
        }
    }

    /// Where the edge swings farthest past the range of its points, and how far: see
    /// [`Spline::swing`].
    pub fn swing(&self) -> Option<(usize, f64)> {
        self.bow.as_ref().and_then(Spline::swing)
    }

    /// Lowest place of the edge between `from` and `to`, mm.
    pub fn lowest(&self, from: f64, to: f64) -> f64 {
        self.points(from, to)
            .iter()
            .map(|point| point.y)
            .fold(f64::INFINITY, f64::min)
    }
}

/// The outline of a panel that spans `extent`, its foot following `edge`.
///
/// # Errors
/// The edge must stay below the panel's far side.
pub fn panel_outline(edge: &DatumEdge, extent: Rect) -> Result<Outline, OutlineError> {
    let mut points = edge.points(extent.x0, extent.x1);
    points.push(Point::new(extent.x1, extent.y1));
    points.push(Point::new(extent.x0, extent.y1));
    let corner = |point| Vertex {
        point,
        bulge: 0.0,
        side: Side::Open,
    };
    Outline::new(points.into_iter().map(corner).collect())
}
