//! One definition: its page, and saving it.

use super::answer::{Refusal, escaped, see};
use super::asked::{self, Asked, Wrong};
use super::asking::Asking;
use super::fields::{Fields, Named, began, ended_as};
use super::html::{self, Beside, Editor};
use super::seen::seen;
use super::setting::Setting;
use super::shop::Shop;
use crate::store::{Name, State as Kept, StoreError};
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
    let from = state.hash.to_string();
    let page = page(&shop, &name, &setting, (&from, &state.text), &Wrong::new()).await;
    Ok(page.into_response())
}

/// The page of a text whose editing began from a state.
async fn page(
    shop: &Arc<Shop>,
    name: &Name,
    setting: &Setting,
    (from, text): (&str, &str),
    wrong: &Wrong,
) -> html::Page {
    let asking = Arc::new(Asking::of(text, &shop.shapes));
    html::editor(&Editor {
        name,
        from,
        text,
        is_kept: wrong.is_empty(),
        answered: &asking.answered,
        beside: Beside {
            wrong,
            seen: &seen(shop, name, text, Some(setting), &asking).await,
            inches: asking.inches(),
        },
        setting,
    })
}

/// Saves what was answered, moved and typed; and goes on to print it where that was asked for.
pub(super) async fn save(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    setting: Setting,
    fields: Fields,
) -> Result<Response, Refusal> {
    if !fields.has("text") {
        return Err(Refusal::bad("the form lacks the text of the definition"));
    }
    let from = fields.from()?;
    let began = began(&shop.store, &name, from)?;
    let Asked { text, wrong } = asked::applied(&fields, &shop.shapes)?;
    if !wrong.is_empty() {
        // Nothing is saved without an answer that was given: it is told first.
        let given = (fields.get("from"), text.as_str());
        let page = page(&shop, &name, &setting, given, &wrong).await;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
    }
    let text = ended_as(began.as_ref(), text);
    let page = format!("/p/{}", escaped(name.as_str()));
    let saved = shop.store.save(&name, from, &text);
    // A save that came too late is put aside, and so kept too.
    if let (Some(window), Ok(_) | Err(StoreError::Changed { .. })) = (fields.window(), &saved) {
        shop.store.drop_draft(&name, &window);
    }
    match saved {
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
