//! What of the panel is printed.

use crate::input::Extent;
use crate::solve::{Feature, KeepOut, Locator, Opening, Pattern};
use kurbo::{Point, Rect};

/// How far the work is printed past its openings and locators, mm.
const AROUND_WORK: f64 = 14.0;

/// Locators printed, at least, where the panel has them: two place a pattern.
const NEAREST_LOCATORS: usize = 2;

/// How far a keep-out area may lie from the work to be printed with it, mm.
pub(super) const NEAR_WORK: f64 = 80.0;

/// What an island holds, by places in the pattern's lists.
#[derive(Debug, Clone, Default)]
pub(super) struct Shown {
    pub(super) openings: Vec<usize>,
    pub(super) lines: Vec<usize>,
    /// Places among the locators that are printed.
    pub(super) locators: Vec<usize>,
    /// It is laid by the datum edge.
    pub(super) datum_edge: bool,
    /// It is laid by the centreline.
    pub(super) centreline: bool,
    /// It is laid by this end of the panel, panel frame.
    pub(super) end: Option<f64>,
}

/// The locators that are printed: those nearest to the work, one on each side where there are.
pub(super) fn locators(pattern: &Pattern) -> Vec<Locator> {
    if pattern.panel.extent == Extent::Panel {
        return pattern.locators.clone();
    }
    let Some(openings) = pattern
        .openings
        .iter()
        .map(|opening| opening.outline.bounds())
        .reduce(|a, b| a.union(b))
    else {
        return vec![];
    };
    let distance = |locator: &Locator| {
        let nearest = Point::new(
            locator.at.x.clamp(openings.x0, openings.x1),
            locator.at.y.clamp(openings.y0, openings.y1),
        );
        locator.at.distance(nearest)
    };
    let mut order: Vec<usize> = (0..pattern.locators.len()).collect();
    order.sort_by(|a, b| {
        distance(&pattern.locators[*a]).total_cmp(&distance(&pattern.locators[*b]))
    });
    let middle = openings.center().x;
    let mut chosen: Vec<usize> = vec![];
    for side in [-1.0, 1.0] {
        chosen.extend(
            order
                .iter()
                .copied()
                .find(|i| (pattern.locators[*i].at.x - middle) * side > 0.0),
        );
    }
    for i in order {
        if chosen.len() < NEAREST_LOCATORS && !chosen.contains(&i) {
            chosen.push(i);
        }
    }
    chosen.extend(nearest_to_cuts(pattern, pattern.openings.iter()));
    chosen.sort_unstable();
    chosen.dedup();
    chosen
        .into_iter()
        .map(|i| pattern.locators[i].clone())
        .collect()
}

/// The locators nearest to what is cut, by their places in the list: a cut is laid by the nearest,
/// whichever that is. See `Pattern::farthest_cut`.
pub(super) fn nearest_to_cuts<'a>(
    pattern: &Pattern,
    openings: impl Iterator<Item = &'a Opening>,
) -> Vec<usize> {
    let cuts = openings.flat_map(|opening| opening.outline.vertices());
    let nearest = cuts.filter_map(|cut| {
        let away = |i: &usize| pattern.locators[*i].at.distance(cut.point);
        (0..pattern.locators.len()).min_by(|a, b| away(a).total_cmp(&away(b)))
    });
    let mut chosen: Vec<usize> = nearest.collect();
    chosen.sort_unstable();
    chosen.dedup();
    chosen
}

/// The part of the panel that is printed, panel frame.
pub(super) fn work_box(pattern: &Pattern, shown: &[Shown], locators: &[Locator]) -> Rect {
    if let (Extent::Panel, Some(size)) = (pattern.panel.extent, pattern.panel.size) {
        return Rect::new(size.x0, size.y0, size.x1, size.y1);
    }
    let openings = pattern
        .openings
        .iter()
        .map(|opening| opening.outline.bounds());
    let features = locators.iter().map(|locator| {
        let radius = locator.diameter.unwrap_or(0.0) / 2.0;
        Rect::from_center_size(locator.at, (2.0 * radius, 2.0 * radius))
    });
    let guarded = keep_outs(pattern);
    let guarded = guarded.iter().map(|area| area.outline.bounds());
    let lines = pattern.lines.iter().flat_map(|line| &line.points);
    let lines = lines.map(|point| Rect::from_points(*point, *point));
    let places = shown.iter().flat_map(|own| {
        let centre = own.centreline.then_some(Point::ZERO);
        let end = own.end.map(|x| Point::new(x, pattern.panel.edge.at(x)));
        centre.into_iter().chain(end)
    });
    let places = places.map(|point| Rect::from_points(point, point));
    let all = openings
        .chain(features)
        .chain(guarded)
        .chain(lines)
        .chain(places)
        .reduce(|all, one| all.union(one))
        .unwrap_or_default();
    Rect::new(
        all.x0 - AROUND_WORK,
        all.y0.min(0.0),
        all.x1 + AROUND_WORK,
        all.y1 + AROUND_WORK,
    )
}

/// The keep-out areas that are printed: with the whole panel all of them, else those that lie near
/// enough to an opening.
pub(super) fn keep_outs(pattern: &Pattern) -> Vec<&KeepOut> {
    let areas = pattern.keep_outs.iter();
    areas
        .filter(|area| is_near(area.outline.bounds(), pattern))
        .collect()
}

/// What stands on the hidden side and is printed, likewise.
pub(super) fn features(pattern: &Pattern) -> impl Iterator<Item = &Feature> {
    let features = pattern.features.iter();
    features.filter(|own| is_near(own.outline.bounds(), pattern))
}

/// The panel's holes that are printed, likewise, besides the locators.
pub(super) fn holes(pattern: &Pattern) -> impl Iterator<Item = &Locator> {
    let holes = pattern.holes.iter();
    holes.filter(|hole| is_near(Rect::from_points(hole.at, hole.at), pattern))
}

fn is_near(place: Rect, pattern: &Pattern) -> bool {
    if pattern.panel.extent == Extent::Panel {
        return true;
    }
    let reach = place.inflate(NEAR_WORK, NEAR_WORK);
    pattern.openings.iter().any(|opening| {
        let shared = opening.outline.bounds().intersect(reach);
        shared.width() > 0.0 && shared.height() > 0.0
    })
}
