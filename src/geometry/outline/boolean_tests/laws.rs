//! Laws that hold of any outlines, over random ones.

use super::*;
use crate::geometry::outline::offset;
use geo::{Area, BooleanOps};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

fn shape() -> impl Strategy<Value = Outline> {
    let place = (-60.0..60.0_f64, -60.0..60.0_f64, 0.0..6.3_f64);
    let size = (4.0..90.0_f64, 4.0..90.0_f64, 0.0..=1.0_f64);
    (place, size).prop_map(|((x, y, turn), (width, height, part))| {
        let radius = part * width.min(height) / 2.0;
        window(0.0, 0.0, width, height, radius).placed(turn, Vec2::new(x, y))
    })
}

/// Shapes on a coarse grid, so that edges coincide, touch and nest.
fn shape_on_grid() -> impl Strategy<Value = Outline> {
    (-4..4_i32, -4..4_i32, 1..5_i32, 1..5_i32, 0..3_i32).prop_map(|(x, y, width, height, round)| {
        let (width, height) = (f64::from(width) * 10.0, f64::from(height) * 10.0);
        let radius = f64::from(round) * width.min(height) / 4.0;
        let (x, y) = (f64::from(x) * 5.0, f64::from(y) * 5.0);
        window(x, y, width, height, radius)
    })
}

fn laws(one: &Outline, other: &Outline, turn: f64) -> Result<(), TestCaseError> {
    let by = Vec2::new(turn * 40.0, -turn);
    let (one, other) = (one.placed(turn, by), other.placed(turn, by));
    let both = area(&union(&[one.clone(), other.clone()]));
    let shared = common(&one, &other);
    let left = area(&difference(&one, &other));
    let sum = one.area() + other.area();
    // Slivers up to 1e-4 mm wide are dropped, and points within 1e-5 mm are one.
    let within = 1e-4 * (one.length() + other.length());
    prop_assert!(
        (both + shared - sum).abs() < within,
        "{} {} {}",
        both,
        shared,
        sum
    );
    prop_assert!(
        (left + shared - one.area()).abs() < within,
        "{} {}",
        left,
        shared
    );
    let (first, second) = (flattened(&one), flattened(&other));
    let judge = first.union(&second).unsigned_area();
    prop_assert!(
        (both / judge - 1.0).abs() < 1e-3,
        "{} judge {}",
        both,
        judge
    );
    let judge = first.intersection(&second).unsigned_area();
    prop_assert!(
        (shared - judge).abs() < 1e-3 * sum,
        "{} judge {}",
        shared,
        judge
    );
    Ok(())
}

/// The same few cases in every run of the suite; others, in any number, by the environment
/// variable that proptest reads.
fn config() -> ProptestConfig {
    let asked = std::env::var_os("PROPTEST_CASES").is_some();
    let default = ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    ProptestConfig {
        cases: if asked { default.cases } else { 60 },
        rng_seed: if asked {
            RngSeed::Random
        } else {
            RngSeed::Fixed(1)
        },
        ..default
    }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn areas_add_up_and_agree_with_geo(one in shape(), other in shape()) {
        laws(&one, &other, 0.0)?;
    }

    #[test]
    fn areas_add_up_where_edges_coincide(
        one in shape_on_grid(),
        other in shape_on_grid(),
        turn in prop_oneof![Just(0.0), 0.0..6.3_f64],
    ) {
        laws(&one, &other, turn)?;
    }

    #[test]
    fn many_at_once_agree_with_geo(
        shapes in prop::collection::vec(prop_oneof![shape(), shape_on_grid()], 3..9),
    ) {
        let regions = union(&shapes);
        let judge = shapes
            .iter()
            .map(flattened)
            .reduce(|sum, next| sum.union(&next))
            .map_or(0.0, |sum| sum.unsigned_area());
        let is = area(&regions);
        prop_assert!((is / judge - 1.0).abs() < 1e-3, "{} judge {}", is, judge);
        for (index, one) in regions.iter().enumerate() {
            for other in &regions[index + 1..] {
                prop_assert!(common(&one.outer, &other.outer) < 1e-3
                    || one.holes.iter().chain(&other.holes).any(|hole|
                        common(hole, &one.outer).max(common(hole, &other.outer)) > 1e-3));
            }
        }
    }

    #[test]
    fn offsets_of_unions_keep_their_distance(
        shapes in prop::collection::vec(shape(), 1..4),
        by in prop_oneof![0.5..30.0_f64, -12.0..-0.5_f64],
    ) {
        for region in union(&shapes) {
            let before = region.outer;
            let after = offset(&before, by);
            for line in after.iter().flat_map(|one| one.holes.iter().chain([&one.outer])) {
                for side in line.sides() {
                    for part in [0.0, 0.25, 0.5, 0.75] {
                        let (distance, _) = before.distance(side.at(part));
                        prop_assert!((distance - by.abs()).abs() < 2e-3, "{} {}", distance, by);
                    }
                }
            }
            let area: f64 = area(&after);
            if by > 0.0 {
                // Growing by d adds at most L d + pi d^2, and at least pi d^2.
                let most = before.area() + before.length() * by + PI * by * by;
                prop_assert!(area <= most + 1e-2, "{} {}", area, most);
                prop_assert!(area >= before.area() + PI * by * by - 1e-2);
                for vertex in before.vertices() {
                    prop_assert!(after.iter().any(|one| one.outer.contains(vertex.point)));
                }
            } else {
                prop_assert!(area <= before.area());
                // A round of the distance fits about every point far enough in.
                let bounds = before.bounds();
                for step in 0..100 {
                    let (column, row) = (f64::from(step % 10) + 0.5, f64::from(step / 10) + 0.5);
                    let point = Point::new(
                        bounds.x0 + bounds.width() * column / 10.0,
                        bounds.y0 + bounds.height() * row / 10.0,
                    );
                    let deep = before.distance(point).0 + by;
                    if before.contains(point) && deep.abs() > 1e-2 {
                        let kept = after.iter().any(|one| one.contains(point));
                        prop_assert_eq!(kept, deep > 0.0, "{}", deep);
                    }
                }
            }
        }
    }
}
