//! Definitions' files: found, and read, each once.

use super::{Failure, report};
use rayon::prelude::*;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use trimloft::input::{KitSpec, PatternSpec, Report, ShopSpec, Source};

/// What standard input is called in messages.
pub(super) const STANDARD_INPUT: &str = "standard input";

/// Whether a file on the command line stands for standard input.
pub(super) fn is_standard_input(file: &Path) -> bool {
    file.as_os_str() == "-"
}

/// A file's text; that of standard input where it is called `-`.
pub(super) fn open(file: &Path) -> Result<Source, Report> {
    if is_standard_input(file) {
        Source::read(STANDARD_INPUT, io::stdin().lock())
    } else {
        Source::open(file, file)
    }
}

/// A definition with its source, or all that is wrong with it; tools as in [`PatternSpec::read_for`].
pub(super) fn read(file: &Path, shop: Option<&ShopSpec>) -> Result<(Source, PatternSpec), Report> {
    let source = open(file)?;
    let spec = PatternSpec::read_for(&source, shop)?;
    Ok((source, spec))
}

/// Refuses `-` named twice among the files of a call.
pub(super) fn refuse_two_inputs<'p>(
    paths: impl IntoIterator<Item = &'p PathBuf>,
) -> Result<(), Failure> {
    if paths
        .into_iter()
        .filter(|path| is_standard_input(path))
        .count()
        > 1
    {
        return Err(Failure::usage(
            "`-` is named twice, and standard input can be read once",
        ));
    }
    Ok(())
}

/// A file that was named, and its text or why there is none. A pipe can be read only once.
pub(super) struct Given {
    pub(super) file: PathBuf,
    pub(super) text: Result<Source, Report>,
}

/// The pattern files that were named.
pub(super) struct Named {
    pub(super) files: Vec<Given>,
    /// Whether some were named by their folder.
    pub(super) by_folder: bool,
}

/// The pattern files named: each file itself, and of each folder its `.toml` files in order of
/// their names, without those that are kits.
pub(super) fn named(paths: &[PathBuf]) -> Result<Named, Failure> {
    let mut named = Named {
        files: vec![],
        by_folder: false,
    };
    refuse_two_inputs(paths)?;
    for path in paths {
        if is_standard_input(path) || !path.is_dir() {
            named.files.push(given(path.clone()));
            continue;
        }
        named.by_folder = true;
        let before = named.files.len();
        let texts: Vec<Given> = definitions(path)?.into_par_iter().map(given).collect();
        for one in texts {
            if one.text.as_ref().is_ok_and(KitSpec::is_meant) {
                report::tell(format_args!(
                    "{}: a kit file, left out; hint: issue it with `trimloft kit`\n",
                    one.file.display()
                ));
            } else {
                named.files.push(one);
            }
        }
        if named.files.len() == before {
            return Err(Failure::falls_short(format!(
                "the folder `{}` holds no pattern files; hint: their names end in `.toml`",
                path.display()
            )));
        }
    }
    Ok(named)
}

fn given(file: PathBuf) -> Given {
    let text = open(&file);
    Given { file, text }
}

fn definitions(folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let unreadable = |error| {
        Failure::falls_short(format!(
            "the folder `{}` can't be looked through: {error}",
            folder.display()
        ))
    };
    let mut files = vec![];
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        if path.extension().is_some_and(|ending| ending == "toml") && path.is_file() {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

/// The first thing that is wrong with each file that failed, one a line, for a summary.
pub(super) fn why_each<'r>(reports: impl Iterator<Item = &'r Report>) -> String {
    reports
        .map(|report| {
            let first = report.problems.first();
            let why = first.map_or("", |problem| problem.message.as_str());
            let more = match report.problems.len() + report.more {
                0 | 1 => String::new(),
                all => format!(", and {} more", all - 1),
            };
            format!("\n  {}: {}{more}", report.source.name.display(), why)
        })
        .collect()
}
