//! What every request must pass, and what every answer says about itself.
//!
//! Listening on this machine alone keeps no web page out: a page from elsewhere may send forms to
//! any address, and its name may be made to lead here (DNS rebinding). So requests must name an
//! address or a known name as their host, changes must come from a page of the same origin, and
//! beyond this machine a key is asked for.

use super::answer::{Refusal, wants_json};
use super::html;
use super::shop::Shop;
use axum::Json;
use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use serde_json::json;
use std::net::IpAddr;
use std::sync::Arc;
use std::time::Duration;

/// Longest time for one request, a scan sent over a slow network and measured.
const LONGEST: Duration = Duration::from_secs(120);

/// A page takes nothing from elsewhere, runs nothing but its own script, and is framed by none.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; \
                      connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// A drawing by itself brings the size that it prints at as a style of its own.
const POLICY_OF_DRAWINGS: &str =
    "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'";

/// Looks at a request, and finishes its answer.
pub(super) async fn gate(State(shop): State<Arc<Shop>>, request: Request, next: Next) -> Response {
    let wants_json = wants_json(request.headers());
    let mut response = match passed(&shop, &request) {
        Ok(Passed::On) => match tokio::time::timeout(LONGEST, next.run(request)).await {
            Ok(response) => response,
            Err(_) => {
                Refusal::new(StatusCode::REQUEST_TIMEOUT, "this took too long").into_response()
            }
        },
        Ok(Passed::WithKey(response)) => response,
        Err(refusal) => refusal.into_response(),
    };
    if let Some(refusal) = response.extensions_mut().remove::<Refusal>() {
        let status = refusal.status;
        response = if wants_json {
            (status, Json(json!({ "error": refusal.words }))).into_response()
        } else {
            (status, html::refused(&refusal.words)).into_response()
        };
    }
    finish(response.headers_mut());
    response
}

/// What becomes of a request that may pass.
enum Passed {
    /// It is answered.
    On,
    /// It brought the key, which the browser keeps.
    WithKey(Response),
}

fn passed(shop: &Shop, request: &Request) -> Result<Passed, Refusal> {
    let headers = request.headers();
    let host = host(request)?;
    if !is_ours(host, &shop.hosts) {
        return Err(Refusal::new(
            StatusCode::MISDIRECTED_REQUEST,
            "the server does not go by this name; hint: open it by its address, or start it with \
             `--host` and the name",
        ));
    }
    let reads = matches!(*request.method(), Method::GET | Method::HEAD);
    if !reads && !is_own(headers, host) {
        return Err(Refusal::new(
            StatusCode::FORBIDDEN,
            "this was sent by a page of another site, and nothing was done",
        ));
    }
    let Some(key) = &shop.key else {
        return Ok(Passed::On);
    };
    let name = key.cookie();
    if cookie(headers, &name).is_some_and(|given| key.is(given)) {
        return Ok(Passed::On);
    }
    if reads && query(request.uri(), "key").is_some_and(|given| key.is(given)) {
        let mut response = Redirect::to("/").into_response();
        let cookie = format!(
            "{name}={}; Path=/; HttpOnly; SameSite=Lax; Max-Age=31536000",
            key.as_str()
        );
        if let Ok(cookie) = HeaderValue::from_str(&cookie) {
            response.headers_mut().insert(header::SET_COOKIE, cookie);
        }
        return Ok(Passed::WithKey(response));
    }
    Err(Refusal::new(
        StatusCode::FORBIDDEN,
        "this page opens by its link alone; hint: scan the code that the server shows in its \
         terminal, or type the whole link that stands there",
    ))
}

/// The host that a request is for, with its port.
fn host(request: &Request) -> Result<&str, Refusal> {
    let mut given = request.headers().get_all(header::HOST).iter();
    match (given.next().map(HeaderValue::to_str), given.next()) {
        (Some(Ok(host)), None) => Ok(host),
        _ => Err(Refusal::bad("the request names no host")),
    }
}

/// A name that leads elsewhere tomorrow is none of ours; an address is what it is.
fn is_ours(host: &str, known: &[String]) -> bool {
    let name = match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) => name,
        _ => host,
    };
    let address = name
        .strip_prefix('[')
        .and_then(|name| name.strip_suffix(']'))
        .unwrap_or(name);
    name.eq_ignore_ascii_case("localhost")
        || address.parse::<IpAddr>().is_ok()
        || known.iter().any(|one| one.eq_ignore_ascii_case(name))
}

/// Whether a change comes from a page of this server, or from no page at all. Browsers say where a
/// form comes from; what says nothing is no browser, and brings nobody's cookies.
fn is_own(headers: &HeaderMap, host: &str) -> bool {
    let text = |name: HeaderName| headers.get(name).map(|value| value.to_str().unwrap_or("?"));
    let site = text(HeaderName::from_static("sec-fetch-site"));
    match (text(header::ORIGIN), site) {
        (Some(origin), _) => {
            let own = origin
                .strip_prefix("http://")
                .or_else(|| origin.strip_prefix("https://"));
            own.is_some_and(|own| own.eq_ignore_ascii_case(host))
        }
        (None, Some(site)) => matches!(site, "same-origin" | "none"),
        (None, None) => true,
    }
}

fn cookie<'a>(headers: &'a HeaderMap, name: &str) -> Option<&'a str> {
    let all = headers.get_all(header::COOKIE).iter();
    all.filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find_map(|(key, value)| (key == name).then_some(value))
}

fn query<'a>(uri: &'a Uri, name: &str) -> Option<&'a str> {
    let pairs = uri.query()?.split('&');
    pairs
        .filter_map(|pair| pair.split_once('='))
        .find_map(|(key, value)| (key == name).then_some(value))
}

/// What every answer says, whatever it is.
fn finish(headers: &mut HeaderMap) {
    let kind = headers
        .get(header::CONTENT_TYPE)
        .and_then(|kind| kind.to_str().ok());
    let policy = match kind {
        Some("image/svg+xml") => POLICY_OF_DRAWINGS,
        // Browsers show it by a page of their own, which a stricter policy would keep from working.
        Some("application/pdf") => "frame-ancestors 'none'",
        _ => POLICY,
    };
    for (name, value) in [
        ("content-security-policy", policy),
        ("x-content-type-options", "nosniff"),
        ("x-frame-options", "DENY"),
        // With `no-referrer` browsers say `Origin: null` even of our own forms (Fetch, from memory).
        ("referrer-policy", "same-origin"),
        ("cross-origin-opener-policy", "same-origin"),
        ("cross-origin-resource-policy", "same-origin"),
    ] {
        headers.insert(
            HeaderName::from_static(name),
            HeaderValue::from_static(value),
        );
    }
    headers
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_addresses_and_known_names_are_hosts() {
        let known = ["bay.example".to_owned()];
        for host in [
            "127.0.0.1:7700",
            "192.168.1.4",
            "[::1]:7700",
            "localhost:1",
            "BAY.example:80",
        ] {
            assert!(is_ours(host, &known), "{host}");
        }
        for host in [
            "evil.example",
            "127.0.0.1.evil.example",
            "localhost.evil.example",
            "",
            ":80",
            "bay.example.evil",
        ] {
            assert!(!is_ours(host, &known), "{host}");
        }
    }

    #[test]
    fn changes_come_from_this_origin_or_from_no_page() {
        let own = |pairs: &[(&'static str, &'static str)]| {
            let mut headers = HeaderMap::new();
            for (name, value) in pairs {
                headers.insert(*name, HeaderValue::from_static(value));
            }
            is_own(&headers, "127.0.0.1:7700")
        };
        assert!(own(&[]));
        assert!(own(&[("origin", "http://127.0.0.1:7700")]));
        assert!(own(&[("sec-fetch-site", "same-origin")]));
        assert!(!own(&[("origin", "null")]));
        assert!(!own(&[("origin", "http://127.0.0.1:7701")]));
        assert!(!own(&[
            ("origin", "http://evil.example"),
            ("sec-fetch-site", "same-origin")
        ]));
        assert!(!own(&[("sec-fetch-site", "cross-site")]));
        assert!(!own(&[("sec-fetch-site", "same-site")]));
    }
}
