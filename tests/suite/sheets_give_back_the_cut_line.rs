//! Laid side by side by their register marks, the sheets of any pattern give back its cut line.

use crate::common::laid_out::{Sheet, extents, lay, length, shown_length, straight_pieces};
use crate::common::random::{Came, hold};
use crate::common::{assert_close, drawn, solved_unless_in_pieces, under_panel};
use kurbo::{Affine, BezPath, Line, ParamCurve, ParamCurveNearest, Point, Rect, Shape};
use proptest::prelude::*;
use std::collections::BTreeMap;
use trimloft::check::verify::{Against, Outcome, Reference, prove};
use trimloft::draw::ink::{Ink, Layer, Mark, mark_bounds};
use trimloft::layout::sheets_of;
use trimloft::layout::{Page, PageKind, PageOrientation, Paper, Setup, SheetSet, sheets};

fn strokes(marks: &[Mark], layer: Layer) -> Vec<BezPath> {
    marks
        .iter()
        .filter(|mark| mark.layer == layer)
        .filter_map(|mark| match &mark.ink {
            Ink::Stroke { path, .. } => Some(path.clone()),
            _ => None,
        })
        .collect()
}

/// A fitter's view of a page.
fn sheet(page: &Page) -> Sheet {
    let marks = page.furniture.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) if mark.layer == Layer::Register => Some((text.words.clone(), text.at)),
        _ => None,
    });
    Sheet {
        window: page.window,
        cut: strokes(&page.work, Layer::Cut),
        marks: marks.collect(),
    }
}

/// The pages that show work.
fn work(set: &SheetSet) -> Vec<&Page> {
    let after = |page: &&Page| page.kind == PageKind::Work;
    set.pages.iter().filter(after).collect()
}

fn assert_four_rulers(page: &Page) {
    let mut found: Vec<(bool, f64)> = strokes(&page.furniture, Layer::CheckRuler)
        .iter()
        .map(|ruler| {
            let bounds = ruler.bounding_box();
            (bounds.height() > bounds.width(), ruler.perimeter(1e-9))
        })
        .collect();
    found.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    // 4 in are 101.6 mm, at 25.4 mm to the inch.
    let nominal = [(false, 100.0), (false, 101.6), (true, 100.0), (true, 101.6)];
    assert_eq!(found.len(), 4);
    for ((down, length), (lies_down, nominal)) in found.into_iter().zip(nominal) {
        assert_eq!(down, lies_down);
        assert_close(length, nominal, 1e-9, "ruler");
    }
}

/// All ink of the page's furniture within the margins, and rulers and words clear of the work.
fn assert_furniture_in_place(page: &Page, set: &SheetSet, margin: f64) {
    let printable = Rect::from_origin_size(Point::ZERO, set.size).inset(1e-6 - margin);
    for mark in &page.furniture {
        let bounds = mark_bounds(mark);
        assert_eq!(bounds.union(printable), printable, "{mark:?} in the margin");
        let common = bounds.intersect(page.window.inset(-0.5));
        let crosses = common.width() > 0.0 && common.height() > 0.0;
        let is_frame =
            bounds.width() > page.window.width() && bounds.height() > page.window.height();
        // What tells how to join stands in the strip that two sheets share.
        let joins = matches!(mark.layer, Layer::Register | Layer::Frame);
        let allowed = joins || is_frame;
        assert!(!crosses || allowed, "{mark:?} lies on the work");
    }
}

/// No register mark and no label of one lies on the cut line.
fn assert_marks_clear_of_the_cut_line(page: &Page) {
    let cut = straight_pieces(&strokes(&page.work, Layer::Cut));
    for mark in page
        .furniture
        .iter()
        .filter(|mark| mark.layer == Layer::Register)
    {
        let own = mark_bounds(mark);
        let crossed = cut.iter().any(|piece| {
            let steps = ((piece.p1 - piece.p0).hypot() / 0.2).ceil().max(1.0);
            (0..=steps as usize).any(|step| own.contains(piece.eval(step as f64 / steps)))
        });
        assert!(!crossed, "{mark:?} lies on the cut line");
    }
}

/// Every mark stands on two sheets, at one place to the micrometre once they are laid.
fn assert_marks_meet(laid: &[Sheet]) {
    let mut places: BTreeMap<&str, Vec<Point>> = BTreeMap::new();
    for (label, at) in laid.iter().flat_map(|sheet| &sheet.marks) {
        places.entry(label).or_default().push(*at);
    }
    for (label, places) in places {
        assert_eq!(places.len(), 2, "{label}");
        let apart = (places[0] - places[1]).hypot();
        assert!(apart < 0.001, "{label} is {apart} mm apart");
    }
}

/// Pieces of the cut line in boxes, so that the nearest to a point is soon found.
fn nearest(point: Point, pieces: &[Line]) -> f64 {
    pieces
        .iter()
        .filter(|piece| piece.bounding_box().inflate(0.01, 0.01).contains(point))
        .map(|piece| piece.nearest(point, 1e-9).distance_sq.sqrt())
        .fold(f64::INFINITY, f64::min)
}

#[derive(Debug)]
struct Case {
    paper: String,
    orientation: PageOrientation,
    margin: f64,
    overlap_share: f64,
    openings: Vec<(usize, f64, f64, f64)>,
}

fn case() -> impl Strategy<Value = Case> {
    let known: Vec<String> = Paper::short_names().map(String::from).collect();
    let own = (190.0..700.0_f64, 190.0..700.0_f64).prop_map(|(w, h)| format!("{w:.1}x{h:.1}mm"));
    let roll = (200.0..900.0_f64).prop_map(|width| format!("roll-{width:.1}mm"));
    (
        prop_oneof![prop::sample::select(known), own, roll],
        prop::sample::select(vec![
            PageOrientation::Portrait,
            PageOrientation::Landscape,
            PageOrientation::Either,
        ]),
        0.0..15.0_f64,
        0.0..1.0_f64,
        prop::collection::vec(
            (
                0_usize..4,
                30.0..420.0_f64,
                -700.0..700.0_f64,
                60.0..360.0_f64,
            ),
            1..4,
        ),
    )
        .prop_map(
            |(paper, orientation, margin, overlap_share, openings)| Case {
                paper,
                orientation,
                margin,
                overlap_share,
                openings,
            },
        )
}

fn definition(case: &Case) -> String {
    let mut tables = String::new();
    for (i, (family, size, x, depth)) in case.openings.iter().enumerate() {
        let side = if *x < 0.0 { "left" } else { "right" };
        let (shape, with, from) = match family {
            0 => (
                "notch",
                format!(
                    "width = {size:.2}, depth = {:.2}, corner_radius = 7",
                    size * 0.7
                ),
                0.0,
            ),
            1 => (
                "window",
                format!(
                    "width = {size:.2}, height = {:.2}, corner_radius = 7",
                    size * 0.6
                ),
                30.0 + depth,
            ),
            2 => (
                "slot",
                format!("length = {size:.2}, width = {:.2}", size * 0.4),
                60.0 + depth,
            ),
            _ => ("round-hole", format!("diameter = {size:.2}"), 230.0 + depth),
        };
        tables += &format!(
            "[[opening]]\nname = \"opening {i}\"\nshape = \"{shape}\"\nwith = {{ {with} }}\ncentre_offset = \"{:.2} mm {side}\"\nfrom_datum = {from:.2}\n",
            x.abs()
        );
    }
    under_panel(2000.0, 900.0, &tables)
}

#[test]
fn sheets_of_any_paper_give_back_the_whole() {
    hold(64, 0.6, case(), |case| {
        let toml = definition(&case);
        let Some(pattern) = solved_unless_in_pieces(&toml)? else {
            return Ok(Came::Refused);
        };
        let drawing = trimloft::draw::draw(&pattern).unwrap();
        let mut setup = Setup::new(Paper::parse(&case.paper).unwrap());
        setup.orientation = case.orientation;
        setup.margin = case.margin;
        // Up to a quarter of the window's shorter side, which no paper here makes under 22 mm.
        setup.overlap = Setup::LEAST_OVERLAP + case.overlap_share * 15.0;
        let set = match sheets_of(&pattern, &setup) {
            Ok(set) => set,
            // The smallest own sizes have no room for the rulers.
            Err(error) => {
                prop_assert!(error.to_string().contains("too small"), "{error}");
                return Ok(Came::Refused);
            }
        };
        for page in &set.pages {
            assert_four_rulers(page);
        }
        let reference = Reference::of(&pattern).on_sheets(set.clone());
        let against = Against {
            reference: Some(&reference),
            scales: None,
        };
        let report = prove(trimloft::output::pdf(&set).unwrap(), against).unwrap();
        prop_assert!(
            report.outcome() == Outcome::Sound,
            "{:?}",
            report.of(report.outcome()).collect::<Vec<_>>()
        );
        let pages = work(&set);
        for page in &pages {
            assert_furniture_in_place(page, &set, setup.margin);
            assert_marks_clear_of_the_cut_line(page);
        }
        let laid = lay(&pages.into_iter().map(sheet).collect::<Vec<_>>());
        assert_marks_meet(&laid);

        let whole = strokes(&drawing.work, Layer::Cut);
        let all = straight_pieces(&whole);
        assert_close(shown_length(&laid), length(&all), 0.01, &case.paper);

        // Laid corner on corner, each point of the whole lies on a piece of a sheet that shows it.
        let found = extents(laid.iter().flat_map(|sheet| &sheet.cut));
        let should = extents(&whole);
        assert_close(found.width(), should.width(), 1e-6, "width");
        assert_close(found.height(), should.height(), 1e-6, "height");
        let to = Affine::translate(should.origin() - found.origin());
        let pieces: Vec<Vec<Line>> = laid
            .iter()
            .map(|sheet| {
                straight_pieces(&sheet.cut)
                    .iter()
                    .map(|piece| to * *piece)
                    .collect()
            })
            .collect();
        for piece in &all {
            for along in [0.0, 0.37, 0.81] {
                let point = piece.eval(along);
                let off = laid
                    .iter()
                    .zip(&pieces)
                    .filter(|(sheet, _)| {
                        (sheet.window + (should.origin() - found.origin()))
                            .inflate(1e-6, 1e-6)
                            .contains(point)
                    })
                    .map(|(_, pieces)| nearest(point, pieces))
                    .collect::<Vec<f64>>();
                prop_assert!(!off.is_empty(), "{:?} is on no sheet", point);
                for off in off {
                    prop_assert!(off < 0.0005, "{:?} is {} mm off", point, off);
                }
            }
        }
        Ok(Came::Through)
    });
}

#[test]
fn sheets_are_as_few_as_the_rule_says() {
    // A window of 1200 x 400 mm, margin and overlap 10. The rule: 1 if it fits, else
    // ceil((L - overlap) / (usable - overlap)) along each direction, less sheets without ink.
    let drawing = drawn(&under_panel(
        2000.0,
        900.0,
        "[[opening]]\nname = \"large\"\nshape = \"window\"\nwith = { width = 1200, height = 400, corner_radius = 40 }\ncentre_offset = 0\nfrom_datum = 400\n",
    ));
    let bounds = drawing
        .work
        .iter()
        .map(mark_bounds)
        .reduce(|a, b| a.union(b))
        .unwrap();
    for paper in ["a4", "a3", "letter"] {
        for orientation in [PageOrientation::Portrait, PageOrientation::Landscape] {
            let mut setup = Setup::new(Paper::parse(paper).unwrap());
            (setup.orientation, setup.margin, setup.overlap) = (orientation, 10.0, 10.0);
            let set = sheets(&drawing, &setup).unwrap();
            let pages = work(&set);
            let usable = pages[0].window;
            let needed = |length: f64, usable: f64| {
                if length <= usable {
                    1.0
                } else {
                    ((length - 10.0) / (usable - 10.0)).ceil()
                }
            };
            let most =
                needed(bounds.width(), usable.width()) * needed(bounds.height(), usable.height());
            assert!(
                pages.len() as f64 <= most,
                "{paper} {orientation:?}: {} of {most}",
                pages.len()
            );
            assert!(pages.iter().all(|page| !page.work.is_empty()));
        }
    }
}
