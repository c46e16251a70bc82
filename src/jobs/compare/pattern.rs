//! Two patterns held against each other.

use super::moved::{Moved, moved};
use super::overlay::overlay;
use super::stands::{whereabouts, worked_out};
use super::written::{Change, changes};
use crate::base::paper::file_stem;
use crate::input::families::Library;
use crate::input::{PatternSpec, Report, Source};
use crate::jobs::produce::ProduceError;
use crate::solve::{Pattern, solve};

/// What differs between two patterns.
#[derive(Debug, Clone)]
pub struct PatternComparison {
    /// Number and revision of the old one.
    pub old: String,
    /// Number and revision of the new one.
    pub new: String,
    /// What is written otherwise.
    pub changes: Vec<Change>,
    /// What is worked out otherwise: what holds, is met behind, falls away, is taken in, is cut first.
    pub worked_out: Vec<Change>,
    /// Cut lines that moved.
    pub moved: Vec<Moved>,
    /// The same in words, as the fitter sees it.
    pub moved_in_words: Vec<String>,
    /// Both as one drawing; none where they are seen from other faces, or measured from other
    /// edges, so that one can't be laid over the other.
    pub overlay: Option<String>,
}

impl PatternComparison {
    /// Whether nothing differs.
    pub fn is_same(&self) -> bool {
        self.changes.is_empty() && self.worked_out.is_empty() && self.moved.is_empty()
    }
}

/// Compares two pattern files.
///
/// # Errors
/// What is wrong with either, as a report each.
pub fn compare_patterns(
    old: &Source,
    new: &Source,
    shapes: &Library,
) -> Result<PatternComparison, Vec<Report>> {
    let solved = [solved(old, shapes), solved(new, shapes)];
    let (old_pattern, new_pattern) = match solved {
        [Ok(old), Ok(new)] => (old, new),
        found => return Err(found.into_iter().filter_map(Result::err).collect()),
    };
    let written = changes(old, new);
    let alike = old_pattern.orientation.seen_from() == new_pattern.orientation.seen_from()
        && old_pattern.orientation.datum_edge() == new_pattern.orientation.datum_edge();
    let (moved, overlay) = if alike {
        let moved = moved(&old_pattern, &new_pattern);
        let overlay = overlay(&old_pattern, &new_pattern, &moved).map_err(|error| {
            let error: ProduceError = error;
            vec![Report::new(new, error.into_problems())]
        })?;
        (moved, Some(overlay))
    } else {
        (vec![], None)
    };
    Ok(PatternComparison {
        old: stem(&old_pattern),
        new: stem(&new_pattern),
        changes: written,
        worked_out: worked_out(&old_pattern, &new_pattern),
        moved_in_words: moved.iter().map(|one| told(one, &new_pattern)).collect(),
        moved,
        overlay,
    })
}

fn solved(source: &Source, shapes: &Library) -> Result<Pattern, Report> {
    let spec = PatternSpec::read(source)?;
    solve(&spec, shapes).map_err(|problems| Report::new(source, problems))
}

fn stem(pattern: &Pattern) -> String {
    file_stem(&pattern.identity.number.value, &pattern.identity.revision)
}

/// `cut line of `neck opening` moved by up to 2.1 mm, most at 38 mm left, 70 mm from the datum
/// edge`.
fn told(moved: &Moved, pattern: &Pattern) -> String {
    format!(
        "cut line of `{}` moved by up to {}, most at {}",
        moved.opening,
        pattern.units.close(moved.by),
        whereabouts(moved.at, pattern, pattern.units)
    )
}
