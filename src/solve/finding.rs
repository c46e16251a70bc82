//! What was found while solving: each with its place and a next step.

use super::finding_id::FindingId;
use crate::base::fixed;
use crate::base::length::Units;
use crate::base::words::{listed, shown};
use crate::input::{AcceptedSpec, Placed, Problem};
use kurbo::Point;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// To be looked at before cutting.
    Warning,
    /// Nothing is drawn unless it is accepted.
    Error,
}

impl Severity {
    /// The word for it in messages.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// What a finding comes to, and which way it would worsen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// mm, worse the less there is.
    Least(f64),
    /// A share from 0 to 1, worse the more there is.
    Most(f64),
}

impl Measure {
    /// The number alone.
    pub fn value(self) -> f64 {
        match self {
            Self::Least(value) | Self::Most(value) => value,
        }
    }

    /// Whether it is worse than it was when it came to `accepted`, beyond what is printed of it.
    fn is_worse_than(self, accepted: f64) -> bool {
        match self {
            Self::Least(value) => value < accepted - 0.05,
            Self::Most(value) => value > accepted + 0.0005,
        }
    }
}

/// Who let a finding stand, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Accepted {
    /// Who.
    pub by: String,
    /// Why.
    pub because: String,
}

/// One finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// What it is called: no two findings of a pattern alike.
    pub id: FindingId,
    /// How much it matters.
    pub severity: Severity,
    /// What was found, with its numbers.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// Where on the panel, if at one place; panel frame, mm.
    pub at: Option<Point>,
    /// That place in words, from the centreline and the datum edge.
    pub whereabouts: Option<String>,
    /// What it comes to, where that can be told in one number.
    pub measure: Option<Measure>,
    /// That its numbers are told in.
    pub(super) units: Units,
    /// Whether anybody may accept it.
    pub acceptable: bool,
    /// Who accepted it.
    pub accepted: Option<Accepted>,
}

impl Finding {
    pub(super) fn new(severity: Severity, id: FindingId, message: String, hint: &str) -> Self {
        Self {
            id,
            severity,
            message,
            hint: hint.into(),
            at: None,
            whereabouts: None,
            measure: None,
            units: Units::Mm,
            acceptable: true,
            accepted: None,
        }
    }

    pub(super) fn at(self, at: Point) -> Self {
        Self {
            at: Some(at),
            ..self
        }
    }

    pub(super) fn measured(self, measure: Measure) -> Self {
        Self {
            measure: Some(measure),
            ..self
        }
    }

    /// How it stands, in a word: accepted, or else as bad as it is.
    pub fn standing(&self) -> &'static str {
        if self.accepted.is_some() {
            "accepted"
        } else {
            self.severity.word()
        }
    }

    /// What to do about it; where it stops a pattern and may be accepted, with the words to accept it.
    pub fn how_to_go_on(&self) -> String {
        if !self.waits_for_somebody() {
            return self.hint.clone();
        }
        let value = match (self.measure, self.units) {
            (Some(Measure::Least(_)), Units::In) => format!("\"{}\"", self.accepted_at()),
            _ => self.accepted_at(),
        };
        format!(
            "{}: `[[accepted]]`, `finding = \"{}\"`, `value = {value}`, `by`, `because`",
            self.hint,
            self.id.as_str().replace('\\', "\\\\").replace('"', "\\\"")
        )
    }

    /// What it comes to, as whoever accepts it writes it down: 0 where it is no number.
    pub fn accepted_at(&self) -> String {
        match (self.measure, self.units) {
            // A bare number of millimetres is no length of a file in inches.
            (Some(Measure::Least(mm)), Units::In) => self.units.exact(mm),
            (measure, _) => fixed(measure.map_or(0.0, Measure::value), 3),
        }
    }

    /// Whether it keeps the pattern from being drawn, and may be accepted.
    pub fn waits_for_somebody(&self) -> bool {
        self.stops() && self.acceptable
    }

    /// Whether it keeps the pattern from being drawn.
    pub fn stops(&self) -> bool {
        self.severity == Severity::Error && self.accepted.is_none()
    }
}

/// Lets the findings stand that were accepted by id and have not worsened since.
///
/// # Errors
/// What was accepted and is no finding of the pattern, each with the nearest that are.
pub(super) fn accept(
    findings: &mut [Finding],
    accepted: &[AcceptedSpec],
) -> Result<(), Vec<Problem>> {
    let mut problems = vec![];
    for one in accepted {
        let wanted = one.finding.value.as_str();
        match findings
            .iter_mut()
            .find(|found| found.id.as_str() == wanted)
        {
            Some(finding) => accept_one(finding, one),
            None => problems.push(not_found(findings, &one.finding)),
        }
    }
    if problems.is_empty() {
        Ok(())
    } else {
        Err(problems)
    }
}

/// How many of the nearest ids a message names.
const NEAREST: usize = 3;

fn not_found(findings: &[Finding], wanted: &Placed<String>) -> Problem {
    let mut near: Vec<(usize, &str)> = findings
        .iter()
        .filter(|finding| finding.severity > Severity::Note)
        .map(|finding| finding.id.as_str())
        .map(|id| (strsim::damerau_levenshtein(&wanted.value, id), id))
        .collect();
    near.sort_unstable();
    near.truncate(NEAREST);
    let near: Vec<&str> = near.into_iter().map(|(_, id)| id).collect();
    let hint = match near.as_slice() {
        [] => "take it out of `[[accepted]]`: nothing in it asks to be accepted".into(),
        near => format!(
            "take it out of `[[accepted]]`, or name what is found: {}",
            listed(near, " or ")
        ),
    };
    let message = format!("`{}` is no finding of this pattern", shown(&wanted.value));
    wanted.problem(message).hint(hint)
}

fn accept_one(finding: &mut Finding, accepted: &AcceptedSpec) {
    if !finding.acceptable {
        finding.hint = format!("this can't be accepted; {}", finding.hint);
        return;
    }
    if let Some(measure) = finding.measure
        && measure.is_worse_than(accepted.value)
    {
        let at = match (measure, finding.units) {
            (Measure::Least(_), Units::In) => finding.units.close(accepted.value),
            _ => fixed(accepted.value, 2),
        };
        finding.message += &format!("; it was accepted at {at}, and has worsened since");
        return;
    }
    finding.accepted = Some(Accepted {
        by: accepted.by.clone(),
        because: accepted.because.clone(),
    });
}
