//! What is done by hand, in order, with the tools that the pattern calls for.

use super::measure::{length, tool_size};
use crate::base::length::Units;
use crate::input::LineKind;
use crate::model::clearance::accepted_readings_in_words;
use crate::solve::{Basis, Opening, Pattern, Relief};

/// From printing to refitting.
pub(super) fn steps(pattern: &Pattern) -> Vec<String> {
    let datum = pattern.orientation.datum_edge();
    let mut steps = vec![
        format!(
            "Print at actual size (100 %), never \"fit to page\", on one side of the paper. Lay a \
             steel rule on the rulers of every sheet, across and down: {}. If they do not, print \
             again; do not cut.",
            what_rulers_read(pattern.scale_error)
        ),
        "Where there is more than one sheet, join them: crosses with the same name lie on one \
         another. Tape the joins."
            .to_owned(),
        find_the_middle(pattern),
        format!(
            "Fold the tab back along the {datum} edge and hook it over. Lay the ticks of the \
             centreline on your marks; printed holes must lie over the panel's own. Tape it down \
             flat."
        ),
        format!(
            "Check the printed dimensions on the panel with a tape, depths with it hooked over the \
             real edge at that place. Hold {} up and look through. \
             Only then mark and cut.",
            what_passes(pattern)
        ),
    ];
    if let Some(holes) = holes(pattern) {
        let thin = if pattern.panel.is_thin_sheet() {
            " No hole saw: it snatches in thin sheet."
        } else {
            ""
        };
        steps.push(format!(
            "Drill the inner corners first, from the face with the pattern, at the crosses: \
             {holes}.{thin}"
        ));
    }
    steps.push(saw(pattern));
    steps.extend(along_lines(pattern));
    steps.push(deburr(pattern));
    steps.push(format!(
        "Try {}: look for an even gap all round. Refit the panel.",
        what_passes(pattern)
    ));
    steps
}

/// What full size is taken to be, as the clearances allow it.
fn what_rulers_read(scale_error: f64) -> String {
    format!(
        "100 mm must read {}, 4 in must read {}",
        accepted_readings_in_words(100.0, scale_error, "mm"),
        accepted_readings_in_words(4.0, scale_error, "in")
    )
}

/// Named where it was told: `neck`, else `the part`.
fn what_passes(pattern: &Pattern) -> String {
    match pattern.parts.as_slice() {
        [one] => format!("the {}", one.name),
        [] => "the part".into(),
        _ => "the parts".into(),
    }
}

/// Whether a drill alone makes it.
fn drilled(opening: &Opening) -> bool {
    opening.relief.iter().any(Relief::is_finished_by_tool)
}

fn saw(pattern: &Pattern) -> String {
    let names: Vec<String> = pattern
        .openings
        .iter()
        .filter(|opening| !(opening.is_round_hole() && drilled(opening)))
        .map(Opening::name)
        .collect();
    let how = if pattern.panel.may_be_metal() {
        "Cut with snips or a fine blade"
    } else {
        "Saw"
    };
    match names.as_slice() {
        [] => "File to the line where a hole is not round or not full. Nothing outside it is cut."
            .into(),
        names => format!(
            "{how} along the line of {} on its hatched side and file to the line. Nothing outside \
             it is cut.{}",
            names.join(", "),
            way_in(pattern)
        ),
    }
}

/// How a blade comes into openings that have neither a mouth nor a hole to drill.
fn way_in(pattern: &Pattern) -> String {
    let closed = |opening: &&Opening| !opening.is_open() && opening.relief.is_empty();
    let names: Vec<String> = pattern
        .openings
        .iter()
        .filter(closed)
        .map(Opening::name)
        .collect();
    match names.as_slice() {
        [] => String::new(),
        names => format!(
            " Drill a hole in the waste of {} for the blade.",
            names.join(", ")
        ),
    }
}

fn along_lines(pattern: &Pattern) -> Vec<String> {
    [
        (LineKind::Trim, "Trim the panel along"),
        (LineKind::Fold, "Fold or bend the panel along"),
    ]
    .into_iter()
    .filter_map(|(kind, how)| {
        let names: Vec<&str> = pattern
            .lines
            .iter()
            .filter(|line| line.kind == kind)
            .map(|line| line.name.as_str())
            .collect();
        (!names.is_empty()).then(|| format!("{how} {}.", names.join(", ")))
    })
    .collect()
}

fn deburr(pattern: &Pattern) -> String {
    if pattern.panel.may_be_metal() {
        "Deburr both faces of every cut edge with a file, and round its corners: thin sheet cuts \
         hands and wiring."
            .into()
    } else {
        "Take off the burr on both faces with a blade or fine paper.".into()
    }
}

fn find_the_middle(pattern: &Pattern) -> String {
    let datum = pattern.orientation.datum_edge();
    let line = &pattern.centreline;
    let at = |reading: f64| length(reading, pattern.units);
    match &line.basis {
        Basis::Assumed => format!(
            "Measure the panel from end to end along its {datum} edge and mark its true middle \
             there and at the far side. The pattern assumes {} from the {} end.",
            at(line.reading),
            line.zero
        ),
        Basis::Marked => "Find the vehicle's centreline on the panel and mark it at the datum \
                          edge and as far away from it as the pattern reaches."
            .to_owned(),
        Basis::Pairs(_) | Basis::Arcs(_) => {
            let reading = line.reading_on_edge();
            let from_other = pattern.panel.size.map_or_else(String::new, |size| {
                let rest = at(size.width() - reading);
                format!(", {rest} from the {} end", line.zero.opposite())
            });
            format!(
                "Mark the middle on the {datum} edge: {} from the {} end{from_other}.",
                at(reading),
                line.zero
            )
        }
    }
}

/// The holes to drill, largest first: `2 × hole cutter Ø25.4, 4 × drill Ø12`.
fn holes(pattern: &Pattern) -> Option<String> {
    let of_opening = |opening: &Opening| {
        let told = |hole: &Relief| {
            (
                hole.tool.diameter,
                tool(hole, opening.fitted, pattern.units),
            )
        };
        opening.relief.iter().map(told).collect::<Vec<_>>()
    };
    let mut holes: Vec<(f64, String)> = pattern.openings.iter().flat_map(of_opening).collect();
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
    (!words.is_empty()).then(|| words.join(", "))
}

/// What a hole is made with, `drill Ø20`, and what it leaves to be filed. A corner of a fitted
/// outline has no one size.
pub(super) fn tool(hole: &Relief, fitted: bool, units: Units) -> String {
    let with = format!(
        "{} Ø{}",
        hole.tool.kind.words(),
        tool_size(hole.tool.diameter, units)
    );
    match (hole.corners.len(), hole.crowded) {
        (1, false) if hole.is_finished_by_tool() && !fitted => with,
        (1, false) => format!("{with}, file to the line"),
        (1, true) => format!("{with}, the next hole is near: file to the line"),
        (corners, _) => format!("{with} between {corners} corners, saw the rest"),
    }
}
