//! What was found of a definition, and the paper that it takes: the piece of the page that changes
//! with every answer.

use super::{sentence, told, word};
use crate::jobs::look::Look;
use crate::layout::PageKind;
use crate::serve::asked::is_grave;
use crate::serve::asking::Answered;
use crate::serve::seen::{Drawn, Seen, Wrong};
use crate::serve::setting::Setting;
use crate::solve::{Finding, Pattern};
use maud::{Markup, html};

/// Paper first, then what stops the pattern, then what is to be looked at.
pub(in crate::serve) fn status(seen: &Seen, answered: &[Answered], setting: &Setting) -> Markup {
    let wanted: Vec<&Answered> = answered.iter().filter(|one| one.is_wanted()).collect();
    match seen {
        Seen::Drawn(drawn) => html! {
            (paper(&drawn.look, setting))
            (findings(drawn, answered))
            (sizes(&drawn.look.pattern))
        },
        // What a half answered definition lacks is told by its questions.
        Seen::Wrong(problems) if !wanted.is_empty() => html! {
            p.paper.unready { (wanted.len()) @if wanted.len() == 1 { " answer to go" } @else { " answers to go" } }
            ul.togo { @for one in &wanted { li { a href={ "#q-" (one.question.id) } { (one.question.words) } } } }
            details.notes {
                summary { "What the definition lacks" }
                ul.findings { @for problem in problems { (wrong(problem, answered)) } }
            }
        },
        Seen::Wrong(problems) => html! {
            p.paper.unready { "Not ready to print" }
            ul.findings { @for problem in problems { (wrong(problem, answered)) } }
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
            let pages = drawn.look.laid_out().map_or(0, |sheets| sheets.pages.len());
            match (
                stops,
                found.iter().filter(|one| is_grave(one)).count(),
                pages,
            ) {
                (0, _, 0) if drawn.look.sheets.is_none() => "pages are being counted".into(),
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
        Some(Ok(sheets)) => sheets,
        None => {
            return html! { p.paper { (setting.setup.paper.common_name()) span.hint { ": pages are counted as soon as you pause" } } };
        }
        Some(Err(error)) => {
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
fn findings(drawn: &Drawn, answered: &[Answered]) -> Markup {
    let all = drawn.look.pattern.findings.iter();
    let mut numbered: Vec<(usize, &Finding)> = all.enumerate().collect();
    numbered.sort_by_key(|(_, finding)| std::cmp::Reverse(finding.severity));
    let (grave, notes): (Vec<_>, Vec<_>) = numbered.into_iter().partition(|(_, own)| is_grave(own));
    let one = |index: usize, finding| one(index, finding, asked(&drawn.asked[index], answered));
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

/// The question of that name, to go to.
fn asked(id: &Option<String>, answered: &[Answered]) -> Markup {
    let own = answered
        .iter()
        .find(|own| Some(&own.question.id) == id.as_ref());
    html! {
        @if let Some(own) = own {
            p { a.alone href={ "#q-" (own.question.id) } { (own.question.words) } }
        }
    }
}

/// What each opening comes to, what its parts keep of their gaps, what holds the panel, and how near
/// what stands behind it comes.
fn sizes(pattern: &Pattern) -> Markup {
    let units = pattern.units;
    html! {
        details.notes {
            summary { "Sizes, gaps and what holds" }
            ul.findings {
                @for opening in &pattern.openings {
                    @let bounds = opening.outline.bounds();
                    li {
                        b { (opening.name()) ": " }
                        (units.side(bounds.width())) " x " (units.close(bounds.height())) "."
                    }
                }
                @for clear in &pattern.spacings {
                    li {
                        b { (clear.part) ": " }
                        (units.close(clear.now.distance)) " from the cut line now, "
                        (units.close(clear.after_moves.distance)) " when all has moved as far as it may; "
                        (units.close(clear.gap)) " asked for."
                    }
                }
                @for foot in &pattern.feet {
                    li { b { (foot.name) ": " } (foot.told(units)) "." }
                }
                @if !pattern.feet.is_empty() || !pattern.hold.left_out.is_empty() {
                    @for told in pattern.hold.told(pattern.orientation) { li { (told) } }
                }
                @for foul in &pattern.fouls {
                    li {
                        b { (foul.feature) ": " }
                        (units.close(foul.distance)) " from " (foul.part)
                        " as the panel is brought up; either may be "
                        (units.close(foul.movement)) " off."
                    }
                }
            }
        }
    }
}

fn one(index: usize, finding: &Finding, asked: Markup) -> Markup {
    html! {
        li.(finding.standing()) {
            p.what {
                @if finding.at.is_some() {
                    button.place type="button" data-finding=(index) aria-label={ "Show place " (index + 1) " on the picture" } { (index + 1) }
                }
                b { (word(finding.standing())) ": " }
                (sentence(&finding.message))
                @if let Some(place) = &finding.whereabouts { span.hint { " " (sentence(place)) } }
            }
            @match &finding.accepted {
                Some(accepted) => p.hint { "By " (accepted.by) ": " (sentence(&accepted.because)) },
                None if is_grave(finding) => p.hint { (sentence(&finding.hint)) },
                None => "",
            }
            @if is_grave(finding) { (asked) }
            @if finding.waits_for_somebody() {
                @let (id, value) = (finding.id.as_str(), finding.accepted_at());
                button type="button" data-accept=(id) data-value=(value) { "Answer for \u{2018}" (id) "\u{2019} at " (value) }
            }
        }
    }
}

fn wrong(problem: &Wrong, answered: &[Answered]) -> Markup {
    html! {
        li.error {
            p.what {
                @if let Some(line) = problem.line {
                    button.line type="button" data-line=(line) { "Line " (line) }
                }
                (sentence(&problem.message))
            }
            @if let Some(hint) = &problem.hint { p.hint { (sentence(hint)) } }
            (asked(&problem.asked, answered))
        }
    }
}
