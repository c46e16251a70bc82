//! Parts in openings that were given outright: whether they pass, and keep their gap.

use super::super::{Clear, Finding, FindingId, Measure, Severity};
use super::Judged;
use crate::base::length::Units;

pub(super) fn findings(judged: &Judged<'_>) -> Vec<Finding> {
    judged
        .spacings
        .iter()
        .filter_map(|clear| finding(clear, judged.units))
        .collect()
}

fn finding(clear: &Clear, units: Units) -> Option<Finding> {
    let id = FindingId::of("part")
        .about(&clear.part)
        .about(&clear.opening);
    if clear.touches() {
        let deep = units.length(-clear.now.distance.min(0.0));
        let message = format!(
            "part `{}` touches the panel in opening `{}`: it reaches {deep} past the cut line",
            clear.part, clear.opening
        );
        let mut touching = Finding::new(
            Severity::Error,
            id,
            message,
            "make the opening larger, or let it follow the part with `around`",
        )
        .at(clear.now.on_opening)
        .measured(Measure::Least(clear.now.distance));
        touching.acceptable = false;
        return Some(touching);
    }
    clear.falls_short().then(|| {
        let message = format!(
            "part `{}` stands {} from the cut line of `{}` and keeps {} when all has moved as \
             far as it may; its gap is {}",
            clear.part,
            units.length(clear.now.distance),
            clear.opening,
            units.length(clear.after_moves.distance),
            units.length(clear.gap)
        );
        Finding::new(
            Severity::Error,
            id,
            message,
            "make the opening larger, let it follow the part with `around`, or accept it by its id",
        )
        .at(clear.now.on_opening)
        .measured(Measure::Least(clear.after_moves.distance))
    })
}
