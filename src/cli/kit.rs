//! `trimloft kit`: a kit issued, or an issue checked.

use super::Failure;
use super::args::KitArgs;
use super::meaning;
use super::progress::Progress;
use super::report;
use serde::Serialize;
use trimloft::input::Report;
use trimloft::jobs::kit::{Differences, KitError, Outcome, Plan, State, check, issue};

pub(super) fn run(args: &KitArgs) -> Result<(), Failure> {
    refuse_what_is_for_one(args)?;
    let setup = meaning::setup(&args.sheets, None)?;
    let shapes = meaning::library(&args.families)?;
    let shop = meaning::shop(&args.tools)?;
    let plan = Plan::read(&args.kit, shapes, shop, setup, args.share);
    let plan = plan.map_err(|reports| told(&reports))?;
    let progress = Progress::of(plan.patterns());
    if args.check {
        let found = check(&plan, &args.out, &progress);
        drop(progress);
        return tell_check(args, &plan, &found.map_err(failed)?);
    }
    let outcome = issue(
        &plan,
        &args.out,
        args.replace.because.as_deref(),
        args.from.as_deref(),
        &progress,
    );
    drop(progress);
    tell(args, &outcome.map_err(failed)?)
}

/// Sheets of a kit are printed anywhere, and bound as one.
fn refuse_what_is_for_one(args: &KitArgs) -> Result<(), Failure> {
    if args.sheets.printer.is_some() {
        return Err(Failure::usage(
            "`--printer` goes with `draw` only: a kit is printed anywhere, and a correction is right \
             on one printer",
        ));
    }
    if args.sheets.one_page {
        return Err(Failure::usage(
            "`--one-page` goes with `draw` only; hint: `--share` puts small patterns of a kit together",
        ));
    }
    Ok(())
}

/// What is wrong with each file, and a line that sums it up.
fn told(reports: &[Report]) -> Failure {
    for report in reports {
        report::tell(report);
    }
    match reports {
        [one] => Failure::falls_short(format!(
            "the kit is not issued: `{}` falls short",
            one.source.name.display()
        )),
        all => Failure::falls_short(format!(
            "the kit is not issued: {} files fall short",
            all.len()
        )),
    }
}

fn failed(error: KitError) -> Failure {
    if let KitError::Definitions(reports) = &error {
        return told(reports);
    }
    match error.hint() {
        Some(hint) => Failure::falls_short(format!("{error}\nhint: {hint}")),
        None => Failure::falls_short(error),
    }
}

#[derive(Serialize)]
struct IssueJson {
    folder: String,
    state: &'static str,
    patterns: usize,
    taken_over: usize,
    with_findings: usize,
}

fn tell(args: &KitArgs, outcome: &Outcome) -> Result<(), Failure> {
    let folder = outcome.folder.display().to_string();
    let state = match outcome.state {
        State::Unchanged => "issued already, nothing to do".to_owned(),
        state => {
            let mut told = state.word().to_owned();
            if args.from.is_some() {
                told += &format!(", {} taken over", outcome.taken_over);
            }
            if outcome.with_findings > 0 {
                told += &format!(", {} with findings", outcome.with_findings);
            }
            told
        }
    };
    let patterns = if outcome.patterns == 1 {
        "pattern"
    } else {
        "patterns"
    };
    report::tell(format_args!(
        "{folder}: {} {patterns}, {state}\n",
        outcome.patterns
    ));
    if !args.json {
        return report::print(&format!("{folder}\n"));
    }
    report::print_json(&IssueJson {
        folder,
        state: outcome.state.word(),
        patterns: outcome.patterns,
        taken_over: outcome.taken_over,
        with_findings: outcome.with_findings,
    })
}

#[derive(Serialize)]
struct CheckJson<'a> {
    folder: String,
    same: bool,
    changed: &'a [String],
    missing: &'a [String],
    added: &'a [String],
}

fn tell_check(args: &KitArgs, plan: &Plan, found: &Differences) -> Result<(), Failure> {
    let folder = plan.folder(&args.out).display().to_string();
    let kinds = [
        ("changed", &found.changed),
        ("missing", &found.missing),
        ("added", &found.added),
    ];
    if args.json {
        report::print_json(&CheckJson {
            folder: folder.clone(),
            same: found.is_empty(),
            changed: &found.changed,
            missing: &found.missing,
            added: &found.added,
        })?;
    } else if found.is_empty() {
        report::print(&format!("{folder}: ok\n"))?;
    } else {
        let lines = kinds.iter().flat_map(|(kind, names)| {
            names
                .iter()
                .map(move |name| format!("{kind}: {}\n", name.escape_debug()))
        });
        report::print(&lines.collect::<String>())?;
    }
    if found.is_empty() {
        return Ok(());
    }
    Err(Failure::falls_short(format!(
        "`{folder}` is not what `{}` would issue today: {} changed, {} missing, {} added",
        args.kit.display(),
        found.changed.len(),
        found.missing.len(),
        found.added.len()
    )))
}
