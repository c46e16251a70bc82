//! The front page: one page whatever is drawn, nothing on it over anything else, nothing too small.

use crate::common::random::{Came, hold};
use crate::common::{shipped, under_panel};
use kurbo::Rect;
use proptest::prelude::*;
use std::fmt::Write;
use trimloft::draw::draw;
use trimloft::draw::ink::{Ink, Layer, Text, lettering};
use trimloft::input::{PatternSpec, Source};
use trimloft::layout::{Page, PageKind, PageOrientation, Paper, Setup, sheets};
use trimloft::solve::{Finding, solve};

/// Smallest lettering that is to be read, mm.
const SMALLEST: f64 = 2.5;

fn texts(page: &Page) -> Vec<&Text> {
    let texts = page.furniture.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) if mark.layer == Layer::Text => Some(text),
        _ => None,
    });
    texts.collect()
}

/// Words of the page in one run, as they are read.
fn words(page: &Page) -> String {
    let lines: Vec<&str> = texts(page).iter().map(|text| text.words.as_str()).collect();
    lines.join(" ")
}

fn overlap(a: Rect, b: Rect) -> bool {
    let shared = a.intersect(b);
    shared.width() > 0.05 && shared.height() > 0.05
}

/// Names from a letter to as long as a file may hold.
fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        6 => "[a-z]{3,9}( [a-z]{2,9}){0,2}",
        1 => "[a-z]{3,12}( [a-z]{2,12}){8,20}",
        1 => "[W]{60,120}",
    ]
}

fn definition() -> impl Strategy<Value = String> {
    let opening = (name(), 0_usize..4, 12.0..60.0_f64, 30.0..240.0_f64);
    let locator = (name(), 10.0..1900.0_f64, 15.0..280.0_f64);
    (
        prop::collection::vec(opening, 1..24),
        prop::collection::vec(locator, 0..8),
        prop::collection::vec(name(), 0..5),
        (name(), any::<bool>(), any::<bool>(), any::<bool>()),
    )
        .prop_map(|(openings, locators, notes, (title, read, rounds, told))| {
            // Each begins like nothing else on the page.
            let notes = notes.iter().enumerate();
            let notes: Vec<String> = notes.map(|(i, note)| format!("\"?{i} {note}\"")).collect();
            let mut toml = String::new();
            if read {
                toml += "[centreline]\n[[centreline.pair]]\nname = \"clips\"\nleft = 112\n\
                         right = 1889\nfrom_datum = 18\n[[centreline.pair]]\nname = \"screws\"\n\
                         left = 200\nright = 1797\nfrom_datum = 240\n";
            }
            for (index, (name, across, depth)) in locators.iter().enumerate() {
                writeln!(
                    toml,
                    "[[locator]]\nname = \"{name} {index}\"\nacross = {across:.1}\nfrom_datum = \
                     {depth:.1}\ndiameter = 8"
                )
                .unwrap();
            }
            let step = 1900.0 / openings.len() as f64;
            for (index, (name, kind, size, depth)) in openings.iter().enumerate() {
                let x = -950.0 + step * (index as f64 + 0.5);
                let side = if x < 0.0 { "left" } else { "right" };
                let size = size.min(step * 0.6);
                let shape = match if rounds { 0 } else { *kind } {
                    0 => format!("round-hole\"\nwith = {{ diameter = {size:.1} }}"),
                    1 => format!("window\"\nwith = {{ width = {size:.1}, height = {size:.1}, corner_radius = 4 }}"),
                    _ => format!("window\"\nwith = {{ width = {size:.1}, height = 22, corner_radius = {} }}", 2 + kind),
                };
                writeln!(
                    toml,
                    "[[opening]]\nname = \"{name} {index}\"\nshape = \"{shape}\ncentre_offset = \
                     \"{:.1} mm {side}\"\nfrom_datum = {depth:.1}",
                    x.abs()
                )
                .unwrap();
            }
            let toml = under_panel(2000.0, 300.0, &toml);
            let material = if told { "material = \"pp\"\nthickness = 2.5\n" } else { "" };
            toml.replacen("[panel]\n", &format!("[panel]\n{material}"), 1).replacen(
                "[pattern]\n",
                &format!("[pattern]\nnotes = [{}]\nvehicle = \"{title}\"\n", notes.join(", ")),
                1,
            )
        })
}

#[test]
fn it_is_one_page_with_nothing_over_anything_else() {
    hold(300, 0.5, definition(), |toml| {
        let spec = PatternSpec::read(&Source::new("random.toml", toml.clone()))
            .map_err(|report| TestCaseError::fail(report.to_string()))?;
        let Ok(pattern) = solve(&spec, &shipped()) else {
            return Ok(Came::Refused);
        };
        if pattern.findings.iter().any(Finding::stops) {
            return Ok(Came::Refused);
        }
        let drawing = draw(&pattern).map_err(|error| TestCaseError::fail(error.to_string()))?;
        for (paper, orientation) in [
            ("a4", PageOrientation::Portrait),
            ("a4", PageOrientation::Landscape),
            ("letter", PageOrientation::Portrait),
            ("letter", PageOrientation::Landscape),
            ("a3", PageOrientation::Portrait),
            ("a3", PageOrientation::Landscape),
        ] {
            let setup = Setup {
                orientation,
                ..Setup::new(Paper::parse(paper).unwrap())
            };
            let set =
                sheets(&drawing, &setup).map_err(|error| TestCaseError::fail(error.to_string()))?;
            let front = set.pages.iter().filter(|page| page.kind == PageKind::Front);
            prop_assert_eq!(front.count(), 1, "{} {:?}\n{}", paper, orientation, toml);
            let page = &set.pages[0];
            prop_assert_eq!(page.kind, PageKind::Front);
            prop_assert!(
                set.pages[1..]
                    .iter()
                    .all(|page| page.kind == PageKind::Work)
            );
            // The map's numbers may stand on what it shows.
            let texts = texts(page);
            let boxes: Vec<Rect> = texts.iter().map(|text| lettering::bounds(text)).collect();
            for (index, text) in texts.iter().enumerate() {
                prop_assert!(text.height >= SMALLEST - 1e-9, "{}", text.words);
                for other in index + 1..texts.len() {
                    prop_assert!(
                        !overlap(boxes[index], boxes[other]),
                        "`{}` on `{}`, {paper} {orientation:?}\n{toml}",
                        text.words,
                        texts[other].words
                    );
                }
                let sheet = set.size.to_rect();
                prop_assert!(
                    sheet.union(boxes[index]) == sheet,
                    "{} leaves the page",
                    text.words
                );
            }
            let words = words(page);
            let front = &drawing.front;
            let plain = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
            for must in front.cautions.iter().chain(&front.steps).chain(&front.lay) {
                // Long names are broken within a word where they fill a line.
                let found = words
                    .replace(' ', "")
                    .contains(&plain(must).replace(' ', ""));
                prop_assert!(found, "`{must}` is not in {words}");
            }
            let distances = front.checks.iter().map(|[_, _, distance]| distance);
            let listed = [&front.findings, &front.numbered, &front.notes];
            let told = listed.into_iter().flatten().chain(distances);
            let mut told = told.map(|one| words.replace(' ', "").contains(&one.replace(' ', "")));
            let left_out = !told.all(|is_there| is_there);
            prop_assert_eq!(left_out, words.contains("NO ROOM HERE FOR"), "{}", words);
            prop_assert!(front.checks.len() <= 8);
        }
        Ok(Came::Through)
    });
}

#[test]
fn sheets_are_the_same_with_and_without_the_record() {
    let toml = under_panel(
        980.0,
        310.0,
        "[[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 30 }\n\
         centre_offset = 0\nfrom_datum = 80\n",
    );
    let spec = PatternSpec::read(&Source::new("p.toml", toml)).unwrap();
    let drawing = draw(&solve(&spec, &shipped()).unwrap()).unwrap();
    let plain = Setup::new(Paper::parse("a4").unwrap());
    let with = Setup {
        record: true,
        ..plain.clone()
    };
    let (without, with) = (
        sheets(&drawing, &plain).unwrap(),
        sheets(&drawing, &with).unwrap(),
    );
    let (sheets, record) = with.pages.split_at(without.pages.len());
    for (one, other) in sheets.iter().zip(&without.pages) {
        assert!(one.furniture == other.furniture && one.work == other.work);
    }
    assert!(!record.is_empty());
    for (index, page) in record.iter().enumerate() {
        assert_eq!(page.kind, PageKind::Record);
        let counted = format!("RECORD {} OF {}", index + 1, record.len());
        assert!(words(page).contains(&counted));
    }
}
