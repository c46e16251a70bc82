//! The largest corner radius of a box that still clears what lies inside.
//!
//! In a corner whose sides stand at right angles, let a disc of radius `p` stand `a` off the one
//! side and `b` off the other. The box is convex, so the disc lies inside a corner of radius `r`
//! where it does in every direction: with `t` the tangent of half the direction's angle,
//!
//! ```text
//! r <= p + a (1 + t) / (2 t) + b / (1 - t),    0 < t < 1
//! ```
//!
//! which is least, `p + a + b + sqrt(2 a b)`, at `t = sqrt(a) / (sqrt(a) + sqrt(2 b))`. A point
//! of a part is a disc of its clearance; an arc is one of its radius and clearance, but only in
//! the directions that it faces.

use crate::geometry::outline::Outline;
use crate::model::clearance::EachWay;
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::{FRAC_PI_2, TAU};

/// One disc in one corner of a box.
#[derive(Debug, Clone, Copy)]
pub(super) struct Disc {
    /// Radius, mm.
    radius: f64,
    /// Off the upright side, mm.
    off_side: f64,
    /// Off the level side, mm.
    off_level: f64,
    /// The tangents of half the angles that it faces.
    faces: (f64, f64),
}

impl Disc {
    /// The largest radius of the corner that holds it, the box grown by `grown` mm all round.
    fn largest_radius(&self, grown: f64) -> f64 {
        // A disc that touches a side may stand past it by rounding.
        let a = (self.off_side + grown).max(0.0);
        let b = (self.off_level + grown).max(0.0);
        let roots = (a.sqrt(), (2.0 * b).sqrt());
        let least_at = if roots.0 + roots.1 > 0.0 {
            roots.0 / (roots.0 + roots.1)
        } else {
            0.5
        };
        let t = least_at.clamp(self.faces.0, self.faces.1);
        let of_side = if a > 0.0 {
            a * (1.0 + t) / (2.0 * t)
        } else {
            0.0
        };
        let of_level = if b > 0.0 { b / (1.0 - t) } else { 0.0 };
        self.radius + of_side + of_level
    }
}

/// The largest corner radius, mm, that clears all of `discs` in a box grown by `grown` mm.
pub(super) fn largest_radius(discs: &[Disc], grown: f64) -> f64 {
    discs
        .iter()
        .map(|disc| disc.largest_radius(grown))
        .fold(f64::INFINITY, f64::min)
}

/// The discs of a part in the corner of `bounds` that lies towards `towards`, (+-1, +-1).
pub(super) fn discs_in_corner(
    part: &Outline,
    clearance: EachWay,
    bounds: Rect,
    towards: Vec2,
) -> Vec<Disc> {
    let corner = Point::new(
        if towards.x > 0.0 {
            bounds.x1
        } else {
            bounds.x0
        },
        if towards.y > 0.0 {
            bounds.y1
        } else {
            bounds.y0
        },
    );
    let disc = |middle: Point, radius: f64, faces: (f64, f64)| Disc {
        radius: radius + clearance.lesser(),
        off_side: (corner.x - middle.x) * towards.x - clearance.sideways - radius,
        off_level: (corner.y - middle.y) * towards.y - clearance.depthways - radius,
        faces,
    };
    let points = part
        .vertices()
        .iter()
        .map(|vertex| disc(vertex.point, 0.0, (0.0, 1.0)));
    let arcs = part.sides().filter_map(|side| {
        // A hollow arc faces inwards: its ends are what comes nearest.
        let (centre, radius) = side
            .centre()
            .zip(side.radius())
            .filter(|_| side.bulge > 0.0)?;
        let from = (side.start - centre).atan2();
        faces_in_corner(from, side.sweep(), towards).map(|faces| disc(centre, radius, faces))
    });
    points.chain(arcs).collect()
}

/// What of the directions from `from` on through `sweep` lies in a corner, as tangents of half
/// the angle from its upright side's normal.
fn faces_in_corner(from: f64, sweep: f64, towards: Vec2) -> Option<(f64, f64)> {
    let quadrant = match (towards.x > 0.0, towards.y > 0.0) {
        (true, true) => 0.0,
        (false, true) => 1.0,
        (false, false) => 2.0,
        (true, false) => 3.0,
    };
    let odd = (towards.x > 0.0) != (towards.y > 0.0);
    [-TAU, 0.0, TAU].into_iter().find_map(|turn| {
        let start = quadrant * FRAC_PI_2 + turn;
        let low = (from - start).clamp(0.0, FRAC_PI_2);
        let high = (from + sweep - start).clamp(0.0, FRAC_PI_2);
        // Every second quadrant begins at its level side's normal.
        let (low, high) = if odd {
            (FRAC_PI_2 - high, FRAC_PI_2 - low)
        } else {
            (low, high)
        };
        let tangent = |angle: f64| libm::tan(angle / 2.0).clamp(0.0, 1.0);
        (high > low).then(|| (tangent(low), tangent(high)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    #[track_caller]
    fn close(is: f64, should: f64) {
        assert!((is - should).abs() < 1e-9, "{is} should be {should}");
    }

    fn disc(radius: f64, off_side: f64, off_level: f64, faces: (f64, f64)) -> Disc {
        Disc {
            radius,
            off_side,
            off_level,
            faces,
        }
    }

    #[test]
    fn a_disc_that_fills_the_corner_allows_its_own_radius() {
        close(disc(9.0, 0.0, 0.0, (0.0, 1.0)).largest_radius(0.0), 9.0);
        close(disc(9.0, -1e-13, 0.0, (0.2, 0.3)).largest_radius(0.0), 9.0);
        // Against one side only: a corner of radius p + b.
        close(disc(9.0, 0.0, 4.0, (0.0, 1.0)).largest_radius(0.0), 13.0);
        close(disc(9.0, 4.0, 0.0, (0.0, 1.0)).largest_radius(0.0), 13.0);
    }

    #[test]
    fn closed_form_is_the_touching_circle() {
        let (p, a, b) = (5.0, 3.0, 11.0);
        let r = disc(p, a, b, (0.0, 1.0)).largest_radius(0.0);
        close(r, p + a + b + (2.0_f64 * a * b).sqrt());
        // The disc's middle, seen from that of the corner, is r - p away.
        close((r - p - a).hypot(r - p - b), r - p);
    }

    #[test]
    fn an_arc_that_faces_away_allows_more() {
        let whole = disc(5.0, 3.0, 3.0, (0.0, 1.0)).largest_radius(0.0);
        let away = disc(5.0, 3.0, 3.0, (0.0, 0.1)).largest_radius(0.0);
        assert!(away > whole + 1.0, "{away} {whole}");
    }

    #[test]
    fn faces_are_told_for_each_corner() {
        let diagonal = |x: f64, y: f64| Vec2::new(x, y);
        let middle = libm::tan(PI / 8.0);
        // The half circle from 0 to 180 degrees faces both upper corners and no lower one.
        assert_eq!(faces_in_corner(0.0, PI, diagonal(1.0, -1.0)), None);
        let (low, high) = faces_in_corner(0.0, PI, diagonal(-1.0, 1.0)).unwrap();
        close(low, 0.0);
        close(high, 1.0);
        // From 45 degrees to 90: the half that leans to the level side.
        let (low, high) = faces_in_corner(PI / 4.0, PI / 4.0, diagonal(1.0, 1.0)).unwrap();
        close(low, middle);
        close(high, 1.0);
        // From 135 to 180 degrees: in the upper left corner, the half that leans to the side.
        let (low, high) = faces_in_corner(0.75 * PI, PI / 4.0, diagonal(-1.0, 1.0)).unwrap();
        close(low, 0.0);
        close(high, middle);
        // Through 180 degrees, where angles jump.
        let (_, high) = faces_in_corner(-0.95 * PI, PI / 2.0, diagonal(-1.0, -1.0)).unwrap();
        assert!(high > middle);
    }
}
