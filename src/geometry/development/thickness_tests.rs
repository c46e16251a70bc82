//! Openings rolled back on to the panel and held against the part in space.

use super::develop_tests::{Dice, random_surface, rounded_box};
use super::*;
use crate::geometry::outline::{Corner, Outline, Side, rounded};
use kurbo::{Point, Vec2};

/// Signed distance from an outline, negative inside.
fn gap(outline: &Outline, point: Point) -> f64 {
    let distance = outline.distance(point).0;
    if outline.contains(point) {
        -distance
    } else {
        distance
    }
}

fn random_part(dice: &mut Dice) -> Outline {
    match (dice.roll() * 3.0).abs() as u8 {
        0 => {
            let radius = 6.0 + 20.0 * dice.roll().abs();
            rounded_box(2.0 * radius, 2.0 * radius, radius)
        }
        1 => {
            let (w, h) = (
                30.0 + 40.0 * dice.roll().abs(),
                25.0 + 30.0 * dice.roll().abs(),
            );
            rounded_box(w, h, 4.0 * dice.roll().abs()).placed(dice.roll(), Vec2::ZERO)
        }
        _ => {
            let corner = |x, y| Corner {
                point: Point::new(x, y),
                radius: 2.0,
                side: Side::Cut,
            };
            rounded(&[
                corner(-30.0, -20.0),
                corner(30.0, -20.0),
                corner(30.0, 0.0),
                corner(0.0, 0.0),
                corner(0.0, 25.0),
                corner(-30.0, 25.0),
            ])
            .unwrap()
        }
    }
}

#[test]
fn the_cut_wall_clears_the_part_and_no_more() {
    let mut dice = Dice(29);
    let (mut tried, mut most) = (0, 0);
    let mut worst = (f64::INFINITY, 0.0_f64);
    for _ in 0..60 {
        let surface = random_surface(&mut dice);
        let through = surface.on_face(Point::new(30.0 * dice.roll(), 40.0 * dice.roll()), 0.0);
        let passage = Passage::new(through, 0.4 * dice.roll(), 0.4 * dice.roll()).unwrap();
        let thickness = 2.5 + 2.4 * dice.roll();
        let clearance = 5.5 + 3.5 * dice.roll();
        let part = random_part(&mut dice);
        let outlines = match cleared(&surface, thickness, &passage, &part, clearance) {
            Ok(outlines) => outlines,
            Err(SurfaceError::Hidden { .. }) => continue,
            Err(other) => panic!("{other}"),
        };
        tried += 1;
        assert_eq!(outlines.len(), 1);
        most = most.max(outlines[0].vertices().len());
        let depths: Vec<_> = (0..=40)
            .map(|k| thickness * f64::from(k) / 40.0)
            .map(|depth| Projection::new(&surface, &passage, depth).unwrap())
            .collect();
        for side in outlines[0].sides() {
            for look in 0..8 {
                let point = side.at(f64::from(look) / 8.0);
                let gaps = depths.iter().map(|face| gap(&part, face.back(point)));
                let governing = gaps.fold(f64::INFINITY, f64::min) - clearance;
                worst = (worst.0.min(governing), worst.1.max(governing));
            }
        }
    }
    assert!(tried > 40, "{tried}");
    assert!(worst.0 >= 0.0 && worst.1 <= 0.01, "{worst:?}");
    assert!(most < 60, "{most}");
}

/// Parts with an arc that runs along the wall half-way on: where a look at a sixth of it falls there,
/// the change of face must still be found.
#[test]
fn round_parts_straight_aslant_are_cleared_all_through_the_wall() {
    let corner = |x, y| Corner {
        point: Point::new(x, y),
        radius: 10.0,
        side: Side::Cut,
    };
    let diamond = [(0.0, -42.0), (42.0, 0.0), (0.0, 42.0), (-42.0, 0.0)];
    let diamond = rounded(&diamond.map(|(x, y)| corner(x, y))).unwrap();
    let parts = [
        rounded_box(20.0, 20.0, 10.0),
        rounded_box(60.0, 20.0, 10.0),
        rounded_box(20.0, 60.0, 10.0),
        diamond,
    ];
    let flat = |rake| Surface::new(rake, Profile::flat(), Along::Across).unwrap();
    // A corner that lies over the crown, where the wall is seen end-on within its arc.
    let over_the_crown = rounded_box(111.0, 89.0, 6.0).placed(0.0, Vec2::new(132.5, 0.0));
    let parts = [&parts[..], &[over_the_crown]].concat();
    let circle = Profile::circle(300.0, Bulge::Towards, 80.0).unwrap();
    let curved = Surface::new(0.0, circle, Along::Across).unwrap();
    let ways = [
        (flat(0.0), 0.0, 0.17),
        (flat(0.0), 0.0, -0.5),
        (flat(0.0), 0.3, 0.0),
        (flat(0.16), 0.0, 0.0),
        (flat(0.35), 0.0, 0.0),
        (curved, 0.0, 0.0),
    ];
    for (surface, slope, yaw) in &ways {
        let passage = Passage::new(surface.on_face(Point::ZERO, 0.0), *slope, *yaw).unwrap();
        for (part, thickness) in parts.iter().flat_map(|part| [(part, 2.5), (part, 8.0)]) {
            let depths: Vec<_> = (0..=40)
                .map(|k| thickness * f64::from(k) / 40.0)
                .map(|depth| Projection::new(surface, &passage, depth).unwrap())
                .collect();
            for clearance in [0.0, 3.0] {
                let outlines = match clearance {
                    0.0 => carried(surface, thickness, &passage, part),
                    _ => cleared(surface, thickness, &passage, part, clearance),
                };
                let outlines = outlines.unwrap();
                assert_eq!(outlines.len(), 1);
                let looks = outlines[0]
                    .sides()
                    .flat_map(|side| (0..16).map(move |k| side.at(f64::from(k) / 16.0)));
                let left = looks.map(|point| {
                    let gaps = depths.iter().map(|face| gap(part, face.back(point)));
                    gaps.fold(f64::INFINITY, f64::min) - clearance
                });
                let (least, most) = left.fold((f64::INFINITY, 0.0_f64), |(least, most), one| {
                    (least.min(one), most.max(one))
                });
                assert!(
                    least > -0.006 && most < 0.012,
                    "{least} to {most}: {slope} {yaw} {thickness} {clearance}"
                );
            }
        }
    }
}

#[test]
fn fitted_outlines_follow_the_exact_image() {
    let mut dice = Dice(3);
    let (mut tried, mut most) = (0, 0);
    for _ in 0..60 {
        let surface = random_surface(&mut dice);
        let through = surface.on_face(Point::new(40.0 * dice.roll(), 60.0 * dice.roll()), 0.0);
        let passage = Passage::new(through, 0.4 * dice.roll(), 0.4 * dice.roll()).unwrap();
        let part = random_part(&mut dice);
        let Ok(images) = carried(&surface, 0.0, &passage, &part) else {
            continue;
        };
        tried += 1;
        let image = &images[0];
        most = most.max(image.vertices().len());
        let projection = Projection::new(&surface, &passage, 0.0).unwrap();
        for side in part.sides() {
            for look in 0..200 {
                let exact = projection.land(side.at(f64::from(look) / 200.0)).unwrap();
                let strays = image.distance(exact.point).0;
                assert!(strays <= FIT_TOLERANCE, "{strays}");
            }
        }
        // Joints within a side run on smoothly: corners are those of the part.
        let sides: Vec<_> = image.sides().collect();
        let kinks = (0..sides.len())
            .filter(|&at| {
                let next = sides[(at + 1) % sides.len()];
                sides[at].tangent(1.0).dot(next.tangent(0.0)) < 0.99999
            })
            .count();
        assert!(kinks <= 4, "{kinks}");
    }
    assert!(tried > 40, "{tried}");
    assert!(most < 60, "{most}");
}

#[test]
fn a_tube_square_to_a_leaning_plate_needs_its_length_and_its_shift() {
    // Flat, raked by phi, thickness t, tube of radius r: near and far images are one ellipse
    // r x r / cos(phi), apart by t tan(phi) up the panel, so together that much longer.
    let (rake, thickness, radius, clearance) = (0.5_f64, 4.0, 20.0, 6.0);
    let surface = Surface::new(rake, Profile::flat(), Along::Across).unwrap();
    let tube = rounded_box(2.0 * radius, 2.0 * radius, radius);
    let opening = cleared(&surface, thickness, &Passage::square_on(), &tube, clearance).unwrap();
    let bounds = opening[0].bounds();
    let grown = radius + clearance;
    let height = 2.0 * grown / rake.cos() + thickness * rake.tan();
    assert!(
        (bounds.height() - height - 0.01).abs() < 0.015,
        "{bounds:?} {height}"
    );
    assert!(
        (bounds.width() - 2.0 * grown - 0.009).abs() < 0.01,
        "{bounds:?}"
    );
    // The far face lies higher: the panel's normal points down where its top leans away, and
    // what passes level is met lower on the near face than on the far one by t tan(phi).
    let near = grown / rake.cos();
    assert!(
        (bounds.y1 - near - thickness * rake.tan()).abs() < 0.02,
        "{bounds:?}"
    );
}

#[test]
fn a_thick_plate_and_a_thin_bolt_leave_one_opening() {
    let surface = Surface::new(1.0, Profile::flat(), Along::Across).unwrap();
    let bolt = rounded_box(8.0, 8.0, 4.0);
    for clearance in [0.0, 1.0] {
        let opening = cleared(&surface, 20.0, &Passage::square_on(), &bolt, clearance).unwrap();
        assert_eq!(opening.len(), 1);
    }
}

#[test]
fn what_cannot_be_cut_is_refused() {
    let surface = |radius| {
        let profile = Profile::circle(radius, Bulge::Towards, 0.0).unwrap();
        Surface::new(0.1, profile, Along::Across).unwrap()
    };
    let part = rounded_box(8.0, 8.0, 2.0);
    let square_on = Passage::square_on();
    let cut = |radius, thickness, clearance| {
        cleared(&surface(radius), thickness, &square_on, &part, clearance)
    };
    assert!(matches!(
        cut(9.0, 9.5, 0.1),
        Err(SurfaceError::TooThick { .. })
    ));
    assert!(cut(500.0, -1.0, 1.0).is_err() && cut(500.0, 1.0, f64::NAN).is_err());
    assert!(matches!(
        cut(9.0, 1.0, 40.0),
        Err(SurfaceError::Hidden { .. })
    ));
    assert!(cut(500.0, 2.0, 6.0).is_ok());
}
