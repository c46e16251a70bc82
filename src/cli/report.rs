//! Findings and results as they are told.

use serde::Serialize;
use std::path::Path;
use trimloft::drawing::fixed;
use trimloft::pattern::{Finding, Severity};

/// A finding, as a program reads it.
#[derive(Debug, Serialize)]
pub(super) struct FindingJson<'a> {
    name: &'a str,
    severity: &'static str,
    message: &'a str,
    hint: &'a str,
    /// Panel frame, mm.
    at: Option<[f64; 2]>,
}

impl<'a> From<&'a Finding> for FindingJson<'a> {
    fn from(finding: &'a Finding) -> Self {
        Self {
            name: &finding.name,
            severity: finding.severity.word(),
            message: &finding.message,
            hint: &finding.hint,
            at: finding.at.map(|at| [at.x, at.y]),
        }
    }
}

/// Findings as lines for a person.
pub(super) fn findings(file: &Path, findings: &[Finding]) -> String {
    findings
        .iter()
        .map(|finding| {
            let place = finding.at.map_or_else(String::new, |at| {
                format!(
                    " (at {}, {} mm from the centreline and the datum edge)",
                    fixed(at.x, 1),
                    fixed(at.y, 1)
                )
            });
            format!(
                "{}: {}: {}{place}\n  hint: {}\n",
                file.display(),
                finding.severity.word(),
                finding.message,
                finding.hint
            )
        })
        .collect()
}

/// Whether any finding is more than a note.
pub(super) fn has_warnings(findings: &[Finding]) -> bool {
    findings
        .iter()
        .any(|finding| finding.severity >= Severity::Warning)
}

/// A result as JSON on stdout.
pub(super) fn print_json(result: &impl Serialize) {
    match serde_json::to_string_pretty(result) {
        Ok(text) => println!("{text}"),
        Err(error) => eprintln!("error: the result can't be told as JSON: {error}"),
    }
}
