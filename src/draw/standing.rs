//! What stands at its place whatever else is drawn, and what of it the sheets must show.

use super::printed::{self, Shown};
use super::{View, around, locator, opening, panel, ties};
use crate::draw::ink::{Geometry, Island, Layer, Line as Pen, Mark, Width, mark_bounds};
use crate::input::Extent;
use crate::solve::{Locator, Opening, Pattern};
use kurbo::{Point, Rect};

/// Datum edge shown beside the mouth of an opening, mm.
const BESIDE_MOUTH: f64 = 8.0;

/// Centreline shown from its foot, mm.
const FOOT: f64 = 10.0;

/// All marks that are drawn first, and what the sheets of each island must show of them.
pub(super) fn standing(
    pattern: &Pattern,
    view: View,
    work: Rect,
    shown: &[Shown],
    locators: &[Locator],
) -> Geometry {
    let keep_outs = printed::keep_outs(pattern);
    let mut marks = panel::edges(pattern, view, work);
    marks.extend(panel::tab(pattern, view, work));
    marks.extend(panel::centreline(pattern, view, work));
    for opening in &pattern.openings {
        marks.extend(opening::cut_line(opening, view));
        marks.extend(opening::rough_cut(opening, view));
        marks.extend(opening::relief(opening, view));
        marks.extend(opening::axes(opening, view));
    }
    let features = locators.iter().chain(printed::holes(pattern));
    marks.extend(features.flat_map(|own| locator::feature(own, view)));
    marks.extend(around::parts(pattern, view));
    marks.extend(ties::crosses(pattern, view));
    marks.extend(keep_outs.iter().map(|area| around::keep_out(area, view)));
    marks.extend(printed::features(pattern).map(|own| around::feature(own, view)));
    marks.extend(pattern.lines.iter().map(|line| around::line(line, view)));
    let mut islands: Vec<Island> = shown
        .iter()
        .map(|shown| island(pattern, view, work, shown, locators))
        .collect();
    if pattern.panel.extent == Extent::Panel
        && let [whole] = islands.as_mut_slice()
    {
        whole.must_show = marks.clone();
    }
    Geometry {
        marks,
        islands,
        left_out: vec![],
    }
}

fn island(
    pattern: &Pattern,
    view: View,
    work: Rect,
    shown: &Shown,
    locators: &[Locator],
) -> Island {
    let mut island = Island::default();
    let openings = || shown.openings.iter().map(|index| &pattern.openings[*index]);
    for opening in openings() {
        island.must_show.extend(opening::cut_line(opening, view));
        island.must_show.extend(opening::relief(opening, view));
        island.must_show.extend(mouth(pattern, opening, view));
        island.openings.push(view.rect(opening.outline.bounds()));
        island.places.extend(opening::keep_whole(opening, view));
        if shown.datum_edge {
            let bounds = opening.outline.bounds();
            let (from, to) = (bounds.x0 - BESIDE_MOUTH, bounds.x1 + BESIDE_MOUTH);
            island.must_show.extend(datum(pattern, view, from, to));
        }
    }
    let lines = shown.lines.iter().map(|index| &pattern.lines[*index]);
    island
        .must_show
        .extend(lines.map(|line| around::line(line, view)));
    for index in &shown.locators {
        let own = &locators[*index];
        island.must_show.extend(locator::feature(own, view));
        island.places.push(locator::keep_whole(own, view));
    }
    if shown.centreline {
        island.must_show.extend(panel::foot(pattern, view, FOOT));
    }
    if let Some(end) = shown.end {
        let inward = if end < 0.0 { FOOT } else { -FOOT };
        island
            .must_show
            .extend(datum(pattern, view, end, end + inward));
        let foot = Point::new(end, pattern.panel.edge.at(end));
        let up = Point::new(end, foot.y + FOOT);
        island.must_show.push(panel::panel_edge(view, &[foot, up]));
    }
    island.wanted = wanted(pattern, view, work, shown, &island);
    island
}

/// The datum edge at both sides of an opening's mouth.
fn mouth(pattern: &Pattern, opening: &Opening, view: View) -> Vec<Mark> {
    if !opening.is_open() {
        return vec![];
    }
    let bounds = opening.outline.bounds();
    let sides = [
        (bounds.x0 - BESIDE_MOUTH, bounds.x0),
        (bounds.x1, bounds.x1 + BESIDE_MOUTH),
    ];
    sides
        .into_iter()
        .flat_map(|(from, to)| datum(pattern, view, from, to))
        .collect()
}

/// A stretch of the datum edge, as far as the panel goes.
fn datum(pattern: &Pattern, view: View, from: f64, to: f64) -> Option<Mark> {
    let (from, to) = (from.min(to), from.max(to));
    let (from, to) = panel::along_edge(pattern, Rect::new(from, 0.0, to, 0.0));
    (to - from > 0.1).then(|| {
        let points = pattern.panel.edge.points(from, to);
        Mark::stroke(
            Layer::Fold,
            view.path(&points),
            Pen::continuous(Width::Medium),
        )
    })
}

/// The tab under the openings, the ends of the centreline, areas to keep out of, and parts.
fn wanted(pattern: &Pattern, view: View, work: Rect, shown: &Shown, island: &Island) -> Vec<Rect> {
    let must = island.must_show.iter().map(mark_bounds);
    let Some(must) = must.reduce(|a, b| a.union(b)).map(|must| view.rect(must)) else {
        return vec![];
    };
    let (x0, x1) = panel::along_edge(pattern, must);
    let lowest = pattern.panel.edge.lowest(x0, x1.max(x0 + 0.1));
    let tab = Rect::new(x0, lowest - panel::TAB, x1, lowest);
    let at_centre = |y: f64| {
        let at = Point::new(pattern.centreline.x_at(y), y);
        Rect::from_center_size(at, (2.0 * panel::TICK, 1.0))
    };
    let foot = pattern.panel.edge.at(0.0) - panel::TAB - panel::CENTRELINE_PAST;
    let keep_outs = printed::keep_outs(pattern);
    let areas = keep_outs.iter().map(|area| area.outline.bounds());
    let parts = pattern.parts.iter().map(|part| part.outline.bounds());
    let mut wanted = vec![tab];
    if shown.centreline {
        wanted.extend([at_centre(foot), at_centre(work.y1 + panel::CENTRELINE_PAST)]);
    }
    let near = must.inflate(printed::NEAR_WORK, printed::NEAR_WORK);
    wanted.extend(areas.chain(parts).filter(|area| area.overlaps(near)));
    wanted.into_iter().map(|place| view.rect(place)).collect()
}
