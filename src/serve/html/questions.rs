//! The questions, each with its picture and its blanks.

use super::{quoted, sentence, word};
use crate::ask::{BlankKind, Question, Section};
use crate::serve::asked::{Wrong, found, line, without_side};
use crate::serve::asking::Answered;
use crate::serve::seen::Seen;
use maud::{Markup, PreEscaped, html};

/// Choices of up to so many are buttons, of more a list.
const MOST_BUTTONS: usize = 6;

/// Buttons of up to so many letters in all stand beside a number.
const BESIDE: usize = 10;

/// What is told beside the questions.
#[derive(Clone, Copy)]
pub(in crate::serve) struct Beside<'a> {
    /// Answers that were not taken.
    pub(in crate::serve) wrong: &'a Wrong,
    /// What became of the definition.
    pub(in crate::serve) seen: &'a Seen,
    /// Whether bare numbers are inches.
    pub(in crate::serve) inches: bool,
}

/// All questions by their sections; what few panels and patterns need is folded away.
pub(in crate::serve) fn questions(all: &[Answered], beside: Beside<'_>) -> Markup {
    let sections = all.chunk_by(|one, next| one.question.section == next.question.section);
    html! {
        @for own in sections {
            @if let Some(first) = own.first() {
                (section(first.question.section, own, beside))
            }
        }
    }
}

fn section(section: Section, own: &[Answered], beside: Beside<'_>) -> Markup {
    let is_usual = !matches!(
        section,
        Section::Surface | Section::Names | Section::Accepted
    );
    let is_open = is_usual
        || own.iter().any(|one| {
            beside.wrong.contains_key(&one.question.id) || !found(beside.seen, one).is_empty()
        });
    html! {
        details.section id={ "s-" (section.title().to_lowercase().replace(' ', "-")) } open[is_open] {
            summary { h2 { (section.title()) } }
            div.asked { @for one in own { (question(one, beside)) } }
        }
    }
}

fn question(one: &Answered, beside: Beside<'_>) -> Markup {
    let asked = &one.question;
    let id = asked.id.as_str();
    let told = beside.wrong.get(id);
    let is_whole = told.is_none_or(|(rows, _)| asked.is_whole(rows));
    let found = found(beside.seen, one);
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
                        @for place in 0..asked.blanks.len() {
                            @let answer = rows.get(row).and_then(|row| row.get(place)).map_or("", String::as_str);
                            (blank(asked, (row, place), answer, is_group, beside.inches))
                        }
                        @if asked.usual.is_some() && can_be_cleared(asked, rows.get(row)) {
                            button.clear type="button" aria-label="Take this answer back" { "\u{d7}" }
                        }
                    }
                }
            }
            p.wrong.unfinished[!is_whole] role=[is_whole.then_some("alert")] {
                @if let Some((_, why)) = told { (sentence(why.trim_start_matches(asked.words.as_str()).trim_start())) }
            }
            div.found {
                @for one in &found {
                    p.(one.standing) { b { (word(one.standing)) ": " } (sentence(one.message)) }
                    @if let Some(hint) = one.hint { p.hint { (sentence(hint)) } }
                }
            }
        }
    }
}

/// Whether an answer needs a button to be taken back: what is typed can be deleted, a choice can't.
fn can_be_cleared(asked: &Question, row: Option<&Vec<String>>) -> bool {
    let is_told = row.is_some_and(|row| row.iter().any(|answer| !answer.is_empty()));
    let is_chosen = |kind: &BlankKind| !is_field(kind);
    is_told && (asked.most_rows > 1 || asked.blanks.iter().any(|own| is_chosen(&own.kind)))
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
    asked: &Question,
    (row, place): (usize, usize),
    answer: &str,
    is_labelled: bool,
    inches: bool,
) -> Markup {
    let (id, blank) = (asked.id.as_str(), &asked.blanks[place]);
    let is_optional = asked.usual.is_some();
    let name = format!("ask:{id}:{row}:{place}");
    let own = field_id(id, row, place);
    let label = html! { @if is_labelled && is_field(&blank.kind) { label for=(own) { (blank.label) @if blank.may_be_empty { " (if any)" } } } };
    match &blank.kind {
        BlankKind::Length => html! {
            div { (label) (number(&own, &name, answer, inches, blank.may_be_negative())) }
        },
        BlankKind::Angle => html! {
            div { (label) input.number id=(own) name=(name) value=(answer) placeholder="deg" autocomplete="off" enterkeyhint="next"; }
        },
        BlankKind::Name => html! {
            div { (label) input id=(own) name=(name) value=(answer) autocomplete="off" enterkeyhint="next"; }
        },
        BlankKind::Count(most) => {
            let words: Vec<(String, String)> = (0..=*most)
                .map(|n| (n.to_string(), n.to_string()))
                .collect();
            html! { div { (label) (list(&own, &name, &words, answer, false)) } }
        }
        BlankKind::Choice(words) if words.len() > MOST_BUTTONS => html! {
            div { (label) (list(&own, &name, words, answer, is_optional)) }
        },
        BlankKind::Choice(words) => buttons(&name, &own, (&blank.label, false), words, answer),
        BlankKind::YesOrNo => {
            let words =
                [("yes", "Yes"), ("no", "No")].map(|(word, words)| (word.into(), words.into()));
            buttons(
                &name,
                &own,
                (&blank.label, asked.blanks.len() > 1),
                &words,
                answer,
            )
        }
        BlankKind::Place(sides) => {
            let (distance, side) = without_side(answer, *sides);
            let words = sides.map(|side| (side.into(), side.into()));
            html! {
                div { label for=(own) { (blank.label) } (number(&own, &name, distance, inches, false)) }
                (buttons(&format!("side:{id}:{row}:{place}"), &format!("{own}-side"), ("to the vehicle's", true), &words, side))
            }
        }
    }
}

/// A length: the keypad of a phone has no strokes for fractions of an inch and for less than 0.
fn number(own: &str, name: &str, answer: &str, inches: bool, may_be_negative: bool) -> Markup {
    let keys = if inches || may_be_negative {
        "text"
    } else {
        "decimal"
    };
    let unit = if inches { "in" } else { "mm" };
    html! { input.number id=(own) name=(name) value=(answer) placeholder=(unit) inputmode=(keys) autocomplete="off" enterkeyhint="next"; }
}

fn list(
    own: &str,
    name: &str,
    words: &[(String, String)],
    answer: &str,
    is_optional: bool,
) -> Markup {
    let is_known = words.iter().any(|(word, _)| word == answer);
    html! {
        select id=(own) name=(name) {
            @if !is_known { option value=(answer) selected { @if answer.is_empty() { "Choose" } @else { (answer) } } }
            @if is_known && is_optional { option value="" { "Take it back" } }
            @for (word, words) in words {
                option value=(word) selected[word == answer] { (words) }
            }
        }
    }
}

/// Buttons of which one is pressed; their label is shown where the question does not say it all.
fn buttons(
    name: &str,
    own: &str,
    (label, is_shown): (&str, bool),
    words: &[(String, String)],
    answer: &str,
) -> Markup {
    let letters: usize = words.iter().map(|(_, words)| words.len()).sum();
    let is_wide = words.len() > 2 || letters > BESIDE;
    html! {
        div.pick.wide[is_wide] {
          @if is_shown { p.label { (label) } }
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
}
