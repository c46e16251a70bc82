//! The states that a definition had, and bringing one back.

use super::answer::{Refusal, escaped, see};
use super::fields::{Fields, Named, NamedState};
use super::html;
use super::shop::Shop;
use crate::store::Hash;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use std::sync::Arc;

/// The list of states.
pub(super) async fn show(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
) -> Result<Response, Refusal> {
    let now = shop.store.read(&name)?;
    let mut kept = shop.store.drafts(&name);
    // A page that was only looked at leaves what is there, its lines ended as in Unix.
    kept.retain(|draft| {
        draft.hash != now.hash && draft.hash != Hash::of(now.text.replace("\r\n", "\n").as_bytes())
    });
    kept.extend(shop.store.history(&name));
    Ok(html::history(&name, &now, &kept).into_response())
}

/// One state, beside what stands there now.
pub(super) async fn state(
    State(shop): State<Arc<Shop>>,
    NamedState(name, hash): NamedState,
) -> Result<Response, Refusal> {
    let now = shop.store.read(&name)?;
    let old = shop.store.state(&name, hash)?.ok_or_else(gone)?;
    Ok(html::old_state(&name, &now, &old).into_response())
}

/// Brings a state back, as a new one.
pub(super) async fn bring_back(
    State(shop): State<Arc<Shop>>,
    Named(name): Named,
    fields: Fields,
) -> Result<Response, Refusal> {
    let hash = Hash::parse(fields.get("state")).ok_or_else(gone)?;
    let old = shop.store.state(&name, hash)?.ok_or_else(gone)?;
    shop.store.save(&name, fields.from()?, &old.text)?;
    Ok(see(&format!("/p/{}", escaped(name.as_str()))))
}

fn gone() -> Refusal {
    Refusal::new(StatusCode::NOT_FOUND, "this state is no longer kept")
}
