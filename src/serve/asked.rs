//! What was answered, written into the definition.

use super::answer::Refusal;
use super::asking::{Answered, Rows};
use super::fields::Fields;
use super::moved;
use super::seen::Seen;
use crate::ask::questions;
use crate::base::length::{Units, parse_length};
use crate::input::families::Library;
use crate::solve::{Finding, Severity};
use std::collections::{BTreeMap, HashMap};
use toml_edit::DocumentMut;

/// A definition with what was answered and moved in it.
pub(super) struct Asked {
    /// Its text; as it was sent where that is no TOML.
    pub(super) text: String,
    /// Answers that were not taken, by their questions.
    pub(super) wrong: Wrong,
}

/// Answers that were not taken: what was typed, and why not.
pub(super) type Wrong = BTreeMap<String, (Rows, String)>;

/// Writes what a form says into the text that it brings. Only what its reader changed is written:
/// each question brings along what its answer was.
///
/// # Errors
/// Moves that can't be read.
pub(super) fn applied(fields: &Fields, shapes: &Library) -> Result<Asked, Refusal> {
    let text = fields.text();
    let mut wrong = Wrong::new();
    let Ok(mut document) = text.parse::<DocumentMut>() else {
        return Ok(Asked { text, wrong });
    };
    let mut is_changed = moved::apply(&mut document, fields)?;
    for (id, rows) in changed(fields) {
        // An answer may bring other questions, or make this one void.
        let asked = questions(&document, shapes);
        let Some(question) = asked.iter().find(|question| question.id == id) else {
            continue;
        };
        match question.write(&mut document, &rows) {
            Ok(()) => is_changed = true,
            Err(why) => {
                wrong.insert(id.to_owned(), (rows, why));
            }
        }
    }
    let text = if is_changed {
        document.to_string()
    } else {
        text
    };
    Ok(Asked { text, wrong })
}

/// The answers that differ from what they were, in the order of the form.
fn changed(fields: &Fields) -> Vec<(&str, Rows)> {
    let mut order: Vec<&str> = vec![];
    let mut typed: HashMap<&str, BTreeMap<(usize, usize), String>> = HashMap::new();
    for (key, value) in &fields.0 {
        let Some((id, row, blank)) = place(key) else {
            continue;
        };
        if !typed.contains_key(id) {
            order.push(id);
        }
        let side = fields.get(&format!("side:{id}:{row}:{blank}"));
        let answer = with_side(value, side);
        typed.entry(id).or_default().insert((row, blank), answer);
    }
    let rows = |id: &str| -> Rows {
        let mut rows: BTreeMap<usize, Vec<String>> = BTreeMap::new();
        for ((row, _), answer) in &typed[id] {
            rows.entry(*row).or_default().push(answer.clone());
        }
        let is_full = |row: &Vec<String>| row.iter().any(|answer| !answer.is_empty());
        rows.into_values().filter(is_full).collect()
    };
    let all = order.into_iter().map(|id| (id, rows(id)));
    all.filter(|(id, rows)| line(rows) != fields.get(&format!("was:{id}")))
        .collect()
}

/// An answer on one line, alike for all that say the same.
pub(super) fn line(rows: &Rows) -> String {
    let row = |row: &Vec<String>| {
        let full = row.iter().rposition(|answer| !answer.is_empty());
        row[..full.map_or(0, |last| last + 1)].join(", ")
    };
    rows.iter().map(row).collect::<Vec<_>>().join("; ")
}

/// Question, row and blank of a field: `ask:part.1.at:0:1`.
fn place(key: &str) -> Option<(&str, usize, usize)> {
    let rest = key.strip_prefix("ask:")?;
    let (rest, blank) = rest.rsplit_once(':')?;
    let (id, row) = rest.rsplit_once(':')?;
    Some((id, row.parse().ok()?, blank.parse().ok()?))
}

/// A distance with the side that was chosen beside it.
fn with_side(answer: &str, side: &str) -> String {
    let answer = answer.trim();
    let is_zero = || parse_length(answer, Units::Mm).is_ok_and(|mm| mm == 0.0);
    if answer.is_empty() || side.is_empty() {
        answer.into()
    } else if is_zero() {
        "0".into()
    } else {
        format!("{answer} {side}")
    }
}

/// A distance and its side, as they stand in two fields.
pub(super) fn without_side<'a>(
    answer: &'a str,
    sides: [&'static str; 2],
) -> (&'a str, &'static str) {
    let found = sides.into_iter().find_map(|side| {
        let distance = answer.strip_suffix(side)?;
        distance
            .ends_with(char::is_whitespace)
            .then(|| (distance.trim_end(), side))
    });
    found.unwrap_or((answer, ""))
}

/// What was found of a question's answer.
pub(super) struct Found<'s> {
    /// How bad it is, in a word.
    pub(super) standing: &'static str,
    pub(super) message: &'s str,
    pub(super) hint: Option<&'s str>,
}

/// Whether somebody must look at a finding.
pub(super) fn is_grave(finding: &Finding) -> bool {
    finding.severity > Severity::Note && finding.accepted.is_none()
}

/// What was found of the answer to a question: nothing of one that still must be given, and nothing
/// that is only to be known.
pub(super) fn found<'s>(seen: &'s Seen, of: &Answered) -> Vec<Found<'s>> {
    let is_own = |asked: &Option<String>| asked.as_ref() == Some(&of.question.id);
    match seen {
        Seen::Wrong(problems) => {
            let own = problems
                .iter()
                .filter(|own| is_own(&own.asked) && !of.is_wanted());
            own.map(|problem| Found {
                standing: "error",
                message: &problem.message,
                hint: problem.hint.as_deref(),
            })
            .collect()
        }
        Seen::Drawn(drawn) => {
            let all = drawn.look.pattern.findings.iter().zip(&drawn.asked);
            let own = all.filter(|(finding, asked)| is_own(asked) && is_grave(finding));
            own.map(|(finding, _)| Found {
                standing: finding.standing(),
                message: &finding.message,
                hint: Some(&finding.hint),
            })
            .collect()
        }
    }
}
