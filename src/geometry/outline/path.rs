//! Outlines as curves to draw.

use super::{Outline, Segment, Side};
use kurbo::{Arc, BezPath, PathEl, Vec2};

/// The farthest that a drawn curve may lie from its true arc, mm: a fifth of what the pattern
/// as a whole is allowed for its curves.
pub const CURVE_TOLERANCE: f64 = 0.001;

impl Outline {
    /// All round as one closed path; curves lie within `tolerance` mm of their arcs.
    pub fn closed_path(&self, tolerance: f64) -> BezPath {
        let mut path = BezPath::new();
        path.move_to(self.vertices[0].point);
        for side in self.sides() {
            append(&mut path, &side, tolerance);
        }
        path.close_path();
        path
    }

    /// The line to cut: the longest unbroken runs of sides to be cut, in order. One closed path
    /// where no side is open, none where all are. Curves lie within `tolerance` mm of their arcs.
    pub fn cut_paths(&self, tolerance: f64) -> Vec<BezPath> {
        let sides: Vec<Segment> = self.sides().collect();
        let Some(open) = sides.iter().position(|side| side.side == Side::Open) else {
            return vec![self.closed_path(tolerance)];
        };
        let mut paths: Vec<BezPath> = Vec::new();
        let mut cutting = false;
        for side in sides[open..].iter().chain(&sides[..open]) {
            let cut = side.side == Side::Cut;
            if cut && !cutting {
                let mut path = BezPath::new();
                path.move_to(side.start);
                paths.push(path);
            }
            if let (true, Some(path)) = (cut, paths.last_mut()) {
                append(path, side, tolerance);
            }
            cutting = cut;
        }
        paths
    }
}

/// Adds one side to a path that stands at its start, and ends it exactly at its end.
fn append(path: &mut BezPath, side: &Segment, tolerance: f64) {
    let (Some(centre), Some(radius)) = (side.centre(), side.radius()) else {
        path.line_to(side.end);
        return;
    };
    let from = side.start - centre;
    let arc = Arc {
        center: centre,
        radii: Vec2::new(radius, radius),
        start_angle: libm::atan2(from.y, from.x),
        sweep_angle: side.sweep(),
        x_rotation: 0.0,
    };
    let mut curves = arc.append_iter(tolerance).peekable();
    while let Some(mut curve) = curves.next() {
        if let (PathEl::CurveTo(_, _, end), None) = (&mut curve, curves.peek()) {
            *end = side.end;
        }
        path.push(curve);
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Corner, rounded};
    use super::*;
    use kurbo::{ParamCurve, Point, Shape};

    fn notch(open: bool) -> Outline {
        let corner = |x, y, radius, side| Corner {
            point: Point::new(x, y),
            radius,
            side,
        };
        let foot = if open { Side::Open } else { Side::Cut };
        rounded(&[
            corner(-40.0, 0.0, 0.0, Side::Cut),
            corner(-40.0, 60.0, 10.0, Side::Cut),
            corner(40.0, 60.0, 10.0, Side::Cut),
            corner(40.0, 0.0, 0.0, foot),
        ])
        .unwrap()
    }

    #[test]
    fn an_open_side_leaves_one_run_that_ends_on_the_edge() {
        let paths = notch(true).cut_paths(CURVE_TOLERANCE);
        assert_eq!(paths.len(), 1);
        let elements = paths[0].elements();
        assert_eq!(elements[0], PathEl::MoveTo(Point::new(40.0, 0.0)));
        assert_eq!(
            elements.last().unwrap().end_point(),
            Some(Point::new(-40.0, 0.0))
        );
        assert!(!elements.contains(&PathEl::ClosePath));
    }

    #[test]
    fn with_no_open_side_the_line_is_closed() {
        let paths = notch(false).cut_paths(CURVE_TOLERANCE);
        assert_eq!(paths.len(), 1);
        assert_eq!(paths[0].elements().last(), Some(&PathEl::ClosePath));
    }

    #[test]
    fn two_open_sides_leave_two_runs_and_all_open_none() {
        let mut strip = notch(false);
        for index in [0, 2] {
            strip.vertices[index].side = Side::Open;
        }
        assert_eq!(strip.cut_paths(CURVE_TOLERANCE).len(), 2);
        for vertex in &mut strip.vertices {
            vertex.side = Side::Open;
        }
        assert!(strip.cut_paths(CURVE_TOLERANCE).is_empty());
    }

    #[test]
    fn curves_stay_within_the_tolerance_of_their_arcs() {
        for (radius, tolerance) in [(5.0, 0.001), (300.0, 0.001), (2000.0, 0.005), (50.0, 1e-5)] {
            let circle = Outline::new(vec![
                super::super::Vertex {
                    point: Point::new(-radius, 0.0),
                    bulge: 1.0,
                    side: Side::Cut,
                },
                super::super::Vertex {
                    point: Point::new(radius, 0.0),
                    bulge: 1.0,
                    side: Side::Cut,
                },
            ])
            .unwrap();
            let path = circle.closed_path(tolerance);
            let mut worst: f64 = 0.0;
            for segment in path.segments() {
                for step in 0..=100 {
                    let point = segment.eval(f64::from(step) / 100.0);
                    worst = worst.max((point.to_vec2().hypot() - radius).abs());
                }
            }
            assert!(worst <= tolerance, "{worst} over {tolerance}");
            assert!((path.area() - circle.area()).abs() <= circle.length() * tolerance);
        }
    }
}
