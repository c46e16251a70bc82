//! Areas that no cut may cross or come near.

use super::super::{Finding, FindingId, KeepOut, Measure, Opening, Severity};
use super::{Judged, cut_sides, meet, nearest};
use crate::base::length::Units;
use crate::geometry::outline::Runs;
use crate::input::Guarded;

pub(super) fn findings(judged: &Judged<'_>) -> Vec<Finding> {
    let cuts: Vec<Runs> = judged.openings.iter().map(cut_sides).collect();
    let mut findings = vec![];
    for area in judged.keep_outs {
        let sides = Runs::new(area.outline.sides());
        for (opening, cut) in judged.openings.iter().zip(&cuts) {
            findings.extend(between(area, &sides, (opening, cut), judged.units));
        }
    }
    findings
}

fn between(
    area: &KeepOut,
    sides: &Runs,
    (opening, cut): (&Opening, &Runs),
    units: Units,
) -> Option<Finding> {
    let id = || FindingId::of("keep-out").about(&area.name).opening(opening);
    let guards = area.guards.word();
    if meet(&opening.outline, &area.outline) {
        let mut crossed = Finding::new(
            Severity::Error,
            id(),
            format!(
                "{} crosses `{}`, which guards {guards}",
                opening.called(),
                area.name
            ),
            "move the opening, or look where that area really is",
        )
        .at(area.outline.bounds().center())
        .measured(Measure::Least(0.0));
        crossed.acceptable = area.guards != Guarded::Sensor;
        return Some(crossed);
    }
    let (distance, at) = nearest(cut, sides, area.distance)?;
    let near = Finding::new(
        Severity::Error,
        id(),
        format!(
            "{} comes within {} of `{}`, which guards {guards}; asked for are {}",
            opening.called(),
            units.length(distance),
            area.name,
            area.asked(units)
        ),
        "move the opening, or take care with a guard behind the cut and accept it by its id",
    );
    Some(near.at(at).measured(Measure::Least(distance)))
}
