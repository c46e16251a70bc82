//! What a form sends.

use super::answer::Refusal;
use super::shop::Shop;
use crate::store::{Hash, Name, State, Store, Window};
use axum::Form;
use axum::extract::{FromRequest, FromRequestParts, Path, Request};
use axum::http::StatusCode;
use axum::http::request::Parts;
use std::sync::Arc;

/// The fields of a form, in their order.
#[derive(Debug, Default)]
pub(super) struct Fields(pub(super) Vec<(String, String)>);

impl Fields {
    /// The first field of that name; empty where there is none.
    pub(super) fn get(&self, name: &str) -> &str {
        let found = self.0.iter().find(|(key, _)| key == name);
        found.map_or("", |(_, value)| value.as_str())
    }

    /// Whether there is a field of that name.
    pub(super) fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(key, _)| key == name)
    }

    /// The state that editing began from; none for a definition that is not there yet.
    pub(super) fn from(&self) -> Result<Option<Hash>, Refusal> {
        match self.get("from") {
            "" => Ok(None),
            digits => match Hash::parse(digits) {
                Some(hash) => Ok(Some(hash)),
                None => Err(Refusal::bad("the form lacks the state that it began from")),
            },
        }
    }

    /// The window that sends it; none without script.
    pub(super) fn window(&self) -> Option<Window> {
        Window::parse(self.get("window"))
    }

    /// All fields of that name.
    pub(super) fn all<'f>(&'f self, name: &'f str) -> impl Iterator<Item = &'f str> {
        let own = self.0.iter().filter(move |(key, _)| key == name);
        own.map(|(_, value)| value.as_str())
    }

    /// The text of the definition, its lines ended as in Unix: browsers send them all with a
    /// carriage return.
    pub(super) fn text(&self) -> String {
        self.get("text").replace("\r\n", "\n")
    }
}

/// A text with the line ends of the state that its editing began from.
pub(super) fn ended_as(began: Option<&State>, text: String) -> String {
    let is_windows = |state: &State| {
        let lines = state.text.matches('\n').count();
        lines > 0 && state.text.matches("\r\n").count() == lines
    };
    if began.is_some_and(is_windows) {
        text.replace('\n', "\r\n")
    } else {
        text
    }
}

impl<S: Send + Sync> FromRequest<S> for Fields {
    type Rejection = Refusal;

    async fn from_request(request: Request, state: &S) -> Result<Self, Refusal> {
        match Form::from_request(request, state).await {
            Ok(Form(fields)) => Ok(Self(fields)),
            Err(rejection) if rejection.status() == StatusCode::PAYLOAD_TOO_LARGE => {
                let words = "the form is longer than any definition";
                Err(Refusal::new(StatusCode::PAYLOAD_TOO_LARGE, words))
            }
            Err(_) => Err(Refusal::bad("what was sent is no form of this page")),
        }
    }
}

/// The definition that an address names.
pub(super) struct Named(pub(super) Name);

impl FromRequestParts<Arc<Shop>> for Named {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, shop: &Arc<Shop>) -> Result<Self, Refusal> {
        named::<(String,)>(parts, shop, |(name,)| name).await
    }
}

/// The definition, and the state of it, that an address names.
pub(super) struct NamedState(pub(super) Name, pub(super) Hash);

impl FromRequestParts<Arc<Shop>> for NamedState {
    type Rejection = Refusal;

    async fn from_request_parts(parts: &mut Parts, shop: &Arc<Shop>) -> Result<Self, Refusal> {
        let mut digits = String::new();
        let Named(name) = named::<(String, String)>(parts, shop, |(name, hash)| {
            digits = hash;
            name
        })
        .await?;
        match Hash::parse(&digits) {
            Some(hash) => Ok(Self(name, hash)),
            None => Err(Refusal::new(
                StatusCode::NOT_FOUND,
                "there is no such state",
            )),
        }
    }
}

async fn named<T: serde::de::DeserializeOwned + Send>(
    parts: &mut Parts,
    shop: &Arc<Shop>,
    name: impl FnOnce(T) -> String,
) -> Result<Named, Refusal> {
    match Path::<T>::from_request_parts(parts, shop).await {
        Ok(Path(pieces)) => Ok(Named(Name::parse(&name(pieces))?)),
        Err(_) => Err(Refusal::bad("the address is not UTF-8 text")),
    }
}

/// The state that a form began from, where it is still kept.
pub(super) fn began(
    store: &Store,
    name: &Name,
    from: Option<Hash>,
) -> Result<Option<State>, Refusal> {
    match from {
        Some(hash) => Ok(store.state(name, hash)?),
        None => Ok(None),
    }
}
