//! Every shipped family against its closed forms, written out.
//!
//! A corner that turns by `a` with radius `r` takes `r^2 (tan(a/2) - a/2)` of the area, or adds
//! it where the outline turns the other way, and `r (2 tan(a/2) - a)` of the length. For right
//! angles that is `(1 - pi/4) r^2` and `(2 - pi/2) r`.

use super::Family;
use super::family_tests::{family, given};
use crate::geometry::outline::Outline;
use std::f64::consts::PI;

const K: f64 = 1.0 - PI / 4.0;
const J: f64 = 2.0 - PI / 2.0;

fn corner_area(turn: f64, radius: f64) -> f64 {
    radius * radius * ((turn / 2.0).tan() - turn / 2.0)
}

fn corner_length(turn: f64, radius: f64) -> f64 {
    radius * (2.0 * (turn / 2.0).tan() - turn)
}

fn outline(family: &Family, names: &[&str], values: &[f64]) -> Outline {
    let pairs: Vec<_> = names.iter().copied().zip(values.iter().copied()).collect();
    family
        .outline(&given(&pairs))
        .unwrap_or_else(|errors| panic!("{} {values:?}: {}", family.name(), errors[0]))
}

/// Checks area and cut length for each row of values.
#[track_caller]
fn check<const N: usize>(
    name: &str,
    names: [&str; N],
    rows: &[[f64; N]],
    closed_form: impl Fn([f64; N]) -> (f64, f64),
) {
    let family = family(name);
    let own: Vec<_> = family
        .parameters()
        .iter()
        .map(|one| one.name.as_str())
        .collect();
    assert_eq!(own, names);
    for row in rows {
        let outline = outline(&family, &names, row);
        let (area, length) = closed_form(*row);
        let is = (outline.area(), outline.cut_length());
        assert!(
            (is.0 / area - 1.0).abs() < 1e-9,
            "{name} {row:?}: {} should be {area}",
            is.0
        );
        assert!(
            (is.1 / length - 1.0).abs() < 1e-9,
            "{name} {row:?}: {} should be {length}",
            is.1
        );
        let bounds = outline.bounds();
        assert!(
            (bounds.x0 + bounds.x1).abs() < 1e-9,
            "{name} is not centred"
        );
        if family.is_open() {
            assert!(bounds.y0.abs() < 1e-9, "{name} does not begin at the edge");
            assert!(outline.length() > outline.cut_length());
        } else {
            assert!(
                (bounds.y0 + bounds.y1).abs() < 1e-9,
                "{name} is not centred"
            );
            assert_eq!(outline.length(), outline.cut_length());
        }
    }
}

#[test]
fn notch() {
    check(
        "notch",
        ["width", "depth", "corner_radius"],
        &[
            [80.0, 60.0, 10.0],
            [35.0, 45.0, 6.0],
            [40.0, 20.0, 20.0],
            [900.0, 300.0, 1.5],
        ],
        |[w, d, r]| (w * d - 2.0 * K * r * r, w + 2.0 * d - 2.0 * J * r),
    );
}

#[test]
fn window() {
    check(
        "window",
        ["width", "height", "corner_radius"],
        &[
            [80.0, 60.0, 10.0],
            [30.0, 30.0, 15.0],
            [900.0, 5.0, 2.5],
            [60.0, 60.0, 0.0],
        ],
        |[w, h, r]| (w * h - 4.0 * K * r * r, 2.0 * (w + h) - 4.0 * J * r),
    );
}

#[test]
fn round_hole() {
    check(
        "round-hole",
        ["diameter"],
        &[[30.0], [8.0], [63.5], [900.1]],
        |[d]| (PI * d * d / 4.0, PI * d),
    );
}

#[test]
fn slot() {
    check(
        "slot",
        ["length", "width"],
        &[[60.0, 20.0], [20.0, 20.0], [12.5, 6.6], [900.0, 33.3]],
        |[l, w]| (w * (l - w) + PI * w * w / 4.0, 2.0 * (l - w) + PI * w),
    );
}

#[test]
fn tapered_notch() {
    check(
        "tapered-notch",
        ["mouth_width", "throat_width", "depth", "corner_radius"],
        &[
            [100.0, 60.0, 60.0, 10.0],
            [60.0, 60.0, 40.0, 5.0],
            [50.0, 90.0, 70.0, 8.0],
            [300.0, 40.0, 100.0, 1.5],
        ],
        |[m, t, d, r]| {
            let lean = ((m - t) / 2.0 / d).atan();
            let turn = PI / 2.0 - lean;
            let side = ((m - t) / 2.0).hypot(d);
            (
                (m + t) / 2.0 * d - 2.0 * corner_area(turn, r),
                t + 2.0 * side - 2.0 * corner_length(turn, r),
            )
        },
    );
}

#[test]
fn flared_notch() {
    check(
        "flared-notch",
        [
            "width",
            "depth",
            "corner_radius",
            "mouth_width",
            "flare_depth",
            "flare_radius",
        ],
        &[
            [80.0, 60.0, 10.0, 110.0, 20.0, 15.0],
            [40.0, 90.0, 20.0, 60.0, 5.0, 0.0],
            [80.0, 60.0, 10.0, 80.0, 20.0, 15.0],
            [200.0, 150.0, 12.0, 260.0, 90.0, 60.0],
        ],
        |[w, d, r, m, f, o]| {
            let turn = ((m - w) / 2.0 / f).atan();
            let side = ((m - w) / 2.0).hypot(f);
            (
                w * d + (m - w) / 2.0 * f - 2.0 * K * r * r + 2.0 * corner_area(turn, o),
                w + 2.0 * (d - f) + 2.0 * side - 2.0 * J * r - 2.0 * corner_length(turn, o),
            )
        },
    );
}

#[test]
fn stepped_notch() {
    check(
        "stepped-notch",
        [
            "mouth_width",
            "mouth_depth",
            "throat_width",
            "depth",
            "corner_radius",
            "shoulder_radius",
        ],
        &[
            [120.0, 30.0, 60.0, 70.0, 8.0, 5.0],
            [86.0, 8.0, 60.0, 43.0, 8.0, 5.0],
            [400.0, 100.0, 30.0, 250.0, 15.0, 0.0],
        ],
        |[m, n, t, d, r, o]| {
            (
                m * n + t * (d - n) - 4.0 * K * r * r + 2.0 * K * o * o,
                m + 2.0 * d - J * (4.0 * r + 2.0 * o),
            )
        },
    );
}

#[test]
fn t_opening() {
    check(
        "t-opening",
        [
            "stem_width",
            "stem_depth",
            "bar_width",
            "bar_depth",
            "corner_radius",
            "shoulder_radius",
        ],
        &[
            [40.0, 40.0, 120.0, 40.0, 8.0, 5.0],
            [40.0, 5.0, 66.0, 16.0, 8.0, 5.0],
            [25.0, 100.0, 500.0, 60.0, 3.0, 0.0],
        ],
        |[s, n, b, h, r, o]| {
            (
                s * n + b * h - 4.0 * K * r * r + 2.0 * K * o * o,
                2.0 * (b + n + h) - s - J * (4.0 * r + 2.0 * o),
            )
        },
    );
}
