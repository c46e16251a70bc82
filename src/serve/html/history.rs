//! The states that a definition had.

use super::{Page, head, page, path, time};
use crate::store::{KEPT, Kept, Name, State, Why};
use maud::{Markup, html};

/// The list of states.
pub(in crate::serve) fn history(name: &Name, now: &State, kept: &[Kept]) -> Page {
    let title = format!("{name}: earlier states");
    let body = html! {
        (head(&title, &back(name)))
        main.plain {
            p.hint { "The last " (KEPT) " states are kept, and as many that were put aside because somebody else had saved first. What is worked on and not saved yet is kept besides, of each window." }
            ul.states {
                @for one in kept {
                    li {
                        a href=(path(name, &format!("/history/{}", one.hash))) { (time(one.when)) }
                        span.hint {
                            @if one.hash == now.hash { "as it is now" }
                            @else if one.why == Why::Aside { "put aside" }
                            @else if one.why == Why::Draft { "worked on, not saved yet" }
                        }
                        @if one.hash != now.hash { (bring_back(name, now, &one.hash.to_string())) }
                    }
                }
            }
        }
    };
    page(&title, &body)
}

/// One of them, with the lines that differ from what stands there now.
pub(in crate::serve) fn old_state(name: &Name, now: &State, old: &State) -> Page {
    let title = format!("{name}: an earlier state");
    let body = html! {
        (head(&title, &back(name)))
        main.plain {
            div.two {
                (version("This state", &old.text, &now.text))
                (version("Now", &now.text, &old.text))
            }
            @if old.hash != now.hash { (bring_back(name, now, &old.hash.to_string())) }
        }
    };
    page(&title, &body)
}

fn back(name: &Name) -> Markup {
    html! { a href=(path(name, "")) { "Back to the pattern" } }
}

fn bring_back(name: &Name, now: &State, hash: &str) -> Markup {
    html! {
        form method="post" action=(path(name, "/history")) {
            input type="hidden" name="from" value=(now.hash);
            input type="hidden" name="state" value=(hash);
            button { "Bring back" }
        }
    }
}

/// A text by its lines, those marked that the other one has not.
pub(super) fn version(heading: &str, text: &str, other: &str) -> Markup {
    let known: std::collections::HashSet<&str> = other.lines().collect();
    html! {
        section.version {
            h2 { (heading) }
            pre tabindex="0" aria-label=(heading) {
                @for line in text.lines() {
                    @if known.contains(line) { (line) "\n" } @else { mark { (line) } "\n" }
                }
            }
        }
    }
}
