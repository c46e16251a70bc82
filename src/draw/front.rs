//! What the front page tells: short, in the order that it is needed.

use super::ways::how_to_lay;
use super::{Way, cautions, centre, finding_marks, panel, stance, steps, tape_check};
use crate::draw::ink::Front;
use crate::model::panel::Face;
use crate::solve::Pattern;

/// The front page's words for one way to print a pattern; `numbered` is what found no place on it.
pub(super) fn front(pattern: &Pattern, way: &Way, numbered: Vec<String>) -> Front {
    Front {
        middle: centre::in_front(pattern),
        lay: lay(pattern, way),
        cautions: cautions::cautions(pattern),
        steps: steps::steps(pattern, way),
        checks: tape_check::that_matter(pattern, &way.locators),
        findings: finding_marks::in_front(pattern),
        numbered,
        notes: pattern.identity.notes.clone(),
    }
}

fn lay(pattern: &Pattern, printed: &Way) -> Vec<String> {
    let way = pattern.orientation;
    let mut points = vec![
        format!("Stand {}.", stand(way.seen_from())),
        format!(
            "Head of the sheet to the vehicle's {}, right edge to its own {}.",
            way.page_up().word().to_uppercase(),
            way.page_right().word().to_uppercase(),
        ),
    ];
    let islands = how_to_lay(pattern, printed);
    if islands.is_empty() {
        points.push(by_edge(pattern, printed));
    }
    points.extend(islands);
    if !printed.locators.is_empty() {
        points.push("Cut out the printed holes: the panel's own must show, in the middle.".into());
    }
    if stance::is_told(pattern) {
        points.push("Press it down from the centreline outwards: no hollow under it.".into());
    }
    points
}

/// What is done at the datum edge, of which a trim may take some or all.
fn by_edge(pattern: &Pattern, way: &Way) -> String {
    let edge = pattern.orientation.datum_edge();
    let tab = match panel::tabs(pattern, way.work).as_slice() {
        [] if way.locators.is_empty() => {
            format!("No tab, as the {edge} edge goes: lay the sheet's line on it.")
        }
        [] => format!("No tab, as the {edge} edge goes: lay the sheet by its printed holes."),
        [own] if !panel::slits(pattern, *own).is_empty() => {
            format!("Cut the tab where it is dashed, and fold it over the {edge} edge.")
        }
        [_] => format!("Fold the tab over the {edge} edge."),
        _ => format!("Fold the tabs over what stays of the {edge} edge."),
    };
    tab + " The ticks of the centreline on your marks."
}

/// Where the reader stands, in words.
pub(super) fn stand(face: Face) -> &'static str {
    match face {
        Face::Behind => "behind the vehicle, looking to its front",
        Face::Front => "in front of the vehicle, looking to its rear",
        Face::Below => "under the panel, looking up",
        Face::Above => "over the panel, looking down",
        Face::Left => "at the vehicle's left, looking to its right",
        Face::Right => "at the vehicle's right, looking to its left",
    }
}
