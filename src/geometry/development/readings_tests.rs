//! Profiles of readings, clean, noisy and with a slip.

use super::*;
use crate::geometry::Spline;

fn circle(radius: f64, step: f64, chord: f64) -> Vec<(f64, f64)> {
    let count = (chord / step).round() as i32;
    (0..=count)
        .map(|index| {
            let x = f64::from(index) * step - chord / 2.0;
            (x, radius - (radius * radius - x * x).sqrt())
        })
        .collect()
}

fn whole_length(readings: &[(f64, f64)]) -> f64 {
    let (profile, _) = profile_of_readings(readings, READING_ERROR).unwrap();
    let (from, to) = profile.extent().unwrap();
    profile.length(to) - profile.length(from)
}

// Arc of R 500 over a chord of 600: 643.501.
#[test]
fn readings_of_a_circle_give_its_arc_length() {
    let exact = circle(500.0, 100.0, 600.0);
    let rounded: Vec<_> = exact
        .iter()
        .map(|&(x, y)| (x, (y * 10.0).round() / 10.0))
        .collect();
    for readings in [exact, rounded] {
        let length = whole_length(&readings);
        assert!((length - 643.501).abs() < 0.05, "{length}");
    }
    let length = whole_length(&circle(1500.0, 50.0, 600.0));
    assert!((length - 604.074).abs() < 0.001, "{length}");
}

#[test]
fn noise_is_smoothed_and_never_by_more_than_the_reading_error() {
    let mut seed = 7_u64;
    let mut noise = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (seed >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
    };
    let clean = circle(1500.0, 50.0, 600.0);
    let (mut raw, mut smooth, mut named) = (0.0, 0.0, 0);
    for _ in 0..40 {
        let noisy: Vec<_> = clean.iter().map(|&(x, y)| (x, y + noise())).collect();
        let (profile, smoothing) = profile_of_readings(&noisy, 0.5).unwrap();
        assert!(smoothing.residuals.iter().all(|r| r.abs() <= 0.5));
        let biggest = smoothing.residuals[smoothing.largest].abs();
        assert!(smoothing.residuals.iter().all(|r| r.abs() <= biggest));
        named += i32::from(smoothing.rough.is_some());
        let through = Spline::through(&noisy).unwrap();
        for &(x, _) in &clean {
            smooth += (profile.jet(x).bend - 1.0 / 1500.0).powi(2);
            raw += (through.jet(x)[2] - 1.0 / 1500.0).powi(2);
        }
    }
    assert!(smooth < raw / 4.0, "{smooth} {raw}");
    assert!(named <= 1, "{named}");
}

#[test]
fn a_slip_is_named_and_an_even_panel_is_not() {
    for slipped in [1, 4, 7, 11] {
        let mut readings = circle(1500.0, 50.0, 600.0);
        let true_fall = readings[slipped].1;
        readings[slipped].1 += 10.0;
        let (_, smoothing) = profile_of_readings(&readings, 0.5).unwrap();
        let rough = smoothing.rough.unwrap();
        assert_eq!(rough.reading, slipped);
        assert!((rough.foretold - true_fall).abs() < 0.5, "{rough:?}");
    }
    for (radius, step) in [
        (500.0, 100.0),
        (500.0, 50.0),
        (1500.0, 100.0),
        (320.0, 50.0),
    ] {
        let (_, smoothing) = profile_of_readings(&circle(radius, step, 600.0), 0.5).unwrap();
        assert_eq!(smoothing.rough, None);
    }
}

#[test]
fn few_readings_and_no_error_are_left_alone() {
    let three = [(-300.0, 22.0), (0.0, 0.0), (300.0, 18.0)];
    let (profile, smoothing) = profile_of_readings(&three, 0.5).unwrap();
    assert!(smoothing.residuals.iter().all(|r| r.abs() < 1e-12));
    assert!((profile.jet(150.0).bend - 40.0 / 90_000.0).abs() < 1e-12);
    let rough = [
        (0.0, 0.0),
        (50.0, 9.0),
        (100.0, 0.0),
        (150.0, 9.0),
        (200.0, 1.0),
    ];
    let (_, smoothing) = profile_of_readings(&rough, 0.0).unwrap();
    assert!(smoothing.residuals.iter().all(|r| *r == 0.0));
}

#[test]
fn what_is_no_profile_is_refused() {
    let refused = |readings: &[(f64, f64)]| profile_of_readings(readings, 0.5).unwrap_err();
    assert_eq!(
        refused(&[(0.0, 0.0)]),
        SurfaceError::ReadingCount { count: 1 }
    );
    let order = refused(&[(0.0, 0.0), (10.0, 1.0), (10.0, 2.0)]);
    assert_eq!(order, SurfaceError::ReadingOrder { reading: 2 });
    let none = refused(&[(0.0, f64::NAN), (10.0, 1.0)]);
    assert_eq!(none, SurfaceError::ReadingNotFinite { reading: 0 });
    let many: Vec<_> = (0..201).map(|x| (f64::from(x), 0.0)).collect();
    assert_eq!(refused(&many), SurfaceError::ReadingCount { count: 201 });
    assert!(profile_of_readings(&[(0.0, 0.0), (1.0, 0.0)], f64::NAN).is_err());
}
