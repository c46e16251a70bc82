//! A definition worked out for a page: its picture, or what is wrong with it and where.

use super::asking::Asking;
use super::setting::Setting;
use super::shop::Shop;
use super::work::{LONGEST, NotDone};
use crate::ask::asked_by;
use crate::input::{PatternSpec, Problem, Report, Source};
use crate::jobs::look::{Look, look};
use crate::store::Name;
use std::sync::Arc;

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

/// Works a text out in its turn, its sheets as well where paper is named.
pub(super) async fn seen(
    shop: &Arc<Shop>,
    name: &Name,
    text: &str,
    paper: Option<&Setting>,
    asking: &Arc<Asking>,
) -> Seen {
    let (own, name, text) = (shop.clone(), name.clone(), text.to_owned());
    let (paper, asking) = (paper.cloned(), asking.clone());
    let work = move || worked_out(&own, &name, &text, (paper.as_ref(), &asking));
    match shop.pool.run(LONGEST, work).await {
        Ok(seen) => seen,
        Err(why) => Seen::Wrong(vec![not_done(why)]),
    }
}

fn worked_out(
    shop: &Shop,
    name: &Name,
    text: &str,
    (paper, asking): (Option<&Setting>, &Asking),
) -> Seen {
    let drawn = shop.understood(name, text).and_then(|spec| {
        let paper = paper.map(|own| (&own.setup, own.printer.as_ref()));
        match look(&spec, &shop.shapes, paper) {
            Ok(look) => Ok(Drawn {
                asked: asking.about(&look.pattern.findings),
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
        Err(report) => Seen::Wrong(wrong(&report, asking)),
    }
}

/// Problems as a page tells them.
fn wrong(report: &Report, asking: &Asking) -> Vec<Wrong> {
    let text = report.source.text.as_str();
    let line = |problem: &Problem| {
        let span = problem.span.as_ref()?;
        Some(report.source.place(span.start).0)
    };
    let told = report.problems.iter().take(MOST_TOLD).map(|problem| Wrong {
        message: problem.message.clone(),
        hint: problem.hint.clone(),
        line: line(problem),
        asked: asked_by(text, asking.questions(), problem).map(|question| question.id.clone()),
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
pub(super) fn first(report: &Report) -> String {
    let told = wrong(report, &Asking::default()).into_iter().next();
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
