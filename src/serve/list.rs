//! The definitions of the folder: found, made, copied, named anew.

use super::answer::{Refusal, escaped, see};
use super::fields::{Fields, Named};
use super::html::{self, Listed};
use super::shop::Shop;
use crate::ask::blank;
use crate::input::{KitSpec, Source};
use crate::store::{Entry, Name};
use axum::extract::{Query, State};
use axum::response::{IntoResponse, Response};
use std::collections::HashMap;
use std::sync::Arc;
use toml_edit::DocumentMut;

/// Definitions shown at once; a search finds the others.
const MOST_SHOWN: usize = 200;

/// The list, of those that hold the words that are searched for.
pub(super) async fn show(
    State(shop): State<Arc<Shop>>,
    Query(query): Query<HashMap<String, String>>,
) -> Result<Response, Refusal> {
    let wanted = query
        .get("q")
        .map_or("", |words| words.trim())
        .to_lowercase();
    let all = shop.store.list()?;
    let is_empty = all.is_empty();
    let mut found = all
        .into_iter()
        .filter_map(|entry| listed(&shop, entry, &wanted));
    let shown: Vec<Listed> = found.by_ref().take(MOST_SHOWN).collect();
    let more = found.next().is_some();
    Ok(html::list(&shown, &wanted, more, is_empty).into_response())
}

/// A definition with its title, where its name or its title holds the words.
fn listed(shop: &Shop, entry: Entry, wanted: &str) -> Option<Listed> {
    let text = shop
        .store
        .read(&entry.name)
        .map(|state| state.text)
        .unwrap_or_default();
    if KitSpec::is_meant(&Source::new("", text.as_str())) {
        return None;
    }
    let document = text.parse::<DocumentMut>().ok();
    let title = document
        .as_ref()
        .and_then(|document| document.get("pattern")?.get("title")?.as_str())
        .unwrap_or_default()
        .to_owned();
    let fits = |words: &str| words.to_lowercase().contains(wanted);
    let name = entry.name;
    (fits(name.as_str()) || fits(&title)).then_some(Listed {
        name,
        title,
        changed: entry.changed,
    })
}

/// A new definition under a name.
pub(super) async fn create(
    State(shop): State<Arc<Shop>>,
    fields: Fields,
) -> Result<Response, Refusal> {
    let name = Name::parse(fields.get("name"))?;
    let number = name.as_str().replace(' ', "-");
    shop.store.save(&name, None, &blank(&number).to_string())?;
    Ok(see(&page(&name)))
}

/// The same definition under another name as well.
pub(super) async fn duplicate(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    fields: Fields,
) -> Result<Response, Refusal> {
    let to = Name::parse(fields.get("to"))?;
    let state = shop.store.read(&name)?;
    shop.store.save(&to, None, &state.text)?;
    Ok(see(&page(&to)))
}

/// The definition under another name.
pub(super) async fn rename(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    fields: Fields,
) -> Result<Response, Refusal> {
    let to = Name::parse(fields.get("to"))?;
    shop.store.rename(&name, &to)?;
    Ok(see(&page(&to)))
}

fn page(name: &Name) -> String {
    format!("/p/{}", escaped(name.as_str()))
}
