//! What features in a row and openings in steps have in common is told once.

use super::{lettering, sheets};

/// How often words stand on the work sheets.
#[track_caller]
fn assert_told(name: &str, wanted: &[(&str, usize)]) {
    let set = sheets(name, "a4");
    let told = lettering(&set);
    for (words, times) in wanted {
        let count = told.iter().filter(|other| *other == words).count();
        assert_eq!(count, *times, "{name}: `{words}` in {told:?}");
    }
}

#[test]
fn a_row_of_holes_is_told_once() {
    // 10 holes of 14 mm, 30 mm apart, 70 mm from the edge.
    let wanted = [
        ("10 × Ø14", 1),
        ("Ø14", 0),
        ("drill Ø13", 1),
        ("9 × 30 (= 270)", 1),
        ("70", 1),
        // Those between the ends.
        ("15", 0),
        ("105", 0),
    ];
    assert_told("ten-in-a-row", &wanted);
}

#[test]
fn a_plate_of_holes_is_told_by_rows_and_columns() {
    let wanted = [
        ("12 × Ø11", 1),
        ("3 × 40 (= 120)", 1),
        // A depth, and an offset each way.
        ("60", 3),
        ("100", 1),
        ("140", 1),
        ("20", 0),
    ];
    assert_told("square-grid", &wanted);
}

#[test]
fn holes_unlike_are_told_one_by_one() {
    let wanted: Vec<String> = (18..28).map(|size| format!("Ø{size}")).collect();
    let wanted: Vec<(&str, usize)> = wanted.iter().map(|words| (words.as_str(), 1)).collect();
    assert_told("ten-unlike", &wanted);
}

#[test]
fn openings_alike_that_are_not_round_are_told_once_too() {
    // Three slots of 40 x 16 mm, their lower sides 52 mm from the edge.
    let wanted = [
        ("3 × 40", 1),
        ("3 × 16", 1),
        ("40", 0),
        ("16", 0),
        ("52", 1),
    ];
    assert_told("like-slots", &wanted);
}

#[test]
fn stem_and_throat_have_their_own_width_and_depth() {
    let wanted = [("110", 1), ("50", 1), ("85", 1), ("45", 1)];
    assert_told("t-opening", &wanted);
    let wanted = [("140", 1), ("70", 1), ("95", 1), ("35", 1)];
    assert_told("stepped", &wanted);
}
