//! Register marks: what one sheet shows, its neighbour must show at the same place.

use super::{CUT_WITHIN, MARK_WITHIN, Seen};
use crate::check::verify::report::{Finding, Outcome, Topic};
use crate::check::verify::seen::{CutLine, Index};
use kurbo::{Affine, Vec2};

/// How far sheets that close a ring may be from closing it, mm.
const CLOSING_WITHIN: f64 = 0.05;
/// The border of a window, mm, in which a neighbour may have cut a line short.
const BORDER: f64 = 0.5;

pub(super) fn judge(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    let laid = &seen.laid;
    let by_layer = seen.layers.are_told();
    let mut sound = 0;
    let mut worst = 0.0_f64;
    for join in &laid.joins {
        let [first, second] = join.pages.map(|page| page + 1);
        worst = worst.max(join.apart);
        if join.apart > MARK_WITHIN {
            findings.push(
                Finding::new(
                    Outcome::Fault,
                    Topic::Register,
                    format!(
                        "marks shared by pages {first} and {second} are {} apart once laid",
                        seen.units.doubt(join.apart, 3)
                    ),
                )
                .measured(join.apart, 0.0),
            );
        } else if by_layer && join.alone > 0 {
            findings.push(Finding::new(
                Outcome::Fault,
                Topic::Register,
                format!("pages {first} and {second} do not show the same marks"),
            ));
        } else {
            sound += join.marks;
        }
    }
    for page in &laid.unanswered {
        let (outcome, words) = if by_layer {
            (
                Outcome::Fault,
                "its register marks are on no other page: a sheet is missing or out of order",
            )
        } else {
            (
                Outcome::CannotJudge,
                "crosses like register marks are on no other page, and no layer says what they are",
            )
        };
        findings.push(Finding::new(outcome, Topic::Register, words).on(*page));
    }
    if laid.closing > CLOSING_WITHIN {
        findings.push(Finding::new(
            Outcome::Fault,
            Topic::Register,
            format!(
                "laid round in a ring the sheets miss each other by {}",
                seen.units.doubt(laid.closing, 3)
            ),
        ));
    }
    if sound > 0 {
        findings.push(
            Finding::new(
                Outcome::Sound,
                Topic::Register,
                format!(
                    "{sound} marks shared at {} joins, at most {} apart",
                    laid.joins.len(),
                    seen.units.doubt(worst, 3)
                ),
            )
            .measured(worst, 0.0),
        );
    }
    agreement(seen, findings);
}

/// Where two sheets overlap, both must show the same cut line.
fn agreement(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    for join in &seen.laid.joins {
        let placed = |page: usize| {
            let mut all = seen.laid.groups.iter().flatten();
            all.find(|(index, _)| *index == page).map(|(_, by)| *by)
        };
        let [first, second] = join.pages;
        let (Some(a), Some(b)) = (placed(first), placed(second)) else {
            continue;
        };
        let off = one_way(seen, first, second, a - b).max(one_way(seen, second, first, b - a));
        if off > CUT_WITHIN + join.apart {
            findings.push(
                Finding::new(
                    Outcome::Fault,
                    Topic::CutLine,
                    format!(
                        "pages {} and {} show different cut lines where they overlap: {} apart",
                        first + 1,
                        second + 1,
                        seen.units.doubt(off, 3)
                    ),
                )
                .measured(off, 0.0),
            );
        }
    }
}

/// How far what one sheet shows inside the other's window is from what the other shows there.
fn one_way(seen: &Seen<'_>, from: usize, onto: usize, by: Vec2) -> f64 {
    let (from, onto) = (&seen.sheets[from], &seen.sheets[onto]);
    let Some(window) = onto.window else {
        return 0.0;
    };
    let window = window.inset(-BORDER);
    let moved: CutLine = from.cut.mapped(Affine::translate(by));
    let index = Index::of(&onto.cut);
    index
        .farthest(moved.points(1.0).filter(|point| window.contains(*point)))
        .0
}
