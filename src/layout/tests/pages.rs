//! Whole sheets: every paper, both ways round.

use super::sample::{WARNING, panel};
use crate::draw::ink::{Drawing, Ink, Layer, Mark, Text, lettering, mark_bounds};
use crate::layout::ink::holds;
use crate::layout::{Page, PageOrientation, Paper, Setup, SheetSet, sheets};
use kurbo::{Point, Rect, Shape, Size};

pub(super) fn setup(paper: &str, orientation: PageOrientation) -> Setup {
    Setup {
        orientation,
        ..Setup::new(Paper::parse(paper).unwrap())
    }
}

/// Every known paper, a roll and an own size, both ways round.
fn every_setup() -> Vec<Setup> {
    let own = ["roll-610mm", "300x500mm", "24x36in"];
    Paper::short_names()
        .chain(own)
        .flat_map(|paper| {
            [PageOrientation::Portrait, PageOrientation::Landscape]
                .map(|orientation| setup(paper, orientation))
        })
        .collect()
}

pub(super) fn texts(marks: &[Mark]) -> Vec<&Text> {
    marks
        .iter()
        .filter_map(|mark| match &mark.ink {
            Ink::Text(text) => Some(text),
            _ => None,
        })
        .collect()
}

pub(super) fn overlap(a: Rect, b: Rect) -> bool {
    let common = a.intersect(b);
    common.width() > 1e-6 && common.height() > 1e-6
}

pub(super) fn shown(setup: &Setup, drawing: &Drawing) -> SheetSet {
    sheets(drawing, setup).unwrap_or_else(|error| panic!("{}: {error}", setup.paper.name()))
}

fn rulers(marks: &[Mark]) -> Vec<(bool, f64)> {
    let mut found: Vec<(bool, f64)> = marks
        .iter()
        .filter(|mark| mark.layer == Layer::CheckRuler)
        .map(|mark| match &mark.ink {
            Ink::Stroke { path, .. } => {
                let bounds = path.bounding_box();
                (bounds.width() > bounds.height(), path.perimeter(1e-9))
            }
            other => panic!("{other:?}"),
        })
        .collect();
    found.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    found
}

pub(super) fn assert_four_rulers(marks: &[Mark]) {
    let found = rulers(marks);
    let wanted = [(false, 100.0), (false, 101.6), (true, 100.0), (true, 101.6)];
    assert_eq!(found.len(), 4);
    for ((across, length), (right_way, nominal)) in found.iter().zip(wanted) {
        assert_eq!(*across, right_way);
        assert!((length - nominal).abs() < 1e-9, "{length} is not {nominal}");
    }
}

fn check_page(page: &Page, size: Size, margin: f64) {
    let printable = Rect::from_origin_size(Point::ZERO, size).inset(-margin + 1e-6);
    let words = texts(&page.furniture);
    for text in &words {
        let bounds = lettering::bounds(text);
        assert!(text.height >= 2.5, "{text:?} is too small to read");
        assert!(holds(printable, bounds), "{text:?} leaves the page");
        let inside = holds(page.window, bounds);
        assert!(
            inside || !overlap(page.window, bounds),
            "{text:?} crosses the frame"
        );
    }
    let mut bounds: Vec<(Rect, &str)> = words
        .iter()
        .map(|text| (lettering::bounds(text), text.words.as_str()))
        .collect();
    bounds.sort_by(|a, b| a.0.x0.total_cmp(&b.0.x0));
    for (index, (first, words)) in bounds.iter().enumerate() {
        let near = bounds[index + 1..]
            .iter()
            .take_while(|(second, _)| second.x0 < first.x1);
        for (second, others) in near {
            assert!(!overlap(*first, *second), "`{words}` lies on `{others}`");
        }
    }
    for mark in &page.furniture {
        assert!(
            holds(printable, mark_bounds(mark)),
            "{mark:?} leaves the page"
        );
        let bounds = mark_bounds(mark);
        let in_window = overlap(page.window.inset(-1.0), bounds);
        let whole_frame = bounds.width() > page.window.width();
        let register = matches!(mark.layer, Layer::Register | Layer::Frame);
        // On sheets of work only what joins them stands in the window.
        assert!(
            page.work.is_empty() || !in_window || whole_frame || register,
            "{mark:?}"
        );
    }
    assert_four_rulers(&page.furniture);
}

#[test]
fn furniture_is_in_order_on_every_paper() {
    for drawing in [panel(140.0, 90.0), panel(1200.0, 400.0)] {
        for setup in every_setup() {
            let set = shown(&setup, &drawing);
            assert!(set.pages.len() >= 2);
            let count = set.pages.len();
            for (index, page) in set.pages.iter().enumerate() {
                check_page(page, set.size, setup.margin);
                let words: Vec<&str> = texts(&page.furniture)
                    .iter()
                    .map(|text| text.words.as_str())
                    .collect();
                let sheet = format!("SHEET {} OF {count}", index + 1);
                let always = [
                    &sheet,
                    "PRINT AT ACTUAL SIZE (100 %)",
                    "DO NOT COPY",
                    WARNING[0],
                    WARNING[1],
                    "2026-03-02",
                    &setup.paper.common_name(),
                    "LV2-UP-01 rev B",
                    "7K3MQ-9XDT2",
                    Setup::PROGRAM,
                    "FRONT",
                    "REAR",
                    "LEFT",
                    "RIGHT",
                ];
                // Narrow paper may shorten the title, and nothing else.
                assert!(words.iter().any(|words| words.starts_with("Under-panel")));
                for wanted in always {
                    assert!(
                        words.contains(&wanted),
                        "{}: no `{wanted}` in {words:?}",
                        setup.paper.name()
                    );
                }
            }
        }
    }
}

#[test]
fn directions_stand_at_the_edges_they_point_to() {
    let drawing = panel(140.0, 90.0);
    let set = shown(&setup("a4", PageOrientation::Portrait), &drawing);
    let page = set.pages.last().unwrap();
    let find = |word: &str| {
        let text = texts(&page.furniture)
            .into_iter()
            .find(|text| text.words == word);
        lettering::bounds(text.unwrap()).center()
    };
    let window = page.window;
    assert!(find("FRONT").y > window.y1 && find("REAR").y < window.y0);
    // The sample is seen from below, front up: the vehicle's right lies at the page's left.
    assert!(find("RIGHT").x < window.x0 && find("LEFT").x > window.x1);
    // Each arrowhead begins at its tip, which points away from the window.
    let tips: Vec<kurbo::Vec2> = page
        .furniture
        .iter()
        .filter_map(|mark| match &mark.ink {
            Ink::Fill { path, .. } if mark.layer == Layer::Frame => {
                let tip = path.segments().next()?;
                Some(kurbo::ParamCurve::start(&tip) - path.bounding_box().center())
            }
            _ => None,
        })
        .collect();
    let wanted = [(0.0, 1.5), (0.0, -1.5), (-1.5, 0.0), (1.5, 0.0)];
    assert_eq!(tips.len(), 4);
    for (tip, (x, y)) in tips.iter().zip(wanted) {
        assert!(
            (tip.x - x).abs() < 1e-9 && (tip.y - y).abs() < 1e-9,
            "{tip:?}"
        );
    }
}

#[test]
fn neighbours_share_their_register_marks() {
    for overlap in [5.0, 10.0, 25.0] {
        let setup = Setup {
            overlap,
            ..setup("a4", PageOrientation::Either)
        };
        let drawing = panel(1200.0, 400.0);
        let set = shown(&setup, &drawing);
        let mut seen: std::collections::BTreeMap<String, Vec<(usize, Rect)>> = Default::default();
        for (index, page) in set.pages.iter().enumerate() {
            for mark in page
                .furniture
                .iter()
                .filter(|mark| mark.layer == Layer::Register)
            {
                let bounds = mark_bounds(mark);
                assert!(
                    holds(page.window.inflate(1e-9, 1e-9), bounds),
                    "{mark:?} leaves the window"
                );
                if let Ink::Text(text) = &mark.ink {
                    seen.entry(text.words.clone())
                        .or_default()
                        .push((index + 1, bounds));
                }
            }
        }
        assert!(
            seen.len() >= 2 * (set.pages.len() - 3),
            "{} labels",
            seen.len()
        );
        let mut offsets = std::collections::BTreeMap::new();
        for (label, places) in seen {
            assert_eq!(places.len(), 2, "{label}");
            // Both marks of a join tell the same distance between its two sheets.
            let offset = places[1].1.origin() - places[0].1.origin();
            let pair = (places[0].0, places[1].0);
            let other = *offsets.entry(pair).or_insert(offset);
            assert!(
                (other - offset).hypot() < 1e-9,
                "{label}: {offset:?}, {other:?}"
            );
            assert!(
                label.starts_with(&format!("{}-{}", places[0].0, places[1].0)),
                "{label}"
            );
        }
    }
}

#[test]
fn sheets_laid_by_their_marks_give_back_the_cut_line() {
    let drawing = panel(1200.0, 400.0);
    let set = shown(&setup("a4", PageOrientation::Either), &drawing);
    let mark_at = |page: &Page, label: &str| -> Option<Point> {
        let mut register = page
            .furniture
            .iter()
            .filter(|mark| mark.layer == Layer::Register);
        register.find_map(|mark| match &mark.ink {
            Ink::Text(text) if text.words == label => Some(text.at),
            _ => None,
        })
    };
    let work: Vec<&Page> = set
        .pages
        .iter()
        .filter(|page| !page.work.is_empty())
        .collect();
    // Place each sheet against one placed before it, by one shared label.
    let mut placed = vec![(work[0], kurbo::Vec2::ZERO)];
    while placed.len() < work.len() {
        let next = work.iter().find_map(|page| {
            if placed.iter().any(|(other, _)| std::ptr::eq(*other, *page)) {
                return None;
            }
            placed.iter().find_map(|(other, at)| {
                texts(&other.furniture).into_iter().find_map(|text| {
                    let here = mark_at(page, &text.words)?;
                    let there = mark_at(other, &text.words)?;
                    Some((*page, *at + (there - here)))
                })
            })
        });
        placed.push(next.expect("every sheet joins another"));
    }
    let cut = |marks: &[Mark]| -> Vec<kurbo::BezPath> {
        let cut = marks.iter().filter(|mark| mark.layer == Layer::Cut);
        cut.filter_map(|mark| match &mark.ink {
            Ink::Stroke { path, .. } => Some(path.clone()),
            _ => None,
        })
        .collect()
    };
    let pieces: Vec<kurbo::BezPath> = placed
        .iter()
        .flat_map(|(page, at)| {
            cut(&page.work)
                .into_iter()
                .map(|path| kurbo::Affine::translate(*at) * path)
        })
        .collect();
    let bounds = pieces
        .iter()
        .map(|path| path.bounding_box())
        .reduce(|a, b| a.union(b))
        .unwrap();
    let whole = &cut(&drawing.work)[0];
    assert!((bounds.width() - whole.bounding_box().width()).abs() < 1e-6);
    assert!((bounds.height() - whole.bounding_box().height()).abs() < 1e-6);
    // Every point of the whole lies on a piece, once the two are laid corner on corner.
    let by = bounds.origin() - whole.bounding_box().origin();
    let ends: Vec<Point> = whole
        .segments()
        .flat_map(|s| [0.1, 0.5, 0.9].map(|t| kurbo::ParamCurve::eval(&s, t)))
        .collect();
    for point in ends {
        let nearest = pieces
            .iter()
            .flat_map(|path| path.segments())
            .map(|segment| {
                kurbo::ParamCurveNearest::nearest(&segment, point + by, 1e-9).distance_sq
            })
            .fold(f64::INFINITY, f64::min);
        assert!(nearest.sqrt() < 1e-6, "{point:?} is {} off", nearest.sqrt());
    }
}

#[test]
fn long_names_stay_in_their_places_and_the_number_stands_whole() {
    let mut drawing = panel(140.0, 90.0);
    drawing.title.title =
        "Under-panel with a very long title that no title block was made for, ".repeat(3);
    drawing.title.number = "NUMBER-7".repeat(8);
    drawing.title.owner = "W".repeat(200);
    for orientation in [PageOrientation::Portrait, PageOrientation::Landscape] {
        let setup = setup("a4", orientation);
        let set = shown(&setup, &drawing);
        for page in &set.pages {
            check_page(page, set.size, setup.margin);
            let name = drawing.title.number_and_revision();
            assert!(texts(&page.furniture).iter().any(|text| text.words == name));
        }
    }
}
