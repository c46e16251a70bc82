//! Names that stand for one thing each.

use super::problem::Placed;
use super::reading::Reading;
use crate::base::words::shown;
use std::collections::HashMap;

/// Reports names that are given twice among things of a kind.
pub(super) fn check_names<'n>(
    names: impl Iterator<Item = &'n Placed<String>>,
    kind: &str,
    reading: &Reading<'_>,
) {
    let mut seen = HashMap::new();
    for name in names {
        let Some(first) = seen.insert(name.value.as_str(), name) else {
            continue;
        };
        let mut problem = name.problem(format!("`{}` names two {kind}", shown(&name.value)));
        if let Some(span) = &first.span {
            let line = reading.line_of(span.start);
            problem = problem.hint(format!("the other is named in line {line}"));
        }
        reading.report(problem);
    }
}
