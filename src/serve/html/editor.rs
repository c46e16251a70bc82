//! One definition: questions at the left, the sheet at the right.

use super::{Beside, Page, head, page, path, questions, status, summary};
use crate::serve::asking::Answered;
use crate::serve::seen::Seen;
use crate::serve::setting::Setting;
use crate::store::Name;
use maud::{Markup, html};

/// What the page shows.
pub(in crate::serve) struct Editor<'a> {
    pub(in crate::serve) name: &'a Name,
    /// The state that its editing began from.
    pub(in crate::serve) from: &'a str,
    pub(in crate::serve) text: &'a str,
    /// Whether that is the text that the folder holds.
    pub(in crate::serve) is_kept: bool,
    pub(in crate::serve) answered: &'a [Answered],
    pub(in crate::serve) beside: Beside<'a>,
    pub(in crate::serve) setting: &'a Setting,
}

/// The page.
pub(in crate::serve) fn editor(editor: &Editor<'_>) -> Page {
    let name = editor.name;
    let body = html! {
        (head(name.as_str(), &more(name)))
        form #pattern method="post" action=(path(name, "")) data-picture=(path(name, "/picture")) data-kept[editor.is_kept] autocomplete="off" {
            input type="hidden" name="from" value=(editor.from);
            input type="hidden" name="window" value="";
            main.bench {
                section.questions aria-label="Questions" {
                    div #asked { (questions(editor.answered, editor.beside)) }
                    (definition(editor.text))
                }
                section.sheet aria-label="The pattern" {
                    (picture(editor))
                    div #status aria-live="polite" { (status(editor.beside.seen, editor.answered, editor.setting)) }
                }
            }
            footer.actions {
                p {
                    a #summary href="#status" { (summary(editor.beside.seen, editor.answered)) }
                    span #kept role="status" { "Saved" }
                }
                button name="do" value="save" { "Save" }
                button.primary name="do" value="print" { "Print PDF" }
            }
        }
    };
    page(name.as_str(), &body)
}

/// What else can be done with a definition.
fn more(name: &Name) -> Markup {
    html! {
        details.menu {
            summary { "More" }
            nav aria-label="This pattern" {
                a href=(path(name, "/print")) { "Print, check the print" }
                a href=(path(name, "/measuring-sheet")) { "Measuring sheet" }
                a href=(path(name, "/pdf?record")) { "PDF with record" }
                a href=(path(name, "/svg")) { "SVG" }
                a href=(path(name, "/toml")) { "TOML" }
                a href=(path(name, "/history")) { "Earlier states, what is not saved" }
                (named_anew(name, "/copy", "copy", "Duplicate as", "Duplicate"))
                (named_anew(name, "/rename", "rename", "Rename to", "Rename"))
            }
        }
    }
}

fn named_anew(name: &Name, action: &str, id: &str, label: &str, verb: &str) -> Markup {
    html! {
        form method="post" action=(path(name, action)) {
            label for=(id) { (label) }
            div.row {
                input id=(id) name="to" value=(name) required maxlength="60" autocomplete="off";
                button { (verb) }
            }
        }
    }
}

/// The definition itself, for who writes it by hand.
fn definition(text: &str) -> Markup {
    html! {
        details.toml {
            summary { "The definition as TOML" }
            // Browsers drop a first line end.
            textarea #text name="text" aria-label="The definition as TOML" rows="24" spellcheck="false" autocapitalize="off" { "\n" (text) }
        }
    }
}

fn picture(editor: &Editor<'_>) -> Markup {
    let is_drawn = matches!(editor.beside.seen, Seen::Drawn(_));
    let address = format!(
        "/picture.svg?{}&state={:.12}",
        editor.setting.query(),
        editor.from
    );
    html! {
        figure #figure {
            div.paper-sheet {
                @if is_drawn {
                    img #picture src=(path(editor.name, &address)) alt="The pattern as it is cut: the same drawing as its SVG";
                } @else {
                    p.hint { "The pattern appears here as soon as it can be drawn." }
                }
                div #handles role="group" aria-label="Parts and locators: move them with the arrow keys" {}
            }
        }
    }
}
