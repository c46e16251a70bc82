//! `trimloft check`: solve and report, write nothing.

mod json;

use super::Failure;
use super::args::CheckArgs;
use super::definition::{Given, named, why_each};
use super::meaning;
use super::report;
use json::CheckJson;
use rayon::prelude::*;
use std::collections::HashMap;
use std::path::{Path, PathBuf};
use trimloft::base::paper::file_stem;
use trimloft::draw::draw;
use trimloft::draw::ink::lettering;
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Problem, Report, ShopSpec, Source};
use trimloft::jobs::papers::Paper;
use trimloft::solve::{Content, Finding, Pattern, Severity, solve};

pub(super) fn run(args: &CheckArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.families)?;
    let shop = meaning::shop(&args.tools)?;
    let checked = named(&args.patterns)?
        .files
        .into_par_iter()
        .map(|given| Checked::of(given, &shapes, shop.as_ref(), args.json))
        .collect::<Result<Vec<_>, _>>()?;
    let mut checked = checked;
    one_paper_each(&mut checked);
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
    let warned = checked.iter().filter(|one| one.warned).count();
    match (failed, checked.len()) {
        (0, _) if args.strict && warned > 0 => Err(Failure::falls_short(format!(
            "{warned} of {} with warnings that nobody accepted",
            checked.len()
        ))),
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
    /// Whether it has warnings that nobody accepted.
    warned: bool,
    /// Its file, and what it is; none for what could not be solved.
    paper: Option<(PathBuf, Paper)>,
}

/// Tells files that are other papers under one number and revision, each after the first.
fn one_paper_each(checked: &mut [Checked]) {
    let mut known = HashMap::<String, (PathBuf, Content)>::new();
    for one in checked {
        let Some((file, paper)) = one.paper.take() else {
            continue;
        };
        let stem = file_stem(&paper.number, &paper.revision);
        match known.get(&stem) {
            None => drop(known.insert(stem, (file, paper.content))),
            Some((holder, other)) => {
                if let Some(clash) = paper.clash(other, holder) {
                    let problem = Problem::new(clash.to_string())
                        .hint("give them different numbers or revisions");
                    let report = Report::new(&Source::new(file, ""), vec![problem]);
                    if let Some(problems) =
                        one.json.as_mut().and_then(|json| json.get_mut("problems"))
                    {
                        *problems = serde_json::json!(report::problems(&report));
                    }
                    one.failed = true;
                    one.trouble = Some(report);
                }
            }
        }
    }
}

impl Checked {
    fn of(
        given: Given,
        shapes: &Library,
        shop: Option<&ShopSpec>,
        as_json: bool,
    ) -> Result<Self, Failure> {
        let outcome = given.text.and_then(|source| {
            let spec = PatternSpec::read_for(&source, shop)?;
            let solved = solve(&spec, shapes).and_then(|pattern| printable(pattern, &source.text));
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
            paper: outcome
                .as_ref()
                .ok()
                .map(|(file, pattern)| (file.clone(), Paper::of(pattern))),
            failed: outcome.as_ref().map_or(true, |(_, pattern)| stops(pattern)),
            warned: outcome
                .as_ref()
                .is_ok_and(|(_, pattern)| report::has_warnings(&pattern.findings)),
            trouble: outcome.err(),
        })
    }
}

/// A pattern whose words can all be printed: letters that the typeface lacks would be blanks.
///
/// All its words are those of its definition: only where these may hold such a letter is it drawn.
fn printable(pattern: Pattern, definition: &str) -> Result<Pattern, Vec<Problem>> {
    let there = |line: &str| lettering::check(&line.replace('\t', " ")).is_ok();
    if !definition.contains('\\') && definition.lines().all(there) {
        return Ok(pattern);
    }
    match draw(&pattern) {
        Ok(_) => Ok(pattern),
        Err(missing) => Err(vec![Problem::new(missing.to_string()).hint(missing.hint())]),
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
    for foot in &pattern.feet {
        lines += &format!("  {}: {}\n", foot.name, foot.told(units));
    }
    if !pattern.feet.is_empty() || !pattern.hold.left_out.is_empty() {
        for told in pattern.hold.told(pattern.orientation) {
            lines += &format!("  {told}\n");
        }
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
