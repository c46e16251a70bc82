//! Sheets are found by what must be shown, and lettering stands in the rooms that they leave: held
//! against a search of its own over all places of the grid.

use crate::common::random::{Came, hold};
use crate::common::{produced_on, shipped, solved_unless_in_pieces, under_panel};
use crate::overlaps::assert_clear;
use kurbo::{ParamCurve, ParamCurveArclen, Point, Rect, Size};
use proptest::prelude::*;
use std::borrow::Borrow;
use std::collections::BTreeSet;
use trimloft::draw::ink::{Drawing, Geometry, Ink, Island, Layer, Mark, mark_bounds};
use trimloft::draw::{draw_in, ways};
use trimloft::input::{PatternSpec, Source};
use trimloft::layout::{Page, PageKind, Paper, Plan, Setup, frame_size, sheets_on};
use trimloft::layout::{PageOrientation, SheetSet};
use trimloft::solve::Pattern;

/// How far the search keeps clear of where it cuts, mm: what is planned by looks at ink by squares.
const CLOSELY: f64 = 5.0;
/// Between places of the grid that are tried, mm.
const STEP: f64 = 11.0;

pub(crate) fn work(set: &SheetSet) -> Vec<&Page> {
    let pages = set.pages.iter();
    pages.filter(|page| page.kind == PageKind::Work).collect()
}

/// Boxes of words and numbers, and of arrowheads.
fn lettering(marks: &[Mark]) -> Vec<Rect> {
    let letters = marks.iter().filter(|mark| match &mark.ink {
        Ink::Text(_) | Ink::Fill { .. } => true,
        Ink::Stroke { .. } => false,
    });
    letters.map(mark_bounds).collect()
}

/// Whole on one sheet each, clear of its frame and of the marks of its joins.
fn assert_in_rooms(drawing: &Drawing, set: &SheetSet, what: &str) {
    let mut shown = 0;
    for page in work(set) {
        let joins: Vec<Rect> = page
            .furniture
            .iter()
            .filter(|mark| matches!(mark.layer, Layer::Register | Layer::Frame))
            .map(mark_bounds)
            // Not the frame itself.
            .filter(|mark| {
                mark.width().min(mark.height())
                    < page.window.width().min(page.window.height()) / 2.0
            })
            .collect();
        for place in lettering(&page.work) {
            shown += 1;
            assert_eq!(
                place.union(page.window),
                page.window,
                "crosses a frame\n{what}"
            );
            let on_join = joins.iter().any(|mark| mark.overlaps(place));
            assert!(!on_join, "{place:?} lies on a register mark\n{what}");
        }
    }
    // What crosses a join stands on two sheets.
    assert_eq!(shown, lettering(&drawing.work).len(), "{what}");
}

/// Points of what an island must show.
fn points(island: &Island) -> Vec<Point> {
    let mut points = vec![];
    for mark in &island.must_show {
        let Ink::Stroke { path, .. } = &mark.ink else {
            panic!("{mark:?} is no line");
        };
        for segment in path.segments() {
            let parts = (segment.arclen(0.1) / 4.0).ceil().max(1.0);
            points.extend((0..=parts as usize).map(|part| segment.eval(part as f64 / parts)));
        }
    }
    points
}

/// The cells of an endless grid that points lie in, one direction: those within reach of a boundary
/// count for both sides.
fn cells(at: f64, offset: f64, step: f64) -> [i64; 2] {
    [at - CLOSELY, at + CLOSELY].map(|at| ((at - offset) / step).floor() as i64)
}

/// Whether cells hang together by their sides.
fn hang_together(cells: &BTreeSet<(i64, i64)>) -> bool {
    let mut reached: Vec<(i64, i64)> = cells.first().copied().into_iter().collect();
    let mut left = cells.clone();
    left.pop_first();
    while let Some((column, row)) = reached.pop() {
        for next in [
            (column + 1, row),
            (column - 1, row),
            (column, row + 1),
            (column, row - 1),
        ] {
            if left.remove(&next) {
                reached.push(next);
            }
        }
    }
    left.is_empty()
}

/// The fewest windows of one grid over an island, by trying its places.
fn fewest(island: &Island, window: Size, overlap: f64) -> usize {
    let points = points(island);
    let must = island.must_show.iter().map(mark_bounds);
    let bounds = must.reduce(|a, b| a.union(b)).unwrap();
    if bounds.width() <= window.width && bounds.height() <= window.height {
        return 1;
    }
    let (across, down) = (window.width - overlap, window.height - overlap);
    let offsets = |step: f64| {
        (0..)
            .map(|n| f64::from(n) * STEP)
            .take_while(move |at| *at < step)
    };
    let each = |step: f64, at: fn(&Point) -> f64| -> Vec<Vec<[i64; 2]>> {
        let of = |offset| points.iter().map(|p| cells(at(p), offset, step)).collect();
        offsets(step).map(of).collect()
    };
    let (columns, rows) = (each(across, |p| p.x), each(down, |p| p.y));
    let mut fewest = usize::MAX;
    for column in &columns {
        for row in &rows {
            let mut found = BTreeSet::new();
            let mut last = None;
            for (x, y) in column.iter().zip(row) {
                if last == Some((x, y)) {
                    continue;
                }
                last = Some((x, y));
                found.extend([(x[0], y[0]), (x[0], y[1]), (x[1], y[0]), (x[1], y[1])]);
                if found.len() >= fewest {
                    break;
                }
            }
            if found.len() < fewest && hang_together(&found) {
                fewest = found.len();
            }
        }
    }
    fewest
}

/// The fewest sheets for a pattern, any way to print it and any way that the paper lies.
fn fewest_sheets<'g>(ways: impl Iterator<Item = &'g Geometry>, setup: &Setup) -> usize {
    let windows = [PageOrientation::Portrait, PageOrientation::Landscape].map(|orientation| {
        let setup = Setup {
            orientation,
            ..setup.clone()
        };
        frame_size(&setup).unwrap()
    });
    let sheets = |way: &Geometry| {
        windows.map(|window| {
            let islands = way.islands.iter();
            let each = islands.map(|island| fewest(island, window, setup.overlap));
            each.fold(0, usize::saturating_add)
        })
    };
    ways.flat_map(sheets).min().unwrap()
}

fn definition() -> impl Strategy<Value = String> {
    let opening = (
        0_usize..4,
        12.0..140.0_f64,
        -420.0..420.0_f64,
        30.0..260.0_f64,
    );
    let locator = (
        10.0..990.0_f64,
        5.0..390.0_f64,
        prop_oneof![Just(0.0), 4.0..14.0_f64],
    );
    let bow = prop_oneof![Just(0.0), Just(-9.0)];
    (
        prop::collection::vec(opening, 1..4),
        prop::collection::vec(locator, 0..5),
        any::<bool>(),
        any::<bool>(),
        bow,
    )
        .prop_map(|(openings, locators, turned, kept, bow)| {
            let mut tables = String::new();
            for (i, (family, size, x, depth)) in openings.into_iter().enumerate() {
                let side = if x < 0.0 { "left" } else { "right" };
                let (x, depth) = (x.abs(), if family == 0 { 0.0 } else { depth });
                let (shape, with) = match family {
                    0 => ("notch", format!("width = {size:.1}, depth = {:.1}, corner_radius = 5", size * 0.8)),
                    1 => ("window", format!("width = {size:.1}, height = {:.1}, corner_radius = 5", size * 0.9)),
                    2 => ("slot", format!("length = {size:.1}, width = {:.1}", size * 0.4)),
                    _ => ("round-hole", format!("diameter = {:.1}", size * 0.4)),
                };
                tables += &format!(
                    "[[opening]]\nname = \"opening {i}\"\nshape = \"{shape}\"\nwith = {{ {with} }}\ncentre_offset = \"{x:.1} mm {side}\"\nfrom_datum = {depth:.1}\n"
                );
            }
            for (i, (across, depth, diameter)) in locators.into_iter().enumerate() {
                tables += &format!("[[locator]]\nname = \"feature {i}\"\nacross = {across:.1}\nfrom_datum = {depth:.1}\n");
                if diameter > 0.0 {
                    tables += &format!("diameter = {diameter:.1}\n");
                }
            }
            if kept {
                tables += "[[keep_out]]\nname = \"loom\"\nguards = \"wiring\"\nshape = \"slot\"\nwith = { length = 70, width = 14 }\ncentre_offset = \"20 mm left\"\nfrom_datum = 300\ndistance = 0\n";
            }
            let toml = under_panel(1000.0, 420.0, &tables);
            let edge = format!("page_up = \"front\"\nedge = [[0, 0], [500, {bow}], [1000, 0]]\n");
            let toml = if bow < 0.0 { toml.replace("page_up = \"front\"\n", &edge) } else { toml };
            if turned {
                toml.replace("page_up = \"front\"", "page_up = \"rear\"")
            } else {
                toml
            }
        })
}

/// Lettering clear of all else and whole in its rooms, on no more sheets than the geometry needs.
///
/// # Errors
/// What fails, for a property test.
pub(crate) fn assert_good_sheets(
    pattern: &Pattern,
    paper: &str,
    what: &str,
) -> Result<SheetSet, TestCaseError> {
    let setup = Setup::new(Paper::parse(paper).unwrap());
    let ways = ways(pattern, setup.ways());
    let geometries = ways.iter().map(|way| -> &Geometry { way.borrow() });
    let least = fewest_sheets(geometries, &setup);
    let fails = |error: String| TestCaseError::fail(format!("{error}\n{what}"));
    let (plan, way) = Plan::best(ways, &setup).map_err(|error| fails(error.to_string()))?;
    let drawing =
        draw_in(pattern, &way, &plan.rooms()).map_err(|error| fails(error.to_string()))?;
    let set = sheets_on(&plan, &drawing, &setup).map_err(|error| fails(error.to_string()))?;
    assert_clear(&drawing, what);
    assert_in_rooms(&drawing, &set, what);
    let count = work(&set).len();
    prop_assert!(count <= least, "{count} sheets, {least} would do\n{what}");
    Ok(set)
}

#[test]
fn lettering_stands_in_rooms_and_sheets_are_the_fewest() {
    let paper = prop::sample::select(vec!["a4", "letter", "a3"]);
    let cases = (definition(), paper);
    hold(500, 0.6, cases, |(toml, paper)| {
        let Some(pattern) = solved_unless_in_pieces(&toml)? else {
            return Ok(Came::Refused);
        };
        assert_good_sheets(&pattern, paper, &format!("{paper}\n{toml}"))?;
        Ok(Came::Through)
    });
}

/// Work sheets of a demo on A4.
fn sheets_of_demo(name: &str) -> usize {
    let path = crate::common::root().join(format!("shapes/demo/{name}.toml"));
    let text = std::fs::read_to_string(path).unwrap();
    let spec = PatternSpec::read(&Source::new("demo.toml", text)).unwrap();
    let pattern = trimloft::solve::solve(&spec, &shipped()).unwrap();
    let setup = Setup::new(Paper::parse("a4").unwrap());
    work(&trimloft::layout::sheets_of(&pattern, &setup).unwrap()).len()
}

#[test]
fn demos_waste_no_paper() {
    let counts = ["under-panel", "fascia-socket", "heat-shield", "fascia-wide"].map(sheets_of_demo);
    let most = [1, 2, 1, 5];
    assert!(
        counts.iter().zip(&most).all(|(is, most)| is <= most),
        "{counts:?}"
    );
}

#[test]
fn openings_far_apart_are_islands_unless_joined() {
    let notch = |name: &str, side: &str| {
        format!(
            "[[opening]]\nname = \"{name}\"\nshape = \"notch\"\nwith = {{ width = 60, depth = 60, corner_radius = 8 }}\ncentre_offset = \"500 mm {side}\"\nfrom_datum = 0\n"
        )
    };
    let mut tables = notch("one", "left") + &notch("other", "right");
    for (name, across, depth) in [
        ("A", 240, 50),
        ("B", 360, 90),
        ("C", 1240, 50),
        ("D", 1360, 90),
    ] {
        tables += &format!(
            "[[locator]]\nname = \"{name}\"\nacross = {across}\nfrom_datum = {depth}\ndiameter = 8\n"
        );
    }
    let toml = under_panel(1600.0, 400.0, &tables);
    let spec = PatternSpec::read(&Source::new("two.toml", toml)).unwrap();
    let mut setup = Setup::new(Paper::parse("a4").unwrap());
    let count = |setup: &Setup| {
        // Proven as it is written: each island laid by its own marks.
        let pages = produced_on(&spec, setup).pages;
        pages.iter().filter(|kind| **kind == PageKind::Work).count()
    };
    assert_eq!(count(&setup), 2);
    setup.joined = true;
    assert!(count(&setup) >= 5, "{}", count(&setup));
}

/// One locator and the datum edge with the centreline lay a pattern: a second locator at the panel's
/// other end costs no sheets.
#[test]
fn a_locator_far_off_costs_no_sheets() {
    let tables = r#"
[[locator]]
name = "near"
across = 940
from_datum = 300
diameter = 12
[[locator]]
name = "far"
across = 99
from_datum = 560
[[opening]]
name = "hole"
shape = "round-hole"
with = { diameter = 55 }
centre_offset = "43 mm right"
from_datum = 200
[[opening]]
name = "notch"
shape = "notch"
with = { width = 50, depth = 30, corner_radius = 6 }
centre_offset = "50 mm left"
from_datum = 0
"#;
    let toml = under_panel(1880.0, 645.0, tables);
    let spec = PatternSpec::read(&Source::new("far.toml", toml)).unwrap();
    let setup = Setup::new(Paper::parse("a3").unwrap());
    let product = produced_on(&spec, &setup);
    let work = product.pages.iter().filter(|kind| **kind == PageKind::Work);
    assert_eq!(work.count(), 1);
}
