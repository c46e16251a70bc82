//! Nothing on a pattern overlaps: no lettering touches other lettering or any line.

use crate::common::laid_out::inside;
use crate::common::random::{Came, hold};
use crate::common::{demos, drawn, solved_unless_in_pieces, under_panel};
use kurbo::{Line, PathEl, Point, Rect};
use proptest::prelude::*;
use trimloft::draw::ink::{Drawing, Ink, lettering};

/// A piece of ink with what to call it in a message: its words or its layer.
type Named<T> = (String, T);

/// Boxes of lettering and straight pieces of all strokes and fills.
fn ink(drawing: &Drawing) -> (Vec<Named<Rect>>, Vec<Named<Line>>) {
    let (mut texts, mut lines) = (vec![], vec![]);
    for mark in &drawing.work {
        match &mark.ink {
            Ink::Text(text) => texts.push((text.words.clone(), lettering::bounds(text))),
            Ink::Stroke { path, .. } | Ink::Fill { path, .. } => {
                let (mut start, mut at) = (Point::ZERO, Point::ZERO);
                let layer = mark.layer.name();
                kurbo::flatten(path.iter(), 0.01, |element| match element {
                    PathEl::MoveTo(point) => (start, at) = (point, point),
                    PathEl::LineTo(point) => {
                        lines.push((layer.to_owned(), Line::new(at, point)));
                        at = point;
                    }
                    PathEl::ClosePath => lines.push((layer.to_owned(), Line::new(at, start))),
                    _ => {}
                });
            }
        }
    }
    (texts, lines)
}

/// No lettering touches other lettering or any line.
#[track_caller]
pub(crate) fn assert_clear(drawing: &Drawing, what: &str) {
    let (texts, lines) = ink(drawing);
    for (i, (words, place)) in texts.iter().enumerate() {
        for (other, other_place) in &texts[i + 1..] {
            let shared = place.intersect(*other_place);
            assert!(
                shared.width() <= 0.0 || shared.height() <= 0.0,
                "{what}: `{words}` overlaps `{other}` at {place:?}"
            );
        }
        for (layer, line) in &lines {
            assert!(
                inside(*line, *place).is_none(),
                "{what}: `{words}` at {place:?} is crossed by {layer} {line:?}"
            );
        }
    }
}

/// Lettering that every pattern must show, however crowded.
#[track_caller]
fn assert_shows(drawing: &Drawing, words: &str) {
    let shown = drawing
        .work
        .iter()
        .any(|mark| matches!(&mark.ink, Ink::Text(text) if text.words.contains(words)));
    assert!(shown, "`{words}` is not on the pattern");
}

#[test]
fn demos_are_clear() {
    for demo in demos() {
        let text = std::fs::read_to_string(&demo).unwrap();
        assert_clear(&drawn(&text), &demo.display().to_string());
    }
}

#[test]
fn a_small_opening_is_clear_and_fully_dimensioned() {
    let drawing = drawn(&under_panel(
        400.0,
        200.0,
        "[[opening]]\nname = \"small\"\nshape = \"notch\"\nwith = { width = 30, depth = 30, corner_radius = 5 }\ncentre_offset = \"33 mm left\"\nfrom_datum = 0\n",
    ));
    assert_clear(&drawing, "30 mm notch");
    for words in ["30", "R5", "drill Ø10", "33", "small"] {
        assert_shows(&drawing, words);
    }
}

#[test]
fn a_large_opening_is_clear() {
    let drawing = drawn(&under_panel(
        1600.0,
        500.0,
        "[[opening]]\nname = \"large\"\nshape = \"window\"\nwith = { width = 900, height = 300, corner_radius = 40 }\nfrom_datum = 220\ncentre_offset = 0\n",
    ));
    assert_clear(&drawing, "900 mm window");
    for words in ["900", "300", "70", "R40", "large"] {
        assert_shows(&drawing, words);
    }
}

#[test]
fn ten_openings_are_clear_and_all_named() {
    let openings: String = (0..10)
        .map(|i| {
            let (x, side) = (60 + 70 * (i / 2), if i % 2 == 0 { "left" } else { "right" });
            format!(
                "[[opening]]\nname = \"bolt {i}\"\nshape = \"round-hole\"\nwith = {{ diameter = {} }}\ncentre_offset = \"{x} mm {side}\"\nfrom_datum = {}\n",
                18 + i,
                40 + 22 * (i % 4)
            )
        })
        .collect();
    let drawing = drawn(&under_panel(1200.0, 400.0, &openings));
    assert_clear(&drawing, "ten bolt holes");
    for i in 0..10 {
        assert_shows(&drawing, &format!("bolt {i}"));
        // One circle is one hole, told by its diameter.
        assert_shows(&drawing, &format!("Ø{}", 18 + i));
    }
}

/// Openings, locators, parts and areas to keep out of, anywhere on the panel.
#[test]
fn random_patterns_are_clear() {
    let opening = (
        0_usize..4,
        30.0..120.0_f64,
        -400.0..400.0_f64,
        60.0..300.0_f64,
    );
    let locator = (10.0..990.0_f64, 5.0..390.0_f64, 4.0..14.0_f64);
    let case = (
        prop::collection::vec(opening, 1..10),
        prop::collection::vec(locator, 0..5),
        0_u8..2,
        0_u8..3,
        any::<bool>(),
    );
    hold(
        60,
        0.6,
        case,
        |(openings, locators, seed, through, leans)| {
            let surface =
                "[panel.surface]\nrake = \"14 deg\"\nradius = 1600\nbulges = \"towards\"\n";
            let mut tables = if leans {
                surface.to_owned()
            } else {
                String::new()
            };
            for (i, (across, depth, diameter)) in locators.iter().enumerate() {
                tables += &format!(
                    "[[locator]]\nname = \"hole {i}\"\nacross = {across:.2}\nfrom_datum = {depth:.2}\ndiameter = {diameter:.1}\n"
                );
            }
            for (i, (family, size, x, depth)) in openings.iter().enumerate() {
                let side = if *x < 0.0 { "left" } else { "right" };
                let (shape, with, from) = match family {
                    0 => (
                        "notch",
                        format!(
                            "width = {size:.1}, depth = {:.1}, corner_radius = 6",
                            size * 0.8
                        ),
                        0.0,
                    ),
                    1 => (
                        "window",
                        format!(
                            "width = {size:.1}, height = {:.1}, corner_radius = 6",
                            size * 0.7
                        ),
                        *depth,
                    ),
                    2 => (
                        "slot",
                        format!("length = {size:.1}, width = {:.1}", size * 0.4),
                        *depth,
                    ),
                    _ => ("round-hole", format!("diameter = {size:.1}"), *depth),
                };
                let place = format!(
                    "shape = \"{shape}\"\nwith = {{ {with} }}\ncentre_offset = \"{:.2} mm {side}\"\nfrom_datum = {from:.2}\n",
                    x.abs()
                );
                tables += &match (through, family) {
                    // An open notch is no part.
                    (0, _) | (_, 0) => format!("[[opening]]\nname = \"opening {i}\"\n{place}"),
                    (1, _) => format!(
                        "[[part]]\nname = \"part {i}\"\n{place}[[opening]]\nname = \"opening {i}\"\naround = [\"part {i}\"]\nfollow = \"contour\"\nopen_at_edge = true\n"
                    ),
                    _ => format!(
                        "[[part]]\nname = \"part {i}\"\n{place}[[opening]]\nname = \"opening {i}\"\naround = [\"part {i}\"]\nfollow = \"box\"\n[[keep_out]]\nname = \"area {i}\"\nguards = \"wiring\"\nshape = \"slot\"\nwith = {{ length = {size:.1}, width = 12 }}\ndistance = 0\ncentre_offset = \"{:.2} mm {side}\"\nfrom_datum = {:.2}\n",
                        x.abs(),
                        0.9 * depth
                    ),
                };
            }
            let mut toml = under_panel(1000.0, 420.0, &tables).replacen(
                "[panel]\n",
                "[panel]\nthickness = 2.5\n",
                1,
            );
            if seed == 1 {
                toml = toml.replace("page_up = \"front\"", "page_up = \"rear\"");
            }
            let Some(pattern) = solved_unless_in_pieces(&toml)? else {
                return Ok(Came::Refused);
            };
            let drawing = trimloft::draw::draw(&pattern)
                .map_err(|error| TestCaseError::fail(error.to_string()))?;
            assert_clear(&drawing, &toml);
            Ok(Came::Through)
        },
    );
}
