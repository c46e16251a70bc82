//! Random parts and clearances, for the laws that openings keep.

use crate::geometry::outline::{Corner, Outline, Side, rounded};
use crate::model::clearance::EachWay;
use kurbo::{Point, Vec2};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use std::f64::consts::{FRAC_PI_2, TAU};

fn polygon(corners: &[(f64, f64, f64)]) -> Outline {
    let corners: Vec<Corner> = corners
        .iter()
        .map(|&(x, y, radius)| Corner {
            point: Point::new(x, y),
            radius,
            side: Side::Cut,
        })
        .collect();
    rounded(&corners).unwrap()
}

pub(super) fn window(width: f64, height: f64, radius: f64) -> Outline {
    let (w, h) = (width / 2.0, height / 2.0);
    polygon(&[
        (-w, -h, radius),
        (w, -h, radius),
        (w, h, radius),
        (-w, h, radius),
    ])
}

fn round_window() -> impl Strategy<Value = Outline> {
    (4.0..90.0_f64, 4.0..90.0_f64, 0.0..=1.0_f64)
        .prop_map(|(width, height, part)| window(width, height, part * width.min(height) / 2.0))
}

fn disc() -> impl Strategy<Value = Outline> {
    (2.0..40.0_f64).prop_map(|radius| window(2.0 * radius, 2.0 * radius, radius))
}

/// An angle bracket: hollow at one corner, which is round or not.
fn angle() -> impl Strategy<Value = Outline> {
    (30.0..80.0_f64, 30.0..80.0_f64, 4.0..16.0_f64, 0.0..=1.0_f64).prop_map(
        |(width, height, thick, part)| {
            polygon(&[
                (0.0, 0.0, 0.0),
                (width, 0.0, part * thick / 2.0),
                (width, thick, part * thick / 2.0),
                (thick, thick, part * 4.0),
                (thick, height, 0.0),
                (0.0, height, part * 3.0),
            ])
        },
    )
}

pub(super) fn part() -> impl Strategy<Value = Outline> {
    let shape = prop_oneof![round_window(), disc(), angle()];
    let turn = prop_oneof![Just(0.0), Just(FRAC_PI_2), 0.0..TAU];
    (shape, turn, -60.0..60.0_f64, -60.0..60.0_f64)
        .prop_map(|(shape, turn, x, y)| shape.placed(turn, Vec2::new(x, y)))
}

pub(super) fn clearance() -> impl Strategy<Value = EachWay> {
    prop_oneof![
        (0.0..15.0_f64).prop_map(EachWay::even),
        (0.0..15.0_f64, 0.0..15.0_f64).prop_map(|(sideways, depthways)| EachWay {
            sideways,
            depthways,
        }),
    ]
}

/// The same few cases in every run of the suite; others, in any number, by the environment
/// variable that proptest reads.
pub(super) fn config(cases: u32) -> ProptestConfig {
    let asked = std::env::var_os("PROPTEST_CASES").is_some();
    let default = ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    ProptestConfig {
        cases: if asked { default.cases } else { cases },
        rng_seed: if asked {
            RngSeed::Random
        } else {
            RngSeed::Fixed(1)
        },
        ..default
    }
}
