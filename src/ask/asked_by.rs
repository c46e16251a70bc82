//! Which answer a problem of a definition is about.

use super::place::{get, key_span, table_spans};
use super::question::Question;
use crate::input::Problem;
use std::ops::Range;
use toml_edit::{Document, Item, Table};

/// The question whose answer a problem with a definition's text is about; `None` where it is about
/// something that is not asked.
pub fn asked_by<'q>(text: &str, asked: &'q [Question], problem: &Problem) -> Option<&'q Question> {
    let file = Document::parse(text).ok()?;
    let at = problem.span.as_ref()?.start;
    let holds = |span: &Range<usize>| span.contains(&at);
    let nearest = |question: &'q Question| {
        let places = question.places(&file).into_iter();
        let fit = places.filter_map(|(table, key)| {
            let key_itself = [
                key_span(&file, &table, &key),
                get(&file, &table, &key).and_then(|item| item.span()),
            ];
            let size = key_itself
                .into_iter()
                .flatten()
                .filter(holds)
                .map(|span| span.len());
            match size.min() {
                Some(size) => Some((Fit::Key, size)),
                None if key != "name" && is_of(&file, &table, problem) => Some((Fit::Part, 0)),
                None => {
                    let around = table_spans(&file, &table).into_iter().find(holds)?;
                    let is_named = problem.message.contains(&format!("`{key}`"));
                    let fit = if is_named { Fit::Named } else { Fit::Table };
                    Some((fit, around.len()))
                }
            }
        });
        fit.min().map(|fit| (fit, question))
    };
    let all = asked.iter().filter_map(nearest);
    all.min_by_key(|(fit, _)| *fit)
        .map(|(_, question)| question)
}

/// Whether a problem names the part of this table.
fn is_of(file: &Table, table: &str, problem: &Problem) -> bool {
    let name = get(file, table, "name").and_then(Item::as_str);
    let is_told = |name: &str| problem.message.contains(&format!("`{name}`"));
    table.starts_with("part.") && name.is_some_and(is_told)
}

/// How well a question fits the place of a problem, the best first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    /// It is at its key.
    Key,
    /// It is about its table, and names its key.
    Named,
    /// It is about its part.
    Part,
    /// It is about its table.
    Table,
}
