//! Which answer a problem of a definition, or a finding, is about.

use super::openings::around;
use super::place::{count, get, key_span, table_spans};
use super::question::Question;
use crate::input::Problem;
use crate::solve::Finding;
use std::ops::Range;
use toml_edit::{Document, DocumentMut, Item, Table};

/// The question whose answer a problem with a definition's text is about; `None` where it is about
/// something that is not asked.
pub fn asked_by<'q>(
    text: &str,
    asked: impl IntoIterator<Item = &'q Question>,
    problem: &Problem,
) -> Option<&'q Question> {
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
                None if table.is_empty() => None,
                None => {
                    let around = table_spans(&file, &table).into_iter().find(holds)?;
                    let is_named = problem.message.contains(&format!("`{key}`"));
                    // What lacks a key that is not asked for is about no question.
                    let is_lack = problem.message.contains("is missing in");
                    let fit = match is_named {
                        true => Fit::Named,
                        false if is_lack => return None,
                        false => Fit::Table,
                    };
                    Some((fit, around.len()))
                }
            }
        });
        fit.min().map(|fit| (fit, question))
    };
    let all = asked.into_iter().filter_map(nearest);
    all.min_by_key(|(fit, _)| *fit)
        .map(|(_, question)| question)
}

/// Whether a problem names the part of this table.
fn is_of(file: &Table, table: &str, problem: &Problem) -> bool {
    table.starts_with("part.") && is_told(file, table, &problem.message)
}

/// Whether a message names what a table holds.
fn is_told(file: &Table, table: &str, message: &str) -> bool {
    let name = get(file, table, "name").and_then(Item::as_str);
    name.is_some_and(|name| message.contains(&format!("`{name}`")))
}

/// The question whose answer would most likely change a finding of a definition; `None` where
/// nothing that is asked would.
pub fn asked_of<'q>(
    definition: &DocumentMut,
    asked: impl IntoIterator<Item = &'q Question> + Clone,
    finding: &Finding,
) -> Option<&'q Question> {
    let ids: &[&str] = match finding.id.kind() {
        "material" => &["material"],
        "surface" => &["profile", "rise", "rake"],
        "locators" | "locator" | "fixed point" => &["locators"],
        "centreline" | "centre" => &["pairs"],
        "keep-out" => &["keep-outs"],
        "larger than asked" => &["follow"],
        "behind" => &["features"],
        "foot" => &["feet"],
        _ => &[],
    };
    let is_named = |table: &str| is_told(definition, table, &finding.message);
    let opening = (0..count(definition, "opening")).find(|i| is_named(&format!("opening.{i}")));
    let of_opening = |index: usize| around(definition, index).unwrap_or_default();
    let within = opening.map(of_opening).unwrap_or_default();
    let is_within = |table: &str| {
        let name = get(definition, table, "name").and_then(Item::as_str);
        name.is_some_and(|name| within.iter().any(|own| own == name))
    };
    let part = |is: &dyn Fn(&str) -> bool| {
        (0..count(definition, "part")).find(|index| is(&format!("part.{index}")))
    };
    let part = part(&is_named).or_else(|| part(&is_within)).unwrap_or(0) + 1;
    let places = [
        format!("part.{part}.at"),
        format!("part.{part}.ties"),
        "opening.at".into(),
    ];
    let suffix = opening.map_or(String::new(), |index| format!(".{}", index + 1));
    let known = ids
        .iter()
        .flat_map(|id| [format!("{id}{suffix}"), (*id).to_owned()]);
    let wanted = match ids {
        [] => places.to_vec(),
        _ => known.collect(),
    };
    wanted
        .iter()
        .find_map(|id| asked.clone().into_iter().find(|own| own.id == *id))
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

#[cfg(test)]
mod tests {
    use super::asked_of;
    use crate::ask::tests::{answered, pattern};
    use crate::ask::{blank, questions};
    use crate::input::families::Library;

    /// Each finding leads to the question whose answer would change it.
    #[test]
    fn findings_lead_to_their_questions() {
        let mut definition = blank("asked");
        for (id, line) in [
            ("seen-from", "below"),
            ("datum-edge", "rear"),
            ("width", "640"),
            ("material", "aluminium"),
            ("thickness", "0.8"),
            ("parts", "2"),
            ("part.1.what", "M10"),
            ("part.2.what", "M10"),
            ("part.1.at", "20 left, 25"),
            ("part.2.at", "20 right, 25"),
        ] {
            answered(&mut definition, id, line).unwrap_or_else(|why| panic!("{id}: {why}"));
        }
        let asked = questions(&definition, &Library::shipped());
        let found: Vec<(String, String)> = pattern(&definition.to_string())
            .findings
            .iter()
            .filter_map(|finding| {
                let own = asked_of(&definition, &asked, finding)?;
                Some((finding.id.kind().to_owned(), own.id.clone()))
            })
            .collect();
        for (kind, id) in [
            ("locators", "locators"),
            ("larger than asked", "follow"),
            ("share of the width", "part.1.at"),
        ] {
            let own = found.iter().find(|(found, _)| found == kind);
            let own = own.map(|(_, id)| id.as_str());
            assert_eq!(own, Some(id), "{kind}: {found:?}");
        }
    }
}
