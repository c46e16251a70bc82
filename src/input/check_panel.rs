//! Checks of a panel's own values against one another.

use super::problem::Placed;
use super::reading::Reading;
use crate::base::Direction;
use crate::base::words::listed;
use crate::model::panel::{Face, Orientation, OrientationError};

/// How far the ends of a bowed edge may be from the ends of the panel, mm: what a tape is read to.
pub(super) const END_SLACK: f64 = 0.5;

/// The readings of a bowed edge: one past the other, from end to end.
pub(super) fn check_edge(edge: &[Placed<(f64, f64)>], width: f64, reading: &Reading<'_>) {
    let told = |mm: f64| reading.units.get().exact(mm);
    for pair in edge.windows(2) {
        if let [before, after] = pair
            && after.value.0 <= before.value.0
        {
            let message = format!(
                "the tape reading {} does not lie past the one before it, {}",
                told(after.value.0),
                told(before.value.0)
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
                "the {which} reading of `edge` is {}, rise {}: it must be {}, rise {}, within {}",
                told(end.value.0),
                told(end.value.1),
                told(place),
                told(0.0),
                told(END_SLACK)
            );
            let hint = "the rise is measured from the straight line through the edge's two ends";
            reading.report(end.problem(message).hint(hint));
        }
    }
}

/// The three directions of a panel, together; what is wrong is told at the likeliest key.
pub(super) fn check_orientation(
    seen_from: &Placed<Face>,
    datum_edge: &Placed<Direction>,
    page_up: &Placed<Direction>,
    reading: &Reading<'_>,
) {
    let Err(error) = Orientation::new(seen_from.value, datum_edge.value, page_up.value) else {
        return;
    };
    let message = error.to_string();
    reading.report(match error {
        OrientationError::UpAlongLook { seen_from, .. } => {
            let look = seen_from.look();
            let across = words_where(|direction| direction != look && direction != look.opposite());
            let hint = format!("write {}", listed(&across, " or "));
            page_up.problem(message).hint(hint)
        }
        OrientationError::DatumAtSide {
            datum_edge: edge, ..
        } => {
            let problem = datum_edge.problem(message);
            match Orientation::new(seen_from.value, edge, edge) {
                Ok(_) => problem.hint(format!(
                    "or turn the page: `page_up = \"{edge}\"` or `page_up = \"{}\"`",
                    edge.opposite()
                )),
                Err(_) => problem,
            }
        }
    });
}

/// The words of the directions for which that holds.
pub(super) fn words_where(holds: impl Fn(Direction) -> bool) -> Vec<&'static str> {
    let all = Direction::ALL.into_iter();
    all.filter(|direction| holds(*direction))
        .map(Direction::word)
        .collect()
}
