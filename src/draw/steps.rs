//! What is done by hand, in order, with the tools that the pattern calls for.

use super::drilling;
use super::names::{MOST_NAMED, named, short};
use crate::input::LineKind;
use crate::solve::{Basis, Opening, Pattern};

/// From the pattern, printed and joined, to the panel refitted.
pub(super) fn steps(pattern: &Pattern) -> Vec<String> {
    let mut steps = vec![
        find_the_middle(pattern),
        "Lay the pattern. Tape it down flat.".to_owned(),
        format!(
            "Do the tape checks. For depths hook the tape over the edge at that place. Hold {} up and \
             look through. Only then cut.",
            what_passes(pattern)
        ),
    ];
    steps.extend(drilling::in_front(pattern));
    steps.extend(saw(pattern));
    steps.extend(along_lines(pattern));
    steps.push(deburr(pattern));
    steps.push(format!(
        "Try {}: even gap all round{}. Refit the panel.",
        what_passes(pattern),
        own_gaps(pattern)
    ));
    steps
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
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    (!names.is_empty()).then(|| {
        format!(
            "{how} along the line of {}, on its hatched side. File to the line, no farther.{}",
            named(&names, "every opening"),
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
    if names.is_empty() {
        return String::new();
    }
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    format!(
        " For the blade, drill a hole in the waste of {}.",
        named(&names, "each that has none")
    )
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
        (!names.is_empty()).then(|| format!("{how} {}.", named(&names, "the lines marked so")))
    })
    .collect()
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
