//! Questions on a terminal.

use super::face::{Face, Reply};
use crate::cli::{Failure, report};
use dialoguer::{Input, Select};
use toml_edit::DocumentMut;
use trimloft::ask::{BlankKind, Question};

/// What is typed to go back.
const BACK: &str = "<";
/// What is typed to take an answer back.
const NONE: &str = "-";

pub(super) struct Terminal;

impl Face for Terminal {
    fn ask(&mut self, question: &Question, definition: &DocumentMut) -> Result<Reply, Failure> {
        let stands = question.is_answered(definition);
        let now = question.line(&question.read(definition));
        match question.blanks.as_slice() {
            [blank] if question.most_rows == 1 => match &blank.kind {
                BlankKind::Choice(words) => choose(question, words, stands.then_some(&now)),
                _ => type_in(question, &now, stands),
            },
            _ => type_in(question, &now, stands),
        }
    }

    fn tell(&mut self, words: &str) {
        report::tell(format_args!("\n{words}\n"));
    }
}

fn gone(error: &dialoguer::Error) -> Failure {
    Failure::falls_short(format!("nobody answers: {error}; nothing is written"))
}

/// One of a few; Escape goes back.
fn choose(
    question: &Question,
    words: &[(String, String)],
    now: Option<&String>,
) -> Result<Reply, Failure> {
    let mut items: Vec<String> = words.iter().map(|(_, words)| words.clone()).collect();
    let stands = now.and_then(|now| words.iter().position(|(word, _)| word == now));
    let usual = question.usual.as_ref();
    let known = usual.and_then(|usual| words.iter().position(|(word, _)| word == usual));
    // What stands unless it is answered is one of them, or a line of its own.
    if let (Some(usual), None, None) = (usual, known, stands) {
        items.insert(0, format!("({usual})"));
    }
    let offset = items.len() - words.len();
    let first = stands.or(known).unwrap_or(0);
    let chosen = Select::new()
        .with_prompt(format!("{} (Esc: back)", question.words))
        .items(&items)
        .default(first)
        .interact_opt()
        .map_err(|error| gone(&error))?;
    Ok(match chosen {
        None => Reply::Back,
        Some(place) if place < offset => Reply::Keep,
        Some(place) if stands.is_none() && known == Some(place) => Reply::Keep,
        Some(place) => Reply::Answer(words[place - offset].0.clone()),
    })
}

fn type_in(question: &Question, now: &str, stands: bool) -> Result<Reply, Failure> {
    let usual = match (&question.usual, stands) {
        (_, true) => format!("Enter keeps {now}, {NONE} takes it back"),
        (Some(usual), false) => format!("Enter: {usual}"),
        (None, false) => "must be answered".into(),
    };
    if !question.help.is_empty() {
        report::tell(format_args!("{}\n", question.help));
    }
    let form = match question.blanks.as_slice() {
        [_] => String::new(),
        _ => format!(" [{}]", question.form()),
    };
    let line: String = Input::new()
        .with_prompt(format!("{}{form} ({usual}; {BACK} back)", question.words))
        .allow_empty(true)
        .interact_text()
        .map_err(|error| gone(&error))?;
    Ok(match line.trim() {
        "" => Reply::Keep,
        BACK => Reply::Back,
        NONE => Reply::Answer(String::new()),
        line => Reply::Answer(line.into()),
    })
}
