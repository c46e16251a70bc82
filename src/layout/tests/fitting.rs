//! What fits on a sheet, a roll and a plate, and what is said where it does not.

use super::pages::{assert_four_rulers, overlap, setup, shown, texts};
use super::sample::{WARNING, panel};
use crate::draw::ink::{Anchor, Layer, Mark, Text, lettering, mark_bounds};
use crate::layout::ink::holds;
use crate::layout::{PageKind, PageOrientation, Setup, SheetError, plate, sheets, small_piece};
use kurbo::{Point, Rect};

#[test]
fn a_roll_gives_one_piece_as_long_as_the_work() {
    let drawing = panel(1200.0, 400.0);
    let set = shown(&setup("roll-610mm", PageOrientation::Either), &drawing);
    assert_eq!(set.pages.len(), 2);
    assert!(
        set.size.width > 1200.0 && set.size.width < 1300.0,
        "{:?}",
        set.size
    );
    assert!((set.size.height - 610.0).abs() < 1e-9);
}

#[test]
fn what_does_not_fit_says_what_would() {
    let drawing = panel(140.0, 90.0);
    let refused = |setup: &Setup| sheets(&drawing, setup).unwrap_err();
    let small = refused(&setup("100x150mm", PageOrientation::Either));
    assert!(
        small
            .to_string()
            .contains("hint: `a4` or `letter` would do"),
        "{small}"
    );
    let base = setup("a4", PageOrientation::Either);
    for margin in [-1.0, 51.0, f64::NAN] {
        let error = refused(&Setup {
            margin,
            ..base.clone()
        });
        assert!(matches!(error, SheetError::Margin { .. }), "{error}");
    }
    for overlap in [0.0, 4.9, 100.0, f64::INFINITY, f64::NAN] {
        let error = refused(&Setup {
            overlap,
            ..base.clone()
        });
        assert!(matches!(error, SheetError::Overlap { .. }), "{error}");
    }
    let mut empty = drawing.clone();
    empty.work.clear();
    assert_eq!(sheets(&empty, &base).unwrap_err(), SheetError::NoWork);
    let mut broken = drawing.clone();
    let mut path = kurbo::BezPath::new();
    path.move_to((0.0, 0.0));
    path.line_to((f64::NAN, 5.0));
    let line = crate::draw::ink::Line::continuous(crate::draw::ink::Width::Thin);
    broken.work.push(Mark::stroke(Layer::Cut, path, line));
    assert_eq!(sheets(&broken, &base).unwrap_err(), SheetError::NotFinite);
    let far = |x: f64| {
        let mut far = drawing.clone();
        far.work.push(Mark::text(
            Layer::Text,
            Text {
                words: "far".into(),
                at: Point::new(x, 0.0),
                height: 3.5,
                anchor: Anchor::Start,
                turn: 0.0,
                heavy: false,
            },
        ));
        far
    };
    for (x, told) in [
        (f64::NAN, SheetError::NotFinite),
        (f64::INFINITY, SheetError::NotFinite),
        (1e300, SheetError::TooFar(20_000.0)),
        (-20_001.0, SheetError::TooFar(20_000.0)),
    ] {
        assert_eq!(sheets(&far(x), &base).unwrap_err(), told);
        assert_eq!(plate(&far(x)).unwrap_err(), told);
    }
}

#[test]
fn a_plate_holds_the_work_and_its_rulers() {
    for (width, height) in [(20.0, 12.0), (140.0, 90.0), (1200.0, 400.0)] {
        let plate = plate(&panel(width, height)).unwrap();
        assert_four_rulers(&plate.marks);
        let page = Rect::from_origin_size(Point::ZERO, plate.size);
        for mark in &plate.marks {
            assert!(holds(page, mark_bounds(mark)), "{mark:?} leaves the plate");
        }
        let outside: Vec<Rect> = texts(&plate.marks)
            .iter()
            .map(|text| lettering::bounds(text))
            .collect();
        for (index, first) in outside.iter().enumerate() {
            assert!(
                outside[index + 1..]
                    .iter()
                    .all(|second| !overlap(*first, *second))
            );
        }
        assert!(plate.description.contains("front at the head"));
    }
}

#[test]
fn what_must_not_be_missed_stands_whole_wherever_work_is_shown() {
    let says_it = |marks: &[Mark], what: &str| {
        let told: Vec<&str> = texts(marks)
            .iter()
            .map(|text| text.words.as_str())
            .collect();
        let told = told.join(" ");
        for words in WARNING {
            assert!(told.contains(words), "{what}: {words} is not in {told}");
        }
    };
    let small = panel(20.0, 12.0);
    says_it(&plate(&small).unwrap().marks, "plate");
    let one_page = Setup {
        one_page: true,
        ..setup("a4", PageOrientation::Portrait)
    };
    says_it(&shown(&one_page, &small).pages[0].furniture, "one page");
    let piece = small_piece(
        &small,
        &setup("a3", PageOrientation::Portrait),
        "SHEET 2 OF 2",
    );
    let piece = piece.unwrap().expect("small enough");
    says_it(&piece.marks, "piece of a shared sheet");
    let frame = piece.size.to_rect();
    for mark in &piece.marks {
        let ink = mark_bounds(mark);
        assert!(
            holds(frame.inflate(0.5, 0.5), ink),
            "{mark:?} leaves the piece"
        );
    }
    // The smallest paper that takes the rulers.
    let SheetError::TooSmall { needed, .. } =
        sheets(&small, &setup("100x100mm", PageOrientation::Landscape)).unwrap_err()
    else {
        panic!("100 mm can't hold a ruler of 100 mm");
    };
    let least = format!("{:.1}x{:.1}mm", needed.width + 0.1, needed.height + 0.1);
    for page in shown(
        &setup(&least, PageOrientation::Landscape),
        &panel(60.0, 40.0),
    )
    .pages
    {
        says_it(&page.furniture, &least);
    }
}

#[test]
fn only_paper_that_is_too_small_takes_a_second_front_page() {
    let front = |paper: &str, orientation| {
        let set = shown(&setup(paper, orientation), &panel(60.0, 40.0));
        let front = set.pages.iter().filter(|page| page.kind == PageKind::Front);
        front.count()
    };
    for orientation in [PageOrientation::Portrait, PageOrientation::Landscape] {
        for paper in ["a4", "letter", "a3", "roll-610mm"] {
            assert_eq!(front(paper, orientation), 1, "{paper}");
        }
    }
    assert!(front("156x190mm", PageOrientation::Landscape) > 1);
}
