//! Findings: numbered at their place on the pattern, and listed under that number.

use super::dimension::{LabelLine, WORKED_BY};
use super::field::Field;
use super::leader::{Start, around};
use super::view::View;
use crate::draw::ink::{Layer, Mark};
use crate::solve::{Finding, Pattern, Severity};

/// The number of each finding at its place, where that is on the printed part of the panel.
pub(super) fn marks(pattern: &Pattern, view: View, field: &mut Field) -> Vec<Mark> {
    let mut marks = vec![];
    for (number, finding) in numbered(pattern) {
        let at = finding.at.map(|at| view.point(at));
        let Some(at) = at.filter(|at| field.rooms.show(*at)) else {
            continue;
        };
        let words = format!("({number})");
        let line = [LabelLine::heavy(words.clone(), WORKED_BY)];
        let candidates: Vec<_> =
            around(at, &line, Layer::Findings, Start::Arrow, |_| 0.0).collect();
        let untold = format!("finding {words}");
        marks.extend(field.place_or_note(candidates, at, &untold, Layer::Findings));
    }
    marks
}

/// Findings with their numbers, from 1.
fn numbered(pattern: &Pattern) -> impl Iterator<Item = (usize, &Finding)> {
    pattern
        .findings
        .iter()
        .enumerate()
        .map(|(i, finding)| (i + 1, finding))
}

/// All findings in words.
pub(super) fn listed(pattern: &Pattern) -> Vec<String> {
    numbered(pattern)
        .map(|(number, finding)| in_words(number, finding))
        .collect()
}

/// Those that the front page tells: what somebody answers for, what is to be looked at, and notes
/// whose number stands on the pattern; worst first.
pub(super) fn in_front(pattern: &Pattern) -> Vec<String> {
    let told = |(_, finding): &(usize, &Finding)| {
        finding.severity > Severity::Note || finding.at.is_some()
    };
    let mut findings: Vec<(usize, &Finding)> = numbered(pattern).filter(told).collect();
    findings.sort_by_key(|(_, finding)| std::cmp::Reverse(finding.severity));
    let words = findings.into_iter();
    words
        .map(|(number, finding)| in_words(number, finding))
        .collect()
}

fn in_words(number: usize, finding: &Finding) -> String {
    let told = format!("({number}) {}: {}.", finding.standing(), finding.message);
    match &finding.accepted {
        Some(accepted) => {
            format!("{told} By {}: {}.", accepted.by, accepted.because)
        }
        // A note asks for nothing.
        None if finding.severity == Severity::Note => told,
        None => format!("{told} {}.", capital(&finding.hint)),
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
