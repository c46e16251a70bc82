//! Openings in a heat shield larger than their parts ask for.

use super::super::opening::edge_below;
use super::super::{Clearances, Finding, FindingId, Measure, Opening, Severity};
use super::Judged;
use crate::base::fixed;
use crate::geometry::outline::{Outline, intersection, union};
use crate::solve::follow::open_at_edge;

/// How much larger than its parts ask for an opening in a heat shield may be, a share: a design
/// value, no source.
const LARGER: f64 = 0.1;

/// A shield with too large a hole is a fire hazard: NHTSA recall campaign 92V144.
pub(super) fn findings(judged: &Judged<'_>) -> Vec<Finding> {
    if !judged.panel.is_metal() {
        return vec![];
    }
    judged
        .openings
        .iter()
        .filter_map(|opening| excess(judged, opening))
        .collect()
}

fn excess(judged: &Judged<'_>, opening: &Opening) -> Option<Finding> {
    let asked = asked(judged, opening)?;
    let share = opening.outline.area() / asked - 1.0;
    (share > LARGER).then(|| {
        Finding::new(
            Severity::Warning,
            FindingId::of("larger than asked").opening(opening),
            format!(
                "opening `{}` is {} % larger than its parts and their gaps ask for",
                opening.name(),
                fixed(share * 100.0, 0)
            ),
            "a shield with too large a hole is a fire hazard: `follow = \"contour\"` cuts no more \
             than is needed",
        )
        .at(opening.outline.bounds().center())
        .measured(Measure::Most(share))
    })
}

/// The area that the parts in a piece of an opening and their clearances ask for, mm²; none where
/// nobody told of a part.
fn asked(judged: &Judged<'_>, opening: &Opening) -> Option<f64> {
    let name = opening.name();
    let clears = judged.spacings.iter().filter(|clear| clear.opening == name);
    let mut outlines: Vec<Outline> = clears
        .filter_map(|clear| {
            let part = judged.parts.iter().find(|part| part.name == clear.part)?;
            let thickness = judged.panel.thickness.unwrap_or(0.0);
            part.grown(clear.asked, thickness).ok()
        })
        .flatten()
        .collect();
    if outlines.is_empty() {
        return None;
    }
    let has_sides = |one: &Clearances| one.opening == opening.name() && !one.sides.is_empty();
    if judged.clearances.iter().any(has_sides) {
        return None;
    }
    if opening.has_trim() || !opening.holes.is_empty() {
        return None;
    }
    if opening.is_open() {
        let foot = edge_below(&judged.panel.edge, opening.outline.bounds());
        let to_edge = |outline: &Outline| open_at_edge(outline, foot).ok();
        outlines = outlines.iter().filter_map(to_edge).collect();
    }
    let within_panel = union(&outlines)
        .into_iter()
        .flat_map(|region| intersection(&region.outer, &judged.panel.outline));
    // What parts in other pieces of the same opening ask for is cut there.
    let here = within_panel.filter(|asked| !intersection(asked, &opening.outline).is_empty());
    let area: f64 = here.map(|outline| outline.area()).sum();
    (area > 0.0).then_some(area)
}
