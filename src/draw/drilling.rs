//! What is drilled, with what, and what is left to file.

use super::names::named;
use crate::base::length::Units;
use crate::model::hardware::THIN_SHEET;
use crate::solve::{Opening, Pattern, Relief};

/// A rest of this much all round, mm, is filed off; more is cut: a design value, no source.
const FILED: f64 = 1.5;

/// Most kinds of holes that a step of the front page tells one by one.
const MOST_TOLD: usize = 3;
/// Most kinds of round holes that have a step each there.
const MOST_ROUND: usize = 2;

/// The drilling steps of the front page: as few as they can be.
pub(super) fn in_front(pattern: &Pattern) -> Vec<String> {
    let corners = corner_holes(pattern);
    let mut steps = vec![];
    if !corners.is_empty() {
        let holes = match corners.len() {
            ..=MOST_TOLD => corners.join(", "),
            _ => "each with the tool that stands beside it".into(),
        };
        steps.push(format!(
            "Drill first, at the crosses of the corners, from the face with the pattern: {holes}.{}",
            no_hole_saw(pattern, &holes)
        ));
    }
    let mut round: Vec<(String, Vec<String>)> = vec![];
    for opening in pattern.openings.iter().filter(|one| one.is_round_hole()) {
        let how = how_round(pattern, opening);
        match round.iter_mut().find(|(other, _)| *other == how) {
            Some((_, names)) => names.push(opening.name()),
            None => round.push((how, vec![opening.name()])),
        }
    }
    if round.len() <= MOST_ROUND {
        steps.extend(round.into_iter().map(|(how, names)| {
            let names: Vec<&str> = names.iter().map(String::as_str).collect();
            format!("{}: {how}", named(&names, "Round holes of this size"))
        }));
    } else {
        steps.push(format!(
            "Round holes: centre-mark each cross, use the tool that stands beside it, and file to the \
             line. Those drilled together: in place, with the bracket offered up.{}",
            no_hole_saw(pattern, "hole saw")
        ));
    }
    steps
}

/// Every hole, for the record.
pub(super) fn every(pattern: &Pattern) -> Vec<String> {
    let corners = inner_corners(pattern).into_iter();
    corners.chain(round_holes(pattern)).collect()
}

/// The holes at inner corners, largest first: `2 × hole saw Ø25.4, 4 × drill Ø12`; none where there
/// are none.
fn inner_corners(pattern: &Pattern) -> Option<String> {
    let words = corner_holes(pattern).join(", ");
    (!words.is_empty()).then(|| {
        format!(
            "Drill the inner corners first, from the face with the pattern, at the crosses: {words}.{}",
            no_hole_saw(pattern, &words)
        )
    })
}

/// Each kind of hole at inner corners with their number, largest first.
fn corner_holes(pattern: &Pattern) -> Vec<String> {
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
    counted
        .iter()
        .map(|(words, count)| format!("{count} × {words}"))
        .collect()
}

/// One step for each round hole.
fn round_holes(pattern: &Pattern) -> Vec<String> {
    let round = pattern
        .openings
        .iter()
        .filter(|opening| opening.is_round_hole());
    round.map(|opening| round_hole(pattern, opening)).collect()
}

fn round_hole(pattern: &Pattern, opening: &Opening) -> String {
    let is = if opening.drilled_together {
        ""
    } else {
        " is round"
    };
    format!("{}{is}: {}", opening.name(), how_round(pattern, opening))
}

/// How a round hole is made.
fn how_round(pattern: &Pattern, opening: &Opening) -> String {
    let cut = pattern.panel.cutter().how();
    let Some(hole) = opening.relief.first() else {
        return format!(
            "drill a hole in its waste for the blade, {cut} on the line's hatched side, and file \
             to the line.{}",
            no_hole_saw(pattern, "")
        );
    };
    let with = sized(hole, pattern.units);
    if opening.drilled_together {
        return format!(
            "offer up the bracket, centre-mark the cross, and drill panel and bracket \
             together, in place, a small pilot first, then {with}."
        );
    }
    let rest = (hole.diameter - hole.tool.diameter) / 2.0;
    let then = if hole.is_finished_by_tool() && !opening.fitted {
        "which makes the whole hole".to_owned()
    } else if rest <= FILED {
        "then file to the line".to_owned()
    } else {
        format!("then {cut} on the line's hatched side, and file to the line")
    };
    format!(
        "centre-mark its cross and use a {with}, {then}.{}",
        no_hole_saw(pattern, &with)
    )
}

/// What is said beside these tools where the panel is thin sheet metal, or nobody told that it is not.
fn no_hole_saw(pattern: &Pattern, tools: &str) -> String {
    let panel = &pattern.panel;
    if panel.is_thin_sheet() {
        " No hole saw: it snatches in thin sheet.".into()
    } else if panel.may_be_metal() && panel.thickness.is_none() && tools.contains("hole saw") {
        let thin = pattern.units.close(THIN_SHEET);
        format!(" Sheet metal under {thin}: step drill, no hole saw.")
    } else {
        String::new()
    }
}

/// `drill Ø12`.
pub(super) fn sized(hole: &Relief, units: Units) -> String {
    format!("{} Ø{}", hole.tool.words(), units.tool(hole.tool.diameter))
}

/// What a hole is made with, `drill Ø12`, and what it leaves to be filed. A corner of a fitted
/// outline has no one size.
pub(super) fn tool(hole: &Relief, fitted: bool, units: Units) -> String {
    let with = sized(hole, units);
    // More than can be filed is cut.
    let rest = match (hole.diameter - hole.tool.diameter) / 2.0 > FILED {
        true => "cut the rest to the line",
        false => "file to the line",
    };
    match (hole.corners.len(), hole.crowded) {
        (1, false) if hole.is_finished_by_tool() && !fitted => with,
        (1, false) => format!("{with}, {rest}"),
        (1, true) => format!("{with}, the next hole is near: {rest}"),
        (corners, _) => format!("{with} between {corners} corners, cut the rest"),
    }
}
