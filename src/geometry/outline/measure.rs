//! What an outline measures.

use super::polyline::to_polyline;
use super::{Outline, Segment, Side};
use cavalier_contours::core::math::Vector2;
use cavalier_contours::polyline::PlineSource;
use kurbo::{Point, Rect};

impl Outline {
    /// Area enclosed, mm^2; exact for arcs.
    pub fn area(&self) -> f64 {
        self.signed_area().abs()
    }

    /// Area enclosed, negative for an outline that runs clockwise.
    pub(super) fn signed_area(&self) -> f64 {
        let origin = self.vertices[0].point;
        self.sides()
            .map(|side| (side.start - origin).cross(side.end - origin) / 2.0 + side.cap_area())
            .sum()
    }

    /// Length all round, mm.
    pub fn length(&self) -> f64 {
        self.sides().map(|side| side.length()).sum()
    }

    /// Length of the sides to be cut, mm.
    pub fn cut_length(&self) -> f64 {
        self.sides()
            .filter(|side| side.side == Side::Cut)
            .map(|side| side.length())
            .sum()
    }

    /// The smallest upright box that holds it, exact for arcs.
    pub fn bounds(&self) -> Rect {
        let first = Rect::from_points(self.vertices[0].point, self.vertices[0].point);
        self.sides()
            .fold(first, |bounds, side| bounds.union(side.bounds()))
    }

    /// Whether `point` lies inside. On the line itself either may be told.
    pub fn contains(&self, point: Point) -> bool {
        to_polyline(self).winding_number(Vector2::new(point.x, point.y)) != 0
    }

    /// Distance from `point` to the line, mm, 0 or more inside and outside alike, and the
    /// nearest point on the line.
    pub fn distance(&self, point: Point) -> (f64, Point) {
        let nearest = |side: Segment| {
            let on_side = side.nearest(point);
            (on_side.distance(point), on_side)
        };
        let first = self.vertices[0].point;
        self.sides()
            .map(nearest)
            .fold((first.distance(point), first), |best, next| {
                if next.0 < best.0 { next } else { best }
            })
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Corner, OutlineError, Vertex, rounded};
    use super::*;
    use std::f64::consts::PI;

    fn vertex(x: f64, y: f64, bulge: f64, side: Side) -> Vertex {
        Vertex {
            point: Point::new(x, y),
            bulge,
            side,
        }
    }

    fn polygon(points: &[(f64, f64)]) -> Result<Outline, OutlineError> {
        let cut = |&(x, y): &(f64, f64)| vertex(x, y, 0.0, Side::Cut);
        Outline::new(points.iter().map(cut).collect())
    }

    #[track_caller]
    fn close(is: f64, should: f64) {
        assert!((is - should).abs() < 1e-9, "{is} should be {should}");
    }

    #[test]
    fn circle_of_two_arcs() {
        let circle = Outline::new(vec![
            vertex(-4.0, 1.0, 1.0, Side::Cut),
            vertex(6.0, 1.0, 1.0, Side::Cut),
        ])
        .unwrap();
        close(circle.area(), 25.0 * PI);
        close(circle.length(), 10.0 * PI);
        assert_eq!(circle.bounds(), Rect::new(-4.0, -4.0, 6.0, 6.0));
        let (distance, at) = circle.distance(Point::new(1.0, 3.0));
        close(distance, 3.0);
        close(at.y, 6.0);
        assert!(circle.contains(Point::new(1.0, 5.99)));
        assert!(!circle.contains(Point::new(5.0, 5.0)));
    }

    #[test]
    fn clockwise_is_turned_and_flags_stay_with_their_sides() {
        let open_foot = Outline::new(vec![
            vertex(0.0, 0.0, 0.0, Side::Cut),
            vertex(0.0, 5.0, -1.0, Side::Cut),
            vertex(10.0, 5.0, 0.0, Side::Cut),
            vertex(10.0, 0.0, 0.0, Side::Open),
        ])
        .unwrap();
        close(open_foot.area(), 50.0 + 12.5 * PI);
        close(open_foot.length() - open_foot.cut_length(), 10.0);
        let open: Vec<_> = open_foot
            .sides()
            .filter(|side| side.side == Side::Open)
            .collect();
        assert_eq!(open.len(), 1);
        assert_eq!((open[0].start.x, open[0].end.x), (0.0, 10.0));
        assert!(open[0].start.y == 0.0 && open[0].end.y == 0.0);
    }

    #[test]
    fn three_quarters_of_a_circle_becomes_two_arcs() {
        let pie = Outline::new(vec![
            vertex(0.0, 0.0, 0.0, Side::Cut),
            vertex(10.0, 0.0, (3.0 * PI / 8.0).tan(), Side::Cut),
            vertex(0.0, -10.0, 0.0, Side::Cut),
        ])
        .unwrap();
        assert_eq!(pie.vertices().len(), 4);
        close(pie.area(), 75.0 * PI);
        assert!(!pie.contains(Point::new(5.0, -5.0)));
    }

    #[test]
    fn what_is_no_outline_is_refused() {
        let crossing = |points: &[(f64, f64)]| {
            matches!(polygon(points), Err(OutlineError::SelfCrossing { .. }))
        };
        assert!(crossing(&[
            (0.0, 0.0),
            (10.0, 10.0),
            (10.0, 0.0),
            (0.0, 12.0)
        ]));
        // A spike that runs back along itself, outwards and inwards.
        assert!(crossing(&[
            (0.0, 0.0),
            (20.0, 0.0),
            (10.0, 0.0),
            (10.0, 9.0)
        ]));
        assert!(crossing(&[
            (0.0, 0.0),
            (9.0, 0.0),
            (9.0, 9.0),
            (4.0, 4.0),
            (9.0, 9.0),
            (0.0, 9.0)
        ]));
        assert_eq!(
            polygon(&[(0.0, 0.0), (1.0, 0.0)]),
            Err(OutlineError::NoArea)
        );
        assert_eq!(polygon(&[(3.0, 3.0); 4]), Err(OutlineError::TooFewSides));
        assert_eq!(polygon(&[]), Err(OutlineError::TooFewSides));
        assert_eq!(
            polygon(&[(0.0, 0.0), (f64::NAN, 0.0), (1.0, 1.0)]),
            Err(OutlineError::NotFinite)
        );
    }

    #[test]
    fn points_level_with_corners_and_joints_are_judged_rightly() {
        let corner = |x, y| Corner {
            point: Point::new(x, y),
            radius: 5.0,
            side: Side::Cut,
        };
        let disc = rounded(&[
            corner(-5.0, -5.0),
            corner(5.0, -5.0),
            corner(5.0, 5.0),
            corner(-5.0, 5.0),
        ])
        .unwrap();
        for step in 0..=40 {
            let x = f64::from(step) * 0.5 - 10.0;
            for y in [-5.0, 0.0, 5.0, 3.0] {
                let radius = x.hypot(y);
                if (radius - 5.0).abs() > 1e-9 {
                    assert_eq!(disc.contains(Point::new(x, y)), radius < 5.0, "{x} {y}");
                }
            }
        }
    }
}
