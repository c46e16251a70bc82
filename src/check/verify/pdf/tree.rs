//! The tree of pages, walked within the budget before the library makes a list of them.
//!
//! The library keeps the dictionaries of all pages at once, reads what they name anew for each, and
//! looks through the whole file where there is no tree.

use super::cursor::Cursor;
use super::look::{RESOURCES, cost, look, look_at};
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use hayro_syntax::object::{Array, Dict, FromBytes, MaybeRef, ObjRef, Object};
use std::collections::{BTreeMap, BTreeSet};

/// Most pages, and groups of pages, that are read.
const MOST_NODES: usize = 20_000;
/// Deepest nesting of groups: writers balance their trees, ten pages and more a group.
const DEEPEST: usize = 50;
/// What is kept of a page, as times its own text and what it names: a key of five bytes takes some
/// eighty in a table of keys.
const KEPT: usize = 8;
/// What the library asks of each page and each group.
const ASKED: [&str; 6] = ["Type", "Resources", "MediaBox", "CropBox", "Rotate", "Kids"];

/// Objects with their places and generations.
pub(super) type Places = BTreeMap<u32, (usize, u32)>;

/// Walks all that the library would, and refuses what it would not end with.
pub(super) fn bounded(
    bytes: &[u8],
    places: &Places,
    root: ObjRef,
    budget: &mut Budget,
) -> Result<(), VerifyError> {
    let at = |to: ObjRef| {
        let (from, ..) = places.get(&to.obj_number)?;
        let mut cursor = Cursor::at(bytes, *from);
        cursor.object_head()?;
        Some(cursor.rest)
    };
    let dict_at = |to: ObjRef| Dict::from_bytes(at(to)?);
    const NO_PAGES: VerifyError = VerifyError::Pdf("it has no page");
    look_at(root, budget)?;
    let top = dict_at(root).filter(|top| top.contains_key("Kids"));
    let mut next = vec![(top.ok_or(NO_PAGES)?, 0, None)];
    let (mut seen, mut nodes) = (BTreeSet::from([root.obj_number]), 1);
    while let Some((node, depth, above)) = next.pop() {
        if depth > DEEPEST {
            return Err(VerifyError::Pdf("its pages are nested too deep"));
        }
        budget.spend_len(Cost::Bytes, KEPT.saturating_mul(node.data().len()))?;
        look(&node, &ASKED, budget)?;
        let own = match node.get_raw::<Dict<'_>>("Resources") {
            Some(MaybeRef::Ref(to)) => dict_at(to),
            Some(MaybeRef::NotRef(own)) => Some(own),
            None => None,
        };
        // Those of a group are read and kept anew for each page of it that has none.
        let resources = own.or(above);
        if let Some(resources) = &resources {
            let whole = cost(&node, &["Resources"], budget);
            let whole = whole.saturating_add(cost(resources, &RESOURCES, budget));
            budget.spend_len(Cost::Bytes, KEPT.saturating_mul(whole))?;
        }
        let kids = match node.get_raw::<Array<'_>>("Kids") {
            Some(MaybeRef::Ref(to)) => at(to).and_then(Array::from_bytes),
            Some(MaybeRef::NotRef(own)) => Some(own),
            None => None,
        };
        for kid in kids.iter().flat_map(Array::raw_iter) {
            let kid = match kid {
                MaybeRef::Ref(to) if seen.insert(to.obj_number) => {
                    look_at(to, budget)?;
                    dict_at(to)
                }
                MaybeRef::NotRef(Object::Dict(own)) => Some(own),
                _ => None,
            };
            let Some(kid) = kid else { continue };
            nodes += 1;
            if nodes > MOST_NODES {
                return Err(VerifyError::Pdf("it has more than 20 000 pages"));
            }
            next.push((kid, depth + 1, resources.clone()));
        }
    }
    Ok(())
}
