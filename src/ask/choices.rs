//! Answers that change more than one key: what a part is, and the datum edge.

use super::place::{get, keys, remove, set, table, table_mut};
use super::value::text;
use crate::base::Direction;
use crate::model::panel::Face;
use toml_edit::{DocumentMut, Item, Value};

/// What a part is until somebody says.
pub(super) const USUAL: &str = "window";

/// Keys by which a part can be something else than a shape.
pub(super) const OTHER_BODIES: [&str; 5] = ["bolt", "head", "washer", "socket", "tube"];

/// What a part or an opening is: the family's name, or the size of a bolt.
pub(super) fn what(definition: &DocumentMut, at: &str) -> Option<String> {
    let written = |key| get(definition, at, key).and_then(text);
    written("shape").or_else(|| written("bolt"))
}

/// Makes it another thing; values stay that the new one has as well. `families` are all shapes with
/// the names of their parameters.
pub(super) fn write_what(
    definition: &mut DocumentMut,
    at: &str,
    families: &[(String, Vec<String>)],
    answer: Option<&String>,
) -> Option<()> {
    let word = answer.map_or(USUAL, String::as_str);
    let family = families.iter().find(|(name, _)| name == word);
    let is_bolt = family.is_none();
    let own = table_mut(definition, at)?;
    for other in OTHER_BODIES.into_iter().filter(|_| !is_bolt) {
        own.remove(other);
    }
    if is_bolt {
        own.remove("shape");
        own.remove("with");
        set(own, "bolt", Value::from(word), "");
    } else {
        set(own, "shape", Value::from(word), "");
    }
    if let Some((_, known)) = family {
        let path = format!("{at}.with");
        let given = table(definition, &path).map(keys).unwrap_or_default();
        for key in given.iter().filter(|key| !known.contains(key)) {
            remove(definition, &path, key);
        }
    }
    Some(())
}

/// The face that is seen, where it is said.
pub(super) fn face(definition: &DocumentMut) -> Option<Face> {
    Face::from_word(get(definition, "panel", "seen_from")?.as_str()?)
}

/// The datum edge, where it is said.
pub(super) fn datum_edge(definition: &DocumentMut) -> Option<Direction> {
    direction(definition, "datum_edge")
}

fn direction(definition: &DocumentMut, key: &str) -> Option<Direction> {
    Direction::from_word(get(definition, "panel", key).and_then(Item::as_str)?)
}

/// Edges that a panel has which is seen from there.
pub(super) fn edges(face: Option<Face>) -> Vec<Direction> {
    let look = face.map(Face::look);
    let across =
        |edge: &Direction| look.is_none_or(|look| *edge != look && *edge != look.opposite());
    Direction::ALL.into_iter().filter(across).collect()
}

/// Writes the datum edge. It lies at the foot of the page unless the file has it at the head.
pub(super) fn write_datum_edge(
    definition: &mut DocumentMut,
    answer: Option<&String>,
) -> Option<()> {
    let Some(edge) = answer.and_then(|word| Direction::from_word(word)) else {
        remove(definition, "panel", "datum_edge");
        return Some(());
    };
    let up = direction(definition, "page_up");
    let panel = table_mut(definition, "panel")?;
    let about = "the edge that the tape is hooked over";
    set(panel, "datum_edge", Value::from(edge.word()), about);
    if up != Some(edge) && up != Some(edge.opposite()) {
        let head = Value::from(edge.opposite().word());
        set(panel, "page_up", head, "what lies at the head of the page");
    }
    Some(())
}
