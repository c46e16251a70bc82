//! What is done by hand, in order, with the tools that the pattern calls for.

use super::names::{MOST_NAMED, named, short};
use super::{Way, drilling, hold, panel, tape_check};
use crate::base::words::capital;
use crate::solve::{Basis, Opening, Pattern};

/// From the pattern, printed and joined, to the panel refitted.
pub(super) fn steps(pattern: &Pattern, way: &Way) -> Vec<String> {
    let face = tape_check::of_the_face(pattern, &way.locators);
    let face = face.map_or_else(String::new, |check| format!("; {check}"));
    let mut steps = vec![
        find_the_middle(pattern),
        "Lay the pattern. Tape it down flat.".to_owned(),
        format!(
            "Do the tape checks{face}. For depths hook the tape over the edge at that place. Hold {} up and \
             look through. Only then cut.",
            what_passes(pattern)
        ),
    ];
    steps.extend(off_behind(pattern));
    steps.extend(drilling::in_front(pattern));
    steps.extend(rough_cut(pattern));
    steps.extend(saw(pattern));
    steps.extend(trim(pattern, way));
    steps.extend(along_lines(pattern));
    steps.push(deburr(pattern));
    steps.push(format!(
        "Try {}: {}{}. Refit the panel.{}",
        what_passes(pattern),
        even_gap(pattern),
        own_gaps(pattern),
        hold::in_front(pattern)
    ));
    steps
}

/// The gap that is seen when the part is tried; a side that asked for its own stands off by that.
fn even_gap(pattern: &Pattern) -> String {
    let sides: Vec<String> = pattern
        .clearances
        .iter()
        .flat_map(|own| &own.sides)
        .map(|(side, gap)| format!("{} to the {side}", pattern.units.length(*gap)))
        .collect();
    match sides.len() {
        0 => "even gap all round".into(),
        1..=MOST_NAMED => format!("at least {}, else an even gap", sides.join(" and ")),
        _ => "to each side at least its own gap, as the record has them".into(),
    }
}

/// What must be left round parts that ask for a gap of their own.
fn own_gaps(pattern: &Pattern) -> String {
    let parts = pattern.parts.iter();
    let own: Vec<(f64, String)> = parts
        .filter_map(|part| Some((part.gap?, short(&part.name))))
        .collect();
    if own.len() > MOST_NAMED {
        return ", at least its own where the record names one".into();
    }
    let told = own.into_iter().map(|(gap, name)| {
        let units = pattern.units;
        format!(", at least {} round {name}", units.length(gap))
    });
    told.collect()
}

/// Named where it was told: `neck`, else `the part`.
fn what_passes(pattern: &Pattern) -> String {
    match pattern.parts.as_slice() {
        [one] => format!("the {}", short(&one.name)),
        [] => "the part".into(),
        _ => "the parts".into(),
    }
}

/// Round holes have steps of their own, and so has what is trimmed off.
fn saw(pattern: &Pattern) -> Option<String> {
    let sawn = |opening: &&Opening| !opening.is_round_hole();
    let sawn = pattern.openings.iter().filter(sawn);
    let names: Vec<String> = sawn.filter_map(Opening::name_but_for_trims).collect();
    let how = capital(pattern.panel.cutter().how());
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    (!names.is_empty()).then(|| {
        format!(
            "{how} along the line of {}, on its hatched side. File to the line, no farther.{}",
            named(&names, "every opening"),
            way_in(pattern)
        )
    })
}

/// What would meet a part behind the panel goes before anything is cut.
fn off_behind(pattern: &Pattern) -> Option<String> {
    let first = pattern
        .features
        .iter()
        .flat_map(|own| own.first.iter().map(String::as_str));
    let first: Vec<&str> = first.collect();
    match first.len() {
        0 => None,
        1..=MOST_NAMED => Some(format!("On the hidden side, {}.", first.join("; "))),
        _ => Some("On the hidden side, take off or cut back what the findings name.".into()),
    }
}

/// The rough cut comes first, where one was asked for and has room.
fn rough_cut(pattern: &Pattern) -> Option<String> {
    let rough = pattern.openings.iter().filter(|own| own.rough.is_some());
    let names: Vec<String> = rough.filter_map(Opening::name_but_for_trims).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    (!names.is_empty()).then(|| {
        format!(
            "Rough out {} along the dashed line. Offer up {}: even all round? Correct the line, then \
             go on.",
            named(&names, "every opening that has one"),
            what_passes(pattern)
        )
    })
}

/// How a blade comes into openings that have neither a mouth nor a hole to drill.
fn way_in(pattern: &Pattern) -> String {
    let closed = |opening: &&Opening| {
        !opening.lets_blade_in() && !opening.is_round_hole() && opening.relief.is_empty()
    };
    let closed = pattern.openings.iter().filter(closed);
    let names: Vec<String> = closed.map(Opening::name).collect();
    if names.is_empty() {
        return String::new();
    }
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    format!(
        " For the blade, drill a hole in the waste of {}.",
        named(&names, "each that has none")
    )
}

/// What falls away at an edge goes last, and with it what the sheets are laid by.
fn trim(pattern: &Pattern, way: &Way) -> Option<String> {
    let all = pattern.openings.iter().flat_map(|own| &own.declared);
    let trims = all.filter(|own| own.trimmed.is_some());
    let names: Vec<&str> = trims.map(|own| own.name.as_str()).collect();
    let edge = pattern.orientation.datum_edge();
    let takes_edge = |own: &Opening| own.is_open() && own.has_trim();
    let last = if pattern.openings.iter().any(takes_edge) {
        let tabs = panel::tabs(pattern, way.work);
        let then = match (tabs.as_slice(), way.locators.is_empty()) {
            ([], true) => "nothing lays the sheet any more".into(),
            ([], false) => "only its printed holes lay the sheet".into(),
            (_, true) => format!("what stays of the {edge} edge lays the sheet"),
            (_, false) => {
                format!("what stays of the {edge} edge and the printed holes lay the sheet")
            }
        };
        format!(" The {edge} edge goes with it: do it last, after it {then}.")
    } else {
        String::new()
    };
    let what = named(&names, "every trim");
    (!names.is_empty())
        .then(|| format!("Trim off {what} along its line: the hatched side falls away.{last}"))
}

fn along_lines(pattern: &Pattern) -> Option<String> {
    let lines = pattern.lines.iter();
    let names: Vec<&str> = lines.map(|line| line.name.as_str()).collect();
    (!names.is_empty()).then(|| {
        let lines = named(&names, "the lines marked so");
        format!("Fold or bend the panel along {lines}.")
    })
}

fn deburr(pattern: &Pattern) -> String {
    if pattern.panel.may_be_metal() {
        "Deburr both faces of every cut edge with a file. Round its corners.".into()
    } else {
        "Take off the burr on both faces with a blade or fine paper.".into()
    }
}

fn find_the_middle(pattern: &Pattern) -> String {
    let datum = pattern.orientation.datum_edge();
    match &pattern.centreline.basis {
        Basis::Assumed | Basis::Marked => {
            format!("Find the middle. Mark it on the {datum} edge and at the far side.")
        }
        Basis::Pairs(_) | Basis::Arcs(_) => {
            format!("Mark the middle on the {datum} edge and at the far side.")
        }
    }
}
