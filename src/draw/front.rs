//! What the front page tells: short, in the order that it is needed.

use super::ways::how_to_lay;
use super::{Way, cautions, centre, finding_marks, stance, steps, tape_check};
use crate::draw::ink::Front;
use crate::model::panel::Face;
use crate::solve::Pattern;

/// The front page's words for one way to print a pattern; `numbered` is what found no place on it.
pub(super) fn front(pattern: &Pattern, way: &Way, numbered: Vec<String>) -> Front {
    Front {
        middle: centre::in_front(pattern),
        lay: lay(pattern, way),
        cautions: cautions::cautions(pattern),
        steps: steps::steps(pattern, &way.locators),
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
        points.push(format!(
            "Fold the tab over the {} edge. The ticks of the centreline on your marks.",
            way.datum_edge()
        ));
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
