//! Checks that openings and parts know each other.

use super::clearance::AroundSpec;
use super::opening::{OpeningGiven, OpeningSpec};
use super::part::PartSpec;
use super::reading::Reading;
use super::trim::TrimSpec;
use crate::base::words::{did_you_mean, shown};
use std::collections::HashSet;

/// Every name in `around` is one of those `named` by a part, once in an opening.
pub(super) fn check_around(openings: &[OpeningSpec], named: &[String], reading: &Reading<'_>) {
    for around in worked_out(openings) {
        let mut seen = HashSet::new();
        for name in &around.parts {
            let word = shown(&name.value);
            if !named.contains(&name.value) {
                let problem = name.problem(format!("no part is called `{word}`"));
                let hint = if named.is_empty() {
                    "describe it in a `[[part]]`".into()
                } else {
                    did_you_mean(&name.value, named)
                };
                reading.report_missing(problem.hint(hint));
            } else if !seen.insert(name.value.as_str()) {
                let message = format!("`{word}` is named twice in one opening");
                reading.report(name.problem(message).hint("keep one of the two"));
            }
        }
    }
}

/// Every part is named by an opening that is worked out, where nothing is cut besides: any part may
/// pass through an opening that is given outright, or where a trim falls away.
pub(super) fn check_passage(
    parts: &[PartSpec],
    openings: &[OpeningSpec],
    trims: &[TrimSpec],
    reading: &Reading<'_>,
) {
    check_behind(parts, openings, reading);
    if worked_out(openings).count() < openings.len() || !trims.is_empty() {
        return;
    }
    let through: HashSet<&str> = worked_out(openings)
        .flat_map(|around| &around.parts)
        .map(|name| name.value.as_str())
        .collect();
    for part in parts.iter().filter(|part| part.behind.is_none()) {
        let name = part.name.value.as_str();
        if !through.contains(name) {
            let name = shown(name);
            let message = format!("part `{name}` passes through no opening");
            let hint =
                format!("name it in an `[[opening]]`, as `around = [\"{name}\"]`, or leave it out");
            reading.report_missing(part.name.problem(message).hint(hint));
        }
    }
}

/// What stands behind the panel comes through no opening.
fn check_behind(parts: &[PartSpec], openings: &[OpeningSpec], reading: &Reading<'_>) {
    for name in worked_out(openings).flat_map(|around| &around.parts) {
        let behind = |part: &PartSpec| part.behind.is_some() && part.name.value == name.value;
        if parts.iter().any(behind) {
            let word = shown(&name.value);
            let message =
                format!("part `{word}` stands behind the panel and comes through no opening");
            reading.report(
                name.problem(message)
                    .hint("leave its `behind` out, or it out of `around`"),
            );
        }
    }
}

fn worked_out(openings: &[OpeningSpec]) -> impl Iterator<Item = &AroundSpec> {
    openings.iter().filter_map(|opening| match &opening.given {
        OpeningGiven::Around(around) => Some(around),
        OpeningGiven::Outright(_) => None,
    })
}
