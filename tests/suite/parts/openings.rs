//! Openings worked out round parts.

use super::{around, only_gap, panel, window};
use crate::common::{assert_close, shipped, solved};
use trimloft::input::{PatternSpec, Problem, Source};
use trimloft::solve::solve;

fn problems(toml: &str) -> Vec<Problem> {
    let spec = PatternSpec::read(&Source::new("p.toml", toml)).unwrap();
    solve(&spec, &shipped()).unwrap_err()
}

#[test]
fn a_contour_is_the_true_offset_of_all_parts_together() {
    // Two windows of 40 x 40 with 4 mm corners, side by side, 30 mm apart: their offsets by 10 mm
    // meet for nothing, by 20 mm they are one. Steiner's formula for a convex outline: the offset
    // by d has the area A + P d + pi d^2.
    let corner = 4.0;
    let area = 40.0 * 40.0 - (4.0 - std::f64::consts::PI) * corner * corner;
    let perimeter = 4.0 * (40.0 - 2.0 * corner) + std::f64::consts::TAU * corner;
    let steiner = |d: f64| area + perimeter * d + std::f64::consts::PI * d * d;
    let made = |gap: f64| {
        let tables = window("one", 40.0, 40.0, "\"35 mm left\"", 150.0)
            + &window("two", 40.0, 40.0, "\"35 mm right\"", 150.0)
            + &only_gap(gap)
            + &around("hole", "\"one\", \"two\"", "follow = \"contour\"");
        solved(&panel(&tables))
    };
    let apart = made(10.0);
    assert_eq!(apart.openings.len(), 2);
    for opening in &apart.openings {
        assert_close(opening.outline.area(), steiner(10.0), 1e-6, "each");
    }
    let one = made(20.0);
    assert_eq!(one.openings.len(), 1);
    assert!(one.openings[0].outline.area() < 2.0 * steiner(20.0));
    assert_close(
        one.openings[0].outline.bounds().width(),
        150.0,
        1e-9,
        "both",
    );
}

#[test]
fn a_box_takes_its_corners_from_the_shops_own_tools() {
    let tables = window("neck", 60.0, 60.0, "0", 100.0)
        + &only_gap(6.0)
        + &around("hole", "\"neck\"", "follow = \"box\"");
    // A corner of radius r in a box clears the part by r - (r - 4 - 6) sqrt(2) ... so that it may be
    // as large as clearance plus the part's own radius over the diagonal: worked out from
    // (r - 10) sqrt(2) <= r - 10 for the corner's own disc: r <= 10.
    let own = format!(
        "tools = [8, 12, 19, 25]\n{}",
        panel(&tables).replacen("format = 1\n", "", 1)
    );
    let pattern = solved(&format!("format = 1\n{own}"));
    let opening = &pattern.openings[0];
    assert_eq!(pattern.clearances[0].tool, Some(19.0));
    assert_eq!(opening.relief.len(), 4);
    for hole in &opening.relief {
        assert_close(hole.diameter, 19.0, 1e-9, "hole");
        assert!(hole.is_finished_by_tool());
    }
    // With no tools named, the usual drills and hole saws: 3/4 in is the next under 20 mm.
    assert_eq!(solved(&panel(&tables)).clearances[0].tool, Some(19.1));
}

#[test]
fn a_box_grows_where_no_tool_is_small_enough_and_says_so() {
    let tables = window("neck", 60.0, 60.0, "0", 100.0)
        + &only_gap(1.0)
        + &around("hole", "\"neck\"", "follow = \"box\"");
    let toml = panel(&tables).replacen("format = 1\n", "format = 1\ntools = [40]\n", 1);
    let pattern = solved(&toml);
    assert!(
        pattern.clearances[0].grown_by > 1.0,
        "{:?}",
        pattern.clearances
    );
    assert_eq!(pattern.clearances[0].tool, Some(40.0));
    assert!(pattern.spacings[0].now.distance >= 1.0 - 1e-6);
}

#[test]
fn a_given_radius_that_does_not_clear_names_the_largest_that_does() {
    let tables = window("neck", 60.0, 60.0, "0", 100.0)
        + &only_gap(6.0)
        + &around("hole", "\"neck\"", "follow = \"box\"\ncorner_radius = 25");
    let found = problems(&panel(&tables));
    assert_eq!(found.len(), 1);
    assert!(
        found[0].message.contains("25 mm") && found[0].message.contains("10 mm"),
        "{found:?}"
    );
    assert!(found[0].span.is_some());
    assert_eq!(
        solved(&panel(&tables).replace("corner_radius = 25", "corner_radius = 10"))
            .openings
            .len(),
        1
    );
}

#[test]
fn an_opening_to_the_edge_lets_the_panel_pass_a_part_that_is_fitted() {
    // A wide head on a narrow neck: the passage is as wide as the head, all the way to the edge.
    let tables = window("neck", 40.0, 60.0, "0", 40.0)
        + &window("head", 90.0, 30.0, "0", 90.0)
        + &only_gap(5.0)
        + &around(
            "hole",
            "\"neck\", \"head\"",
            "follow = \"contour\"\nopen_at_edge = true",
        );
    let pattern = solved(&panel(&tables));
    let opening = &pattern.openings[0];
    assert!(opening.is_open());
    let bounds = opening.outline.bounds();
    assert_close(bounds.width(), 100.0, 1e-9, "head and two gaps");
    assert_close(bounds.y0, 0.0, 1e-9, "the edge");
    // At each height it is as wide: the sides run straight down from the head.
    for y in [5.0, 40.0, 80.0] {
        for x in [-49.9, 49.9] {
            assert!(opening.outline.contains(kurbo::Point::new(x, y)), "{x} {y}");
        }
    }
}

#[test]
fn a_receiver_needs_its_measured_outside() {
    let tables =
        "[[part]]\nname = \"receiver\"\ntube = \"2 in\"\ncentre_offset = 0\nfrom_datum = 90\n"
            .to_owned()
            + &around("hole", "\"receiver\"", "follow = \"box\"");
    let report = PatternSpec::read(&Source::new("p.toml", panel(&tables)))
        .unwrap_err()
        .to_string();
    assert!(report.contains("p.toml:14:8: error: "), "{report}");
    assert!(
        report.contains("inside") && report.contains("outside"),
        "{report}"
    );
}

#[test]
fn every_part_passes_through_something() {
    let hole = "[[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 50 }\n\
                centre_offset = \"300 mm left\"\nfrom_datum = 200\n";
    let found = problems(&panel(&(window("neck", 40.0, 40.0, "0", 100.0) + hole)));
    assert_eq!(found[0].message, "part `neck` passes through no opening");
}
