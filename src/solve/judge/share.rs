//! How much of the panel's width is cut away.

use super::super::{Finding, FindingId, Measure, Severity};
use super::Judged;
use crate::base::fixed;

/// A share past which the panel may no longer hold its shape: a design value, no source.
const MUCH: f64 = 0.5;

/// The share of the panel's width over which anything is cut, besides what is trimmed off an edge.
pub(super) fn finding(judged: &Judged<'_>) -> Option<Finding> {
    let width = judged.panel.size?.width();
    let mut spans: Vec<(f64, f64)> = judged
        .openings
        .iter()
        .flat_map(|opening| &opening.declared)
        .filter(|declared| declared.trimmed.is_none())
        .map(|declared| (declared.bounds.x0, declared.bounds.x1))
        .collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut reached = f64::NEG_INFINITY;
    let cut: f64 = spans
        .into_iter()
        .map(|(from, to)| {
            let fresh = (to - from.max(reached)).max(0.0);
            reached = reached.max(to);
            fresh
        })
        .sum();
    let share = cut / width;
    let severity = if share > MUCH {
        Severity::Error
    } else {
        Severity::Note
    };
    let finding = Finding::new(
        severity,
        FindingId::of("share of the width"),
        format!("{} % of the panel's width is cut", fixed(share * 100.0, 1)),
        "past half of it, the panel may no longer hold its shape: stiffen it, or accept it",
    );
    Some(finding.measured(Measure::Most(share)))
}
