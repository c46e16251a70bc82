//! Corners with radii as a line: at each corner a circle that touches both its sides.

use kurbo::{Line, Point, Vec2};

/// How near straight pieces follow an arc, mm.
const FLAT: f64 = 0.001;
/// Corners nearer together than this, mm, have no side between them.
const TOGETHER: f64 = 1e-6;

/// A corner, and the side from it to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Corner {
    pub(super) at: Point,
    pub(super) radius: f64,
    /// The side is cut.
    pub(super) cut: bool,
}

/// The closed line through rounded corners, and which of its pieces are cut; `None` where corners
/// fall together.
pub(super) fn rounded(corners: &[Corner]) -> Option<Vec<(Line, bool)>> {
    let count = corners.len();
    let arcs: Vec<Vec<Point>> = (0..count)
        .map(|place| {
            let before = corners[(place + count - 1) % count].at;
            let after = corners[(place + 1) % count].at;
            arc(before, corners[place], after)
        })
        .collect::<Option<_>>()?;
    let mut pieces = vec![];
    for place in 0..count {
        let own = &arcs[place];
        pieces.extend(
            own.windows(2)
                .map(|ends| (Line::new(ends[0], ends[1]), true)),
        );
        let (from, to) = (own.last()?, arcs[(place + 1) % count].first()?);
        pieces.push((Line::new(*from, *to), corners[place].cut));
    }
    Some(pieces)
}

/// Points round one corner, from the side before it to the side after it.
fn arc(before: Point, corner: Corner, after: Point) -> Option<Vec<Point>> {
    let (back, on) = (before - corner.at, after - corner.at);
    if back.hypot() < TOGETHER || on.hypot() < TOGETHER {
        return None;
    }
    let (back, on) = (back.normalize(), on.normalize());
    let half = libm::acos(back.dot(on).clamp(-1.0, 1.0)) / 2.0;
    let middle = back + on;
    if corner.radius <= FLAT || middle.hypot() < TOGETHER {
        return Some(vec![corner.at]);
    }
    let centre = corner.at + middle.normalize() * (corner.radius / libm::sin(half));
    let reach = corner.radius / libm::tan(half);
    let from: Vec2 = corner.at + back * reach - centre;
    let turn = from.cross(corner.at + on * reach - centre);
    let sweep = (std::f64::consts::PI - 2.0 * half).copysign(turn);
    let step = 2.0 * libm::acos(1.0 - FLAT / corner.radius);
    let parts = (sweep.abs() / step).ceil().clamp(1.0, 1e4);
    let point = |part: usize| {
        let (sine, cosine) = libm::sincos(sweep * part as f64 / parts);
        let turned = Vec2::new(
            from.x * cosine - from.y * sine,
            from.x * sine + from.y * cosine,
        );
        centre + turned
    };
    Some((0..=parts as usize).map(point).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_square_of_full_radii_is_a_circle() {
        let corner = |x: f64, y: f64| Corner {
            at: Point::new(x, y),
            radius: 20.0,
            cut: true,
        };
        let square = [
            corner(-20.0, -20.0),
            corner(20.0, -20.0),
            corner(20.0, 20.0),
            corner(-20.0, 20.0),
        ];
        let pieces = rounded(&square).unwrap();
        let length: f64 = pieces
            .iter()
            .map(|(line, _)| (line.p1 - line.p0).hypot())
            .sum();
        assert!(
            (length - std::f64::consts::TAU * 20.0).abs() < 0.02,
            "{length}"
        );
        for (line, _) in pieces {
            assert!((line.p0.to_vec2().hypot() - 20.0).abs() < 1e-9, "{line:?}");
        }
    }

    #[test]
    fn corners_turn_either_way() {
        let corner = |x: f64, y: f64, radius: f64| Corner {
            at: Point::new(x, y),
            radius,
            cut: true,
        };
        let step = [
            corner(0.0, 0.0, 0.0),
            corner(40.0, 0.0, 0.0),
            corner(40.0, 20.0, 0.0),
            corner(20.0, 20.0, 5.0),
            corner(20.0, 40.0, 5.0),
            corner(0.0, 40.0, 0.0),
        ];
        let pieces = rounded(&step).unwrap();
        let area: f64 = pieces
            .iter()
            .map(|(line, _)| line.p0.to_vec2().cross(line.p1.to_vec2()) / 2.0)
            .sum();
        // An inner fillet adds what an outer one takes.
        assert!((area - 1200.0).abs() < 0.02, "{area}");
    }
}
