//! What was found of a definition, and the paper that it takes: the piece of the page that changes
//! with every answer.

use super::{sentence, told};
use crate::jobs::look::Look;
use crate::layout::PageKind;
use crate::serve::asked::Answered;
use crate::serve::printers::Setting;
use crate::serve::seen::{Seen, Wrong};
use crate::solve::{Finding, Severity};
use maud::{Markup, html};

/// Paper first, then what stops the pattern, then what is to be looked at.
pub(in crate::serve) fn status(seen: &Seen, answered: &[Answered], setting: &Setting) -> Markup {
    let wanted: Vec<&Answered> = answered.iter().filter(|one| one.is_wanted()).collect();
    match seen {
        Seen::Drawn(drawn) => html! {
            (paper(&drawn.look, setting))
            (findings(&drawn.look.pattern.findings))
        },
        // What a half answered definition lacks is told by its questions.
        Seen::Wrong(problems) if !wanted.is_empty() => html! {
            p.paper.unready { (wanted.len()) @if wanted.len() == 1 { " answer to go" } @else { " answers to go" } }
            ul.togo { @for one in &wanted { li { a href={ "#q-" (one.question.id) } { (one.question.words) } } } }
            details.notes {
                summary { "What the definition lacks" }
                ul.findings { @for problem in problems { (wrong(problem)) } }
            }
        },
        Seen::Wrong(problems) => html! {
            p.paper.unready { "Not ready to print" }
            ul.findings { @for problem in problems { (wrong(problem)) } }
        },
    }
}

/// The same in a few words, for who has it out of sight.
pub(in crate::serve) fn summary(seen: &Seen, answered: &[Answered]) -> String {
    let wanted = answered.iter().filter(|one| one.is_wanted()).count();
    match seen {
        Seen::Wrong(_) if wanted == 1 => "1 answer to go".into(),
        Seen::Wrong(_) if wanted > 1 => format!("{wanted} answers to go"),
        Seen::Wrong(_) => "not ready".into(),
        Seen::Drawn(drawn) => {
            let found = &drawn.look.pattern.findings;
            let stops = found.iter().filter(|finding| finding.stops()).count();
            let grave = |one: &&Finding| one.severity > Severity::Note && one.accepted.is_none();
            let pages = drawn
                .look
                .sheets
                .as_ref()
                .map_or(0, |sheets| sheets.pages.len());
            match (stops, found.iter().filter(grave).count(), pages) {
                (0, _, 0) => "does not fit the paper".into(),
                (0, 0, 1) => "1 page".into(),
                (0, 0, pages) => format!("{pages} pages"),
                (0, grave, pages) => format!("{pages} pages, {grave} to look at"),
                (stops, ..) => format!("{stops} in the way"),
            }
        }
    }
}

fn paper(look: &Look, setting: &Setting) -> Markup {
    let sheets = match &look.sheets {
        Ok(sheets) => sheets,
        Err(error) => {
            return html! { p.paper.unready { "Does not fit the paper" } (told(&error.to_string())) };
        }
    };
    let of = |kind| sheets.pages.iter().filter(|page| **page == kind).count();
    let count = sheets.pages.len();
    let lies = if sheets.size.width > sheets.size.height {
        "landscape"
    } else {
        "portrait"
    };
    html! {
        p.paper.unready[!look.prints()] {
            b { (count) @if count == 1 { " page" } @else { " pages" } }
            ", " (setting.setup.paper.common_name()) " " (lies)
            @if look.prints() {
                span.hint { ": front page, " (of(PageKind::Work)) " to cut by" }
            } @else {
                span.hint { ": not to be printed yet, see below" }
            }
        }
    }
}

/// Findings by their numbers on the picture, the gravest first; notes apart.
fn findings(all: &[Finding]) -> Markup {
    let mut numbered: Vec<(usize, &Finding)> = all.iter().enumerate().collect();
    numbered.sort_by_key(|(_, finding)| std::cmp::Reverse(finding.severity));
    let is_note = |(_, finding): &(usize, &Finding)| {
        finding.severity == Severity::Note || finding.accepted.is_some()
    };
    let (notes, grave): (Vec<_>, Vec<_>) = numbered.into_iter().partition(is_note);
    html! {
        @if grave.is_empty() {
            p.sound { "Nothing found that is in the way." }
        } @else {
            ul.findings { @for (index, finding) in &grave { (one(*index, finding)) } }
        }
        @if !notes.is_empty() {
            details.notes {
                summary { (notes.len()) @if notes.len() == 1 { " note" } @else { " notes" } }
                ul.findings { @for (index, finding) in &notes { (one(*index, finding)) } }
            }
        }
    }
}

fn one(index: usize, finding: &Finding) -> Markup {
    let word = match finding.standing() {
        "error" => "Stops",
        "warning" => "Look at",
        "accepted" => "Accepted",
        _ => "Note",
    };
    html! {
        li.(finding.standing()) {
            p.what {
                @if finding.at.is_some() {
                    button.place type="button" data-finding=(index) aria-label={ "Show place " (index + 1) " on the picture" } { (index + 1) }
                }
                b { (word) ": " }
                (sentence(&finding.message))
                @if let Some(place) = &finding.whereabouts { span.hint { " " (sentence(place)) } }
            }
            @match &finding.accepted {
                Some(accepted) => p.hint { "By " (accepted.by) ": " (sentence(&accepted.because)) },
                None if finding.severity > Severity::Note => p.hint { (sentence(&finding.hint)) },
                None => "",
            }
        }
    }
}

fn wrong(problem: &Wrong) -> Markup {
    html! {
        li.error {
            p.what {
                @if let Some(line) = problem.line {
                    button.line type="button" data-line=(line) { "Line " (line) }
                }
                (sentence(&problem.message))
            }
            @if let Some(hint) = &problem.hint { p.hint { (sentence(hint)) } }
        }
    }
}
