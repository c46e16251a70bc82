//! A definition worked out for a page: its picture, or what is wrong with it and where.

use super::printers::Setting;
use super::shop::Shop;
use super::work::{LONGEST, NotDone};
use crate::ask::{asked_by, asked_of, questions};
use crate::input::families::Library;
use crate::input::{PatternSpec, Problem, Report, Source};
use crate::jobs::look::{Look, look};
use crate::store::Name;
use std::sync::Arc;
use toml_edit::DocumentMut;

/// What became of a text.
pub(super) enum Seen {
    /// It is a definition that can be drawn.
    Drawn(Box<Drawn>),
    /// It is none yet.
    Wrong(Vec<Wrong>),
}

/// A definition, and what is seen of it.
pub(super) struct Drawn {
    pub(super) spec: PatternSpec,
    pub(super) look: Look,
    /// For each finding, the question whose answer would change it, if there is one.
    pub(super) asked: Vec<Option<String>>,
}

/// Something wrong with a text.
pub(super) struct Wrong {
    pub(super) message: String,
    pub(super) hint: Option<String>,
    /// Line of the text, from 1; none where it is about no one place.
    pub(super) line: Option<usize>,
    /// The question whose answer it is about, if it is about one.
    pub(super) asked: Option<String>,
}

/// Works a text out in its turn.
pub(super) async fn seen(shop: &Arc<Shop>, name: &Name, text: &str, setting: &Setting) -> Seen {
    let (own, name, text) = (shop.clone(), name.clone(), text.to_owned());
    let setting = setting.clone();
    let work = move || worked_out(&own, &name, &text, &setting);
    match shop.pool.run(LONGEST, work).await {
        Ok(seen) => seen,
        Err(why) => Seen::Wrong(vec![not_done(why)]),
    }
}

fn worked_out(shop: &Shop, name: &Name, text: &str, setting: &Setting) -> Seen {
    let drawn = shop.understood(name, text).and_then(|spec| {
        let printer = setting.printer.as_ref();
        match look(&spec, &shop.shapes, &setting.setup, printer) {
            Ok(look) => Ok(Drawn {
                asked: asked_of_all(&look, text, &shop.shapes),
                spec,
                look,
            }),
            Err(error) => {
                let source = Source::new(name.as_str(), text);
                Err(Report::new(&source, error.into_problems()))
            }
        }
    });
    match drawn {
        Ok(drawn) => Seen::Drawn(Box::new(drawn)),
        Err(report) => Seen::Wrong(wrong(&report, &shop.shapes)),
    }
}

fn asked_of_all(look: &Look, text: &str, shapes: &Library) -> Vec<Option<String>> {
    let Ok(document) = text.parse::<DocumentMut>() else {
        return vec![None; look.pattern.findings.len()];
    };
    let asked = questions(&document, shapes);
    let of = |finding| asked_of(&document, &asked, finding).map(|own| own.id.clone());
    look.pattern.findings.iter().map(of).collect()
}

/// Problems as a page tells them.
pub(super) fn wrong(report: &Report, shapes: &Library) -> Vec<Wrong> {
    let text = report.source.text.as_str();
    let document = text.parse::<DocumentMut>();
    let asked = document
        .map(|own| questions(&own, shapes))
        .unwrap_or_default();
    let line = |problem: &Problem| {
        let span = problem.span.as_ref()?;
        Some(report.source.place(span.start).0)
    };
    let told = report.problems.iter().take(MOST_TOLD).map(|problem| Wrong {
        message: problem.message.clone(),
        hint: problem.hint.clone(),
        line: line(problem),
        asked: asked_by(text, &asked, problem).map(|question| question.id.clone()),
    });
    let mut told: Vec<Wrong> = told.collect();
    let all = report.problems.len() + report.more;
    if all > told.len() {
        told.push(Wrong {
            message: format!("and {} more", all - told.len()),
            hint: None,
            line: None,
            asked: None,
        });
    }
    told
}

/// The first problem of a report, with its line, where one sentence must do.
pub(super) fn first(report: &Report, shapes: &Library) -> String {
    let told = wrong(report, shapes).into_iter().next();
    told.map_or_else(String::new, |wrong| match wrong.line {
        Some(line) => format!("line {line}: {}", wrong.message),
        None => wrong.message,
    })
}

/// Problems told at once: whoever types has usually made one.
const MOST_TOLD: usize = 20;

fn not_done(why: NotDone) -> Wrong {
    Wrong {
        message: why.words().into(),
        hint: None,
        line: None,
        asked: None,
    }
}
