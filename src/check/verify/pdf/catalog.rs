//! What a file says of itself beside its pages, and what it asks of the programs that open it
//! (ISO 32000-1, 7.7.2, 12.2, 12.3.3 and 12.6).

use super::layers::text;
use super::look::{look, look_into, look_through};
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::Preferences;
use hayro_syntax::object::{Array, Dict, Name, Object, String as Words};
use std::collections::BTreeSet;

/// What a bookmark costs, in steps of drawing: a file may have some 20 000.
const BOOKMARK: u64 = 400;

/// What a file asks of a print dialog.
pub(super) fn preferences(catalog: &Dict<'_>) -> Preferences {
    let asked: Dict<'_> = catalog.get("ViewerPreferences").unwrap_or_default();
    let is = |key: &str, word: &str| {
        asked
            .get::<Name<'_>>(key)
            .is_some_and(|name| name.as_str() == word)
    };
    Preferences {
        no_scaling: is("PrintScaling", "None"),
        one_side: is("Duplex", "Simplex"),
        paper_by_page: asked.get::<bool>("PickTrayByPDFSize").unwrap_or(false),
        a_part: ["PrintPageRange", "PrintArea", "PrintClip"]
            .iter()
            .any(|key| asked.contains_key(key)),
    }
}

/// What a file does, or lets be filled in, once it is opened.
pub(super) fn actions(
    catalog: &Dict<'_>,
    budget: &mut Budget,
) -> Result<BTreeSet<&'static str>, VerifyError> {
    look(catalog, &["OpenAction", "AcroForm", "Names"], budget)?;
    let mut unread = BTreeSet::new();
    let names: Dict<'_> = catalog.get("Names").unwrap_or_default();
    if catalog.contains_key("AA")
        || names.contains_key("JavaScript")
        || !is_view(catalog.get::<Object<'_>>("OpenAction"))
    {
        unread.insert("actions of its own");
    }
    let form: Dict<'_> = catalog.get("AcroForm").unwrap_or_default();
    look_into(&form, budget)?;
    let fields = form.get::<Array<'_>>("Fields");
    if form.contains_key("XFA") || fields.is_some_and(|fields| fields.raw_iter().next().is_some()) {
        unread.insert("form fields");
    }
    Ok(unread)
}

/// Whether what is done as a file is opened only goes to a place in it.
fn is_view(action: Option<Object<'_>>) -> bool {
    match action {
        None | Some(Object::Array(_) | Object::Null(_)) => true,
        Some(Object::Dict(action)) => {
            let kind = action.get::<Name<'_>>("S");
            kind.is_some_and(|kind| kind.as_str() == "GoTo") && !action.contains_key("Next")
        }
        Some(_) => false,
    }
}

/// The title of a file, if it has one, its bookmarks, and what stands before its pages' numbers.
pub(super) fn titles(
    catalog: &Dict<'_>,
    title: Option<&[u8]>,
    budget: &mut Budget,
) -> Result<Vec<String>, VerifyError> {
    let mut all: Vec<String> = title.into_iter().map(text).collect();
    look(catalog, &["PageLabels", "Outlines"], budget)?;
    let labels: Dict<'_> = catalog.get("PageLabels").unwrap_or_default();
    look(&labels, &["Nums"], budget)?;
    if let Some(labels) = labels.get::<Array<'_>>("Nums") {
        look_through(&labels, budget)?;
        let before = labels.iter::<Object<'_>>().filter_map(Object::into_dict);
        all.extend(before.filter_map(|label| Some(text(label.get::<Words<'_>>("P")?.as_bytes()))));
    }
    let mut seen = BTreeSet::new();
    let mut next: Vec<Dict<'_>> = catalog.get("Outlines").into_iter().collect();
    while let Some(item) = next.pop() {
        // The library keeps with each all that it was reached through: the work grows as a square.
        budget.spend(Cost::Steps, BOOKMARK)?;
        look_into(&item, budget)?;
        look(&item, &["Title"], budget)?;
        if let Some(words) = item.get::<Words<'_>>("Title") {
            budget.spend_len(Cost::Bytes, words.as_bytes().len())?;
            all.push(text(words.as_bytes()));
        }
        for key in ["Next", "First"] {
            let to = item.get_ref(key);
            if to.is_none_or(|to| seen.insert(to.obj_number)) {
                look(&item, &[key], budget)?;
                next.extend(item.get::<Dict<'_>>(key));
            }
        }
    }
    Ok(all)
}
