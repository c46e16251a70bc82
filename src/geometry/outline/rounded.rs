//! Polygons whose corners carry radii.
//!
//! A corner that turns by `a` with radius `r` is an arc that leaves each of its two sides
//! `r tan(a / 2)` short of the corner. Two neighbours share the side between them, so one's
//! radius limits the other's.

use super::{Outline, OutlineError, Side, Vertex};
use kurbo::Point;

/// How far over its side a pair of corners may reach, of the side's length: what rounding does
/// to radii that are meant to fit exactly, as the four of a circle.
const FIT: f64 = 1e-9;

/// Turns smaller than this, in radians, are straight on: a radius there changes nothing.
const STRAIGHT_ON: f64 = 1e-9;

/// A corner of a polygon, and the side from it to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// Where the sides would meet, mm.
    pub point: Point,
    /// Radius of the corner, mm, 0 for a sharp one.
    pub radius: f64,
    /// What lies along the side to the next corner.
    pub side: Side,
}

/// The outline of a closed polygon with round corners, in either direction.
///
/// The arc of a corner between an open side and a cut one is to be cut.
///
/// # Errors
/// As [`Outline::new`]; and a negative radius, or one that does not fit, with the corner counted
/// from 1 in the order given and the largest radius that fits with its neighbours' as they are.
pub fn rounded(corners: &[Corner]) -> Result<Outline, OutlineError> {
    let finite = |corner: &Corner| corner.point.is_finite() && corner.radius.is_finite();
    if !corners.iter().all(finite) {
        return Err(OutlineError::NotFinite);
    }
    if let Some(index) = corners.iter().position(|corner| corner.radius < 0.0) {
        return Err(OutlineError::NegativeRadius {
            corner: index + 1,
            radius: corners[index].radius,
        });
    }
    let corners = Numbered::without_repeats(corners);
    if corners.len() < 3 {
        return Err(OutlineError::NoArea);
    }
    let turns = turns(&corners);
    check_fit(&corners, &turns)?;
    Outline::new(joined(&corners, &turns))
}

/// A corner with its place among those given.
#[derive(Debug, Clone, Copy)]
struct Numbered {
    corner: Corner,
    number: usize,
}

impl Numbered {
    /// The corners less those that stand where the next one does.
    fn without_repeats(corners: &[Corner]) -> Vec<Self> {
        let count = corners.len();
        (0..count)
            .filter(|&index| corners[index].point != corners[(index + 1) % count].point)
            .map(|index| Self {
                corner: corners[index],
                number: index + 1,
            })
            .collect()
    }
}

/// How a corner turns, and what its radius takes of each side.
#[derive(Debug, Clone, Copy)]
struct Turn {
    /// Radians, positive to the left.
    angle: f64,
    /// Length of side taken for each mm of radius; infinite where the line turns right back.
    reach_per_radius: f64,
    /// Length of side taken, mm.
    reach: f64,
    /// Length of the side from this corner to the next, mm.
    side_length: f64,
}

fn turns(corners: &[Numbered]) -> Vec<Turn> {
    let count = corners.len();
    let point = |index: usize| corners[index % count].corner.point;
    (0..count)
        .map(|index| {
            let arriving = point(index) - point(index + count - 1);
            let leaving = point(index + 1) - point(index);
            let (cross, dot) = (arriving.cross(leaving), arriving.dot(leaving));
            let angle = libm::atan2(cross, dot);
            let reach_per_radius = if angle.abs() < STRAIGHT_ON {
                0.0
            } else if std::f64::consts::PI - angle.abs() < STRAIGHT_ON {
                f64::INFINITY
            } else {
                libm::tan(angle.abs() / 2.0)
            };
            let radius = corners[index].corner.radius;
            Turn {
                angle,
                reach_per_radius,
                // Never infinity times zero.
                reach: if radius == 0.0 {
                    0.0
                } else {
                    radius * reach_per_radius
                },
                side_length: leaving.hypot(),
            }
        })
        .collect()
}

/// Refuses the first corner that does not fit. One whose neighbour leaves it nothing at all is
/// blamed only where no corner could be made to fit.
fn check_fit(corners: &[Numbered], turns: &[Turn]) -> Result<(), OutlineError> {
    let count = turns.len();
    let misfits = (0..count).filter_map(|index| {
        let turn = &turns[index];
        let (before, after) = (
            &turns[(index + count - 1) % count],
            &turns[(index + 1) % count],
        );
        let room = (before.side_length - before.reach).min(turn.side_length - after.reach);
        let slack = FIT * before.side_length.min(turn.side_length);
        // A sharp corner is never to blame.
        (turn.reach > 0.0 && turn.reach > room + slack).then(|| OutlineError::RadiusTooLarge {
            corner: corners[index].number,
            radius: corners[index].corner.radius,
            largest: room.max(0.0) / turn.reach_per_radius,
        })
    });
    let mut first = None;
    for misfit in misfits {
        let OutlineError::RadiusTooLarge { largest, .. } = misfit else {
            continue;
        };
        if largest > 0.0 {
            return Err(misfit);
        }
        first.get_or_insert(misfit);
    }
    first.map_or(Ok(()), Err)
}

/// Sides shortened and arcs put between them.
fn joined(corners: &[Numbered], turns: &[Turn]) -> Vec<Vertex> {
    let count = corners.len();
    let mut vertices = Vec::with_capacity(2 * count);
    for index in 0..count {
        let (corner, turn) = (&corners[index].corner, &turns[index]);
        let before = (index + count - 1) % count;
        let arc_side = match (corners[before].corner.side, corner.side) {
            (Side::Open, Side::Open) => Side::Open,
            _ => Side::Cut,
        };
        let leaves = Vertex {
            point: along(corners, turns, index).0,
            bulge: 0.0,
            side: corner.side,
        };
        if turn.reach > 0.0 {
            vertices.push(Vertex {
                point: along(corners, turns, before).1,
                bulge: libm::tan(turn.angle / 4.0),
                side: arc_side,
            });
        }
        vertices.push(leaves);
    }
    vertices
}

/// Where the straight part of the side after a corner begins and ends: one and the same point
/// where the two corners' reaches fill it.
fn along(corners: &[Numbered], turns: &[Turn], index: usize) -> (Point, Point) {
    let next = (index + 1) % corners.len();
    let (from, to) = (corners[index].corner.point, corners[next].corner.point);
    let length = turns[index].side_length;
    let (first, second) = (turns[index].reach, turns[next].reach);
    if first + second >= length * (1.0 - FIT) {
        let joint = from.lerp(to, first / (first + second));
        return (joint, joint);
    }
    (
        from.lerp(to, first / length),
        to.lerp(from, second / length),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn polygon(corners: &[(f64, f64, f64)]) -> Result<Outline, OutlineError> {
        let corners: Vec<Corner> = corners
            .iter()
            .map(|&(x, y, radius)| Corner {
                point: Point::new(x, y),
                radius,
                side: Side::Cut,
            })
            .collect();
        rounded(&corners)
    }

    #[track_caller]
    fn close(is: f64, should: f64) {
        assert!((is - should).abs() < 1e-9, "{is} should be {should}");
    }

    #[track_caller]
    fn too_large(outcome: Result<Outline, OutlineError>, corner: usize, largest: f64) {
        match outcome {
            Err(OutlineError::RadiusTooLarge {
                corner: is_corner,
                largest: is_largest,
                ..
            }) => {
                assert_eq!(is_corner, corner);
                close(is_largest, largest);
            }
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn full_radii_make_a_circle_of_four_arcs() {
        for half in [0.35, 3.3, 47.123_456_7, 950.1] {
            let circle = polygon(&[
                (-half, -half, half),
                (half, -half, half),
                (half, half, half),
                (-half, half, half),
            ])
            .unwrap();
            assert_eq!(circle.vertices().len(), 4);
            assert!(circle.sides().all(|side| side.is_arc()));
            assert!((circle.area() / (PI * half * half) - 1.0).abs() < 1e-12);
            assert!((circle.length() / (2.0 * PI * half) - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn radii_that_nearly_fill_a_side_are_sound() {
        for rest in [1e-10, 1e-7, 1e-6, 3e-6, 1e-5, 2e-5, 1e-4, 1e-3, 0.01, 0.3] {
            for radius in [0.5, 12.0, 450.0] {
                let (half, tall) = (radius + rest / 2.0, radius + 7.0);
                let slot = polygon(&[
                    (-half, -tall, radius),
                    (half, -tall, radius),
                    (half, tall, radius),
                    (-half, tall, radius),
                ])
                .unwrap_or_else(|error| panic!("{radius} {rest}: {error}"));
                let area = 4.0 * half * tall - (4.0 - PI) * radius * radius;
                assert!((slot.area() / area - 1.0).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn inward_corners_and_acute_ones_have_the_area_of_the_closed_form() {
        // A corner of turn a and radius r loses r^2 (tan(a/2) - a/2); an inward one gains it.
        let square_loss = 1.0 - PI / 4.0;
        let step = polygon(&[
            (0.0, 0.0, 0.0),
            (40.0, 0.0, 5.0),
            (40.0, 20.0, 0.0),
            (20.0, 20.0, 8.0),
            (20.0, 40.0, 0.0),
            (0.0, 40.0, 0.0),
        ])
        .unwrap();
        close(step.area(), 1200.0 + square_loss * (64.0 - 25.0));
        let acute = polygon(&[(0.0, 0.0, 4.0), (100.0, 0.0, 0.0), (0.0, 30.0, 0.0)]).unwrap();
        close(acute.area(), 1500.0 - 16.0 * square_loss);
        let side = 60.0;
        let triangle = polygon(&[
            (0.0, 0.0, 6.0),
            (side, 0.0, 6.0),
            (side / 2.0, side * 3_f64.sqrt() / 2.0, 6.0),
        ])
        .unwrap();
        let full = side * side * 3_f64.sqrt() / 4.0;
        close(
            triangle.area(),
            full - 3.0 * 36.0 * (3_f64.sqrt() - PI / 3.0),
        );
    }

    #[test]
    fn a_radius_too_large_names_corner_and_largest() {
        let window = |first, second| {
            polygon(&[
                (0.0, 0.0, first),
                (50.0, 0.0, second),
                (50.0, 80.0, 4.0),
                (0.0, 80.0, 4.0),
            ])
        };
        too_large(window(47.0, 4.0), 1, 46.0);
        too_large(window(30.0, 30.0), 1, 20.0);
        // The second leaves the first no room whatever: it is the second that is too large.
        too_large(window(1.0, 1000.0), 2, 49.0);
        assert!(window(46.0, 4.0).is_ok());
        assert!(window(46.000_001, 4.0).is_err());
        let acute = polygon(&[(0.0, 0.0, 30.0), (100.0, 0.0, 0.0), (0.0, 20.0, 0.0)]);
        too_large(acute, 1, 20.0);
    }

    #[test]
    fn a_radius_that_is_named_as_the_largest_does_fit() {
        let tall = |radius| {
            polygon(&[
                (0.0, 0.0, 3.7),
                (41.3, 2.9, radius),
                (55.1, 63.7, 9.1),
                (-7.7, 31.0, 2.0),
            ])
        };
        let Err(OutlineError::RadiusTooLarge { largest, .. }) = tall(500.0) else {
            panic!("fits");
        };
        assert!(tall(largest).is_ok());
        assert!(tall(largest * 1.000_001).is_err());
    }

    #[test]
    fn straight_on_and_right_back() {
        let straight_on = |radius| {
            polygon(&[
                (0.0, 0.0, 2.0),
                (20.0, 0.0, radius),
                (50.0, 0.0, 2.0),
                (50.0, 30.0, 2.0),
                (0.0, 30.0, 2.0),
            ])
        };
        close(
            straight_on(1e6).unwrap().area(),
            straight_on(0.0).unwrap().area(),
        );
        let right_back = |radius| {
            polygon(&[
                (0.0, 0.0, 0.0),
                (20.0, 0.0, radius),
                (10.0, 0.0, 0.0),
                (0.0, 9.0, 0.0),
            ])
        };
        too_large(right_back(1.0), 2, 0.0);
        assert!(matches!(
            right_back(0.0),
            Err(OutlineError::SelfCrossing { .. })
        ));
    }

    #[test]
    fn odd_input_is_an_error() {
        assert_eq!(polygon(&[]), Err(OutlineError::NoArea));
        assert_eq!(
            polygon(&[(0.0, 0.0, 1.0), (0.0, 0.0, 2.0)]),
            Err(OutlineError::NoArea)
        );
        assert_eq!(
            polygon(&[(0.0, 0.0, f64::NAN), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)]),
            Err(OutlineError::NotFinite)
        );
        assert_eq!(
            polygon(&[(0.0, 0.0, 0.0), (9.0, 0.0, -1.0), (0.0, 9.0, 0.0)]),
            Err(OutlineError::NegativeRadius {
                corner: 2,
                radius: -1.0
            })
        );
    }
}
