//! Definitions of one call that would be written to one file.

use crate::cli::definition::Given;
use std::collections::BTreeMap;
use trimloft::base::paper::file_stem;
use trimloft::input::PatternSpec;

/// Name of the files that a definition would be written to, less their ending; none for one that
/// can't be read.
pub(super) fn stem(given: &Given) -> Option<String> {
    let spec = PatternSpec::read_for(given.text.as_ref().ok()?, None).ok()?;
    Some(file_stem(
        &spec.identity.number.value,
        &spec.identity.revision,
    ))
}

/// Definitions that would be written to one file, by their place, with what to tell of each.
pub(super) fn twins(files: &[Given], stems: &[Option<String>]) -> BTreeMap<usize, String> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut twins = BTreeMap::new();
    for (place, (file, stem)) in files.iter().zip(stems).enumerate() {
        let Some(stem) = stem else { continue };
        let Some(other) = seen.insert(stem.to_lowercase(), place) else {
            continue;
        };
        let (one, file) = (&files[other].file, &file.file);
        let message = if one == file {
            format!("`{}` is named twice; hint: name it once", file.display())
        } else {
            format!(
                "`{}` and `{}` would both be written as `{stem}`; hint: give them different \
                 numbers or revisions",
                one.display(),
                file.display()
            )
        };
        twins.entry(other).or_insert_with(|| message.clone());
        twins.insert(place, message);
    }
    twins
}
