//! Two saved one definition: both versions, and a choice.

use super::history::version;
use super::{Page, head, page, path};
use crate::store::{Name, State};
use maud::html;

/// The page; `there` is none where the definition was moved away.
pub(in crate::serve) fn conflict(name: &Name, own: &State, there: Option<&State>) -> Page {
    let title = format!("{name}: saved by somebody else");
    let from = there.map_or_else(String::new, |there| there.hash.to_string());
    let other = there.map_or("", |there| there.text.as_str());
    let body = html! {
        (head(&title, &html! {}))
        main.plain {
            p { "While you worked on it, somebody else saved this pattern. Nothing is lost: your version is put aside among the earlier states. Lines that differ are marked." }
            div.two {
                (version("Yours", &own.text, other))
                @match there {
                    Some(there) => (version("Theirs, in the folder now", &there.text, &own.text)),
                    None => section.version { h2 { "In the folder now" } p { "The pattern was moved away or renamed." } },
                }
            }
            div.choice {
                @if there.is_some() { a.button href=(path(name, "")) { "Keep theirs" } }
                form method="post" action=(path(name, "")) {
                    input type="hidden" name="from" value=(from);
                    textarea.hidden name="text" aria-hidden="true" tabindex="-1" readonly { "\n" (own.text) }
                    button.primary { "Keep mine" }
                }
            }
            details {
                summary { "Put both together by hand" }
                form method="post" action=(path(name, "")) {
                    input type="hidden" name="from" value=(from);
                    label for="both" { "The definition, from yours" }
                    textarea #both name="text" rows="24" spellcheck="false" { "\n" (own.text) }
                    button { "Save this" }
                }
            }
        }
    };
    page(&title, &body)
}
