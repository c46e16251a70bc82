//! Checks of a pattern file that need more than one of its values.

use super::pattern::{PanelSpec, PatternSpec};
use super::problem::{Placed, Problem};
use super::reader::Reading;
use crate::drawing::fixed;
use crate::panel::{Direction, Orientation, OrientationError};
use crate::words::{listed, shown};
use std::collections::HashMap;

/// How far the ends of a bowed edge may be from the ends of the panel, mm: what a tape is read to.
const END_SLACK: f64 = 0.5;

/// Reports what does not go together in a pattern whose values are each in order.
pub(super) fn check(pattern: &PatternSpec, reading: &Reading<'_>) {
    let locators = pattern.locators.iter().map(|locator| &locator.name);
    check_names(locators, "locators", reading);
    let openings = pattern.openings.iter().map(|opening| &opening.name);
    check_names(openings, "openings", reading);
    if let Some(width) = pattern.panel.width {
        check_edge(&pattern.panel.edge, width, reading);
    }
    check_locators(pattern, reading);
    match pattern.panel.orientation() {
        Ok(orientation) => check_sides(pattern, orientation, reading),
        Err(error) => reading.report(orientation_problem(&pattern.panel, error)),
    }
}

/// Every name of a kind once.
pub(super) fn check_names<'n>(
    names: impl Iterator<Item = &'n Placed<String>>,
    kind: &str,
    reading: &Reading<'_>,
) {
    let mut seen = HashMap::new();
    for name in names {
        let Some(first) = seen.insert(name.value.as_str(), name) else {
            continue;
        };
        let mut problem = name.problem(format!("`{}` names two {kind}", shown(&name.value)));
        if let Some(span) = &first.span {
            let line = reading.line_of(span.start);
            problem = problem.hint(format!("the other is named in line {line}"));
        }
        reading.report(problem);
    }
}

fn check_edge(edge: &[Placed<(f64, f64)>], width: f64, reading: &Reading<'_>) {
    for pair in edge.windows(2) {
        if let [before, after] = pair
            && after.value.0 <= before.value.0
        {
            let message = format!(
                "the tape reading {} does not lie past the one before it, {}",
                mm(after.value.0),
                mm(before.value.0)
            );
            reading.report(after.problem(message));
        }
    }
    let ends = [(edge.first(), 0.0, "first"), (edge.last(), width, "last")];
    for (end, place, which) in ends {
        if let Some(end) = end
            && ((end.value.0 - place).abs() > END_SLACK || end.value.1.abs() > END_SLACK)
        {
            let message = format!(
                "the {which} reading of `edge` is {}, rise {}: it must be {}, rise 0 mm, within {}",
                mm(end.value.0),
                mm(end.value.1),
                mm(place),
                mm(END_SLACK)
            );
            let hint = "the rise is measured from the straight line through the edge's two ends";
            reading.report(end.problem(message).hint(hint));
        }
    }
}

fn check_locators(pattern: &PatternSpec, reading: &Reading<'_>) {
    for locator in &pattern.locators {
        let name = shown(&locator.name.value);
        if let Some(width) = pattern.panel.width
            && !(0.0..=width).contains(&locator.across.value)
        {
            let message = format!(
                "locator `{name}` lies {} across, off the panel: 0 mm to {} is allowed",
                mm(locator.across.value),
                mm(width)
            );
            reading.report(locator.across.problem(message));
        }
        if let Some(height) = pattern.panel.height
            && locator.from_datum.value > height
        {
            let message = format!(
                "locator `{name}` lies {} from the datum edge, off the panel: at most {} is allowed",
                mm(locator.from_datum.value),
                mm(height)
            );
            reading.report(locator.from_datum.problem(message));
        }
    }
}

/// Sides must run along the datum edge.
fn check_sides(pattern: &PatternSpec, orientation: Orientation, reading: &Reading<'_>) {
    let right = orientation.frame_right();
    let along = Direction::ALL
        .into_iter()
        .filter(|direction| *direction == right || *direction == right.opposite())
        .map(Direction::word)
        .collect::<Vec<_>>();
    for opening in &pattern.openings {
        let offset = &opening.centre_offset;
        if let Some(side) = offset.value.towards
            && orientation.sign_along_edge(side).is_none()
        {
            let message = format!(
                "`{side}` does not run along the datum edge: {} do",
                listed(&along, " and ")
            );
            reading.report(offset.problem(message));
        }
    }
}

/// An orientation error at the key that is most likely wrong.
fn orientation_problem(panel: &PanelSpec, error: OrientationError) -> Problem {
    let message = error.to_string();
    match error {
        OrientationError::UpAlongLook { seen_from, .. } => {
            let look = seen_from.look();
            let across = Direction::ALL
                .into_iter()
                .filter(|direction| *direction != look && *direction != look.opposite())
                .map(Direction::word)
                .collect::<Vec<_>>();
            let hint = format!("write {}", listed(&across, " or "));
            panel.page_up.problem(message).hint(hint)
        }
        OrientationError::DatumAtSide { datum_edge, .. } => {
            let problem = panel.datum_edge.problem(message);
            let turned = Orientation::new(panel.seen_from.value, datum_edge, datum_edge);
            match turned {
                Ok(_) => problem.hint(format!(
                    "or turn the page: `page_up = \"{datum_edge}\"` or `page_up = \"{}\"`",
                    datum_edge.opposite()
                )),
                Err(_) => problem,
            }
        }
    }
}

fn mm(length: f64) -> String {
    format!("{} mm", fixed(length, 3))
}
