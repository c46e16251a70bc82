//! The list of definitions.

use super::{LIST, Page, head, page, path, time};
use crate::store::Name;
use maud::{Markup, html};
use std::time::SystemTime;

/// One definition of the list.
pub(in crate::serve) struct Listed {
    pub(in crate::serve) name: Name,
    pub(in crate::serve) title: String,
    pub(in crate::serve) changed: Option<SystemTime>,
}

/// The page: what was found for the words, whether there is more, and whether the folder is empty.
pub(in crate::serve) fn list(found: &[Listed], wanted: &str, more: bool, is_empty: bool) -> Page {
    let body = html! {
        (head(LIST, &html! {}))
        main.list {
            form.new method="post" action="/new" {
                label for="name" { "New pattern, called" }
                div.row {
                    input #name name="name" required maxlength="60" autocomplete="off" autofocus[is_empty] placeholder="such as LV2-UP-01";
                    button.primary { "Start" }
                }
                a.alone href="/measuring-sheet" { "Measuring sheet to print and fill in" }
            }
            @if !is_empty {
                form.search method="get" action="/" role="search" {
                    label for="q" { "Find by name or title" }
                    div.row {
                        input #q name="q" type="search" value=(wanted) autocomplete="off";
                        button { "Find" }
                    }
                }
                (table(found, wanted, more))
            } @else {
                p.hint { "There is no pattern in this folder yet. Give the first one a name: the panel's, or its job number." }
            }
        }
    };
    page(LIST, &body)
}

fn table(found: &[Listed], wanted: &str, more: bool) -> Markup {
    html! {
        @if found.is_empty() {
            p role="status" { "No pattern has " b { (wanted) } " in its name or title. " a href="/" { "Show all" } }
        } @else {
            ul.patterns {
                @for one in found {
                    li {
                        a.open href=(path(&one.name, "")) {
                            b { (one.name) }
                            span { (one.title) }
                        }
                        span.when { "changed " (time(one.changed)) }
                    }
                }
            }
            @if more { p.hint { "There are more: find them by name or title." } }
        }
    }
}
