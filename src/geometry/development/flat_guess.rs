//! What a flat pattern would have been off by.

use crate::geometry::outline::Outline;
use kurbo::{Point, Rect};
use std::fmt;

/// Places looked at along each side, besides its start.
const LOOKS: usize = 8;

/// Where on an outline, with the datum edge at the foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whereabouts {
    /// In the upper quarter, as seen from the middle.
    Top,
    /// In the lower quarter, next to the datum edge.
    Bottom,
    /// In the left quarter.
    Left,
    /// In the right quarter.
    Right,
}

impl fmt::Display for Whereabouts {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Self::Top => "top",
            Self::Bottom => "bottom",
            Self::Left => "left",
            Self::Right => "right",
        })
    }
}

/// The largest distance between a true outline and a flat guess of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlatGuess {
    /// How far the guess would have been off, mm: positive where it would have been short of the
    /// true outline, negative where it would have cut too far.
    pub short_by: f64,
    /// Where on the true outline, mm.
    pub at: Point,
    /// On which side of it.
    pub place: Whereabouts,
}

/// Compares an opening's true outline on the pattern with the outline `flat` that paper would
/// have been given without regard to rake and curve, both in one frame. Distances are those from
/// the true outline to the guess, found within a ninth of a side's length along it.
pub fn difference_to_flat(developed: &Outline, flat: &Outline) -> FlatGuess {
    let bounds = developed.bounds();
    let first = developed.vertices()[0].point;
    let mut worst = (0.0, first);
    for side in developed.sides() {
        for look in 0..=LOOKS {
            let point = side.at(look as f64 / (LOOKS + 1) as f64);
            let distance = flat.distance(point).0;
            if distance > f64::abs(worst.0) {
                let short = !flat.contains(point);
                worst = (if short { distance } else { -distance }, point);
            }
        }
    }
    FlatGuess {
        short_by: worst.0,
        at: worst.1,
        place: whereabouts(bounds, worst.1),
    }
}

/// The quarter of a box, parted along its diagonals, that a point lies in.
fn whereabouts(bounds: Rect, point: Point) -> Whereabouts {
    let from = point - bounds.center();
    let (x, y) = (from.x * bounds.height(), from.y * bounds.width());
    if y.abs() >= x.abs() {
        if y >= 0.0 {
            Whereabouts::Top
        } else {
            Whereabouts::Bottom
        }
    } else if x > 0.0 {
        Whereabouts::Right
    } else {
        Whereabouts::Left
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Along, Passage, Profile, Surface, carried};
    use super::*;
    use crate::geometry::outline::{Corner, Side, rounded};

    fn square(x: f64, y: f64, half: f64) -> Outline {
        let corner = |dx: f64, dy: f64| Corner {
            point: Point::new(x + dx * half, y + dy * half),
            radius: 4.0,
            side: Side::Cut,
        };
        let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
        rounded(&corners.map(|(dx, dy)| corner(dx, dy))).unwrap()
    }

    #[test]
    fn a_leaning_flat_panel_is_short_at_the_top_by_the_secant() {
        let seen = square(0.0, 50.0, 30.0);
        let rake = 0.5_f64;
        let surface = Surface::new(rake, Profile::flat(), Along::Across).unwrap();
        let developed = carried(&surface, 0.0, &Passage::square_on(), &seen).unwrap();
        let guess = difference_to_flat(&developed[0], &seen);
        let short = 80.0 / rake.cos() - 80.0;
        assert!(
            (guess.short_by - short).abs() < 0.006,
            "{guess:?} for {short}"
        );
        assert_eq!(guess.place, Whereabouts::Top);
        assert_eq!(guess.place.to_string(), "top");
    }

    #[test]
    fn the_side_is_named_and_the_sign_told() {
        let larger = difference_to_flat(&square(0.0, 0.0, 30.0), &square(4.0, 0.0, 30.0));
        assert!((larger.short_by - 4.0).abs() < 1e-9 || (larger.short_by + 4.0).abs() < 1e-9);
        assert!(matches!(
            larger.place,
            Whereabouts::Left | Whereabouts::Right
        ));
        let cut_too_far = difference_to_flat(&square(0.0, 0.0, 28.0), &square(0.0, 1.0, 30.0));
        assert!(
            (cut_too_far.short_by + 13_f64.sqrt()).abs() < 0.1,
            "{cut_too_far:?}"
        );
        assert!(cut_too_far.at.y > 24.0 && cut_too_far.at.x.abs() > 24.0);
        let same = difference_to_flat(&square(0.0, 0.0, 9.0), &square(0.0, 0.0, 9.0));
        assert!(same.short_by.abs() < 1e-9);
    }
}
