//! The sheet count, and where joins fall.

use super::sample::{panel, stroke};
use crate::draw::ink::{Island, Layer, Line, Mark, Width};
use crate::layout::grid::windows_needed;
use crate::layout::ink::{InkMap, holds};
use crate::layout::tiling::tile;
use kurbo::{Rect, Shape, Size};
use proptest::prelude::*;

fn boxes_of(rects: &[Rect]) -> InkMap {
    InkMap {
        cut: vec![],
        boxes: rects.to_vec(),
        upright: vec![],
        level: vec![],
        bounds: rects.iter().copied().reduce(|a, b| a.union(b)).unwrap(),
    }
}

fn keeping(places: &[Rect]) -> Island {
    Island {
        places: places.to_vec(),
        ..Island::default()
    }
}

fn outline_ink(width: f64, height: f64) -> InkMap {
    let path = Rect::new(0.0, 0.0, width, height).to_path(0.1);
    let mut ink = InkMap::of(&[Mark::stroke(
        Layer::Cut,
        path,
        Line::continuous(Width::Fine),
    )])
    .unwrap();
    // The rule is for the length of the work itself: take the line's half width off again.
    ink.bounds = ink.bounds.inset(-Width::Fine.mm() / 2.0);
    ink
}

#[test]
fn counts_are_those_of_the_rule() {
    // 1200 x 400 mm, margin 10, overlap 10, usable = sheet less margins: worked from
    // `ceil((L - overlap) / (usable - overlap))`.
    for (usable, across, down) in [
        ((190.0, 277.0), 7, 2),
        ((277.0, 190.0), 5, 3),
        ((400.0, 277.0), 4, 2),
    ] {
        assert_eq!(windows_needed(1200.0, usable.0, 10.0), across);
        assert_eq!(windows_needed(400.0, usable.1, 10.0), down);
        // Solid ink leaves no sheet to drop.
        let solid = boxes_of(&[Rect::new(0.0, 0.0, 1200.0, 400.0)]);
        let (grid, cost) = tile(
            &solid,
            &Island::default(),
            Size::new(usable.0, usable.1),
            10.0,
        );
        assert_eq!(
            (grid.columns, grid.rows, cost.sheets),
            (across, down, across * down)
        );
    }
    assert_eq!(windows_needed(190.0, 190.0, 10.0), 1);
    assert_eq!(windows_needed(190.1, 190.0, 10.0), 2);
    assert_eq!(windows_needed(370.0, 190.0, 10.0), 2);
}

#[test]
fn sheets_without_ink_are_left_out() {
    // An outline of 1200 x 1000 mm has an empty middle.
    let ink = outline_ink(1200.0, 1000.0);
    let (grid, cost) = tile(&ink, &Island::default(), Size::new(277.0, 190.0), 10.0);
    assert_eq!(cost.sheets, grid.kept.len());
    assert!(cost.sheets < 5 * 6, "{}", cost.sheets);
}

#[test]
fn islands_are_joined_by_sheets_between_them() {
    let corner = |x: f64, y: f64| Rect::new(x, y, x + 20.0, y + 20.0);
    let ink = boxes_of(&[corner(0.0, 0.0), corner(900.0, 700.0)]);
    let (grid, _) = tile(&ink, &Island::default(), Size::new(200.0, 200.0), 10.0);
    let mut reached = vec![grid.kept[0]];
    let mut next = 0;
    while next < reached.len() {
        let cell = reached[next];
        for other in &grid.kept {
            let apart = cell.row.abs_diff(other.row) + cell.column.abs_diff(other.column);
            if apart == 1 && !reached.contains(other) {
                reached.push(*other);
            }
        }
        next += 1;
    }
    assert_eq!(reached.len(), grid.kept.len(), "{:?}", grid.kept);
}

#[test]
fn joins_keep_clear_of_what_must_stay_whole() {
    // A hole where the centred grid would put its join: 300 mm on two windows of 190.
    let ink = boxes_of(&[Rect::new(0.0, 0.0, 300.0, 100.0)]);
    let hole = Rect::new(145.0, 40.0, 155.0, 50.0);
    let (grid, cost) = tile(&ink, &keeping(&[hole]), Size::new(190.0, 190.0), 10.0);
    assert_eq!((cost.sheets, cost.lost, cost.crossed), (2, 0, 0));
    let join = grid
        .window_at(grid.kept[0])
        .intersect(grid.window_at(grid.kept[1]));
    assert!(join.x1 < hole.x0 || join.x0 > hole.x1, "{join:?}");
}

#[test]
fn no_line_runs_along_a_join_or_on_the_outer_frame() {
    let line = Line::continuous(Width::Thick);
    let level = |y: f64| stroke(Layer::Cut, (0.0, y), (100.0, y), line);
    // The middle line lies where a centred grid would put its join.
    let ink = InkMap::of(&[level(0.0), level(150.0), level(300.0)]).unwrap();
    let (grid, cost) = tile(&ink, &Island::default(), Size::new(190.0, 190.0), 10.0);
    assert_eq!((cost.sheets, cost.along), (2, 0));
    for cell in &grid.kept {
        let window = grid.window_at(*cell);
        for y in [0.0, 150.0, 300.0] {
            assert!(
                (window.y0 - y).abs() > 2.0 && (window.y1 - y).abs() > 2.0,
                "{window:?} {y}"
            );
        }
    }
}

#[test]
fn a_work_of_one_sheet_is_centred() {
    let ink = InkMap::of(&panel(140.0, 90.0).work).unwrap();
    let (grid, cost) = tile(&ink, &Island::default(), Size::new(190.0, 277.0), 10.0);
    assert_eq!(cost.sheets, 1);
    let off = grid.window_at(grid.kept[0]).center() - ink.bounds.center();
    assert!(off.hypot() < 1e-9, "{off:?}");
}

#[test]
fn ink_of_a_large_outline_leaves_its_middle_free() {
    let line = Line::continuous(Width::Thin);
    let ink = InkMap::of(&[stroke(Layer::Panel, (0.0, 0.0), (500.0, 500.0), line)]).unwrap();
    let off = Rect::new(300.0, 50.0, 320.0, 70.0);
    assert!(
        ink.boxes
            .iter()
            .all(|ink| ink.intersect(off).is_zero_area())
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Every piece of ink lies in printed windows, and there are no more than the rule gives.
    #[test]
    fn all_ink_is_on_some_sheet(
        places in prop::collection::vec((0.0..1500.0_f64, 0.0..900.0_f64, 1.0..60.0_f64, 1.0..60.0_f64), 1..25),
        width in 120.0..500.0_f64,
        height in 120.0..500.0_f64,
        overlap in 5.0..30.0_f64,
    ) {
        let rects: Vec<Rect> = places.iter().map(|(x, y, w, h)| Rect::new(*x, *y, x + w, y + h)).collect();
        let ink = boxes_of(&rects);
        let (grid, cost) = tile(&ink, &keeping(&rects), Size::new(width, height), overlap);
        let most = windows_needed(ink.bounds.width(), width, overlap)
            * windows_needed(ink.bounds.height(), height, overlap);
        prop_assert!(grid.kept.len() <= most, "{} of {most}", grid.kept.len());
        prop_assert_eq!(cost.sheets, grid.kept.len());
        for ink in &rects {
            for step in 0..=16 {
                let (u, v) = (f64::from(step % 5) / 4.0, f64::from(step / 5) / 3.2);
                let point = kurbo::Point::new(ink.x0 + u * ink.width(), ink.y0 + v.min(1.0) * ink.height());
                let dot = Rect::from_points(point, point);
                let shown = grid.kept.iter().any(|cell| holds(grid.window_at(*cell).inflate(1e-6, 1e-6), dot));
                prop_assert!(shown, "{:?} is on no sheet", point);
            }
        }
        let lost = rects.iter().filter(|ink| {
            !grid.kept.iter().any(|cell| holds(grid.window_at(*cell).inflate(1e-6, 1e-6), **ink))
        }).count();
        prop_assert!(lost <= cost.lost as usize, "{} lost, {} told", lost, cost.lost);
    }
}
