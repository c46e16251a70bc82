//! What was found while solving: each with its place and a next step.

use crate::drawing::fixed;
use crate::spec::AcceptedSpec;
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
    /// Its name: `what: which`.
    pub name: String,
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
    /// Whether anybody may accept it.
    pub acceptable: bool,
    /// Who accepted it.
    pub accepted: Option<Accepted>,
}

impl Finding {
    pub(super) fn new(severity: Severity, name: &str, message: String, hint: &str) -> Self {
        Self {
            name: name.into(),
            severity,
            message,
            hint: hint.into(),
            at: None,
            whereabouts: None,
            measure: None,
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
        if !(self.stops() && self.acceptable) {
            return self.hint.clone();
        }
        let value = self.measure.map_or(0.0, Measure::value);
        format!(
            "{}: `[[accepted]]`, `finding = \"{}\"`, `value = {}`, `by`, `because`",
            self.hint,
            self.name,
            fixed(value, 3)
        )
    }

    /// Whether it keeps the pattern from being drawn.
    pub fn stops(&self) -> bool {
        self.severity == Severity::Error && self.accepted.is_none()
    }
}

/// Lets the findings stand that were accepted by name and have not worsened since; tells of those
/// that were accepted and are there no more.
pub(super) fn accept(findings: &mut Vec<Finding>, accepted: &[AcceptedSpec]) {
    for one in accepted {
        match findings
            .iter_mut()
            .find(|finding| finding.name == one.finding.value)
        {
            Some(finding) => accept_one(finding, one),
            None => findings.push(Finding::new(
                Severity::Warning,
                &format!("accepted: {}", one.finding.value),
                format!(
                    "`{}` was accepted and is not found any more",
                    one.finding.value
                ),
                "take it out of `[[accepted]]`, or look whether its name has changed",
            )),
        }
    }
}

fn accept_one(finding: &mut Finding, accepted: &AcceptedSpec) {
    if !finding.acceptable {
        finding.hint = format!("this can't be accepted; {}", finding.hint);
        return;
    }
    if let Some(measure) = finding.measure
        && measure.is_worse_than(accepted.value)
    {
        finding.message += &format!(
            "; it was accepted at {}, and has worsened since",
            fixed(accepted.value, 2)
        );
        return;
    }
    finding.accepted = Some(Accepted {
        by: accepted.by.clone(),
        because: accepted.because.clone(),
    });
}
