//! Findings and results as they are told.

use super::Failure;
use serde::Serialize;
use std::borrow::Cow;
use std::fmt::Display;
use std::io::{self, ErrorKind, Write};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use trimloft::input::Report;
use trimloft::solve::{Finding, Severity};

/// A finding, as a program reads it.
#[derive(Debug, Serialize)]
pub(super) struct FindingJson<'a> {
    id: &'a str,
    severity: &'static str,
    message: &'a str,
    hint: &'a str,
    /// Panel frame, mm.
    at: Option<[f64; 2]>,
    /// mm, or a share from 0 to 1.
    value: Option<f64>,
    accepted_by: Option<&'a str>,
}

impl<'a> From<&'a Finding> for FindingJson<'a> {
    fn from(finding: &'a Finding) -> Self {
        Self {
            id: finding.id.as_str(),
            severity: finding.severity.word(),
            message: &finding.message,
            hint: &finding.hint,
            at: finding.at.map(|at| [at.x, at.y]),
            value: finding.measure.map(|measure| measure.value()),
            accepted_by: finding
                .accepted
                .as_ref()
                .map(|accepted| accepted.by.as_str()),
        }
    }
}

/// Findings of at least this severity as lines for a person.
pub(super) fn findings(file: &Path, findings: &[Finding], least: Severity) -> String {
    findings
        .iter()
        .filter(|finding| finding.severity >= least)
        .map(|finding| {
            let place = finding
                .whereabouts
                .as_ref()
                .map_or_else(String::new, |place| format!("; {place}"));
            let next = match &finding.accepted {
                Some(accepted) => format!("  by {}: {}\n", accepted.by, accepted.because),
                // A note asks for nothing.
                None if finding.severity == Severity::Note => String::new(),
                None => format!("  hint: {}\n", finding.how_to_go_on()),
            };
            format!(
                "{}: {}: {}{place}\n  id: {}\n{next}",
                file.display(),
                finding.standing(),
                finding.message,
                finding.id
            )
        })
        .collect()
}

/// Whether any finding is more than a note, and nobody answers for it.
pub(super) fn has_warnings(findings: &[Finding]) -> bool {
    findings
        .iter()
        .any(|finding| finding.severity >= Severity::Warning && finding.accepted.is_none())
}

/// Something wrong with a definition, as a program reads it.
#[derive(Debug, Serialize)]
pub(super) struct ProblemJson<'a> {
    message: Cow<'a, str>,
    hint: Option<&'a str>,
    /// Both from 1; none where it is about no one place.
    line: Option<usize>,
    column: Option<usize>,
}

/// All that is wrong with a file; of a very long list its beginning, and how many more there are.
pub(super) fn problems(report: &Report) -> Vec<ProblemJson<'_>> {
    let kept = report.problems.iter().map(|problem| {
        let place = problem
            .span
            .as_ref()
            .map(|span| report.source.place(span.start));
        ProblemJson {
            message: Cow::Borrowed(&problem.message),
            hint: problem.hint.as_deref(),
            line: place.map(|(line, _)| line),
            column: place.map(|(_, column)| column),
        }
    });
    let more = (report.more > 0).then(|| ProblemJson {
        message: Cow::Owned(format!("and {} more", report.more)),
        hint: None,
        line: None,
        column: None,
    });
    kept.chain(more).collect()
}

/// A result as JSON on stdout.
pub(super) fn print_json(result: &impl Serialize) -> Result<(), Failure> {
    match serde_json::to_string_pretty(result) {
        Ok(text) => print(&format!("{text}\n")),
        Err(error) => Err(Failure::falls_short(format!(
            "the result can't be told as JSON: {error}"
        ))),
    }
}

/// A result on stdout. Whoever reads it may stop reading.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    pass_on(text.as_bytes()).map_err(|error| {
        Failure::falls_short(format!("the result can't be written to stdout: {error}"))
    })
}

/// A file's bytes on stdout, as they are.
pub(super) fn pass_on(bytes: &[u8]) -> io::Result<()> {
    arrives(io::stdout().lock(), bytes)
}

/// Whether something that was to be told on stderr could not be.
static UNTOLD: AtomicBool = AtomicBool::new(false);

/// Something that is told on stderr beside the result: the one place that writes there.
pub(super) fn tell(what: impl Display) {
    if arrives(io::stderr().lock(), what.to_string().as_bytes()).is_err() {
        UNTOLD.store(true, Ordering::Relaxed);
    }
}

/// Whether all reached stderr, as far as anybody reads it. Where nothing can be said any more, the
/// status still can tell.
pub(super) fn all_told() -> bool {
    !UNTOLD.load(Ordering::Relaxed)
}

/// Writes to where somebody may have stopped reading.
fn arrives(mut out: impl Write, bytes: &[u8]) -> io::Result<()> {
    match out.write_all(bytes).and_then(|()| out.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        outcome => outcome,
    }
}
