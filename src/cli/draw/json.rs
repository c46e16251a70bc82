//! What `draw` tells a program.

use super::Outcome;
use crate::cli::report::{self, FindingJson, ProblemJson};
use serde::Serialize;
use trimloft::layout::{PageKind, Setup};

fn kind_word(kind: PageKind) -> &'static str {
    match kind {
        PageKind::Front => "front",
        PageKind::Work => "work",
        PageKind::Record => "record",
    }
}

/// What became of one definition; files it was not written to are no files.
#[derive(Serialize)]
pub(super) struct DrawnJson<'a> {
    pattern: String,
    files: Vec<String>,
    pages: usize,
    /// What each page is for: `front`, `work` or `record`.
    page_kinds: Vec<&'static str>,
    paper: &'a str,
    /// Width and height, mm.
    page_size: Option<[f64; 2]>,
    findings: Vec<FindingJson<'a>>,
    problems: Vec<ProblemJson<'a>>,
}

impl<'a> DrawnJson<'a> {
    pub(super) fn of(outcome: &'a Outcome, setup: &'a Setup) -> Self {
        let paper = setup.paper.name();
        match outcome {
            Ok(drawn) => Self {
                pattern: drawn.source.display().to_string(),
                files: drawn
                    .files
                    .iter()
                    .map(|file| file.display().to_string())
                    .collect(),
                pages: drawn.pages.len(),
                page_kinds: drawn.pages.iter().map(|kind| kind_word(*kind)).collect(),
                paper,
                page_size: drawn.page_size.map(|size| [size.width, size.height]),
                findings: drawn.findings.iter().map(FindingJson::from).collect(),
                problems: vec![],
            },
            Err(report) => Self {
                pattern: report.source.name.display().to_string(),
                files: vec![],
                pages: 0,
                page_kinds: vec![],
                paper,
                page_size: None,
                findings: vec![],
                problems: report::problems(report),
            },
        }
    }
}
