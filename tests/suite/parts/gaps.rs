//! Gaps of single parts: each keeps its own, measured by `geo` on the finished line.

use super::{around, only_gap, panel, window};
use crate::common::{assert_close, drawn, solved};
use geo::{Distance, Euclidean, LineString, Point};
use trimloft::geometry::outline::Outline;
use trimloft::solve::Pattern;

/// Two windows 200 mm apart, the right one with what `own` says besides.
fn two(own: &str, rest: &str, follow: &str) -> Pattern {
    let tables = window("left", 40.0, 40.0, "\"100 mm left\"", 150.0)
        + &window("right", 40.0, 40.0, "\"100 mm right\"", 150.0)
        + own
        + rest
        + &around("one", "\"left\"", &format!("follow = \"{follow}\""))
        + &around("other", "\"right\"", &format!("follow = \"{follow}\""));
    solved(&panel(&tables))
}

/// The outline as `geo` measures it: its arcs broken into chords 0.0001 mm off at most.
fn chords(outline: &Outline) -> LineString {
    let mut points = vec![];
    kurbo::flatten(outline.closed_path(1e-5), 1e-4, |element| {
        points.extend(element.end_point().map(|at| (at.x, at.y)));
    });
    points.push(points[0]);
    points.into()
}

/// Least distance between part and cut line, by the library.
fn kept(pattern: &Pattern, part: usize, opening: usize) -> f64 {
    let part = chords(&pattern.parts[part].outline);
    let cut = chords(&pattern.openings[opening].outline);
    let from_part = part.points().map(|at: Point| Euclidean.distance(&at, &cut));
    let from_cut = cut.points().map(|at: Point| Euclidean.distance(&at, &part));
    from_part.chain(from_cut).fold(f64::INFINITY, f64::min)
}

#[test]
fn a_part_keeps_its_own_gap_and_the_others_keep_the_patterns() {
    for follow in ["contour", "box"] {
        let pattern = two("gap = 11\n", &only_gap(6.0), follow);
        let gaps: Vec<f64> = pattern.spacings.iter().map(|clear| clear.gap).collect();
        assert_eq!(gaps, [6.0, 11.0], "{follow}");
        let widths = [0, 1].map(|one| pattern.openings[one].outline.bounds().width());
        assert_close(widths[0], 40.0 + 2.0 * 6.0, 1e-9, follow);
        assert_close(widths[1], 40.0 + 2.0 * 11.0, 1e-9, follow);
        assert_close(kept(&pattern, 0, 0), 6.0, 2e-4, follow);
        assert_close(kept(&pattern, 1, 1), 11.0, 2e-4, follow);
    }
}

#[test]
fn only_the_gap_is_the_parts_own_and_all_that_may_go_wrong_is_added_to_it() {
    let rest = "[clearance]\ngap = 6\nposition = 2\nmarking = 0.5\ncutting = 1.5\nprint = 0\n\
                combine = \"worst-case\"\n";
    let pattern = two("gap = 0\n", rest, "contour");
    // To each side 2 + 0.5 + 1.5, with a gap of 6 and of none.
    assert_close(kept(&pattern, 0, 0), 10.0, 2e-4, "the pattern's gap");
    assert_close(kept(&pattern, 1, 1), 4.0, 2e-4, "no gap");
    let left: Vec<f64> = pattern
        .spacings
        .iter()
        .map(|clear| clear.after_moves.distance)
        .collect();
    assert_close(left[0], 6.0, 1e-6, "after all movement");
    assert_close(left[1], 0.0, 1e-6, "after all movement");
}

#[test]
fn parts_of_one_box_hold_off_their_own_sides() {
    let tables = window("left", 40.0, 40.0, "\"50 mm left\"", 150.0)
        + "gap = 3\n"
        + &window("right", 40.0, 40.0, "\"50 mm right\"", 150.0)
        + "gap = 12\n"
        + &only_gap(6.0)
        + &around(
            "both",
            "\"left\", \"right\"",
            "follow = \"box\"\ncorner_radius = 0",
        );
    let pattern = solved(&panel(&tables));
    let bounds = pattern.openings[0].outline.bounds();
    assert_close(bounds.width(), 100.0 + 40.0 + 3.0 + 12.0, 1e-9, "across");
    assert_close(bounds.height(), 40.0 + 2.0 * 12.0, 1e-9, "down");
}

#[test]
fn an_opening_given_outright_is_judged_by_the_parts_gap() {
    let given = |own: &str| {
        let tables = window("neck", 60.0, 60.0, "0", 150.0)
            + own
            + &only_gap(6.0)
            + "[[opening]]\nname = \"given\"\nshape = \"window\"\n\
               with = { width = 76, height = 76, corner_radius = 4 }\n\
               centre_offset = 0\nfrom_datum = 150\n";
        let pattern = solved(&panel(&tables));
        let ids = pattern
            .findings
            .iter()
            .map(|finding| finding.id.to_string());
        ids.filter(|id| id.starts_with("part")).count()
    };
    // 8 mm to each side: more than 6, less than 8.5.
    assert_eq!(given(""), 0);
    assert_eq!(given("gap = 8\n"), 0);
    assert_eq!(given("gap = 8.5\n"), 1);
}

#[test]
fn steps_and_record_tell_a_gap_of_its_own() {
    let tables = window("left", 40.0, 40.0, "\"50 mm left\"", 150.0)
        + "gap = 12\n"
        + &window("right", 40.0, 40.0, "\"50 mm right\"", 150.0)
        + &only_gap(6.0)
        + &around("both", "\"left\", \"right\"", "follow = \"box\"");
    let drawing = drawn(&panel(&tables));
    let told: Vec<&str> = drawing.told().collect();
    let says = |words: &str| told.iter().any(|line| line.contains(words));
    assert!(
        says("even gap all round, at least 12 mm round left."),
        "{told:?}"
    );
    // Each with a table of its own terms (gap, clearance and worst case, both ways) and its row of what
    // it keeps.
    assert!(says("Round left, mm to each side") && says("Round right, mm to each side"));
    for clearance in ["12", "6"] {
        let cells = told.iter().filter(|line| **line == clearance).count();
        assert!(cells >= 10, "{clearance} stands {cells} times: {told:?}");
    }
}
