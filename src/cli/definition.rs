//! A definition's file, read.

use std::path::Path;
use trimloft::spec::{PatternSpec, Report, Source};

/// A definition with its source, or all that is wrong with it.
pub(super) fn read(file: &Path) -> Result<(Source, PatternSpec), Report> {
    let source = Source::open(file, file)?;
    let spec = PatternSpec::read(&source)?;
    Ok((source, spec))
}
