//! The cut line: all there, where it must be, and where a printer can print it.

use super::frame::{self, SHOWN_STEP};
use super::{CUT_WITHIN, Seen, numbers};
use crate::base::fixed;
use crate::base::length::{INCH, Units};
use crate::check::verify::reference::Reference;
use crate::check::verify::report::{FileKind, Finding, Outcome, Topic};
use crate::check::verify::seen::{CutLine, FAR, Index, Sheet};
use kurbo::{Affine, Rect, Vec2};

/// Border that nearly every printer can't print on, mm: the widest even one seen in makers'
/// manuals.
const UNPRINTABLE: f64 = 5.08;
/// Distance between the points at which lines are compared, mm.
const STEP: f64 = 0.5;

pub(super) fn judge(seen: &Seen<'_>, reference: Option<&Reference>, findings: &mut Vec<Finding>) {
    for index in 0..seen.sheets.len() {
        seen_on(seen, index, findings);
    }
    let length: f64 = seen.sheets.iter().map(|sheet| sheet.cut.length()).sum();
    let all_drawn = seen.sheets.iter().any(|sheet| sheet.cut_drawn.is_some());
    if length <= 0.0 {
        let words = if all_drawn {
            "nothing of the cut line can be seen"
        } else {
            "no cut line is found"
        };
        findings.push(Finding::new(Outcome::CannotJudge, Topic::CutLine, words));
        return;
    }
    // Without rulers nothing says which way a sheet lies.
    let known = |sheet: &&Sheet| sheet.is_work();
    if !seen
        .sheets
        .iter()
        .filter(known)
        .all(|sheet| sheet.lie.is_ok())
    {
        return;
    }
    match reference {
        Some(reference) => {
            let placed = frame::laid(seen, reference);
            against(seen, reference, &placed, findings);
            numbers::judge(seen, reference, &placed, findings);
        }
        None => findings.push(Finding::new(
            Outcome::Sound,
            Topic::CutLine,
            format!(
                "{} mm on {} pages, overlaps counted twice; not held against a definition",
                fixed(length, 2),
                seen.sheets
                    .iter()
                    .filter(|sheet| !sheet.cut.is_empty())
                    .count()
            ),
        )),
    }
}

fn seen_on(seen: &Seen<'_>, index: usize, findings: &mut Vec<Finding>) {
    let (sheet, page) = (&seen.sheets[index], &seen.file.pages[index]);
    let mut add = |outcome, words: String| {
        findings.push(Finding::new(outcome, Topic::CutLine, words).on(index));
    };
    if sheet.hidden {
        add(
            Outcome::Fault,
            "some of the cut line is drawn but hidden, broken, or of another width".into(),
        );
    }
    if sheet.ragged {
        add(
            Outcome::CannotJudge,
            "what of the cut line can be seen hangs on a clip or mask that is no box".into(),
        );
    }
    if sheet.covered {
        add(
            Outcome::CannotJudge,
            "something was painted over the cut line".into(),
        );
    }
    if let Some(drawn) = sheet.cut_drawn {
        let off = beyond(drawn, page.shown);
        if off > CUT_WITHIN {
            add(
                Outcome::Fault,
                format!(
                    "the cut line runs off the page by {}",
                    seen.units.doubt(off, 2)
                ),
            );
        }
    }
    if let Some(shown) = sheet.cut_shown
        && seen.kind == FileKind::Pdf
    {
        let off = beyond(shown, page.shown.inset(-UNPRINTABLE));
        if off > CUT_WITHIN {
            add(
                Outcome::Fault,
                format!(
                    "the cut line comes {} into the border of {} that printers leave white",
                    seen.units.doubt(off, 2),
                    seen.units.length(UNPRINTABLE)
                ),
            );
        }
    }
}

/// How far a box stands out of another, mm.
fn beyond(inner: Rect, outer: Rect) -> f64 {
    [
        outer.x0 - inner.x0,
        outer.y0 - inner.y0,
        inner.x1 - outer.x1,
        inner.y1 - outer.y1,
    ]
    .into_iter()
    .fold(0.0, f64::max)
}

/// Holds the cut line that the sheets show, laid together, against the definition.
fn against(
    seen: &Seen<'_>,
    reference: &Reference,
    placed: &[(usize, Vec2)],
    findings: &mut Vec<Finding>,
) {
    let should = Index::of(&reference.cut);
    let mut all = CutLine::default();
    for (page, by) in placed {
        let own = seen.sheets[*page].cut.mapped(Affine::translate(*by));
        all.pieces.extend(own.pieces);
    }
    let (extra, _) = should.farthest(all.points(SHOWN_STEP));
    let is = Index::of(&all);
    let mut lacking = 0.0;
    let mut off = 0.0_f64;
    for piece in &reference.cut.pieces {
        let one = CutLine {
            pieces: vec![*piece],
        };
        let (worst, _) = is.farthest(one.points(STEP));
        off = off.max(worst);
        if worst > CUT_WITHIN {
            lacking += one.length();
        }
    }
    let worst = off.max(extra);
    // The least that three decimals tell.
    let least_told = match seen.units {
        Units::Mm => 0.001,
        Units::In => 0.001 * INCH,
    };
    let length = reference.cut.length();
    if worst <= CUT_WITHIN {
        findings.push(
            Finding::new(
                Outcome::Sound,
                Topic::CutLine,
                format!(
                    "{}, complete and equal to the definition within {}",
                    seen.units.doubt(length, 2),
                    seen.units.doubt(worst.max(least_told), 3)
                ),
            )
            .measured(worst, 0.0),
        );
        return;
    }
    let far = |off: f64| {
        if off >= FAR {
            format!("{} or more", seen.units.doubt(FAR, 0))
        } else {
            seen.units.doubt(off, 3)
        }
    };
    let mut add = |words: String, off: f64| {
        findings.push(Finding::new(Outcome::Fault, Topic::CutLine, words).measured(off, 0.0));
    };
    if let (Some(is), Some(should)) = (all.bounds(), reference.cut.bounds()) {
        let size = |of: Rect| {
            let side = |length| seen.units.doubt(length, 2);
            format!("{} x {}", side(of.width()), side(of.height()))
        };
        if (is.size() - should.size()).to_vec2().hypot() > CUT_WITHIN {
            add(
                format!(
                    "it measures {}, by the definition {}",
                    size(is),
                    size(should)
                ),
                worst,
            );
        }
    }
    if lacking > 0.0 {
        add(
            format!(
                "{} of the definition's {} are not where they must be: {} off",
                seen.units.doubt(lacking, 2),
                seen.units.doubt(length, 2),
                far(off)
            ),
            off,
        );
    }
    if extra > CUT_WITHIN {
        add(
            format!("some of it is not in the definition: {} off", far(extra)),
            extra,
        );
    }
}
