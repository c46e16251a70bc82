//! `trimloft compare`: what differs, in numbers and as a drawing of both.

use super::Failure;
use super::args::CompareArgs;
use super::meaning;
use super::report;
use serde::Serialize;
use std::fs;
use std::path::Path;
use trimloft::input::{KitSpec, Report, Source};
use trimloft::jobs::compare::{
    Change, KitComparison, PatternComparison, compare_kits, compare_patterns,
};
use trimloft::output::{WriteError, write_whole};

pub(super) fn run(args: &CompareArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.families)?;
    let open = |file: &Path| Source::open(file, file).map_err(|report| told(&[report]));
    let (old, new) = (open(&args.old)?, open(&args.new)?);
    match (KitSpec::is_meant(&old), KitSpec::is_meant(&new)) {
        (true, true) => {
            let found = compare_kits(&old, &new, &shapes).map_err(|reports| told(&reports))?;
            let overlays = found
                .changed
                .iter()
                .map(|pattern| overlay(args, pattern))
                .collect::<Result<Vec<_>, _>>()?;
            tell_kits(args, &found, &overlays)
        }
        (false, false) => {
            let found = compare_patterns(&old, &new, &shapes).map_err(|reports| told(&reports))?;
            let overlay = overlay(args, &found)?;
            tell_patterns(args, &found, overlay)
        }
        _ => Err(Failure::usage(
            "a pattern can't be compared with a kit; hint: name two patterns, or two kits",
        )),
    }
}

fn told(reports: &[Report]) -> Failure {
    for report in reports {
        report::tell(report);
    }
    Failure::falls_short("nothing is compared")
}

/// Writes the drawing of both where anything differs; gives its file.
fn overlay(args: &CompareArgs, found: &PatternComparison) -> Result<Option<String>, Failure> {
    let Some(svg) = &found.overlay else {
        report::tell(format_args!(
            "{} -> {}: seen from other faces or measured from other edges: outlines are not laid \
             over each other\n",
            found.old, found.new
        ));
        return Ok(None);
    };
    if args.no_overlay || found.is_same() {
        return Ok(None);
    }
    let path = args.out.join(format!("{}-to-{}.svg", found.old, found.new));
    let whole = |file: &Path| fs::canonicalize(file).ok();
    let written = match [&args.old, &args.new].map(|file| whole(file)) {
        given if given.contains(&whole(&path)) && path.exists() => {
            Err(WriteError::Given(path.clone()))
        }
        _ => write_whole(&path, svg.as_bytes()),
    };
    written.map_err(|error| Failure::falls_short(format!("{error}\nhint: {}", error.hint())))?;
    Ok(Some(path.display().to_string()))
}

fn tell_patterns(
    args: &CompareArgs,
    found: &PatternComparison,
    overlay: Option<String>,
) -> Result<(), Failure> {
    if args.json {
        return report::print_json(&PatternJson::of(found, overlay));
    }
    report::print(&in_words(found, overlay.as_deref(), ""))
}

fn tell_kits(
    args: &CompareArgs,
    found: &KitComparison,
    overlays: &[Option<String>],
) -> Result<(), Failure> {
    let patterns = found.changed.iter().zip(overlays);
    if args.json {
        return report::print_json(&KitJson {
            old: &found.old,
            new: &found.new,
            changes: found.changes.iter().map(ChangeJson::of).collect(),
            added: &found.added,
            gone: &found.gone,
            changed: patterns
                .map(|(pattern, overlay)| PatternJson::of(pattern, overlay.clone()))
                .collect(),
            same: found.same,
        });
    }
    let mut out = format!("{} -> {}\n", found.old, found.new);
    for change in &found.changes {
        out += &format!("  {change}\n");
    }
    for (numbers, what) in [(&found.added, "added"), (&found.gone, "gone")] {
        for number in numbers {
            out += &format!("  pattern {number} {what}\n");
        }
    }
    for (pattern, overlay) in patterns {
        out += &in_words(pattern, overlay.as_deref(), "  ");
    }
    let patterns = if found.same == 1 {
        "pattern is"
    } else {
        "patterns are"
    };
    out += &format!("  {} {patterns} the same\n", found.same);
    report::print(&out)
}

fn in_words(found: &PatternComparison, overlay: Option<&str>, indent: &str) -> String {
    let mut out = format!("{indent}{} -> {}\n", found.old, found.new);
    let changes = found.changes.iter().chain(&found.worked_out);
    let changes = changes.map(Change::to_string);
    let mut nothing = true;
    for line in changes.chain(found.moved_in_words.iter().cloned()) {
        out += &format!("{indent}  {line}\n");
        nothing = false;
    }
    if nothing {
        out += &format!("{indent}  nothing differs\n");
    }
    if let Some(file) = overlay {
        out += &format!("{indent}  drawn over each other: {file}\n");
    }
    out
}

#[derive(Serialize)]
struct ChangeJson<'a> {
    what: &'a str,
    old: Option<&'a str>,
    new: Option<&'a str>,
}

impl<'a> ChangeJson<'a> {
    fn of(change: &'a Change) -> Self {
        Self {
            what: &change.what,
            old: change.old.as_deref(),
            new: change.new.as_deref(),
        }
    }
}

#[derive(Serialize)]
struct MovedJson<'a> {
    opening: &'a str,
    /// mm.
    by: f64,
    /// Panel frame, mm.
    at: [f64; 2],
}

#[derive(Serialize)]
struct PatternJson<'a> {
    old: &'a str,
    new: &'a str,
    changes: Vec<ChangeJson<'a>>,
    worked_out: Vec<ChangeJson<'a>>,
    moved: Vec<MovedJson<'a>>,
    overlay: Option<String>,
}

impl<'a> PatternJson<'a> {
    fn of(found: &'a PatternComparison, overlay: Option<String>) -> Self {
        let moved = found.moved.iter().map(|one| MovedJson {
            opening: &one.opening,
            by: one.by,
            at: [one.at.x, one.at.y],
        });
        Self {
            old: &found.old,
            new: &found.new,
            changes: found.changes.iter().map(ChangeJson::of).collect(),
            worked_out: found.worked_out.iter().map(ChangeJson::of).collect(),
            moved: moved.collect(),
            overlay,
        }
    }
}

#[derive(Serialize)]
struct KitJson<'a> {
    old: &'a str,
    new: &'a str,
    changes: Vec<ChangeJson<'a>>,
    added: &'a [String],
    gone: &'a [String],
    changed: Vec<PatternJson<'a>>,
    same: usize,
}
