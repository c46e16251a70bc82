//! Where two sides come nearest to each other, exactly for lines and arcs.
//!
//! The least distance between two sides is reached at an end of one of them, where they cross,
//! or where both have a common normal: for a line and an arc at the foot of the square from the
//! arc's centre, for two arcs on the line through their centres. Each of these places is tried.

use super::Segment;
use kurbo::{Point, Vec2};

/// The point on `one` and the point on `other` that are nearest to each other.
pub(super) fn nearest_points(one: &Segment, other: &Segment) -> (Point, Point) {
    let mut best = Best {
        squared: f64::INFINITY,
        pair: (one.start, other.start),
    };
    for point in [one.start, one.end] {
        best.offer(point, other.nearest(point));
    }
    for point in [other.start, other.end] {
        best.offer(one.nearest(point), point);
    }
    for place in inner_places(one, other).into_iter().flatten() {
        let on_one = one.nearest(place);
        let on_other = other.nearest(on_one);
        best.offer(one.nearest(on_other), on_other);
    }
    best.pair
}

struct Best {
    squared: f64,
    pair: (Point, Point),
}

impl Best {
    fn offer(&mut self, on_one: Point, on_other: Point) {
        let squared = on_one.distance_squared(on_other);
        if squared < self.squared {
            *self = Self {
                squared,
                pair: (on_one, on_other),
            };
        }
    }
}

/// Where the two may come nearest away from their ends.
fn inner_places(one: &Segment, other: &Segment) -> [Option<Point>; 4] {
    match (circle(one), circle(other)) {
        (None, None) => [crossing(one, other), None, None, None],
        (None, Some(arc)) => line_and_circle(one, arc),
        (Some(arc), None) => line_and_circle(other, arc),
        (Some(first), Some(second)) => two_circles(first, second),
    }
}

type Circle = (Point, f64);

fn circle(side: &Segment) -> Option<Circle> {
    side.centre().zip(side.radius())
}

/// Where two lines cross, if not parallel.
fn crossing(one: &Segment, other: &Segment) -> Option<Point> {
    let (along, across) = (one.end - one.start, other.end - other.start);
    let turn = along.cross(across);
    let place = one.start + along * ((other.start - one.start).cross(across) / turn);
    place.is_finite().then_some(place)
}

/// The foot of the square from the centre, and the crossings, where there are any.
fn line_and_circle(line: &Segment, (centre, radius): Circle) -> [Option<Point>; 4] {
    let along = (line.end - line.start).normalize();
    let foot = line.start + along * (centre - line.start).dot(along);
    let half = (radius * radius - foot.distance_squared(centre)).sqrt();
    let crosses = half.is_finite();
    [
        Some(foot),
        crosses.then(|| foot - along * half),
        crosses.then(|| foot + along * half),
        None,
    ]
}

/// The first circle's points on the line of centres, and the crossings. None where the circles
/// have one centre: their arcs are then as near at an end as anywhere.
fn two_circles((first, radius): Circle, (second, other_radius): Circle) -> [Option<Point>; 4] {
    let between = second - first;
    let distance = between.hypot();
    if distance == 0.0 {
        return [None; 4];
    }
    let towards = between / distance;
    let square = Vec2::new(-towards.y, towards.x);
    let along =
        (distance * distance + radius * radius - other_radius * other_radius) / (2.0 * distance);
    let half = (radius * radius - along * along).sqrt();
    let crosses = half.is_finite();
    [
        Some(first + towards * radius),
        Some(first - towards * radius),
        crosses.then(|| first + towards * along + square * half),
        crosses.then(|| first + towards * along - square * half),
    ]
}

#[cfg(test)]
mod tests {
    use super::super::Side;
    use super::*;
    use proptest::prelude::*;

    fn side(start: (f64, f64), end: (f64, f64), bulge: f64) -> Segment {
        Segment {
            start: start.into(),
            end: end.into(),
            bulge,
            side: Side::Cut,
        }
    }

    #[track_caller]
    fn distance_is(one: &Segment, other: &Segment, should: f64) {
        for (first, second) in [(one, other), (other, one)] {
            let (from, to) = nearest_points(first, second);
            let is = from.distance(to);
            assert!((is - should).abs() < 1e-9, "{is} should be {should}");
        }
    }

    #[test]
    fn lines_and_arcs_by_hand() {
        let line = side((0.0, 0.0), (10.0, 0.0), 0.0);
        distance_is(&line, &side((3.0, -4.0), (5.0, 8.0), 0.0), 0.0);
        distance_is(&line, &side((13.0, 4.0), (20.0, 9.0), 0.0), 5.0);
        distance_is(&line, &side((2.0, 7.0), (8.0, 7.0), 0.0), 7.0);
        // Half circles about (5, 20), radius 5: the lower one comes down to 15.
        distance_is(&line, &side((0.0, 20.0), (10.0, 20.0), 1.0), 15.0);
        distance_is(&line, &side((10.0, 20.0), (0.0, 20.0), 1.0), 20.0);
        distance_is(&line, &side((0.0, 3.0), (10.0, 3.0), 1.0), 0.0);
        // Two half circles that bulge towards each other, centres 30 apart.
        let right = side((0.0, -8.0), (0.0, 8.0), 1.0);
        let left = side((30.0, 9.0), (30.0, -9.0), 1.0);
        distance_is(&right, &left, 13.0);
        // One about the other, one centre.
        distance_is(&right, &side((0.0, -11.0), (0.0, 11.0), 1.0), 3.0);
        // A smaller one off the centre within a larger one.
        distance_is(&right, &side((2.0, -5.0), (2.0, 5.0), 1.0), 1.0);
    }

    fn any_side() -> impl Strategy<Value = Segment> {
        let point = || (-50.0..50.0_f64, -50.0..50.0_f64);
        let bulge = prop_oneof![Just(0.0), -1.0..1.0_f64];
        (point(), point(), bulge).prop_map(|(start, end, bulge)| side(start, end, bulge))
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        #[test]
        fn no_sampled_pair_is_nearer(one in any_side(), other in any_side()) {
            let (from, to) = nearest_points(&one, &other);
            prop_assert!(one.nearest(from).distance(from) < 1e-9);
            prop_assert!(other.nearest(to).distance(to) < 1e-9);
            let is = from.distance(to);
            let steps = 400;
            let sampled = (0..=steps)
                .map(|step| one.at(f64::from(step) / f64::from(steps)))
                .map(|point| point.distance(other.nearest(point)))
                .fold(f64::INFINITY, f64::min);
            prop_assert!(is <= sampled + 1e-9, "{} over {}", is, sampled);
            prop_assert!(sampled - is <= one.length() / f64::from(steps));
        }
    }
}
