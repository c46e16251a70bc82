//! Patterns are placed from the centreline that was read.

use crate::common::{assert_close, drawn, solved};
use kurbo::{Point, Rect, Shape};
use trimloft::draw::ink::{Drawing, Ink, Layer, mark_bounds};
use trimloft::solve::{Basis, Severity};

const READ: &str = r#"
[centreline]
zero = "left"
moulding = 0
[[centreline.pair]]
name = "outer holes"
left = 112
right = 866
from_datum = 20
diameter = 8
[[centreline.pair]]
name = "inner holes"
left = 303
right = 681
from_datum = 220
diameter = 8
[[locator]]
name = "drain hole"
across = 420
from_datum = 120
diameter = 10
[[opening]]
name = "bolt notch"
shape = "flared-notch"
with = { width = 40, depth = 50, mouth_width = 110, flare_depth = 20 }
centre_offset = "63 mm left"
from_datum = 0
[[opening]]
name = "plug"
shape = "window"
with = { width = 50, height = 30, corner_radius = 5 }
centre_offset = "90 mm right"
from_datum = 70
"#;

fn panel(seen_from: &str, page_up: &str, tables: &str) -> String {
    format!(
        "format = 1\n[pattern]\nnumber = \"T-1\"\ntitle = \"Test\"\n[panel]\nname = \"Panel\"\n\
         width = 980\nheight = 310\ndatum_edge = \"rear\"\nseen_from = \"{seen_from}\"\n\
         page_up = \"{page_up}\"\n{tables}"
    )
}

/// Boxes of the strokes of a layer, in order.
fn boxes(drawing: &Drawing, layer: Layer) -> Vec<Rect> {
    let strokes = drawing.work.iter().filter(|mark| mark.layer == layer);
    let mut boxes: Vec<Rect> = strokes
        .filter_map(|mark| match &mark.ink {
            Ink::Stroke { path, .. } => Some(path.bounding_box()),
            _ => None,
        })
        .collect();
    in_order(&mut boxes);
    boxes
}

/// From left to right; one over another from the foot up.
fn in_order(boxes: &mut [Rect]) {
    let key = |place: &Rect| ((place.center().x * 1e3).round(), place.y0);
    boxes.sort_by(|a, b| key(a).partial_cmp(&key(b)).expect("boxes are finite"));
}

/// Boxes as in a mirror that stands on the centreline.
fn mirrored(boxes: &[Rect]) -> Vec<Rect> {
    let mut boxes: Vec<Rect> = boxes
        .iter()
        .map(|place| Rect::new(-place.x1, place.y0, -place.x0, place.y1))
        .collect();
    in_order(&mut boxes);
    boxes
}

/// The hole of a locator: the circle, not its cross, nearest to its name.
fn holes(drawing: &Drawing) -> Vec<Point> {
    let closed = drawing.work.iter().filter_map(|mark| match &mark.ink {
        Ink::Stroke { path, .. } if mark.layer == Layer::Locators => {
            let is_circle = path
                .elements()
                .iter()
                .any(|element| matches!(element, kurbo::PathEl::CurveTo(..)));
            is_circle.then(|| path.bounding_box().center())
        }
        _ => None,
    });
    closed.collect()
}

#[test]
fn the_same_readings_from_below_and_from_above_are_mirror_images() {
    let below = drawn(&panel("below", "front", READ));
    let above = drawn(&panel("above", "front", READ));
    for layer in [Layer::Cut, Layer::Fold, Layer::Relief] {
        let one = boxes(&below, layer);
        let other = mirrored(&boxes(&above, layer));
        assert_eq!(one.len(), other.len());
        assert!(!one.is_empty());
        for (a, b) in one.iter().zip(&other) {
            assert_close(a.x0, b.x0, 1e-6, layer.name());
            assert_close(a.x1, b.x1, 1e-6, layer.name());
            assert_close(a.y0, b.y0, 1e-6, layer.name());
            assert_close(a.y1, b.y1, 1e-6, layer.name());
        }
    }
    // The page's right is the vehicle's left from below, its right from above.
    assert_eq!(
        (below.edges.right.word(), below.edges.left.word()),
        ("left", "right")
    );
    assert_eq!(
        (above.edges.right.word(), above.edges.left.word()),
        ("right", "left")
    );
    for (drawing, left_is) in [(&below, 1.0), (&above, -1.0)] {
        let cut = boxes(drawing, Layer::Cut);
        let notch = cut
            .iter()
            .find(|place| place.y0.abs() < 0.1)
            .expect("the notch is cut");
        assert!(
            notch.center().x * left_is > 0.0,
            "the notch stands to the vehicle's left"
        );
        for mark in &drawing.work {
            if let Ink::Text(text) = &mark.ink {
                assert!(
                    text.turn == 0.0 || text.turn == 90.0,
                    "`{}` is upright",
                    text.words
                );
                let at = mark_bounds(mark).center().x * left_is;
                match text.words.as_str() {
                    "drain hole" | "bolt notch" => assert!(at > 0.0, "`{}` at {at}", text.words),
                    "plug" => assert!(at < 0.0, "`{}` at {at}", text.words),
                    _ => {}
                }
            }
        }
    }
}

#[test]
fn locators_and_openings_stand_from_the_solved_centre() {
    let pattern = solved(&panel("below", "front", READ));
    let Basis::Pairs(centre) = &pattern.centreline.basis else {
        panic!("the centre was read: {:?}", pattern.centreline.basis)
    };
    // Middles 489 at 20 mm and 492 at 220 mm: 200 mm apart, far enough to fit the lean.
    assert_close(centre.skew().slope(), 3.0 / 200.0, 1e-9, "skew");
    let at_edge = 489.0 - 20.0 * 3.0 / 200.0;
    assert_close(
        pattern.centreline.reading,
        at_edge,
        1e-9,
        "reading at the datum edge",
    );
    let drain = &pattern.locators[0];
    // From below the frame's x runs to the vehicle's left: readings from the left run against it.
    assert_close(drain.at.x, at_edge - 420.0, 1e-9, "drain hole across");
    assert_close(drain.at.y, 120.0, 1e-12, "drain hole from the datum edge");
    let plug = pattern
        .openings
        .iter()
        .find(|opening| opening.name() == "plug")
        .unwrap();
    let leaning = -70.0 * 3.0 / 200.0;
    assert_close(
        plug.outline.bounds().center().x,
        leaning - 90.0,
        1e-9,
        "plug on the leaning centreline",
    );
}

#[test]
fn an_opening_square_to_the_centreline_leans_with_it() {
    let square = READ.replace(
        "from_datum = 70\n",
        "from_datum = 70\nsquare_to = \"centreline\"\n",
    );
    let plain = solved(&panel("below", "front", READ));
    let leaning = solved(&panel("below", "front", &square));
    let sides = |pattern: &trimloft::solve::Pattern| {
        let plug = pattern
            .openings
            .iter()
            .find(|opening| opening.name() == "plug")
            .unwrap();
        let longest = plug
            .outline
            .sides()
            .max_by(|a, b| a.length().total_cmp(&b.length()))
            .unwrap();
        let along = longest.tangent(0.5);
        (along.y / along.x, plug.outline.area())
    };
    let ((level, area), (tilted, same)) = (sides(&plain), sides(&leaning));
    assert_close(level, 0.0, 1e-12, "square to the datum edge");
    assert_close(tilted, 3.0 / 200.0, 1e-9, "square to the centreline");
    assert_close(area, same, 1e-9, "area");
}

#[test]
fn holes_are_printed_at_full_size_at_their_readings() {
    let drawing = drawn(&panel("above", "front", READ));
    let at_edge = 489.0 - 20.0 * 3.0 / 200.0;
    let found = holes(&drawing);
    let place = Point::new(420.0 - at_edge, 120.0);
    assert!(
        found.iter().any(|hole| hole.distance(place) < 1e-6),
        "{place:?} in {found:?}"
    );
}

#[test]
fn arcs_place_the_centre_from_the_mark() {
    // A 300-400-500 triangle: the mark stands 300 mm to the left of the right-hand feature's
    // foot, so closed form gives x = (left^2 - right^2) / (2 apart).
    let arcs = "[centreline]\n[centreline.mark]\nacross = 490\nfrom_datum = 400\n\
                [[centreline.swing]]\nname = \"studs\"\nleft = 502\nright = 500\napart = 600\nfrom_datum = 0\n\
                [[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 30 }\ncentre_offset = 0\nfrom_datum = 80\n";
    let toml = panel("below", "front", arcs).replace("height = 310", "height = 500");
    let pattern = solved(&toml);
    let right_by = (502.0_f64.powi(2) - 500.0_f64.powi(2)) / (2.0 * 600.0);
    assert_close(
        pattern.centreline.reading,
        490.0 - right_by,
        0.01,
        "reading of the centre",
    );
    assert!(pattern.centreline.uncertainty_at(400.0).unwrap() > 0.1);
}

#[test]
fn a_pair_that_disagrees_is_named() {
    let third = format!(
        "{READ}[[centreline.pair]]\nname = \"bent tabs\"\nleft = 200\nright = 800\nfrom_datum = 20\n\
         [[centreline.pair]]\nname = \"rivets\"\nleft = 251\nright = 727\nfrom_datum = 20\n"
    );
    let pattern = solved(&panel("below", "front", &third));
    let finding = pattern
        .findings
        .iter()
        .find(|finding| finding.id.as_str() == "centreline: pair bent tabs");
    let finding = finding.expect("the odd pair is a finding");
    assert_eq!(finding.severity, Severity::Warning);
    assert!(
        finding
            .message
            .contains("it is left out: with it the centre"),
        "{}",
        finding.message
    );
    // It counts in nothing: the pattern is that of the other two pairs, locators and all.
    let others = third.replace(
        "name = \"bent tabs\"\nleft = 200\nright = 800\nfrom_datum = 20\n[[centreline.pair]]\n",
        "",
    );
    assert_ne!(others, third);
    let without = solved(&panel("below", "front", &others));
    assert_eq!(pattern.centreline.reading, without.centreline.reading);
    for depth in [0.0, 20.0, 300.0] {
        let known = pattern.centreline.uncertainty_at(depth);
        assert_eq!(known, without.centreline.uncertainty_at(depth));
    }
    assert_eq!(pattern.locators, without.locators);
}

#[test]
fn too_few_locators_are_told_with_what_to_measure() {
    let alone = "[[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 30 }\ncentre_offset = 0\nfrom_datum = 80\n";
    let pattern = solved(&panel("below", "front", alone));
    let finding = pattern
        .findings
        .iter()
        .find(|finding| finding.id.as_str() == "locators: too few")
        .unwrap();
    assert!(finding.hint.contains("[[locator]]"), "{}", finding.hint);
    let both = solved(&panel("below", "front", READ));
    assert!(
        both.findings
            .iter()
            .all(|finding| finding.id.as_str() != "locators: too few")
    );
}

#[test]
fn tape_check_gives_the_distances_of_the_pattern() {
    let drawing = drawn(&panel("below", "front", READ));
    let rows: Vec<Vec<String>> = drawing
        .record
        .iter()
        .filter_map(|block| match block {
            trimloft::draw::ink::Block::Table { columns, rows } if columns[0].head == "From" => {
                Some(rows)
            }
            _ => None,
        })
        .flatten()
        .map(|row| {
            row.iter()
                .map(|cell| match cell {
                    trimloft::draw::ink::Cell::Words(words) => words.clone(),
                    other => format!("{other:?}"),
                })
                .collect()
        })
        .collect();
    let row = |from: &str, to: &str| rows.iter().find(|row| row[0] == from && row[1] == to);
    // Both diagonals of the window's hole crosses: 40 by 20 mm.
    let diagonal = format!("{:.1} mm", 40.0_f64.hypot(20.0));
    assert!(
        rows.iter()
            .any(|row| row[1].contains("diagonal") && row[2] == diagonal),
        "{rows:?}"
    );
    assert!(rows.iter().all(|row| row[3] == "TickBox"));
    assert!(
        row("drain hole", "A").is_some() || row("drain hole", "C").is_some(),
        "{rows:?}"
    );
}
