//! Style and script of the page, which are part of the program.

use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// Kept by the browser, and asked for anew by pages of another version.
const KEPT: &str = "private, max-age=86400";

/// The style.
pub(super) async fn style() -> Response {
    asset("text/css; charset=utf-8", STYLE)
}

/// The script.
pub(super) async fn script() -> Response {
    asset("text/javascript; charset=utf-8", SCRIPT)
}

/// A notch in a sheet, for the browser's tab.
pub(super) async fn icon() -> Response {
    const ICON: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 32 32\">\
                        <path d=\"M3 5h26v22h-8v-9a5 5 0 0 0-10 0v9H3z\" fill=\"#0b5cad\"/></svg>";
    asset("image/svg+xml", ICON)
}

fn asset(kind: &'static str, text: &'static str) -> Response {
    ([(CONTENT_TYPE, kind), (CACHE_CONTROL, KEPT)], text).into_response()
}

/// What tells this version of both from others.
pub(super) fn version() -> String {
    use crate::store::Hash;
    use std::sync::LazyLock;
    static VERSION: LazyLock<String> = LazyLock::new(|| {
        let both = Hash::of([STYLE, SCRIPT].concat().as_bytes()).to_string();
        format!("{both:.12}")
    });
    VERSION.clone()
}
