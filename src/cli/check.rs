//! `trimloft check`: solve and report, write nothing.

use super::Failure;
use super::args::CheckArgs;
use super::definition::{Given, named, understood, why_each};
use super::meaning;
use super::report::{self, FindingJson, ProblemJson};
use rayon::prelude::*;
use serde::Serialize;
use std::path::{Path, PathBuf};
use trimloft::input::families::Library;
use trimloft::input::{Report, ShopSpec};
use trimloft::solve::{Finding, Opening, Pattern, Severity, solve};

pub(super) fn run(args: &CheckArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.families)?;
    let shop = meaning::shop(&args.tools)?;
    let checked = named(&args.patterns)?
        .files
        .into_par_iter()
        .map(|given| Checked::of(given, &shapes, shop.as_ref(), args.json))
        .collect::<Result<Vec<_>, _>>()?;
    let reports = || checked.iter().filter_map(|one| one.trouble.as_ref());
    for report in reports() {
        report::tell(report);
    }
    if args.json {
        let told: Vec<_> = checked.iter().map(|one| &one.json).collect();
        report::print_json(&told)?;
    } else {
        let told: String = checked.iter().map(|one| one.words.as_str()).collect();
        report::print(&told)?;
    }
    let failed = checked.iter().filter(|one| one.failed).count();
    match (failed, checked.len()) {
        (0, _) => Ok(()),
        (1, 1) => Err(Failure::falls_short("the pattern can't be drawn")),
        (failed, all) => Err(Failure::falls_short(format!(
            "{failed} of {all} patterns can't be drawn{}",
            why_each(reports())
        ))),
    }
}

/// What is told of a file. The solved pattern is dropped at once, so that memory does not grow with
/// the number of files.
struct Checked {
    /// For a person; empty where a program reads it.
    words: String,
    /// For a program.
    json: Option<serde_json::Value>,
    trouble: Option<Report>,
    /// Whether it can't be drawn.
    failed: bool,
}

impl Checked {
    fn of(
        given: Given,
        shapes: &Library,
        shop: Option<&ShopSpec>,
        as_json: bool,
    ) -> Result<Self, Failure> {
        let outcome = given.text.and_then(|source| {
            let spec = understood(&source, shop)?;
            let solved = solve(&spec, shapes);
            let name = source.name.clone();
            let solved = solved.map_err(|problems| Report::new(&source, problems))?;
            Ok((name, solved))
        });
        let json = if as_json {
            let told = CheckJson::of(&outcome);
            Some(serde_json::to_value(told).map_err(Failure::falls_short)?)
        } else {
            None
        };
        let words = match &outcome {
            Ok((name, pattern)) if !as_json => told(name, pattern),
            _ => String::new(),
        };
        Ok(Self {
            words,
            json,
            failed: outcome.as_ref().map_or(true, |(_, pattern)| stops(pattern)),
            trouble: outcome.err(),
        })
    }
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
    let units = pattern.units;
    let mut lines = report::findings(file, &pattern.findings, Severity::Note);
    lines += &format!("{}: {verdict}\n", file.display());
    for opening in &pattern.openings {
        let bounds = opening.outline.bounds();
        lines += &format!(
            "  {}: {} x {}, {} to cut, {} to drill\n",
            opening.name(),
            units.side(bounds.width()),
            units.close(bounds.height()),
            units.length(opening.outline.cut_length()),
            opening.relief.len()
        );
    }
    for clear in &pattern.spacings {
        lines += &format!(
            "  {} in {}: {} from the cut line, {} when all has moved, {} asked for\n",
            clear.part,
            clear.opening,
            units.close(clear.now.distance),
            units.close(clear.after_moves.distance),
            units.close(clear.gap)
        );
    }
    for area in &pattern.keep_outs {
        lines += &format!(
            "  {}, {}: no cut within {}\n",
            area.name,
            area.guards.word(),
            area.asked(units)
        );
    }
    lines
}

#[derive(Serialize)]
struct CheckJson<'a> {
    pattern: String,
    openings: Vec<OpeningJson>,
    parts: Vec<KeptJson<'a>>,
    keep_outs: Vec<KeepOutJson<'a>>,
    findings: Vec<FindingJson<'a>>,
    problems: Vec<ProblemJson<'a>>,
}

impl<'a> CheckJson<'a> {
    fn of(outcome: &'a Result<(PathBuf, Pattern), Report>) -> Self {
        let (name, pattern) = match outcome {
            Ok((name, pattern)) => (name, Some(pattern)),
            Err(report) => (&report.source.name, None),
        };
        let openings = pattern.map_or(&[][..], |pattern| &pattern.openings);
        let findings = pattern.map_or(&[][..], |pattern| &pattern.findings);
        Self {
            pattern: name.display().to_string(),
            openings: openings.iter().map(OpeningJson::from).collect(),
            parts: pattern.map_or_else(Vec::new, kept),
            keep_outs: pattern.map_or_else(Vec::new, keep_outs),
            findings: findings.iter().map(FindingJson::from).collect(),
            problems: outcome
                .as_ref()
                .err()
                .map_or_else(Vec::new, report::problems),
        }
    }
}

/// What a part keeps in its opening, measured on the finished line, mm.
#[derive(Serialize)]
struct KeptJson<'a> {
    name: &'a str,
    opening: &'a str,
    distance: f64,
    after_moves: f64,
    gap: f64,
    at_worst: f64,
    /// Diameter of the hole where panel and bracket are drilled together.
    drilled_together: Option<f64>,
}

fn kept(pattern: &Pattern) -> Vec<KeptJson<'_>> {
    let hole = |name: &str| {
        let part = pattern.parts.iter().find(|part| part.name == name)?;
        part.drilled.map(|drilled| drilled.hole())
    };
    let kept = pattern.spacings.iter().map(|clear| KeptJson {
        name: &clear.part,
        opening: &clear.opening,
        distance: clear.now.distance,
        after_moves: clear.after_moves.distance,
        gap: clear.gap,
        at_worst: clear.at_worst,
        drilled_together: hole(&clear.part),
    });
    kept.collect()
}

/// An area that no cut may come near, mm.
#[derive(Serialize)]
struct KeepOutJson<'a> {
    name: &'a str,
    guards: &'static str,
    distance: f64,
    given: bool,
}

fn keep_outs(pattern: &Pattern) -> Vec<KeepOutJson<'_>> {
    let areas = pattern.keep_outs.iter().map(|area| KeepOutJson {
        name: &area.name,
        guards: area.guards.word(),
        distance: area.distance,
        given: area.is_given,
    });
    areas.collect()
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
                .map(|hole| [hole.at.x, hole.at.y, hole.tool.diameter])
                .collect(),
        }
    }
}
