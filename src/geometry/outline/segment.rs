//! One side of an outline: a straight line or a true arc.
//!
//! A side is kept as its ends and its bulge, the tangent of a quarter of its sweep. Centre and
//! radius follow from the chord `c`: `r = |c| (1 + b^2) / (4 |b|)`, and the centre stands
//! `|c| (1 - b^2) / (4 b)` to the left of the chord's middle.

use super::Side;
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::TAU;

/// One side of an outline, from `start` to `end`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// Where it begins, mm.
    pub start: Point,
    /// Where it ends, mm.
    pub end: Point,
    /// Tangent of a quarter of its sweep, positive when it turns left; 0 for a straight side.
    pub bulge: f64,
    /// What lies along it.
    pub side: Side,
}

impl Segment {
    /// Whether it is an arc.
    pub fn is_arc(&self) -> bool {
        self.bulge != 0.0
    }

    /// The angle it turns through, radians, positive to the left; 0 for a straight side.
    pub fn sweep(&self) -> f64 {
        4.0 * libm::atan(self.bulge)
    }

    /// Centre of the arc, mm; none for a straight side.
    pub fn centre(&self) -> Option<Point> {
        self.is_arc().then(|| {
            let chord = self.end - self.start;
            let left = Vec2::new(-chord.y, chord.x);
            let bulge = self.bulge;
            self.start.midpoint(self.end) + left * ((1.0 - bulge * bulge) / (4.0 * bulge))
        })
    }

    /// Radius of the arc, mm; none for a straight side.
    pub fn radius(&self) -> Option<f64> {
        self.is_arc().then(|| {
            let chord = (self.end - self.start).hypot();
            chord * (1.0 + self.bulge * self.bulge) / (4.0 * self.bulge.abs())
        })
    }

    /// Length along the side, mm.
    pub fn length(&self) -> f64 {
        match self.radius() {
            Some(radius) => radius * self.sweep().abs(),
            None => (self.end - self.start).hypot(),
        }
    }

    /// The point at `t` of its length, from 0 at the start to 1 at the end.
    pub fn at(&self, t: f64) -> Point {
        match self.centre() {
            _ if t == 0.0 => self.start,
            _ if t == 1.0 => self.end,
            Some(centre) => centre + turned(self.start - centre, self.sweep() * t),
            None => self.start.lerp(self.end, t),
        }
    }

    /// Unit vector along the side at `t` of its length.
    pub fn tangent(&self, t: f64) -> Vec2 {
        let chord = (self.end - self.start).normalize();
        turned(chord, self.sweep() * (t - 0.5))
    }

    /// The point of the side nearest to `point`. Where all are equally near, its start.
    pub fn nearest(&self, point: Point) -> Point {
        let (Some(centre), Some(radius)) = (self.centre(), self.radius()) else {
            return self.at(self.nearest_t(point));
        };
        let from = point - centre;
        let distance = from.hypot();
        if distance == 0.0 {
            return self.start;
        }
        let on_circle = centre + from * (radius / distance);
        if self.holds(on_circle) {
            on_circle
        } else if self.start.distance_squared(point) <= self.end.distance_squared(point) {
            self.start
        } else {
            self.end
        }
    }

    /// Whether a point of its circle lies on the arc: on the side of the chord that it bulges to.
    fn holds(&self, on_circle: Point) -> bool {
        (self.end - self.start).cross(on_circle - self.start) * self.bulge < 0.0
    }

    /// Where along its length, from 0 to 1, the side comes nearest to `point`.
    pub(crate) fn nearest_t(&self, point: Point) -> f64 {
        let Some(centre) = self.centre() else {
            let chord = self.end - self.start;
            return ((point - self.start).dot(chord) / chord.hypot2()).clamp(0.0, 1.0);
        };
        match self.part_of_sweep(point - centre) {
            Some(t) => t,
            None if self.start.distance_squared(point) <= self.end.distance_squared(point) => 0.0,
            None => 1.0,
        }
    }

    /// The smallest upright box that holds it, exact for arcs.
    pub fn bounds(&self) -> Rect {
        let ends = Rect::from_points(self.start, self.end);
        let (Some(centre), Some(radius)) = (self.centre(), self.radius()) else {
            return ends;
        };
        [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)]
            .into_iter()
            .map(|direction| centre + Vec2::from(direction) * radius)
            .filter(|&utmost| self.holds(utmost))
            .fold(ends, |bounds, utmost| bounds.union_pt(utmost))
    }

    /// The piece of it from `from` to `to` of its length, both 0 to 1, `from` the lesser.
    pub(crate) fn piece(&self, from: f64, to: f64) -> Self {
        let bulge = if (from, to) == (0.0, 1.0) {
            self.bulge
        } else {
            libm::tan(self.sweep() * (to - from) / 4.0)
        };
        Self {
            start: self.at(from),
            end: self.at(to),
            bulge,
            side: self.side,
        }
    }

    /// The same side moved by `by`, mm.
    pub(crate) fn moved(&self, by: Vec2) -> Self {
        Self {
            start: self.start + by,
            end: self.end + by,
            ..*self
        }
    }

    /// Area between chord and arc, positive where the arc bulges to the right, mm^2.
    pub(crate) fn cap_area(&self) -> f64 {
        self.radius().map_or(0.0, |radius| {
            let sweep = self.sweep();
            0.5 * radius * radius * (sweep - libm::sin(sweep))
        })
    }

    /// How far through the arc's sweep the direction from its centre lies, 0 to 1; none outside.
    pub(crate) fn part_of_sweep(&self, direction: Vec2) -> Option<f64> {
        let from = self.start - self.centre()?;
        let sweep = self.sweep();
        let turn = libm::atan2(from.cross(direction), from.dot(direction)) * sweep.signum();
        let turn = if turn < 0.0 { turn + TAU } else { turn };
        (turn <= sweep.abs()).then(|| turn / sweep.abs())
    }
}

/// `vector` turned by `angle` radians, counter-clockwise.
fn turned(vector: Vec2, angle: f64) -> Vec2 {
    let (sine, cosine) = libm::sincos(angle);
    Vec2::new(
        vector.x * cosine - vector.y * sine,
        vector.x * sine + vector.y * cosine,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arc(start: (f64, f64), end: (f64, f64), bulge: f64) -> Segment {
        Segment {
            start: start.into(),
            end: end.into(),
            bulge,
            side: Side::Cut,
        }
    }

    #[track_caller]
    fn close(is: f64, should: f64, within: f64) {
        assert!((is - should).abs() <= within, "{is} should be {should}");
    }

    // Machinery's Handbook 31, p. 50 and p. 79; help.matheass.eu for the last.
    #[test]
    fn circular_segments_have_their_published_sizes() {
        // A chord and a rise give the bulge 2 h / c.
        let fourth = arc((0.0, 0.0), (21.0, 0.0), 12.0 / 21.0);
        close(fourth.radius().unwrap(), 12.1875, 1e-12);
        close(fourth.sweep().to_degrees(), 118.97953, 1e-5);
        close(fourth.length(), 25.308373, 1e-6);
        close(fourth.cap_area(), 89.254148, 1e-6);
        close(
            arc((0.0, 0.0), (16.0, 0.0), 0.75).radius().unwrap(),
            25.0 / 3.0,
            1e-12,
        );
        let second = arc((0.0, 0.0), (13.27, 0.0), 4.0 / 13.27);
        close(second.radius().unwrap(), 12.0, 0.02);
        close(second.length(), 14.06, 0.02);
        close(second.cap_area(), 18.01, 0.02);
    }

    #[test]
    fn quarter_circle_either_way() {
        let bulge = 2_f64.sqrt() - 1.0;
        let left = arc((10.0, 0.0), (0.0, 10.0), bulge);
        assert!(left.centre().unwrap().distance(Point::ORIGIN) < 1e-12);
        close(left.at(0.5).x, 50_f64.sqrt(), 1e-12);
        close(left.tangent(0.0).y, 1.0, 1e-12);
        close(left.tangent(1.0).x, -1.0, 1e-12);
        let right = arc((0.0, 10.0), (10.0, 0.0), -bulge);
        assert!(right.centre().unwrap().distance(Point::ORIGIN) < 1e-12);
        close(right.tangent(0.0).x, 1.0, 1e-12);
        close(
            right.nearest(Point::new(20.0, 20.0)).x,
            50_f64.sqrt(),
            1e-12,
        );
        assert_eq!(right.nearest(Point::new(-5.0, 20.0)), right.start);
        assert_eq!(right.nearest(Point::new(20.0, -1.0)), right.end);
    }

    #[test]
    fn bounds_reach_the_top_of_an_arc() {
        let half = arc((5.0, 0.0), (-5.0, 0.0), 1.0);
        assert_eq!(half.bounds(), Rect::new(-5.0, 0.0, 5.0, 5.0));
        let flat = arc((-3.0, 4.0), (3.0, 4.0), -0.5);
        close(flat.bounds().y1, 5.5, 1e-12);
        close(flat.bounds().width(), 6.0, 1e-12);
    }
}
