//! The pages, one file each, and what they share.

mod conflict;
mod editor;
mod history;
mod list;
mod print;
mod questions;
mod status;

pub(super) use conflict::conflict;
pub(super) use editor::{Editor, editor};
pub(super) use history::{history, old_state};
pub(super) use list::{Listed, list};
pub(super) use print::{Printing, print};
pub(super) use questions::{Beside, questions};
pub(super) use status::{status, summary};

use super::answer::escaped;
use super::assets::version;
use crate::base::words::capital;
use crate::store::Name;
use axum::response::Html;
use maud::{DOCTYPE, Markup, html};
use std::time::SystemTime;

/// A whole page.
pub(super) type Page = Html<String>;

/// Title of the list, which needs no way back to itself.
const LIST: &str = "Patterns";

/// A page with its title; `body` brings its own heading and `main`.
fn page(title: &str, body: &Markup) -> Page {
    let version = version();
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · Trimloft" }
                link rel="icon" href="/icon.svg" type="image/svg+xml";
                link rel="stylesheet" href={ "/page.css?v=" (version) };
                script src={ "/page.js?v=" (version) } defer {}
            }
            body { (body) }
        }
    };
    Html(markup.into_string())
}

/// The head of a page: the way back to the list, what the page is about, and what else can be done.
fn head(title: &str, more: &Markup) -> Markup {
    html! {
        header.head {
            @if title != LIST { a.home href="/" { "All patterns" } }
            h1 { (title) }
            (more)
        }
    }
}

/// The address of a definition's page, or of one beside it.
fn path(name: &Name, more: &str) -> String {
    format!("/p/{}{more}", escaped(name.as_str()))
}

/// What is said before a finding that stands so.
fn word(standing: &str) -> &'static str {
    match standing {
        "error" => "Stops",
        "warning" => "Look at",
        "accepted" => "Accepted",
        _ => "Note",
    }
}

/// Words, with what follows `hint:` on a line of its own.
fn told(words: &str) -> Markup {
    let (said, hint) = match words.split_once("; hint: ") {
        Some((said, hint)) => (said, Some(hint)),
        None => (words, None),
    };
    html! {
        p { (sentence(said)) }
        @if let Some(hint) = hint { p.hint { (sentence(hint)) } }
    }
}

/// Words with what they quote in quotes, tables of a file by their names.
fn quoted(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for (place, piece) in words.split('`').enumerate() {
        if place > 0 {
            out.push(if place % 2 == 1 {
                '\u{2018}'
            } else {
                '\u{2019}'
            });
        }
        if place % 2 == 1 {
            out += piece.trim_start_matches('[').trim_end_matches(']');
        } else {
            out += piece;
        }
    }
    out
}

/// A message as a sentence: a capital first, a full stop last.
fn sentence(words: &str) -> String {
    let mut sentence = capital(&quoted(words));
    if !sentence.ends_with(['.', '!', '?', ':']) && !sentence.is_empty() {
        sentence.push('.');
    }
    sentence
}

/// A time, for the browser to tell in its own zone; without script in UTC.
fn time(when: Option<SystemTime>) -> Markup {
    let since = when.and_then(|when| when.duration_since(SystemTime::UNIX_EPOCH).ok());
    let Some(seconds) = since.map(|since| since.as_secs()) else {
        return html! { "at a time unknown" };
    };
    let (date, clock) = utc(seconds);
    html! {
        time datetime={ (date) "T" (clock) ":" (format!("{:02}", seconds % 60)) "Z" } { (date) " " (clock) " UTC" }
    }
}

/// Date and time of day of so many seconds since 1970, UTC.
///
/// Source: the civil calendar by eras of 400 years, Howard Hinnant's `civil_from_days` (from memory).
fn utc(seconds: u64) -> (String, String) {
    let (days, rest) = (seconds / 86_400, seconds % 86_400);
    let days = days + 719_468;
    let (era, day) = (days / 146_097, days % 146_097);
    let year = (day - day / 1460 + day / 36_524 - day / 146_096) / 365;
    let of_year = day - (365 * year + year / 4 - year / 100);
    let shifted = (5 * of_year + 2) / 153;
    let date = of_year - (153 * shifted + 2) / 5 + 1;
    let month = if shifted < 10 {
        shifted + 3
    } else {
        shifted - 9
    };
    let year = year + era * 400 + u64::from(month <= 2);
    (
        format!("{year:04}-{month:02}-{date:02}"),
        format!("{:02}:{:02}", rest / 3600, rest / 60 % 60),
    )
}

/// What a request is refused with.
pub(super) fn refused(words: &str) -> Page {
    let body = html! {
        (head("Not done", &html! {}))
        main.plain { (told(words)) p { a.button href="/" { "To the patterns" } } }
    };
    page("Not done", &body)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_are_those_of_the_calendar() {
        // `date -u -d @N +'%F %H:%M'`, GNU coreutils.
        for (seconds, date, clock) in [
            (0, "1970-01-01", "00:00"),
            (951_782_400, "2000-02-29", "00:00"),
            (1_772_409_599, "2026-03-01", "23:59"),
            (4_107_542_400, "2100-03-01", "00:00"),
        ] {
            assert_eq!(utc(seconds), (date.to_owned(), clock.to_owned()));
        }
    }

    #[test]
    fn messages_become_sentences() {
        assert_eq!(sentence("width is missing"), "Width is missing.");
        assert_eq!(sentence(""), "");
        assert_eq!(
            sentence("add it as `[[part]]`"),
            "Add it as \u{2018}part\u{2019}."
        );
    }
}
