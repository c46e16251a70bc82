//! What is done by hand, in order, with the tools that the pattern calls for.

use super::drilling;
use super::measure::length;
use crate::input::LineKind;
use crate::model::clearance::accepted_readings_in_words;
use crate::solve::{Basis, Opening, Pattern};

/// From printing to refitting.
pub(super) fn steps(pattern: &Pattern) -> Vec<String> {
    let datum = pattern.orientation.datum_edge();
    let mut steps = vec![
        format!(
            "Print at actual size (100 %), never \"fit to page\", on one side of the paper. Lay a \
             steel rule on the rulers of every sheet, across and down, and read it to half a \
             millimetre (1/64 in) or finer: {}. If they do not, print again; do not cut.",
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
    steps.extend(drilling::inner_corners(pattern));
    steps.extend(drilling::round_holes(pattern));
    steps.extend(saw(pattern));
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

/// Round holes have steps of their own.
fn saw(pattern: &Pattern) -> Option<String> {
    let sawn = |opening: &&Opening| !opening.is_round_hole();
    let names: Vec<String> = pattern
        .openings
        .iter()
        .filter(sawn)
        .map(Opening::name)
        .collect();
    let how = if pattern.panel.may_be_metal() {
        "Cut with snips or a fine blade"
    } else {
        "Saw"
    };
    (!names.is_empty()).then(|| {
        format!(
            "{how} along the line of {} on its hatched side and file to the line. Nothing outside \
             it is cut.{}",
            names.join(", "),
            way_in(pattern)
        )
    })
}

/// How a blade comes into openings that have neither a mouth nor a hole to drill.
fn way_in(pattern: &Pattern) -> String {
    let closed = |opening: &&Opening| {
        !opening.is_open() && !opening.is_round_hole() && opening.relief.is_empty()
    };
    let closed = pattern.openings.iter().filter(closed);
    let names: Vec<String> = closed.map(Opening::name).collect();
    match names.as_slice() {
        [] => String::new(),
        names => format!(
            " Drill a hole in the waste of {} first, for the blade.",
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
