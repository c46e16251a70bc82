//! Development held against closed forms and published values.

use super::*;
use crate::geometry::outline::{Corner, Outline, Side, rounded};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_4, PI, TAU};

#[track_caller]
fn close(is: f64, should: f64, within: f64) {
    assert!((is - should).abs() <= within, "{is} should be {should}");
}

/// Numbers from -1 to 1, the same in every run.
pub(super) struct Dice(pub u64);

impl Dice {
    pub(super) fn roll(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

pub(super) fn rounded_box(width: f64, height: f64, radius: f64) -> Outline {
    let corner = |x: f64, y: f64| Corner {
        point: Point::new(x * width / 2.0, y * height / 2.0),
        radius,
        side: Side::Cut,
    };
    let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    rounded(&corners.map(|(x, y)| corner(x, y))).unwrap()
}

pub(super) fn random_surface(dice: &mut Dice) -> Surface {
    let bulges = if dice.roll() > 0.0 {
        Bulge::Towards
    } else {
        Bulge::Away
    };
    let radius = 350.0 + 300.0 * (1.0 + dice.roll());
    let profile = match (dice.roll() * 3.0).abs() as u8 {
        0 => Profile::flat(),
        1 => Profile::circle(radius, bulges, 40.0 * dice.roll()).unwrap(),
        _ => {
            let sign = if bulges == Bulge::Towards { 1.0 } else { -1.0 };
            let readings: Vec<_> = (-3..=3)
                .map(|index| {
                    let x = f64::from(index) * 60.0;
                    (x, sign * x * x / (2.0 * radius) + dice.roll())
                })
                .collect();
            profile_of_readings(&readings, 0.5).unwrap().0
        }
    };
    let along = if dice.roll() > 0.0 {
        Along::Across
    } else {
        Along::EdgeToEdge
    };
    Surface::new(0.7 * dice.roll(), profile, along).unwrap()
}

fn gauss_length(speed: impl Fn(f64) -> f64, pieces: usize) -> f64 {
    // Gauss's rule of five points, by its closed form.
    let root = |sign: f64| (5.0 + sign * 2.0 * (10.0_f64 / 7.0).sqrt()).sqrt() / 3.0;
    let weight = |sign: f64| (322.0 - sign * 13.0 * 70_f64.sqrt()) / 900.0;
    let rule = [
        (0.0, 128.0 / 450.0),
        (root(-1.0), weight(-1.0)),
        (root(1.0), weight(1.0)),
    ];
    let width = 1.0 / pieces as f64;
    (0..pieces)
        .map(|piece| {
            let middle = (piece as f64 + 0.5) * width;
            rule.iter()
                .map(|&(place, weight)| {
                    let off = place * width / 2.0;
                    weight * (speed(middle - off) + speed(middle + off))
                })
                .sum::<f64>()
                * width
                / 2.0
        })
        .sum()
}

/// Length of an ellipse by its own integral.
fn ellipse_length(a: f64, b: f64) -> f64 {
    gauss_length(
        |t| TAU * (a * (TAU * t).sin()).hypot(b * (TAU * t).cos()),
        200,
    )
}

// Published perimeters of the oblique cuts: the ellipse 5 x 3, 25.526999; of R 50 at 45 degrees,
// 382.019779. The cylinder is turned in four quarters, each unrolled from its own crown. A leaning
// panel cut level, at z = 0, is the cylinder cut by a plane.
#[test]
fn an_oblique_cylinder_unrolls_to_its_perimeter() {
    for (radius, tilt, perimeter) in [
        (3.0, 0.6_f64.acos(), 25.526999),
        (50.0, FRAC_PI_4, 382.019779),
    ] {
        // Quarters of the circle stand with their middles at 0, 90, 180 and 270 degrees. Each is
        // a panel of its own whose crown the profile's circle has; the cut rises with tan(tilt)
        // along one fixed direction, so a quarter turned by `turn` is cut by the plane
        // w = tan(tilt) (R - n, x) . (cos turn, sin turn).
        let mut length = 0.0;
        for quarter in 0..4 {
            let turn = f64::from(quarter) * PI / 2.0;
            let profile = Profile::circle(radius, Bulge::Towards, 0.0).unwrap();
            let surface = Surface::new(0.0, profile, Along::Across).unwrap();
            let slope = tilt.tan();
            let at = |t: f64| {
                let x = radius * (FRAC_PI_4 * (2.0 * t - 1.0)).sin();
                let from_axis = (radius * radius - x * x).sqrt();
                let z = slope * (from_axis * turn.cos() - x * turn.sin());
                surface.develop(Point::new(x, z)).unwrap()
            };
            let steps = 20_000;
            length += (0..steps)
                .map(|step| {
                    let t = |step: i32| f64::from(step) / f64::from(steps);
                    at(t(step)).distance(at(t(step + 1)))
                })
                .sum::<f64>();
        }
        close(length, perimeter, 1e-5);
        close(ellipse_length(radius / tilt.cos(), radius), perimeter, 1e-6);
    }
}

// Parallel-line development, any sheet-metal text: an oblique plane cuts the cylinder in
// y = R tan(theta) cos(x / R). Here the cylinder leans and the plane is level.
#[test]
fn a_level_cut_through_a_leaning_cylinder_is_a_sinusoid() {
    for (radius, theta) in [(50.0, 0.3), (500.0, FRAC_PI_4), (1500.0, 1.0)] {
        let profile = Profile::circle(radius, Bulge::Towards, 0.0).unwrap();
        let surface = Surface::new(theta, profile, Along::Across).unwrap();
        for step in -20..=20 {
            let x = radius * f64::from(step) / 25.0;
            let on = surface.develop(Point::new(x, 0.0)).unwrap();
            let s = radius * (x / radius).asin();
            close(on.x, s, 1e-9);
            let ordinate = radius * theta.tan() * (s / radius).cos();
            close(on.y, radius * theta.tan() - ordinate, 1e-6);
        }
    }
}

#[test]
fn a_circle_on_a_leaning_flat_panel_is_an_ellipse() {
    let (radius, rake) = (40.0, 0.6_f64);
    let surface = Surface::new(rake, Profile::flat(), Along::Across).unwrap();
    let disc = rounded_box(2.0 * radius, 2.0 * radius, radius).placed(0.0, Vec2::new(5.0, 90.0));
    let [ellipse] = &carried(&surface, 0.0, &Passage::square_on(), &disc).unwrap()[..] else {
        panic!("one outline");
    };
    let (a, b) = (radius / rake.cos(), radius);
    close(ellipse.bounds().width(), 2.0 * b, 0.01);
    close(ellipse.bounds().height(), 2.0 * a, 0.01);
    close(ellipse.bounds().center().y, 90.0 / rake.cos(), 0.01);
    let length = ellipse_length(a, b);
    close(ellipse.area(), PI * a * b, 0.005 * length);
    close(ellipse.length(), length, 0.02);
    assert!(ellipse.vertices().len() < 60);
}

#[test]
fn a_panel_square_to_the_look_changes_nothing() {
    let surface = Surface::new(0.0, Profile::flat(), Along::EdgeToEdge).unwrap();
    let shape = rounded_box(60.0, 45.0, 4.0).placed(0.3, Vec2::new(70.0, 40.0));
    let same = carried(&surface, 3.0, &Passage::square_on(), &shape).unwrap();
    assert_eq!(same[0].vertices().len(), shape.vertices().len());
    for (is, should) in same[0].vertices().iter().zip(shape.vertices()) {
        close(is.point.distance(should.point), 0.0, 1e-9);
        close(is.bulge, should.bulge, 1e-9);
    }
}

#[test]
fn both_ways_of_curving_follow_their_formulas() {
    let (rake, radius) = (0.35_f64, 420.0);
    let profile = Profile::circle(radius, Bulge::Away, 25.0).unwrap();
    let across = Surface::new(rake, profile.clone(), Along::Across).unwrap();
    let rolled = Surface::new(rake, profile.clone(), Along::EdgeToEdge).unwrap();
    for (x, z) in [(-120.0, 30.0), (0.0, 0.0), (80.0, 200.0), (150.0, -60.0)] {
        let on = across.develop(Point::new(x, z)).unwrap();
        close(on.x, profile.length(x), 1e-9);
        close(
            on.y,
            z / rake.cos() + profile.jet(x).fall * rake.tan(),
            1e-9,
        );
        let on = rolled.develop(Point::new(x, z)).unwrap();
        close(on.x, x, 1e-12);
        let w = profile.at_length(on.y);
        close(w * rake.cos() - profile.jet(w).fall * rake.sin(), z, 1e-9);
        for surface in [&across, &rolled] {
            let on = surface.develop(Point::new(x, z)).unwrap();
            close(surface.seen(on).distance(Point::new(x, z)), 0.0, 1e-9);
        }
    }
}

// The design's limit: f'(w) tan(rake) >= 1 is seen from behind.
#[test]
fn a_rolled_edge_that_hides_itself_is_an_error() {
    let profile = Profile::circle(60.0, Bulge::Towards, 0.0).unwrap();
    let surface = Surface::new(0.8, profile, Along::EdgeToEdge).unwrap();
    // f' = tan(asin(w / R)) = cot(0.8) at w = 43.
    let seen = |w: f64| {
        let jet = surface.profile().jet(w);
        let z = w * 0.8_f64.cos() - jet.fall * 0.8_f64.sin();
        surface.develop(Point::new(0.0, z))
    };
    assert!(seen(35.0).is_ok());
    let over = Point::new(0.0, 41.8 * 0.8_f64.cos());
    assert!(matches!(
        surface.develop(over),
        Err(SurfaceError::Hidden { .. })
    ));
    assert!(Surface::new(1.5, Profile::flat(), Along::Across).is_err());
    assert!(Surface::new(f64::NAN, Profile::flat(), Along::Across).is_err());
    assert!(Passage::new(Space::ORIGIN, 0.0, -1.5).is_err());
}

// Lengths are summed in space. The area is summed there too, over the plane square to the passage,
// whose element is seen on the surface 1 / cos as large, the cosine taken from the normal alone.
#[test]
fn unrolling_keeps_lengths_and_areas() {
    let mut dice = Dice(11);
    for _ in 0..30 {
        let surface = random_surface(&mut dice);
        let through = surface.on_face(Point::new(40.0 * dice.roll(), 60.0 * dice.roll()), 0.0);
        let passage = Passage::new(through, 0.5 * dice.roll(), 0.5 * dice.roll()).unwrap();
        let projection = Projection::new(&surface, &passage, 0.0).unwrap();
        let radius = 30.0 + 10.0 * dice.roll();
        let circle = |t: f64| Point::ORIGIN + Vec2::from_angle(TAU * t) * radius;
        let Ok(_) = projection.land(circle(0.0)) else {
            continue;
        };
        // In space: lengths of steps between points of the surface, Richardson's limit.
        let space = |t: f64| surface.on_face(projection.land(circle(t)).unwrap().point, 0.0);
        let paper = |t: f64| projection.land(circle(t)).unwrap().point;
        let mut sums = [[0.0; 2]; 2];
        for (sum, steps) in sums.iter_mut().zip([800, 1600]) {
            for step in 0..steps {
                let (a, b) = (
                    f64::from(step) / f64::from(steps),
                    f64::from(step + 1) / f64::from(steps),
                );
                sum[0] += (space(b) - space(a)).length();
                sum[1] += paper(a).distance(paper(b));
            }
        }
        let limit = |of: usize| (4.0 * sums[1][of] - sums[0][of]) / 3.0;
        close(limit(1) / limit(0), 1.0, 1e-6);
        // Area on paper by Green; on the surface as the integral of 1 / facing over the disc.
        let green = |steps: i32| {
            (0..steps)
                .map(|step| {
                    let t = |step: i32| f64::from(step) / f64::from(steps);
                    let (a, b) = (paper(t(step)), paper(t(step + 1)));
                    a.to_vec2().cross(b.to_vec2()) / 2.0
                })
                .sum::<f64>()
        };
        let on_paper = (4.0 * green(1600) - green(800)) / 3.0;
        let turns = 64;
        let on_surface = (0..turns)
            .map(|turn| {
                let direction = Vec2::from_angle(TAU * f64::from(turn) / f64::from(turns));
                gauss_length(
                    |r| {
                        let at = projection.land(Point::ORIGIN + direction * (r * radius));
                        let along = passage.along();
                        let normal = surface.normal(at.unwrap().point);
                        r * radius * radius / normal.dot(along)
                    },
                    6,
                )
            })
            .sum::<f64>()
            * TAU
            / f64::from(turns);
        close(on_paper / on_surface, 1.0, 1e-6);
    }
}

#[test]
fn landings_move_as_they_say_and_come_back() {
    let mut dice = Dice(5);
    for _ in 0..60 {
        let surface = random_surface(&mut dice);
        let through = surface.on_face(Point::new(50.0 * dice.roll(), 50.0 * dice.roll()), 0.0);
        let passage = Passage::new(through, 0.5 * dice.roll(), 0.5 * dice.roll()).unwrap();
        let behind = 2.0 + 2.0 * dice.roll();
        let projection = Projection::new(&surface, &passage, behind).unwrap();
        let at = Point::new(30.0 * dice.roll(), 30.0 * dice.roll());
        let Ok(landing) = projection.land(at) else {
            continue;
        };
        close(projection.back(landing.point).distance(at), 0.0, 1e-9);
        let h = 1e-4;
        for (by, moves) in [
            (Vec2::new(h, 0.0), landing.by_x),
            (Vec2::new(0.0, h), landing.by_y),
        ] {
            let (after, before) = (projection.land(at + by), projection.land(at - by));
            let measured = (after.unwrap().point - before.unwrap().point) / (2.0 * h);
            close((measured - moves).hypot(), 0.0, 1e-6);
        }
        close(
            surface.normal(landing.point).dot(passage.along()),
            landing.facing,
            1e-9,
        );
    }
}
