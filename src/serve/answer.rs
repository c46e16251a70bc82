//! What is said where a request is not done, in plain words: no path, no stack.

use super::work::NotDone;
use crate::store::{NameError, StoreError};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};

/// Why a request is not done.
#[derive(Debug, Clone)]
pub(super) struct Refusal {
    pub(super) status: StatusCode,
    pub(super) words: String,
}

impl Refusal {
    pub(super) fn new(status: StatusCode, words: impl Into<String>) -> Self {
        Self {
            status,
            words: words.into(),
        }
    }

    /// The request itself is wrong.
    pub(super) fn bad(words: impl Into<String>) -> Self {
        Self::new(StatusCode::BAD_REQUEST, words)
    }
}

impl IntoResponse for Refusal {
    /// Its words are put on a page, or into JSON, by [`super::gate`], which knows what was asked for.
    fn into_response(self) -> Response {
        let mut response = self.status.into_response();
        response.extensions_mut().insert(self);
        response
    }
}

impl From<StoreError> for Refusal {
    fn from(error: StoreError) -> Self {
        let status = match &error {
            StoreError::Missing(_) => StatusCode::NOT_FOUND,
            StoreError::Taken(_) | StoreError::Changed { .. } => StatusCode::CONFLICT,
            StoreError::Unreadable { .. } => StatusCode::UNPROCESSABLE_ENTITY,
            StoreError::TooLong => StatusCode::PAYLOAD_TOO_LARGE,
            StoreError::System(_) | StoreError::Write(_) => StatusCode::INSUFFICIENT_STORAGE,
        };
        Self::new(status, error.to_string())
    }
}

impl From<NameError> for Refusal {
    fn from(error: NameError) -> Self {
        Self::bad(error.to_string())
    }
}

impl NotDone {
    /// Why, in words.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Busy => "the server is busy with other patterns; hint: try again in a moment",
            Self::TooLong => {
                "working this pattern out takes longer than 2 seconds, and was stopped; hint: take \
                 simpler shapes, or fewer parts, or draw it on the command line"
            }
            Self::Fell => {
                "this pattern can't be worked out: that is a fault in the program, not in the \
                 pattern; hint: report it with the pattern"
            }
        }
    }
}

impl From<NotDone> for Refusal {
    fn from(why: NotDone) -> Self {
        let status = match why {
            NotDone::Busy => StatusCode::TOO_MANY_REQUESTS,
            NotDone::TooLong | NotDone::Fell => StatusCode::UNPROCESSABLE_ENTITY,
        };
        Self::new(status, why.words())
    }
}

/// Another page, with what is needed to see it.
pub(super) fn see(path: &str) -> Response {
    Redirect::to(path).into_response()
}

/// A file to keep or to open.
pub(super) fn file(kind: &'static str, name: &str, inline: bool, bytes: Vec<u8>) -> Response {
    let how = if inline { "inline" } else { "attachment" };
    let plain: String = name
        .chars()
        .map(|letter| match letter {
            letter if letter.is_ascii_alphanumeric() || "._- ".contains(letter) => letter,
            _ => '_',
        })
        .collect();
    // RFC 6266: the name in ASCII, and as it is.
    let disposition = format!(
        "{how}; filename=\"{plain}\"; filename*=UTF-8''{}",
        escaped(name)
    );
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_DISPOSITION, disposition),
    ];
    (headers, bytes).into_response()
}

/// Words as a piece of a path or a query (RFC 3986).
pub(super) fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for byte in words.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' => {
                out.push(char::from(byte));
            }
            _ => out += &format!("%{byte:02X}"),
        }
    }
    out
}

/// Whether a program asks that reads JSON.
pub(super) fn wants_json(headers: &HeaderMap) -> bool {
    let accepted = headers
        .get(header::ACCEPT)
        .and_then(|value| value.to_str().ok());
    accepted.is_some_and(|kinds| kinds.contains("application/json"))
}

/// For addresses that are none.
pub(super) async fn nothing_here() -> Refusal {
    Refusal::new(StatusCode::NOT_FOUND, "there is no such page")
}

/// For addresses that are asked for in a way that they do not know.
pub(super) async fn not_so() -> Refusal {
    Refusal::new(
        StatusCode::METHOD_NOT_ALLOWED,
        "this page can't be asked for in that way",
    )
}
