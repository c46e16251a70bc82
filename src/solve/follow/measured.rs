//! What stands between a part and the panel, measured rather than trusted.

use super::inside::{ALIKE, Cutout};
use super::swept;
use crate::geometry::outline::{Outline, Segment};
use crate::model::clearance::EachWay;
use kurbo::{Point, Vec2};

/// How near a part comes to the cut, and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spacing {
    /// mm; 0 where they touch, less than 0 where the part reaches into the panel. Infinite for an
    /// opening of which nothing is cut.
    pub distance: f64,
    /// The part's point there.
    pub on_part: Point,
    /// The cut's point there.
    pub on_opening: Point,
}

/// The least distance between a part and the cut line of its opening.
///
/// Exact for lines and arcs. Open sides are not measured: a part may reach past them. Where the
/// part reaches into the panel, the distance is how deep, negative, and told short by 0.05 mm at
/// most, a little more where the part also passes an open side. A part that misses its opening
/// altogether reaches into the panel; one that stands past an open side does not.
pub fn least_distance(part: &Outline, opening: &Outline) -> Spacing {
    let sides: Vec<Segment> = part.sides().collect();
    spacing(&sides, part, opening)
}

/// As [`least_distance`], with the part moved every way that `moves` allows: what is left when
/// all has gone as far as it may. The part's point is where the move has brought it.
pub fn least_after_moves(part: &Outline, opening: &Outline, moves: EachWay) -> Spacing {
    let still = spacing(&swept::pieces(part, moves), part, opening);
    let outward = if still.distance < 0.0 {
        still.on_part - still.on_opening
    } else {
        still.on_opening - still.on_part
    };
    let length = outward.hypot();
    let step = if length > 0.0 && length.is_finite() {
        outward * (moves.lesser() / length)
    } else {
        Vec2::ZERO
    };
    Spacing {
        distance: still.distance - moves.lesser(),
        on_part: still.on_part + step,
        ..still
    }
}

fn spacing(pieces: &[Segment], part: &Outline, opening: &Outline) -> Spacing {
    let cutout = Cutout::new(opening);
    let at = part.vertices()[0].point;
    let Some((on_part, on_opening)) = cutout.nearest(pieces) else {
        return Spacing {
            distance: f64::INFINITY,
            on_part: at,
            on_opening: at,
        };
    };
    let apart = Spacing {
        distance: on_part.distance(on_opening),
        on_part,
        on_opening,
    };
    let sound = || {
        pieces
            .iter()
            .all(|piece| cutout.depth(piece.start).0 <= 0.0)
            && cutout.deepest_corner(part).is_none()
    };
    if apart.distance > ALIKE && sound() {
        return apart;
    }
    let deepest = [cutout.deepest(pieces), cutout.deepest_corner(part)]
        .into_iter()
        .flatten()
        .max_by(|one, other| one.0.total_cmp(&other.0));
    match deepest {
        Some((depth, on_part, on_opening)) if depth > ALIKE => Spacing {
            distance: -depth,
            on_part,
            on_opening,
        },
        _ => Spacing {
            distance: 0.0,
            ..apart
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::outline::{Corner, Side, rounded};

    fn window(x0: f64, y0: f64, x1: f64, y1: f64, radius: f64, foot: Side) -> Outline {
        let corner = |x, y, radius, side| Corner {
            point: Point::new(x, y),
            radius,
            side,
        };
        let foot_radius = if foot == Side::Open { 0.0 } else { radius };
        rounded(&[
            corner(x0, y0, foot_radius, foot),
            corner(x1, y0, foot_radius, Side::Cut),
            corner(x1, y1, radius, Side::Cut),
            corner(x0, y1, radius, Side::Cut),
        ])
        .unwrap()
    }

    fn plate(x0: f64, y0: f64, x1: f64, y1: f64) -> Outline {
        window(x0, y0, x1, y1, 0.0, Side::Cut)
    }

    fn disc(x: f64, y: f64, r: f64) -> Outline {
        window(x - r, y - r, x + r, y + r, r, Side::Cut)
    }

    #[track_caller]
    fn close(is: f64, should: f64, within: f64) {
        assert!((is - should).abs() <= within, "{is} should be {should}");
    }

    #[test]
    fn apart_by_hand() {
        let opening = plate(0.0, 0.0, 100.0, 60.0);
        let spacing = least_distance(&disc(40.0, 35.0, 12.0), &opening);
        close(spacing.distance, 13.0, 1e-9);
        assert!(spacing.on_opening.distance(Point::new(40.0, 60.0)) < 1e-9);
        assert!(spacing.on_part.distance(Point::new(40.0, 47.0)) < 1e-9);
        // In a corner of radius 20 about (80, 40): 20 less the way from there to the part's.
        let round = window(0.0, 0.0, 100.0, 60.0, 20.0, Side::Cut);
        let spacing = least_distance(&plate(30.0, 20.0, 88.0, 46.0), &round);
        close(spacing.distance, 10.0, 1e-9);
        let eccentric = least_distance(&disc(3.0, 4.0, 10.0), &disc(0.0, 0.0, 30.0));
        close(eccentric.distance, 15.0, 1e-9);
    }

    #[test]
    fn touching_and_reaching_into_the_panel() {
        let opening = plate(0.0, 0.0, 100.0, 60.0);
        assert_eq!(
            least_distance(&disc(12.0, 30.0, 12.0), &opening).distance,
            0.0
        );
        assert_eq!(least_distance(&opening, &opening).distance, 0.0);
        for depth in [0.3, 2.0, 11.0] {
            let spacing = least_distance(&disc(12.0 - depth, 30.0, 12.0), &opening);
            close(spacing.distance, -depth, 0.05);
            close(spacing.on_part.x, -depth, 0.05);
            let block = plate(50.0, 10.0, 100.0 + depth, 50.0);
            close(least_distance(&block, &opening).distance, -depth, 0.05);
        }
        // Beside the opening altogether, and all round it.
        close(
            least_distance(&plate(110.0, 10.0, 120.0, 50.0), &opening).distance,
            -20.0,
            0.05,
        );
        assert!(least_distance(&plate(-5.0, -5.0, 105.0, 65.0), &opening).distance < -4.9);
    }

    #[test]
    fn an_open_side_is_passed_freely() {
        let notch = window(-40.0, 0.0, 40.0, 70.0, 10.0, Side::Open);
        close(
            least_distance(&plate(-30.0, -50.0, 30.0, 60.0), &notch).distance,
            10.0,
            1e-9,
        );
        // All of it past the edge, and wider there than the mouth.
        let below = least_distance(&plate(-60.0, -50.0, 60.0, -8.0), &notch);
        close(below.distance, 8.0, 1e-9);
        // Through the side wall of the notch, and over the whole of it.
        let through = plate(-30.0, -50.0, 45.0, 30.0);
        close(least_distance(&through, &notch).distance, -5.0, 0.05);
        assert!(least_distance(&plate(-80.0, -50.0, 80.0, 90.0), &notch).distance < -5.0);
    }

    #[test]
    fn moves_take_their_own_way_each() {
        let opening = plate(0.0, 0.0, 100.0, 60.0);
        let part = plate(20.0, 10.0, 80.0, 50.0);
        let moves = |sideways, depthways| EachWay {
            sideways,
            depthways,
        };
        let left = |way| least_after_moves(&part, &opening, way).distance;
        close(left(EachWay::even(4.0)), 6.0, 1e-9);
        close(left(moves(15.0, 4.0)), 5.0, 1e-9);
        close(left(moves(4.0, 9.0)), 1.0, 1e-9);
        assert!(left(moves(22.0, 4.0)) < -2.0 + 0.05);
        let spacing = least_after_moves(&part, &opening, moves(15.0, 4.0));
        close(spacing.on_opening.distance(spacing.on_part), 5.0, 1e-9);
        // A disc's top is carried along.
        let pipe = least_after_moves(&disc(50.0, 30.0, 20.0), &opening, moves(25.0, 6.0));
        close(pipe.distance, 4.0, 1e-9);
        let wide = least_after_moves(&disc(50.0, 30.0, 20.0), &opening, moves(27.0, 6.0));
        close(wide.distance, 3.0, 1e-9);
    }
}
