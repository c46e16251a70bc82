//! Definitions' files: found, and read.

use super::Failure;
use std::fs;
use std::path::{Path, PathBuf};
use trimloft::spec::{KitSpec, PatternSpec, Report, ShopSpec, Source};

/// A definition with its source, or all that is wrong with it.
///
/// Tools of a shop that was named take the place of those that the definition names.
pub(super) fn read(file: &Path, shop: Option<&ShopSpec>) -> Result<(Source, PatternSpec), Report> {
    let source = Source::open(file, file)?;
    let mut spec = PatternSpec::read(&source)?;
    if let Some(shop) = shop {
        spec.tools = Some(shop.tools.clone());
    }
    Ok((source, spec))
}

/// The pattern files that were named.
pub(super) struct Named {
    pub(super) files: Vec<PathBuf>,
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
    for path in paths {
        if !path.is_dir() {
            named.files.push(path.clone());
            continue;
        }
        named.by_folder = true;
        let before = named.files.len();
        for file in definitions(path)? {
            if Source::open(&file, &file).is_ok_and(|source| KitSpec::is_meant(&source)) {
                eprintln!(
                    "{}: a kit file, left out; hint: issue it with `trimloft kit`",
                    file.display()
                );
            } else {
                named.files.push(file);
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
            let more = match report.problems.len() {
                0 | 1 => String::new(),
                all => format!(", and {} more", all - 1),
            };
            format!("\n  {}: {}{more}", report.source.name.display(), why)
        })
        .collect()
}
