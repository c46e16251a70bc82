//! Panel, openings and parts as lines in space, for the pictures that show how they stand.

use crate::geometry::development::{Passage, Space, Surface};
use crate::geometry::outline::Outline;
use crate::solve::{Part, Pattern};
use kurbo::{Point, Rect};

/// A line through points in space.
pub(super) type SpaceLine = Vec<Space>;

/// From place to place along a line over the panel, mm at full size, and the most places that a
/// picture shows apart.
const STEP: f64 = 5.0;
const MOST_PLACES: f64 = 72.0;

/// Places along a straight side of an outline.
const PLACES: usize = 12;

/// How well outlines are followed in pictures, mm at full size.
const FOLLOWED: f64 = 0.5;

/// The part's way and its outline in the plane square to it; none for one that was measured on a
/// panel which is not flat, of which nothing is known off the panel.
pub(super) fn way_of(part: &Part, pattern: &Pattern) -> Option<(Passage, Outline)> {
    match &part.through {
        Some(way) => Some((way.passage, way.section.clone())),
        None if pattern.surface.is_plain() => Some((Passage::square_on(), part.outline.clone())),
        None => None,
    }
}

/// An angle told for the page: the frame is turned where the datum edge lies at the head.
pub(super) fn on_page(radians: f64, pattern: &Pattern) -> f64 {
    if pattern.orientation.datum_at_head() {
        -radians
    } else {
        radians
    }
}

/// The surface about a part, or of the panel as a whole.
pub(super) fn surface_of<'a>(part: Option<&'a Part>, pattern: &'a Pattern) -> &'a Surface {
    part.and_then(|part| part.through.as_ref())
        .map_or(&pattern.surface.surface, |way| &way.surface)
}

/// The panel's own size on the pattern, or room round what is cut.
pub(super) fn extent(pattern: &Pattern) -> Rect {
    let cut = pattern
        .openings
        .iter()
        .map(|opening| opening.outline.bounds())
        .reduce(|a, b| a.union(b))
        .unwrap_or_default();
    pattern.panel.size.unwrap_or_else(|| {
        let roomy = cut.inflate(cut.width(), cut.height());
        Rect::new(roomy.x0, 0.0, roomy.x1, roomy.y1)
    })
}

/// A straight line on the pattern, as it lies on one face of the panel, broken at the openings.
pub(super) fn over_panel(
    pattern: &Pattern,
    surface: &Surface,
    (from, to): (Point, Point),
    behind: f64,
) -> Vec<SpaceLine> {
    let places = (from.distance(to) / STEP).ceil().clamp(1.0, MOST_PLACES) as usize;
    let cut = |at: Point| {
        let mut openings = pattern.openings.iter();
        openings.any(|opening| opening.outline.contains(at))
    };
    let mut lines: Vec<SpaceLine> = vec![];
    let mut goes_on = false;
    for k in 0..=places {
        let at = from.lerp(to, k as f64 / places as f64);
        if cut(at) {
            goes_on = false;
            continue;
        }
        let place = surface.on_face(at, behind);
        match lines.last_mut().filter(|_| goes_on) {
            Some(line) => line.push(place),
            None => lines.push(vec![place]),
        }
        goes_on = true;
    }
    lines
}

/// An outline of the pattern as it lies on one face of the panel.
pub(super) fn outline_on(surface: &Surface, outline: &Outline, behind: f64) -> SpaceLine {
    let mut points: SpaceLine = flattened(outline)
        .into_iter()
        .map(|at| surface.on_face(at, behind))
        .collect();
    points.extend(points.first().copied());
    points
}

/// An outline in the plane square to a way, `off` mm along it from where it meets the panel.
pub(super) fn section_at(passage: &Passage, section: &Outline, off: f64) -> SpaceLine {
    let mut points: SpaceLine = flattened(section)
        .into_iter()
        .map(|at| passage.in_space(at) + passage.along() * off)
        .collect();
    points.extend(points.first().copied());
    points
}

/// Points along an outline, straight sides parted too, so that they bend with the panel.
pub(super) fn flattened(outline: &Outline) -> Vec<Point> {
    outline
        .sides()
        .flat_map(|side| {
            let steps = match side.radius() {
                Some(radius) => {
                    let step = 2.0 * libm::acos((1.0 - FOLLOWED / radius).clamp(-1.0, 1.0));
                    (4.0 * libm::atan(side.bulge).abs() / step).ceil().max(1.0) as usize
                }
                None => PLACES,
            };
            (0..steps).map(move |k| side.at(k as f64 / steps as f64))
        })
        .collect()
}
