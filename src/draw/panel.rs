//! The panel's edges, the tab to fold over the datum edge, and the centreline.

use super::View;
use super::dimension::{BESIDE, LabelLine, WORKED_BY};
use crate::base::Direction;
use crate::draw::ink::{Layer, Line as Pen, LineType, Mark, Width};
use crate::solve::Pattern;
use kurbo::{Line, ParamCurveNearest, Point, Rect};

/// How far the tab reaches past the datum edge, mm.
pub(super) const TAB: f64 = 15.0;

/// The narrowest tab beside what is trimmed off the edge, mm: a thumb's width holds it (common
/// practice, no source).
const LEAST_TAB: f64 = 12.0;

/// How far a fold may run beside the edge, mm: paper gives as much (common practice, no source).
const FOLD_WITHIN: f64 = 0.5;

/// Places that are looked at along one fold.
const FOLD_STEPS: u32 = 8;

/// Narrowest piece between two cuts across a tab, mm: a finger's width holds it (common practice, no
/// source).
const NARROWEST_FLAP: f64 = 15.0;

/// The centreline past the tab and past the work, mm.
pub(super) const CENTRELINE_PAST: f64 = 3.0;

/// Half the length of a centreline tick, mm.
pub(super) const TICK: f64 = 5.0;

/// The panel's own edges within the work.
pub(super) fn edges(pattern: &Pattern, view: View, work: Rect) -> Vec<Mark> {
    let (x0, x1) = along_edge(pattern, work);
    let (stays, goes) = pattern.datum_edge_between(x0, x1);
    let points = |(from, to): (f64, f64)| pattern.panel.edge.points(from, to);
    let stays = stays.into_iter().map(|own| {
        let path = view.path(&points(own));
        Mark::stroke(Layer::Fold, path, Pen::continuous(Width::Medium))
    });
    let goes = goes.into_iter().map(|own| panel_edge(view, &points(own)));
    let mut marks: Vec<Mark> = stays.chain(goes).collect();
    let Some(size) = pattern.panel.size else {
        return marks;
    };
    let far = work.y1.min(size.y1);
    for end in [size.x0, size.x1]
        .into_iter()
        .filter(|end| *end >= work.x0 && *end <= work.x1)
    {
        let foot = Point::new(end, pattern.panel.edge.at(end));
        marks.push(panel_edge(view, &[foot, Point::new(end, far)]));
    }
    if size.y1 <= work.y1 {
        marks.push(panel_edge(
            view,
            &[Point::new(x0, size.y1), Point::new(x1, size.y1)],
        ));
    }
    marks
}

/// The stretches of datum edge that have a tab: those that stay and are wide enough to fold over.
pub(super) fn tabs(pattern: &Pattern, work: Rect) -> Vec<(f64, f64)> {
    let (x0, x1) = along_edge(pattern, work);
    let (mut stays, goes) = pattern.datum_edge_between(x0, x1);
    stays.retain(|(from, to)| goes.is_empty() || to - from >= LEAST_TAB);
    stays
}

/// The tabs to fold over the datum edge.
pub(super) fn tab(pattern: &Pattern, view: View, work: Rect) -> Vec<Mark> {
    let tab = |(from, to): (f64, f64)| {
        let edge = pattern.panel.edge.points(from, to);
        let past = |point: &Point| Point::new(point.x, point.y - TAB);
        let mut outline = vec![edge[0]];
        outline.extend(edge.iter().map(past));
        outline.push(edge[edge.len() - 1]);
        let slits = slits(pattern, (from, to)).into_iter().map(|at| {
            let foot = Point::new(at, pattern.panel.edge.at(at));
            vec![foot, past(&foot)]
        });
        let pen = Pen::of(LineType::Dashed, Width::Thin);
        let lines = [outline].into_iter().chain(slits);
        lines
            .map(|line| Mark::stroke(Layer::Fold, view.path(&line), pen))
            .collect::<Vec<Mark>>()
    };
    tabs(pattern, work).into_iter().flat_map(tab).collect()
}

/// Where a tab is cut across so that it folds along an edge that bows: between two cuts the edge is
/// as good as straight. None where it is so all along.
pub(super) fn slits(pattern: &Pattern, (from, to): (f64, f64)) -> Vec<f64> {
    let edge = &pattern.panel.edge;
    let place = |share: f64| from + (to - from) * share;
    let point = |x: f64| Point::new(x, edge.at(x));
    let straight = |pieces: u32, piece: u32| {
        let share = |of: u32| f64::from(piece * FOLD_STEPS + of) / f64::from(pieces * FOLD_STEPS);
        let ends = [0, FOLD_STEPS].map(|of| point(place(share(of))));
        let fold = Line::new(ends[0], ends[1]);
        (1..FOLD_STEPS).all(|of| {
            let at = point(place(share(of)));
            fold.nearest(at, FOLD_WITHIN / 100.0).distance_sq <= FOLD_WITHIN * FOLD_WITHIN
        })
    };
    let most = (((to - from) / NARROWEST_FLAP) as u32).max(1);
    let pieces = (1..most).find(|pieces| (0..*pieces).all(|piece| straight(*pieces, piece)));
    let pieces = pieces.unwrap_or(most);
    (1..pieces)
        .map(|cut| place(f64::from(cut) / f64::from(pieces)))
        .collect()
}

/// The boxes of the tabs in the panel frame, outside the panel however its edge bows.
pub(super) fn tab_places(pattern: &Pattern, work: Rect) -> Vec<Rect> {
    let place = |(from, to): (f64, f64)| {
        let foot = pattern.panel.edge.lowest(from, to);
        Rect::new(from, foot - TAB, to, foot)
    };
    tabs(pattern, work).into_iter().map(place).collect()
}

/// The centreline over the whole work, with a tick at both ends and at the datum edge.
pub(super) fn centreline(pattern: &Pattern, view: View, work: Rect) -> Vec<Mark> {
    let foot = pattern.panel.edge.at(0.0);
    let (from, to) = (foot - TAB - CENTRELINE_PAST, work.y1 + CENTRELINE_PAST);
    let at = |y: f64| Point::new(pattern.centreline.x_at(y), y);
    let mut marks = vec![Mark::stroke(
        Layer::Centreline,
        view.path(&[at(from), at(to)]),
        Pen::of(LineType::LongDashDot, Width::Thin),
    )];
    for y in [from, foot, to] {
        let middle = at(y);
        let tick = [
            Point::new(middle.x - TICK, y),
            Point::new(middle.x + TICK, y),
        ];
        marks.push(Mark::stroke(
            Layer::Centreline,
            view.path(&tick),
            Pen::continuous(Width::Broad),
        ));
    }
    marks
}

/// The centreline's tick at the datum edge, with so much of the line from there.
pub(super) fn foot(pattern: &Pattern, view: View, length: f64) -> [Mark; 2] {
    let foot = pattern.panel.edge.at(0.0);
    let at = |x: f64, y: f64| Point::new(pattern.centreline.x_at(y) + x, y);
    [
        Mark::stroke(
            Layer::Centreline,
            view.path(&[at(0.0, foot), at(0.0, foot + length)]),
            Pen::of(LineType::LongDashDot, Width::Thin),
        ),
        Mark::stroke(
            Layer::Centreline,
            view.path(&[at(-TICK, foot), at(TICK, foot)]),
            Pen::continuous(Width::Broad),
        ),
    ]
}

/// What the centreline is called on the sheet.
pub(super) fn centreline_label(pattern: &Pattern) -> Vec<LabelLine> {
    let mut lines = vec![LabelLine::new(line_name(pattern), BESIDE)];
    if !pattern.centreline.is_measured() {
        lines.push(LabelLine::heavy("ASSUMED: measure first", WORKED_BY));
    } else if let Some(known) = pattern.centreline.uncertainty_at(0.0) {
        lines.push(LabelLine::new(
            format!("known to {}", pattern.units.doubt(known, 1)),
            BESIDE,
        ));
    }
    lines
}

/// The vehicle's plane of symmetry meets a panel at its flank nowhere: offsets there are measured
/// from a line of reference.
pub(super) fn line_name(pattern: &Pattern) -> &'static str {
    match pattern.orientation.frame_right() {
        Direction::Left | Direction::Right => "CENTRELINE",
        _ => "REFERENCE LINE",
    }
}

/// The stretch of datum edge that is printed.
pub(super) fn along_edge(pattern: &Pattern, work: Rect) -> (f64, f64) {
    match pattern.panel.size {
        Some(size) => (work.x0.max(size.x0), work.x1.min(size.x1)),
        None => (work.x0, work.x1),
    }
}

pub(super) fn panel_edge(view: View, points: &[Point]) -> Mark {
    Mark::stroke(
        Layer::Panel,
        view.path(points),
        Pen::continuous(Width::Medium),
    )
}
