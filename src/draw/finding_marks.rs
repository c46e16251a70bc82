//! Findings: numbered at their place on the pattern, and listed under that number.

use super::dimension::{LabelLine, WORKED_BY};
use super::field::Field;
use super::leader::{Start, around};
use super::view::View;
use crate::base::words::capital;
use crate::draw::ink::{Layer, Mark};
use crate::solve::{Finding, Pattern, Severity};
use kurbo::Point;

/// Findings nearer to each other than this, mm, are pointed at together.
const SAME_PLACE: f64 = 1.0;

/// The numbers of findings at their places, where these are on the printed part of the panel.
pub(super) fn marks(pattern: &Pattern, view: View, field: &mut Field) -> Vec<Mark> {
    let mut places: Vec<(Point, Vec<usize>)> = vec![];
    for (number, finding) in numbered(pattern) {
        let at = finding.at.map(|at| view.point(at));
        let Some(at) = at.filter(|at| field.rooms.show(*at)) else {
            continue;
        };
        match places
            .iter_mut()
            .find(|(place, _)| place.distance(at) <= SAME_PLACE)
        {
            Some((_, numbers)) => numbers.push(number),
            None => places.push((at, vec![number])),
        }
    }
    let mut marks = vec![];
    for (at, numbers) in places {
        let words = runs(&numbers);
        let line = [LabelLine::heavy(words.clone(), WORKED_BY)];
        let candidates: Vec<_> =
            around(at, &line, Layer::Findings, Start::Arrow, |_| 0.0).collect();
        let untold = format!("finding {words}");
        marks.extend(field.place_or_note(candidates, at, &untold, Layer::Findings));
    }
    marks
}

/// Ascending numbers as they stand at one place: `(3)`, `(3, 5)`, `(3 to 7, 9)`.
fn runs(numbers: &[usize]) -> String {
    let runs = numbers.chunk_by(|before, next| before + 1 == *next);
    let words: Vec<String> = runs
        .map(|run| match run {
            [first, .., last] if run.len() > 2 => format!("{first} to {last}"),
            _ => run
                .iter()
                .map(usize::to_string)
                .collect::<Vec<_>>()
                .join(", "),
        })
        .collect();
    format!("({})", words.join(", "))
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

#[cfg(test)]
mod tests {
    use super::runs;

    #[test]
    fn numbers_at_one_place_are_told_in_runs() {
        assert_eq!(runs(&[3]), "(3)");
        assert_eq!(runs(&[3, 4]), "(3, 4)");
        assert_eq!(runs(&[3, 4, 5, 6, 7, 9]), "(3 to 7, 9)");
        assert_eq!(runs(&[1, 3, 5, 6, 7]), "(1, 3, 5 to 7)");
    }
}
