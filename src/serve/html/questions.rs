//! The questions, each with its picture and its blanks.

use super::{quoted, sentence};
use crate::ask::{Blank, BlankKind, Section};
use crate::serve::asked::{Answered, Wrong, line, without_side};
use maud::{Markup, PreEscaped, html};

/// Choices of up to so many are buttons, of more a list.
const MOST_BUTTONS: usize = 6;

/// All questions by their sections; what few panels and patterns need is folded away.
pub(in crate::serve) fn questions(all: &[Answered], wrong: &Wrong, inches: bool) -> Markup {
    let sections = all.chunk_by(|one, next| one.question.section == next.question.section);
    html! {
        @for own in sections {
            @if let Some(first) = own.first() {
                (section(first.question.section, own, wrong, inches))
            }
        }
    }
}

fn section(section: Section, own: &[Answered], wrong: &Wrong, inches: bool) -> Markup {
    let is_usual = !matches!(section, Section::Surface | Section::Names);
    let is_open = is_usual || own.iter().any(|one| wrong.contains_key(&one.question.id));
    html! {
        details.section id={ "s-" (section.title().to_lowercase().replace(' ', "-")) } open[is_open] {
            summary { h2 { (section.title()) } }
            div.asked { @for one in own { (question(one, wrong, inches)) } }
        }
    }
}

fn question(one: &Answered, wrong: &Wrong, inches: bool) -> Markup {
    let asked = &one.question;
    let id = asked.id.as_str();
    let told = wrong.get(id);
    let rows = told.map_or(&one.rows, |(rows, _)| rows);
    // One row more than is answered.
    let shown = (rows.len() + 1).min(asked.most_rows);
    let is_group = shown > 1 || asked.blanks.len() > 1 || !is_field(&asked.blanks[0].kind);
    html! {
        div.q.wanted[one.is_wanted()] id={ "q-" (id) } role=[is_group.then_some("group")] aria-labelledby=[is_group.then(|| format!("w-{id}"))] {
            div.words {
                @if is_group {
                    p.question id={ "w-" (id) } { (asked.words) }
                } @else {
                    label.question id={ "w-" (id) } for=(field_id(id, 0, 0)) { (asked.words) }
                }
                @if !asked.help.is_empty() { p.hint { (quoted(asked.help)) } }
                // It keeps its place when it is answered: what is being tapped must not move.
                @match &asked.usual {
                    Some(usual) => p.hint.answered[!one.rows.is_empty()] { "If left out: " (quoted(usual)) },
                    None => p.needed.answered[!one.is_wanted()] { "Needed" },
                }
            }
            (PreEscaped(asked.picture.svg()))
            input type="hidden" name={ "was:" (id) } value=(line(&one.rows));
            div.rows {
                @for row in 0..shown {
                    div.answer {
                        @for (place, blank) in asked.blanks.iter().enumerate() {
                            @let answer = rows.get(row).and_then(|row| row.get(place)).map_or("", String::as_str);
                            (self::blank(id, (row, place), blank, answer, is_group, inches))
                        }
                    }
                }
            }
            p.wrong role="alert" { @if let Some((_, why)) = told { (sentence(why)) } }
        }
    }
}

/// Whether it is one field, which the question itself labels.
fn is_field(kind: &BlankKind) -> bool {
    match kind {
        BlankKind::Length | BlankKind::Angle | BlankKind::Name | BlankKind::Count(_) => true,
        BlankKind::Choice(words) => words.len() > MOST_BUTTONS,
        BlankKind::YesOrNo | BlankKind::Place(_) => false,
    }
}

fn field_id(id: &str, row: usize, place: usize) -> String {
    format!("a-{id}-{row}-{place}")
}

fn blank(
    id: &str,
    (row, place): (usize, usize),
    blank: &Blank,
    answer: &str,
    is_labelled: bool,
    inches: bool,
) -> Markup {
    let name = format!("ask:{id}:{row}:{place}");
    let own = field_id(id, row, place);
    let label = html! { @if is_labelled && is_field(&blank.kind) { label for=(own) { (blank.label) @if blank.may_be_empty { " (if any)" } } } };
    match &blank.kind {
        BlankKind::Length => html! {
            div { (label) (number(&own, &name, answer, inches)) }
        },
        BlankKind::Angle => html! {
            div { (label) input.number id=(own) name=(name) value=(answer) autocomplete="off" enterkeyhint="next"; }
        },
        BlankKind::Name => html! {
            div { (label) input id=(own) name=(name) value=(answer) autocomplete="off" enterkeyhint="next"; }
        },
        BlankKind::Count(most) => {
            let words: Vec<(String, String)> = (0..=*most)
                .map(|n| (n.to_string(), n.to_string()))
                .collect();
            html! { div { (label) (list(&own, &name, &words, answer)) } }
        }
        BlankKind::Choice(words) if words.len() > MOST_BUTTONS => html! {
            div { (label) (list(&own, &name, words, answer)) }
        },
        BlankKind::Choice(words) => buttons(&name, &own, &blank.label, words, answer),
        BlankKind::YesOrNo => {
            let words =
                [("yes", "Yes"), ("no", "No")].map(|(word, words)| (word.into(), words.into()));
            buttons(&name, &own, &blank.label, &words, answer)
        }
        BlankKind::Place(sides) => {
            let (distance, side) = without_side(answer, *sides);
            let words = sides.map(|side| (side.into(), side.into()));
            html! {
                div { label for=(own) { (blank.label) } (number(&own, &name, distance, inches)) }
                (buttons(&format!("side:{id}:{row}:{place}"), &format!("{own}-side"), "to the vehicle's", &words, side))
            }
        }
    }
}

/// A length: the keypad of a phone has no stroke for fractions of an inch.
fn number(own: &str, name: &str, answer: &str, inches: bool) -> Markup {
    let keys = if inches { "text" } else { "decimal" };
    html! { input.number id=(own) name=(name) value=(answer) inputmode=(keys) autocomplete="off" enterkeyhint="next"; }
}

fn list(own: &str, name: &str, words: &[(String, String)], answer: &str) -> Markup {
    let is_known = words.iter().any(|(word, _)| word == answer);
    html! {
        select id=(own) name=(name) {
            @if !is_known { option value=(answer) selected { @if answer.is_empty() { "Choose" } @else { (answer) } } }
            @for (word, words) in words {
                option value=(word) selected[word == answer] { (words) }
            }
        }
    }
}

fn buttons(name: &str, own: &str, label: &str, words: &[(String, String)], answer: &str) -> Markup {
    html! {
        div.buttons role="radiogroup" aria-label=(label) {
            @for (at, (word, words)) in words.iter().enumerate() {
                label for={ (own) "-" (at) } {
                    input type="radio" id={ (own) "-" (at) } name=(name) value=(word) checked[word == answer];
                    span { (words) }
                }
            }
        }
    }
}
