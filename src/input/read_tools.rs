//! Reads `tools`, the diameters of a shop's drills and hole saws.

use super::field::length;
use super::table::Entry;
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// Most tools of a shop.
const MOST_TOOLS: usize = 200;

/// Diameters of tools, mm.
const TOOL: RangeInclusive<f64> = 0.5..=300.0;

/// Diameters nearer than this, mm, are one: an inch size written both ways.
const SAME: f64 = 1e-6;

/// Diameters in mm, smallest first, each once.
pub(super) fn tools(entry: &Entry<'_>) -> Option<Vec<f64>> {
    let DeValue::Array(items) = entry.value.get_ref() else {
        return entry.wrong_kind("a list of diameters", "write `[8, 10, \"7/8 in\"]`");
    };
    if !(1..=MOST_TOOLS).contains(&items.len()) {
        let message = format!(
            "`{}` has {} diameters: 1 to {MOST_TOOLS} are allowed",
            entry.key,
            items.len()
        );
        return entry.refuse(message, None);
    }
    let read: Vec<_> = items
        .iter()
        .map(|item| length(&entry.item(item), TOOL))
        .collect();
    let mut diameters: Vec<f64> = read.into_iter().collect::<Option<_>>()?;
    diameters.sort_by(f64::total_cmp);
    diameters.dedup_by(|one, other| (*one - *other).abs() < SAME);
    Some(diameters)
}
