//! One definition: its page, and saving it.

use super::answer::{Refusal, escaped, see};
use super::fields::{Fields, Named, began, ended_as};
use super::html::{self, Editor};
use super::moved;
use super::printers::Setting;
use super::seen::seen;
use super::shop::Shop;
use crate::store::{State as Kept, StoreError};
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use std::sync::Arc;

/// The page of a definition as it stands in the folder.
pub(super) async fn show(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
) -> Result<Response, Refusal> {
    let state = shop.store.read(&name)?;
    let seen = seen(&shop, &name, &state.text, &setting).await;
    let page = html::editor(&Editor {
        name: &name,
        state: &state,
        seen: &seen,
        setting: &setting,
    });
    Ok(page.into_response())
}

/// Saves what was answered, moved and typed; and goes on to print it where that was asked for.
pub(super) async fn save(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    fields: Fields,
) -> Result<Response, Refusal> {
    if !fields.has("text") {
        return Err(Refusal::bad("the form lacks the text of the definition"));
    }
    let from = fields.from()?;
    let began = began(&shop.store, &name, from)?;
    let text = ended_as(began.as_ref(), moved::applied(&fields.text(), &fields)?);
    let page = format!("/p/{}", escaped(name.as_str()));
    match shop.store.save(&name, from, &text) {
        Ok(_) if fields.get("do") == "print" => Ok(see(&format!("{page}/print"))),
        Ok(_) => Ok(see(&page)),
        Err(StoreError::Changed { name, there }) => {
            let own = Kept::of(text);
            let page = html::conflict(&name, &own, there.as_ref());
            Ok((StatusCode::CONFLICT, page).into_response())
        }
        Err(error) => Err(error.into()),
    }
}
