//! `trimloft check`: solve and report, write nothing.

use super::Failure;
use super::args::CheckArgs;
use super::draw::read;
use super::meaning;
use super::report::{self, FindingJson};
use serde::Serialize;
use std::path::Path;
use trimloft::drawing::fixed;
use trimloft::pattern::{Opening, Pattern, solve};
use trimloft::shape::Library;
use trimloft::spec::Report;

pub(super) fn run(args: &CheckArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.families)?;
    let mut failed = 0;
    let mut results = vec![];
    for file in &args.patterns {
        match solved(file, &shapes) {
            Ok(pattern) if args.json => results.push((file, pattern)),
            Ok(pattern) => tell(file, &pattern),
            Err(message) => {
                failed += 1;
                eprintln!("{}", message.trim_end());
            }
        }
    }
    if args.json {
        let told: Vec<_> = results
            .iter()
            .map(|(file, pattern)| CheckJson::of(file, pattern))
            .collect();
        report::print_json(&told);
    }
    match failed {
        0 => Ok(()),
        _ => Err(Failure::falls_short(format!(
            "{failed} of {} patterns fall short",
            args.patterns.len()
        ))),
    }
}

fn solved(file: &Path, shapes: &Library) -> Result<Pattern, String> {
    let (source, spec) = read(file)?;
    solve(&spec, shapes).map_err(|problems| Report::new(&source, problems).to_string())
}

fn tell(file: &Path, pattern: &Pattern) {
    print!("{}", report::findings(file, &pattern.findings));
    let verdict = if report::has_warnings(&pattern.findings) {
        "look at the warnings"
    } else {
        "ok"
    };
    println!("{}: {verdict}", file.display());
    for opening in &pattern.openings {
        let bounds = opening.outline.bounds();
        println!(
            "  {}: {} x {} mm, {} mm to cut, {} to drill",
            opening.name(),
            fixed(bounds.width(), 2),
            fixed(bounds.height(), 2),
            fixed(opening.outline.cut_length(), 1),
            opening.relief.len()
        );
    }
}

#[derive(Serialize)]
struct CheckJson<'a> {
    pattern: &'a Path,
    openings: Vec<OpeningJson>,
    findings: Vec<FindingJson<'a>>,
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

impl<'a> CheckJson<'a> {
    fn of(file: &'a Path, pattern: &'a Pattern) -> Self {
        Self {
            pattern: file,
            openings: pattern.openings.iter().map(OpeningJson::from).collect(),
            findings: pattern.findings.iter().map(FindingJson::from).collect(),
        }
    }
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
