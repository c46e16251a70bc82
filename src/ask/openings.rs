//! Parts and the openings round them: how many, and which share one.

use super::choices::USUAL;
use super::place::{self, count, get, set, table_mut, texts};
use super::rows::free_name;
use toml_edit::{Array, DocumentMut, Item, Table, Value};

/// One opening round all parts, as it is answered.
pub(super) const TOGETHER: &str = "together";
/// One opening round each.
pub(super) const EACH: &str = "each";

/// A definition with nothing answered: one part, an opening round it, and `number` for its name.
pub fn blank(number: &str) -> DocumentMut {
    let mut definition = DocumentMut::new();
    let root = definition.as_table_mut();
    root.insert("format", toml_edit::value(1));
    let mut pattern = Table::new();
    pattern.insert("number", toml_edit::value(number));
    pattern.insert("title", toml_edit::value(number));
    root.insert("pattern", Item::Table(pattern));
    let mut panel = Table::new();
    set(
        &mut panel,
        "height",
        Value::from("1000 mm"),
        "not measured: far enough for nothing to be said of the far edge",
    );
    root.insert("panel", Item::Table(panel));
    write_parts(&mut definition, Some(&"1".into()));
    definition
}

/// How the openings hang on the parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Hung {
    /// One goes round all parts.
    Together,
    /// Each part has its own.
    Each,
    /// One is given by its own sizes, and there is no part.
    ByItself,
    /// As only a file can say.
    Otherwise,
}

/// How they hang.
pub(super) fn hung(definition: &DocumentMut) -> Hung {
    let parts = names(definition);
    let around: Vec<Option<Vec<String>>> = (0..count(definition, "opening"))
        .map(|index| around(definition, index))
        .collect();
    match around.as_slice() {
        [None] if parts.is_empty() => Hung::ByItself,
        [Some(all)] if *all == parts => Hung::Together,
        each if !parts.is_empty()
            && each.len() == parts.len()
            && each
                .iter()
                .zip(&parts)
                .all(|(around, part)| around.as_deref() == Some(std::slice::from_ref(part))) =>
        {
            Hung::Each
        }
        _ => Hung::Otherwise,
    }
}

/// Names of the parts that an opening goes round; `None` where it is given outright.
pub(super) fn around(definition: &DocumentMut, index: usize) -> Option<Vec<String>> {
    let list = get(definition, &format!("opening.{index}"), "around")?.as_array()?;
    let names = list.iter().map(|name| name.as_str().map(str::to_owned));
    names.collect()
}

/// Names of the parts.
fn names(definition: &DocumentMut) -> Vec<String> {
    (0..count(definition, "part"))
        .map(|index| part_name(definition, index).unwrap_or_default())
        .collect()
}

pub(super) fn parts(definition: &DocumentMut) -> usize {
    count(definition, "part")
}

/// Makes so many parts, one unless told, and hangs the openings as before.
pub(super) fn write_parts(definition: &mut DocumentMut, answer: Option<&String>) -> Option<()> {
    let wanted = answer.map_or(Some(1), |text| text.parse().ok())?;
    let before = hung(definition);
    let is_new = count(definition, "opening") == 0;
    if before == Hung::Otherwise && !is_new {
        return None;
    }
    let old = parts(definition);
    place::resize(definition, "part", wanted)?;
    for index in old..wanted {
        let name = free_name(definition, "part", "part");
        let part = table_mut(definition, &format!("part.{index}"))?;
        part.insert("name", toml_edit::value(name));
        part.insert("shape", toml_edit::value(USUAL));
        part.insert("with", toml_edit::value(toml_edit::InlineTable::new()));
    }
    let after = match (before, wanted) {
        (_, 0) => Hung::ByItself,
        (Hung::Each, _) => Hung::Each,
        _ => Hung::Together,
    };
    hang(definition, after)
}

/// Whether parts share an opening, where there are several.
pub(super) fn shared(definition: &DocumentMut) -> Option<String> {
    match hung(definition) {
        Hung::Together => Some(TOGETHER.into()),
        Hung::Each => Some(EACH.into()),
        Hung::ByItself | Hung::Otherwise => None,
    }
}

pub(super) fn write_shared(definition: &mut DocumentMut, answer: Option<&String>) -> Option<()> {
    let each = answer.is_some_and(|word| word == EACH);
    hang(definition, if each { Hung::Each } else { Hung::Together })
}

/// Makes the openings that there must be, and says what each goes round. What else was said of the
/// first holds for new ones.
fn hang(definition: &mut DocumentMut, hung: Hung) -> Option<()> {
    let parts = names(definition);
    let wanted = match hung {
        Hung::Each => parts.len(),
        _ => 1,
    };
    let old = count(definition, "opening");
    place::resize(definition, "opening", wanted)?;
    let like = |definition: &DocumentMut, key| get(definition, "opening.0", key).cloned();
    let (follow, open) = (like(definition, "follow"), like(definition, "open_at_edge"));
    for index in 0..wanted {
        if index >= old {
            let name = free_name(definition, "opening", "opening");
            table_mut(definition, &format!("opening.{index}"))?
                .insert("name", toml_edit::value(name));
        }
        let opening = table_mut(definition, &format!("opening.{index}"))?;
        if hung == Hung::ByItself {
            for key in ["around", "follow", "open_at_edge", "corner_radius"] {
                opening.remove(key);
            }
            continue;
        }
        for key in [
            "shape",
            "with",
            "centre_offset",
            "from_datum",
            "square_to",
            "measured",
        ] {
            opening.remove(key);
        }
        let around = match hung {
            Hung::Each => texts(&parts[index..=index]),
            _ => texts(&parts),
        };
        set(opening, "around", around, "");
        if index >= old && index > 0 {
            let same = [("follow", &follow), ("open_at_edge", &open)];
            for (key, item) in same {
                if let Some(item) = item {
                    opening.insert(key, item.clone());
                }
            }
        }
    }
    Some(())
}

pub(super) fn part_name(definition: &DocumentMut, index: usize) -> Option<String> {
    let name = get(definition, &format!("part.{index}"), "name")?.as_str()?;
    Some(name.to_owned())
}

/// Names a part anew, wherever the file names it.
pub(super) fn write_part_name(
    definition: &mut DocumentMut,
    index: usize,
    answer: Option<&String>,
) -> Option<()> {
    let old = part_name(definition, index);
    let new = match answer {
        Some(name) => name.clone(),
        None => free_name(definition, "part", "part"),
    };
    let part = table_mut(definition, &format!("part.{index}"))?;
    set(part, "name", Value::from(new.as_str()), "");
    for opening in 0..count(definition, "opening") {
        let Some(opening) = table_mut(definition, &format!("opening.{opening}")) else {
            continue;
        };
        let around = opening.get_mut("around").and_then(Item::as_array_mut);
        for name in around.into_iter().flat_map(Array::iter_mut) {
            if name.as_str().map(str::to_owned) == old {
                let decor = name.decor().clone();
                *name = Value::from(new.as_str());
                *name.decor_mut() = decor;
            }
        }
    }
    Some(())
}
