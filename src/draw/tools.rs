//! The tools that a pattern calls for.

use super::drilling::sized;
use crate::solve::Pattern;

/// Every tool that the pattern calls for, each once, in the order that they are needed: what drills,
/// largest first, what cuts along the line, what finishes the edge.
pub fn tools(pattern: &Pattern) -> Vec<String> {
    let holes = pattern.openings.iter().flat_map(|opening| &opening.relief);
    let mut holes: Vec<_> = holes.collect();
    holes.sort_by(|a, b| b.tool.diameter.total_cmp(&a.tool.diameter));
    let mut tools: Vec<String> = holes
        .into_iter()
        .map(|hole| sized(hole, pattern.units))
        .collect();
    let is_sawn = |own: &crate::solve::Opening| {
        !own.is_round_hole() || !own.relief.iter().any(|hole| hole.is_finished_by_tool())
    };
    if pattern.openings.iter().any(is_sawn) {
        tools.push(pattern.panel.cutter().words().into());
    }
    tools.push("file".into());
    if !pattern.panel.may_be_metal() {
        tools.push("deburring blade or fine paper".into());
    }
    tools.dedup();
    tools
}
