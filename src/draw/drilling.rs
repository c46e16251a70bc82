//! What is drilled, with what, and what is left to file.

use super::measure::tool_size;
use crate::base::length::Units;
use crate::solve::{Opening, Pattern, Relief};

/// A rest of this much all round, mm, is filed off; more is cut: a design value, no source.
const FILED: f64 = 1.5;

/// The holes at inner corners, largest first: `2 × hole saw Ø25.4, 4 × drill Ø12`; none where there
/// are none.
pub(super) fn inner_corners(pattern: &Pattern) -> Option<String> {
    let told = |opening: &Opening| -> Vec<(f64, String)> {
        let holes = opening.relief.iter();
        holes
            .map(|hole| {
                (
                    hole.tool.diameter,
                    tool(hole, opening.fitted, pattern.units),
                )
            })
            .collect()
    };
    let cornered = pattern
        .openings
        .iter()
        .filter(|opening| !opening.is_round_hole());
    let mut holes: Vec<(f64, String)> = cornered.flat_map(told).collect();
    holes.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    let mut counted: Vec<(String, usize)> = vec![];
    for (_, words) in holes {
        match counted.last_mut() {
            Some((last, count)) if *last == words => *count += 1,
            _ => counted.push((words, 1)),
        }
    }
    let words: Vec<String> = counted
        .iter()
        .map(|(words, count)| format!("{count} × {words}"))
        .collect();
    (!words.is_empty()).then(|| {
        format!(
            "Drill the inner corners first, from the face with the pattern, at the crosses: {}.{}",
            words.join(", "),
            no_hole_saw(pattern)
        )
    })
}

/// One step for each round hole.
pub(super) fn round_holes(pattern: &Pattern) -> Vec<String> {
    let round = pattern
        .openings
        .iter()
        .filter(|opening| opening.is_round_hole());
    round.map(|opening| round_hole(pattern, opening)).collect()
}

fn round_hole(pattern: &Pattern, opening: &Opening) -> String {
    let name = opening.name();
    let cut = if pattern.panel.may_be_metal() {
        "cut with snips or a fine blade"
    } else {
        "saw"
    };
    let Some(hole) = opening.relief.first() else {
        return format!(
            "{name} is round: drill a hole in its waste for the blade, {cut} along the line on its \
             hatched side, and file to the line.{}",
            no_hole_saw(pattern)
        );
    };
    let with = sized(hole, pattern.units);
    if opening.drilled_together {
        return format!(
            "{name}: offer up the bracket, centre-mark the cross, and drill panel and bracket \
             together, in place, a small pilot first, then {with}."
        );
    }
    let rest = (hole.diameter - hole.tool.diameter) / 2.0;
    let then = if hole.is_finished_by_tool() && !opening.fitted {
        "which makes the whole hole".to_owned()
    } else if rest <= FILED {
        "then file to the line".to_owned()
    } else {
        format!("then {cut} along the line on its hatched side, and file to the line")
    };
    format!(
        "{name} is round: centre-mark its cross and use a {with}, {then}.{}",
        no_hole_saw(pattern)
    )
}

fn no_hole_saw(pattern: &Pattern) -> &'static str {
    if pattern.panel.is_thin_sheet() {
        " No hole saw: it snatches in thin sheet."
    } else {
        ""
    }
}

/// `drill Ø12`.
fn sized(hole: &Relief, units: Units) -> String {
    format!(
        "{} Ø{}",
        hole.tool.words(),
        tool_size(hole.tool.diameter, units)
    )
}

/// What a hole is made with, `drill Ø12`, and what it leaves to be filed. A corner of a fitted
/// outline has no one size.
pub(super) fn tool(hole: &Relief, fitted: bool, units: Units) -> String {
    let with = sized(hole, units);
    match (hole.corners.len(), hole.crowded) {
        (1, false) if hole.is_finished_by_tool() && !fitted => with,
        (1, false) => format!("{with}, file to the line"),
        (1, true) => format!("{with}, the next hole is near: file to the line"),
        (corners, _) => format!("{with} between {corners} corners, cut the rest"),
    }
}
