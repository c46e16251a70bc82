//! Two kits held against each other: the kit files, and every pattern that both have.

use super::pattern::{PatternComparison, compare_patterns};
use super::written::{Change, changes};
use crate::base::paper::file_stem;
use crate::input::families::Library;
use crate::input::{KitSpec, PatternSpec, Report, Source};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::path::Path;

/// What differs between two kits.
#[derive(Debug, Clone)]
pub struct KitComparison {
    /// Number and revision of the old one.
    pub old: String,
    /// Number and revision of the new one.
    pub new: String,
    /// What the kit files say otherwise.
    pub changes: Vec<Change>,
    /// Numbers of patterns that the new one has and the old one has not.
    pub added: Vec<String>,
    /// Numbers of patterns that are gone.
    pub gone: Vec<String>,
    /// Patterns that both have, by number, and that differ.
    pub changed: Vec<PatternComparison>,
    /// How many patterns are the same.
    pub same: usize,
}

/// Compares two kits with all their patterns.
///
/// # Errors
/// What is wrong with either kit or its patterns, as a report each.
pub fn compare_kits(
    old: &Source,
    new: &Source,
    shapes: &Library,
) -> Result<KitComparison, Vec<Report>> {
    let (old_kit, new_kit) = (Kit::read(old)?, Kit::read(new)?);
    let both: Vec<(&Source, &Source)> = new_kit
        .patterns
        .iter()
        .filter_map(|(number, new)| Some((old_kit.patterns.get(number)?, new)))
        .collect();
    let compared: Vec<_> = both
        .par_iter()
        .filter(|(old, new)| old.text != new.text)
        .map(|(old, new)| compare_patterns(old, new, shapes))
        .collect();
    let (mut changed, mut reports) = (vec![], vec![]);
    for one in compared {
        match one {
            Ok(one) if one.is_same() => {}
            Ok(one) => changed.push(one),
            Err(found) => reports.extend(found),
        }
    }
    if !reports.is_empty() {
        return Err(reports);
    }
    let only = |one: &Kit, other: &Kit| {
        let numbers = one.patterns.keys();
        let only = numbers.filter(|number| !other.patterns.contains_key(*number));
        only.cloned().collect()
    };
    Ok(KitComparison {
        changes: changes(old, new),
        added: only(&new_kit, &old_kit),
        gone: only(&old_kit, &new_kit),
        same: both.len() - changed.len(),
        changed,
        old: old_kit.stem,
        new: new_kit.stem,
    })
}

struct Kit {
    stem: String,
    /// Definitions by their patterns' numbers.
    patterns: BTreeMap<String, Source>,
}

impl Kit {
    fn read(source: &Source) -> Result<Self, Vec<Report>> {
        let kit = KitSpec::read(source).map_err(|report| vec![report])?;
        let folder = source.name.parent().unwrap_or(Path::new(""));
        let read: Vec<Result<(String, Source), Report>> = kit
            .patterns
            .par_iter()
            .map(|pattern| {
                let path = folder.join(&pattern.file.value);
                let source = Source::open(&path, &path)?;
                let spec = PatternSpec::read(&source)?;
                Ok((spec.identity.number.value, source))
            })
            .collect();
        let (mut patterns, mut reports) = (BTreeMap::new(), vec![]);
        for one in read {
            match one {
                Ok((number, source)) => {
                    patterns.insert(number, source);
                }
                Err(report) => reports.push(report),
            }
        }
        if !reports.is_empty() {
            return Err(reports);
        }
        let identity = &kit.identity;
        Ok(Self {
            stem: file_stem(&identity.number.value, &identity.revision.value),
            patterns,
        })
    }
}
