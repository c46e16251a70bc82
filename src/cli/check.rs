//! `trimloft check`: solve and report, write nothing.

use super::Failure;
use super::args::CheckArgs;
use super::definition::{named, read, why_each};
use super::meaning;
use super::report::{self, FindingJson, ProblemJson};
use rayon::prelude::*;
use serde::Serialize;
use std::path::Path;
use trimloft::drawing::fixed;
use trimloft::pattern::{Finding, Opening, Pattern, Severity, solve};
use trimloft::shape::Library;
use trimloft::spec::{Report, ShopSpec};

pub(super) fn run(args: &CheckArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.families)?;
    let shop = meaning::shop(&args.tools)?;
    let patterns = named(&args.patterns)?.files;
    let outcomes: Vec<_> = patterns
        .par_iter()
        .map(|file| solved(file, &shapes, shop.as_ref()))
        .collect();
    for report in outcomes.iter().filter_map(|outcome| outcome.as_ref().err()) {
        eprint!("{report}");
    }
    let outcomes_of_files = patterns.iter().zip(&outcomes);
    if args.json {
        let told: Vec<_> = outcomes_of_files
            .map(|(file, outcome)| CheckJson::of(file, outcome))
            .collect();
        report::print_json(&told)?;
    } else {
        let told: String = outcomes_of_files
            .filter_map(|(file, outcome)| Some(told(file, outcome.as_ref().ok()?)))
            .collect();
        report::print(&told)?;
    }
    let failed = outcomes
        .iter()
        .filter(|outcome| outcome.as_ref().map_or(true, stops))
        .count();
    match (failed, outcomes.len()) {
        (0, _) => Ok(()),
        (1, 1) => Err(Failure::falls_short("the pattern can't be drawn")),
        (failed, all) => Err(Failure::falls_short(format!(
            "{failed} of {all} patterns can't be drawn{}",
            why_each(outcomes.iter().filter_map(|outcome| outcome.as_ref().err()))
        ))),
    }
}

fn solved(file: &Path, shapes: &Library, shop: Option<&ShopSpec>) -> Result<Pattern, Report> {
    let (source, spec) = read(file, shop)?;
    solve(&spec, shapes).map_err(|problems| Report::new(&source, problems))
}

/// Whether a finding keeps the pattern from being drawn.
fn stops(pattern: &Pattern) -> bool {
    pattern.findings.iter().any(Finding::stops)
}

fn told(file: &Path, pattern: &Pattern) -> String {
    let verdict = if stops(pattern) {
        "can't be drawn until the errors are mended or accepted"
    } else if report::has_warnings(&pattern.findings) {
        "look at the warnings"
    } else {
        "ok"
    };
    let mut lines = report::findings(file, &pattern.findings, Severity::Note);
    lines += &format!("{}: {verdict}\n", file.display());
    for opening in &pattern.openings {
        let bounds = opening.outline.bounds();
        lines += &format!(
            "  {}: {} x {} mm, {} mm to cut, {} to drill\n",
            opening.name(),
            fixed(bounds.width(), 2),
            fixed(bounds.height(), 2),
            fixed(opening.outline.cut_length(), 1),
            opening.relief.len()
        );
    }
    lines
}

#[derive(Serialize)]
struct CheckJson<'a> {
    pattern: String,
    openings: Vec<OpeningJson>,
    findings: Vec<FindingJson<'a>>,
    problems: Vec<ProblemJson<'a>>,
}

impl<'a> CheckJson<'a> {
    fn of(file: &'a Path, outcome: &'a Result<Pattern, Report>) -> Self {
        let pattern = outcome.as_ref().ok();
        let openings = pattern.map_or(&[][..], |pattern| &pattern.openings);
        let findings = pattern.map_or(&[][..], |pattern| &pattern.findings);
        Self {
            pattern: file.display().to_string(),
            openings: openings.iter().map(OpeningJson::from).collect(),
            findings: findings.iter().map(FindingJson::from).collect(),
            problems: outcome
                .as_ref()
                .err()
                .map_or_else(Vec::new, report::problems),
        }
    }
}

/// An opening in the panel frame, mm and mm².
#[derive(Serialize)]
struct OpeningJson {
    name: String,
    bounds: [f64; 4],
    area: f64,
    cut_length: f64,
    relief: Vec<[f64; 3]>,
}

impl From<&Opening> for OpeningJson {
    fn from(opening: &Opening) -> Self {
        let bounds = opening.outline.bounds();
        Self {
            name: opening.name(),
            bounds: [bounds.x0, bounds.y0, bounds.x1, bounds.y1],
            area: opening.outline.area(),
            cut_length: opening.outline.cut_length(),
            relief: opening
                .relief
                .iter()
                .map(|hole| [hole.at.x, hole.at.y, hole.diameter])
                .collect(),
        }
    }
}
