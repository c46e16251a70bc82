//! `trimloft verify`: read files back and prove their scale.

use super::Failure;
use super::args::VerifyArgs;
use super::{definition, meaning, report};
use serde::Serialize;
use std::collections::BTreeMap;
use std::io;
use std::path::Path;
use trimloft::check::verify::{
    Against, FileKind, Finding, Outcome, Reference, Report, Topic, VerifyError, load, load_from,
    verify,
};
use trimloft::input::Report as DefinitionReport;
use trimloft::solve::solve;

pub(super) fn run(args: &VerifyArgs) -> Result<(), Failure> {
    definition::refuse_two_inputs(args.files.iter().chain(&args.against))?;
    let reference = match &args.against {
        Some(pattern) => Some(reference(args, pattern)?),
        None => None,
    };
    let printer = meaning::printer(args.printer.as_deref())?;
    let reference = match (reference, &printer) {
        (Some(reference), Some(printer)) => Some(reference.for_printer(printer)),
        (reference, _) => reference,
    };
    let reference = reference.as_ref();
    let outcomes: Vec<(&Path, Result<Report, VerifyError>)> = args
        .files
        .iter()
        .map(|file| {
            let outcome = bytes(file).and_then(|bytes| {
                let scales = printer.as_ref();
                let against = |landscape| Against {
                    reference,
                    scales: scales.map(|printer| printer.scales(landscape)).map(inverse),
                };
                // Which way the paper lies only the file can tell.
                let portrait = verify(bytes.clone(), against(false))?;
                if printer.is_none() || portrait.is_sound() {
                    return Ok(portrait);
                }
                let landscape = verify(bytes, against(true))?;
                Ok(if landscape.is_sound() {
                    landscape
                } else {
                    portrait
                })
            });
            (named(file), outcome)
        })
        .collect();
    if args.json {
        let told: Vec<_> = outcomes
            .iter()
            .map(|(file, outcome)| FileJson::of(file, outcome))
            .collect();
        report::print_json(&told)?;
    } else {
        let told: String = outcomes
            .iter()
            .map(|(file, outcome)| told(file, outcome))
            .collect();
        report::print(&told)?;
    }
    let is_sound =
        |outcome: &Result<Report, VerifyError>| outcome.as_ref().is_ok_and(Report::is_sound);
    let failed = outcomes
        .iter()
        .filter(|(_, outcome)| !is_sound(outcome))
        .count();
    match (failed, outcomes.len()) {
        (0, _) => Ok(()),
        (1, 1) => Err(Failure::falls_short(
            "the file is not proven: do not cut by it",
        )),
        (failed, all) => Err(Failure::falls_short(format!(
            "{failed} of {all} files are not proven: do not cut by them"
        ))),
    }
}

fn bytes(file: &Path) -> Result<Vec<u8>, VerifyError> {
    if definition::is_standard_input(file) {
        load_from(named(file), io::stdin().lock())
    } else {
        load(file)
    }
}

/// What a file is called in messages.
fn named(file: &Path) -> &Path {
    if definition::is_standard_input(file) {
        Path::new(definition::STANDARD_INPUT)
    } else {
        file
    }
}

/// What a drawing must be larger by, for a printer that makes this of it.
fn inverse((across, down): (f64, f64)) -> (f64, f64) {
    (1.0 / across, 1.0 / down)
}

/// What files are held against.
fn reference(args: &VerifyArgs, pattern: &Path) -> Result<Reference, Failure> {
    let shapes = meaning::library(&args.families)?;
    let shop = meaning::shop(&args.tools)?;
    let solved = definition::read(pattern, shop.as_ref()).and_then(|(source, spec)| {
        solve(&spec, &shapes)
            .map(|pattern| match args.closed {
                true => Reference::of(&pattern.closed()),
                false => Reference::of(&pattern).by_numbers(&spec, &shapes),
            })
            .map_err(|problems| DefinitionReport::new(&source, problems))
    });
    match solved {
        Ok(reference) => Ok(reference),
        Err(report) => {
            report::tell(&report);
            Err(Failure::falls_short(format!(
                "`{}` can't be solved, so nothing can be held against it",
                pattern.display()
            )))
        }
    }
}

fn told(file: &Path, outcome: &Result<Report, VerifyError>) -> String {
    let name = file.display();
    let report = match outcome {
        Ok(report) => report,
        Err(error) => {
            return format!("{name}: cannot judge: {error}\n  hint: {}\n", error.hint());
        }
    };
    let verdict = match report.outcome() {
        Outcome::Sound => "sound",
        Outcome::Changed => "sound, but changed since it was drawn",
        Outcome::CannotJudge => "cannot judge",
        Outcome::Fault => "NOT SOUND",
    };
    let mut lines = format!("{name}: {verdict}\n");
    // The gravest first; what is sound in the order it was found.
    for outcome in [
        Outcome::Fault,
        Outcome::CannotJudge,
        Outcome::Changed,
        Outcome::Sound,
    ] {
        lines += &match outcome {
            Outcome::Sound => sound_rulers(report),
            _ => String::new(),
        };
        for finding in report.of(outcome) {
            if outcome == Outcome::Sound && finding.topic == Topic::CheckRuler {
                continue;
            }
            let grave = match outcome {
                Outcome::Sound => String::new(),
                other => format!("{}: ", other.words()),
            };
            lines += &format!("  {grave}{}: {finding}\n", finding.topic.words());
        }
    }
    lines
}

/// Rulers that are as they must be: a line for each page.
fn sound_rulers(report: &Report) -> String {
    let mut pages: BTreeMap<usize, Vec<&Finding>> = BTreeMap::new();
    for finding in report.of(Outcome::Sound) {
        if let (Topic::CheckRuler, Some(page)) = (finding.topic, finding.page) {
            pages.entry(page).or_default().push(finding);
        }
    }
    let line = |(page, rulers): (usize, Vec<&Finding>)| {
        let measured: Vec<String> = rulers
            .iter()
            .filter_map(|ruler| Some(format!("{:.3}", ruler.measured?)))
            .collect();
        let worst = rulers
            .iter()
            .filter_map(|ruler| ruler.error())
            .fold(0.0_f64, |worst, error| worst.max(error.abs()));
        let measured = measured.join(", ");
        format!("  check rulers: page {page}: {measured} mm, off by {worst:.3} mm at most\n")
    };
    pages.into_iter().map(line).collect()
}

/// What became of one file; lengths in mm.
#[derive(Serialize)]
struct FileJson<'a> {
    file: String,
    outcome: Outcome,
    kind: Option<FileKind>,
    pages: usize,
    findings: Vec<FindingJson<'a>>,
    error: Option<String>,
}

#[derive(Serialize)]
struct FindingJson<'a> {
    #[serde(flatten)]
    finding: &'a Finding,
    error: Option<f64>,
}

impl<'a> FileJson<'a> {
    fn of(file: &Path, outcome: &'a Result<Report, VerifyError>) -> Self {
        let file = file.display().to_string();
        match outcome {
            Ok(report) => Self {
                file,
                outcome: report.outcome(),
                kind: Some(report.kind),
                pages: report.pages,
                findings: report
                    .findings
                    .iter()
                    .map(|finding| FindingJson {
                        finding,
                        error: finding.error(),
                    })
                    .collect(),
                error: None,
            },
            Err(error) => Self {
                file,
                outcome: Outcome::CannotJudge,
                kind: None,
                pages: 0,
                findings: vec![],
                error: Some(error.to_string()),
            },
        }
    }
}
