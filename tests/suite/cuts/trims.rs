//! What falls away at an edge, a lip or a corner.

use super::{differing, found, panel, polygon, refused};
use crate::common::random::{Came, hold};
use crate::common::{assert_close, drawn, produced, solved, under_panel};
use geo::{Area, BooleanOps, Coord, LineString, Polygon};
use kurbo::Shape;
use proptest::prelude::*;
use std::f64::consts::PI;
use trimloft::draw::ink::{Ink, Layer, LineType};
use trimloft::solve::{Pattern, Severity};

fn trim(points: &str, falls_away: &str) -> String {
    format!("[[trim]]\nname = \"lip\"\npoints = [{points}]\nfalls_away = \"{falls_away}\"\n")
}

fn trimmed(points: &str, falls_away: &str) -> Pattern {
    solved(&panel(&trim(points, falls_away)))
}

fn area(pattern: &Pattern) -> f64 {
    let openings = pattern.openings.iter();
    openings.map(|opening| opening.outline.area()).sum()
}

#[test]
fn each_side_of_a_line_falls_away_as_it_is_said() {
    // Trapezia and triangles of a panel of 400 x 300 mm. The tape counts from the left end.
    let cases = [
        ("[0, 18], [400, 22]", "rear", 20.0 * 400.0),
        ("[0, 18], [400, 22]", "front", 280.0 * 400.0),
        ("[400, 22], [0, 18]", "rear", 20.0 * 400.0),
        ("[30, 0], [30, 300]", "left", 30.0 * 300.0),
        ("[30, 300], [30, 0]", "left", 30.0 * 300.0),
        ("[30, 0], [30, 300]", "right", 370.0 * 300.0),
        ("[0, 60], [80, 0]", "rear", 60.0 * 80.0 / 2.0),
        ("[0, 60], [80, 0]", "left", 60.0 * 80.0 / 2.0),
        (
            "[100, 0], [100, 15], [250, 15], [250, 0]",
            "rear",
            150.0 * 15.0,
        ),
        ("[330, 300], [400, 230]", "front", 70.0 * 70.0 / 2.0),
        ("[330, 300], [330, 250], [400, 250]", "right", 70.0 * 50.0),
    ];
    for (points, side, should) in cases {
        let pattern = trimmed(points, side);
        assert_close(area(&pattern), should, 1e-6, &format!("{points} {side}"));
    }
}

#[test]
fn a_part_may_pass_where_an_edge_falls_away() {
    // A socket of 20 at 20 from the edge, in a lip cut 45 deep: 15 to the line.
    let tube = "[[part]]\nname = \"tube\"\nsocket = 20\ncentre_offset = 0\nfrom_datum = 20\n";
    let pattern = solved(&panel(
        &(tube.to_owned() + &trim("[0, 45], [400, 45]", "rear")),
    ));
    assert_close(pattern.spacings[0].now.distance, 15.0, 1e-9, "to the line");
    let elsewhere = tube.replace("from_datum = 20", "from_datum = 120");
    let told = refused(&(elsewhere + &trim("[0, 45], [400, 45]", "rear")));
    assert!(
        told.contains("part `tube` passes through no opening"),
        "{told}"
    );
}

#[test]
fn what_stands_straight_above_is_dimensioned_once() {
    let lip = trim("[100, 0], [100, 15], [250, 15], [250, 0]", "rear");
    let marks = drawn(&panel(&lip)).work;
    let is = |words: &str| {
        let texts = marks.iter().filter_map(|mark| match &mark.ink {
            Ink::Text(text) => Some(text.words.as_str()),
            _ => None,
        });
        texts.filter(|own| *own == words).count()
    };
    assert_eq!([is("100"), is("50"), is("15")], [1, 1, 1]);
}

#[test]
fn only_the_line_is_cut_and_the_sheets_prove_it() {
    let pattern = trimmed("[0, 18], [400, 18]", "rear");
    let cut = pattern.openings[0].outline.cut_length();
    assert_close(cut, 400.0, 1e-9, "the line");
    // Read back and held against the definition by `verify`.
    let made = produced(&panel(&trim("[0, 18], [400, 18]", "rear")));
    assert!(made.pages.len() >= 2);
    let steps = drawn(&panel(&trim("[0, 18], [400, 18]", "rear")))
        .front
        .steps
        .join(" ");
    let words = "The rear edge goes with it: do it last, after it nothing lays the sheet";
    assert!(steps.contains(words), "{steps}");
    // A definition may do with trims alone.
    assert!(pattern.openings[0].is_trim());
}

/// The tabs that are drawn, from where to where along the edge, and the words of the front page.
fn tabs(tables: &str) -> (Vec<[f64; 2]>, String) {
    let drawing = drawn(&panel(tables));
    let marks = drawing.geometry.marks.iter();
    let tabs = marks.filter_map(|mark| match &mark.ink {
        Ink::Stroke { path, line } if mark.layer == Layer::Fold => {
            let bounds = path.bounding_box();
            (line.kind == LineType::Dashed).then_some([bounds.x0, bounds.x1])
        }
        _ => None,
    });
    let (lay, steps) = (drawing.front.lay.join(" "), drawing.front.steps.join(" "));
    (tabs.collect(), format!("{lay} {steps}"))
}

#[test]
fn the_tab_stays_only_where_the_edge_does() {
    let all = trim("[330, 300], [400, 230]", "front");
    let (whole, words) = tabs(&all);
    assert_eq!(whole.len(), 1);
    assert!(
        words.contains("Fold the tab over the rear edge."),
        "{words}"
    );
    // A lip from 50 to 150 to the reader's left of the middle, as the frame has it.
    let lip = trim("[50, 0], [50, 15], [150, 15], [150, 0]", "rear");
    let (beside, words) = tabs(&lip);
    let width = |tab: &[f64; 2]| tab[1] - tab[0];
    assert_eq!(beside.len(), 2, "{beside:?}");
    assert!(beside.iter().all(|tab| width(tab) >= 12.0), "{beside:?}");
    let between = beside[1][0] - beside[0][1];
    assert_close(between.abs(), 100.0, 1e-6, "none before the lip");
    for told in [
        "Fold the tabs over what stays of the rear edge.",
        "after it what stays of the rear edge lays the sheet",
    ] {
        assert!(words.contains(told), "{told}: {words}");
    }
    let gone = trim("[0, 15], [400, 15]", "rear");
    let (none, words) = tabs(&gone);
    assert!(none.is_empty(), "{none:?}");
    let told = "No tab, as the rear edge goes: lay the sheet's line on it.";
    assert!(words.contains(told), "{words}");
    let hole = "[[locator]]\nname = \"stud\"\nacross = 220\nfrom_datum = 60\ndiameter = 8\n";
    let (none, words) = tabs(&(gone + hole));
    assert!(none.is_empty(), "{none:?}");
    for told in [
        "No tab, as the rear edge goes: lay the sheet by its printed holes.",
        "after it only its printed holes lay the sheet",
    ] {
        assert!(words.contains(told), "{told}: {words}");
    }
}

#[test]
fn corners_are_rounded_by_their_radius() {
    let tables = trim("[100, 0], [100, 40], [250, 40], [250, 0]", "rear") + "corner_radius = 10\n";
    let pattern = solved(&panel(&tables));
    let should = 150.0 * 40.0 - 2.0 * (1.0 - PI / 4.0) * 100.0;
    assert_close(area(&pattern), should, 1e-6, "rounded");
    assert_eq!(pattern.openings[0].relief.len(), 2);
    let sharp = found(&trimmed("[100, 0], [100, 40], [250, 40], [250, 0]", "rear"));
    let told = sharp
        .iter()
        .any(|told| told.contains("trim `lip` has a sharp inner corner"));
    assert!(told, "{sharp:?}");
}

#[test]
fn what_goes_with_a_trim_is_found() {
    let guarded = "[[locator]]\nname = \"stud\"\nacross = 120\nfrom_datum = 14\ndiameter = 8\n\
                   fixed = true\n[[keep_out]]\nname = \"loom\"\nguards = \"wiring\"\n\
                   shape = \"window\"\nwith = { width = 60, height = 20 }\ncentre_offset = 0\n\
                   from_datum = 10\n";
    let pattern = solved(&panel(&(trim("[0, 30], [400, 30]", "rear") + guarded)));
    let errors: Vec<String> = pattern
        .findings
        .iter()
        .filter(|finding| finding.severity == Severity::Error)
        .map(|finding| finding.message.clone())
        .collect();
    let expected = [
        "`stud`, which holds the panel, falls into `lip`",
        "trim `lip` crosses `loom`, which guards wiring",
    ];
    for words in expected {
        assert!(
            errors.iter().any(|told| told == words),
            "{words}: {errors:?}"
        );
    }
    // Nothing stays between the line and an edge that falls away with the lip.
    let lip = found(&trimmed("[0, 8], [400, 8]", "rear"));
    assert!(!lip.iter().any(|told| told.contains("ligament")), "{lip:?}");
    // Between the line and the edge beyond it something does, and between it and an opening.
    let far = found(&trimmed("[0, 292], [400, 292]", "rear"));
    assert!(
        far.iter()
            .any(|told| told.contains("8 mm stay between trim `lip` and `front edge`")),
        "{far:?}"
    );
    let window = "[[opening]]\nname = \"window\"\nshape = \"window\"\nwith = { width = 40, height = 20, \
                  corner_radius = 5 }\ncentre_offset = 0\nfrom_datum = 44\n";
    let near = found(&solved(&panel(
        &(trim("[0, 30], [400, 30]", "rear") + window),
    )));
    assert!(
        near.iter().any(|told| told.contains("4 mm stay")),
        "{near:?}"
    );
}

#[test]
fn a_trim_unites_with_an_opening_that_it_meets() {
    let notch = "[[opening]]\nname = \"neck\"\nshape = \"notch\"\nwith = { width = 80, depth = 85, \
                 corner_radius = 12 }\ncentre_offset = 0\nfrom_datum = 0\n";
    let pattern = solved(&panel(&(trim("[0, 18], [400, 18]", "rear") + notch)));
    let [opening] = pattern.openings.as_slice() else {
        panic!("one opening");
    };
    let rest = 80.0 * (85.0 - 18.0) - 2.0 * (1.0 - PI / 4.0) * 144.0;
    assert_close(opening.outline.area(), 400.0 * 18.0 + rest, 1e-6, "both");
    // A fifth of the width is cut besides what is trimmed off.
    let told = found(&pattern);
    assert!(
        told.iter()
            .any(|told| told.contains("20 % of the panel's width")),
        "{told:?}"
    );
    // Within a shape, over an edge.
    let shape = "[[trim]]\nname = \"ear\"\nshape = \"window\"\nwith = { width = 60, height = 40, \
                 corner_radius = 0 }\ncentre_offset = \"200 mm left\"\nfrom_datum = 150\n";
    let pattern = solved(&panel(shape));
    assert_close(
        area(&pattern),
        30.0 * 40.0,
        1e-6,
        "half of it lies on the panel",
    );
}

#[test]
fn a_line_that_trims_nothing_off_is_refused_where_it_stands() {
    let cases = [
        ("[20, 18], [400, 18]", "rear", "ends 18 mm inside the panel"),
        (
            "[0, 18], [400, 18]",
            "left",
            "which side falls away can't be told so",
        ),
        (
            "[0, 18], [400, 18]",
            "up",
            "no edge of the panel lies to the up",
        ),
        ("[0, 18], [0, 18]", "rear", "the same as the one before it"),
        ("[0, 18]", "rear", "points"),
        (
            "[0, 50], [300, 50], [300, 20], [100, 80], [100, 0]",
            "rear",
            "cross",
        ),
    ];
    for (points, side, words) in cases {
        let told = refused(&trim(points, side));
        assert!(told.contains(words), "{points} {side}: {told}");
        assert!(
            told.contains("a.toml:1") || told.contains("a.toml:2"),
            "{told}"
        );
    }
    let line = "[[line]]\nname = \"hem\"\nkind = \"trim\"\npoints = [[0, 20], [400, 20]]\n";
    let told = refused(&(trim("[0, 18], [400, 18]", "rear") + line));
    assert!(told.contains("`[[trim]]`"), "{told}");
}

/// Against `geo`: the panel less the half plane beyond the line, wherever the datum edge lies.
#[test]
fn random_lines_trim_off_what_the_library_says() {
    let case = (
        0.0..300.0_f64,
        0.0..300.0_f64,
        any::<bool>(),
        20.0..380.0_f64,
        1.0..290.0_f64,
    );
    hold(500, 0.9, case, |(left, right, rear, across, depth)| {
        let side = if rear { "rear" } else { "front" };
        let points = format!("[0, {left:.3}], [{across:.3}, {depth:.3}], [400, {right:.3}]");
        let toml = under_panel(400.0, 300.0, &trim(&points, side));
        let pattern = solved(&toml);
        let far = if rear { -1000.0 } else { 1000.0 };
        let line = [
            (-1000.0, left),
            (0.0, left),
            (across, depth),
            (400.0, right),
            (1400.0, right),
            (1400.0, far),
            (-1000.0, far),
        ];
        let ring = |points: &[(f64, f64)]| {
            // The tape counts from the left end, and seen from below left is to the right.
            let points = points.iter().map(|(x, y)| Coord {
                x: 200.0 - x,
                y: *y,
            });
            Polygon::new(LineString::new(points.collect()), vec![])
        };
        let panel = ring(&[(0.0, 0.0), (400.0, 0.0), (400.0, 300.0), (0.0, 300.0)]);
        let should = ring(&line).intersection(&panel);
        let mut is = geo::MultiPolygon::new(vec![]);
        for opening in &pattern.openings {
            is = is.union(&geo::MultiPolygon::from(polygon(&opening.outline)));
        }
        prop_assert!(
            differing(&is, &should) < 0.9,
            "{} {toml}",
            differing(&is, &should)
        );
        prop_assert!((is.unsigned_area() - should.unsigned_area()).abs() < 0.9);
        Ok(Came::Through)
    });
}
