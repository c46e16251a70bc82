//! The cut line: all there, where it must be, and where a printer can print it.

use super::{CUT_WITHIN, Seen};
use crate::drawing::fixed;
use crate::verify::reference::Reference;
use crate::verify::report::{FileKind, Finding, Outcome, Topic};
use crate::verify::seen::{CutLine, FAR, Index, Sheet};
use kurbo::{Affine, Point, Rect, Vec2};

/// Border that nearly every printer can't print on, mm: the widest even one seen in makers'
/// manuals.
const UNPRINTABLE: f64 = 5.08;
/// Distance between the points at which lines are compared, mm.
const STEP: f64 = 0.5;
/// The same where what is shown is held against the definition, mm: ends are always looked at, and
/// two lines of straight pieces are farthest apart at an end of one of them.
const SHOWN_STEP: f64 = 4.0;
/// A piece of the datum edge or the centreline shorter than this tells nothing, mm.
const LEAST_GUIDE: f64 = 2.0;
/// Farther off than this, mm, a line is not the one looked for, which may not be on the sheets.
const GUIDE_FAR: f64 = 8.0;

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
        Some(reference) => against(seen, reference, findings),
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
            "some of the cut line is drawn but hidden".into(),
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
                format!("the cut line runs off the page by {} mm", fixed(off, 2)),
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
                    "the cut line comes {} mm into the border of {UNPRINTABLE} mm that printers \
                     leave white",
                    fixed(off, 2)
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

/// Holds all that the sheets show, laid together, against the definition.
fn against(seen: &Seen<'_>, reference: &Reference, findings: &mut Vec<Finding>) {
    let should = Index::of(&reference.cut);
    let mut all = CutLine::default();
    let mut extra = 0.0_f64;
    for group in &seen.laid.groups {
        let mut shown = CutLine::default();
        for (page, by) in group {
            let own = seen.sheets[*page].cut.mapped(Affine::translate(*by));
            shown.pieces.extend(own.pieces);
        }
        let Some(bounds) = shown.bounds() else {
            continue;
        };
        let shifts = shifts(bounds, reference, seen.laid.groups.len() == 1);
        let Some((off, by)) = best_of(&shifts, &shown, &should) else {
            continue;
        };
        extra = extra.max(off);
        place(seen, group, by, reference, findings);
        all.pieces
            .extend(shown.mapped(Affine::translate(by)).pieces);
    }
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
    let length = reference.cut.length();
    if worst <= CUT_WITHIN {
        findings.push(
            Finding::new(
                Outcome::Sound,
                Topic::CutLine,
                format!(
                    "{} mm, complete and equal to the definition within {} mm",
                    fixed(length, 2),
                    fixed(worst.max(0.001), 3)
                ),
            )
            .measured(worst, 0.0),
        );
        return;
    }
    let far = |off: f64| {
        if off >= FAR {
            format!("{} mm or more", fixed(FAR, 0))
        } else {
            format!("{} mm", fixed(off, 3))
        }
    };
    let mut add = |words: String, off: f64| {
        findings.push(Finding::new(Outcome::Fault, Topic::CutLine, words).measured(off, 0.0));
    };
    if let (Some(is), Some(should)) = (all.bounds(), reference.cut.bounds()) {
        let size = |of: Rect| format!("{} x {} mm", fixed(of.width(), 2), fixed(of.height(), 2));
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
                "{} mm of the definition's {} mm are not where they must be: {} off",
                fixed(lacking, 2),
                fixed(length, 2),
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

/// The shift that lays a line nearest to where it should be, and how far off it is then: the first
/// that is as good as it must be.
fn best_of(shifts: &[Vec2], shown: &CutLine, should: &Index<'_>) -> Option<(f64, Vec2)> {
    let mut best: Option<(f64, Vec2)> = None;
    for &by in shifts {
        let most = best.map_or(f64::INFINITY, |best| best.0);
        let off = should.farthest_within(shown.points(SHOWN_STEP).map(|point| point + by), most);
        if off < most {
            best = Some((off, by));
        }
        if off <= CUT_WITHIN {
            break;
        }
    }
    best
}

/// Whether the cut line stands right to the datum edge and to the centreline that are drawn.
fn place(
    seen: &Seen<'_>,
    group: &[(usize, Vec2)],
    by: Vec2,
    reference: &Reference,
    findings: &mut Vec<Finding>,
) {
    type Guide = fn(&Sheet) -> &CutLine;
    type Off = fn(&Reference, Point) -> f64;
    let guides: [(&str, Guide, Off); 2] = [
        ("datum edge", |sheet| &sheet.fold, Reference::off_datum_edge),
        (
            "centreline",
            |sheet| &sheet.centreline,
            Reference::off_centreline,
        ),
    ];
    for (name, guide, off) in guides {
        // Of all in its layer the guide itself lies nearest to where it must.
        let nearest = group
            .iter()
            .flat_map(|(page, own)| {
                let to = by + *own;
                let pieces = guide(&seen.sheets[*page]).pieces.iter();
                pieces
                    .filter(|piece| piece.p0.distance(piece.p1) > LEAST_GUIDE)
                    .map(move |piece| [piece.p0 + to, piece.p1 + to])
            })
            .map(|ends| off(reference, ends[0]).max(off(reference, ends[1])))
            .fold(f64::INFINITY, f64::min);
        if nearest > CUT_WITHIN && nearest < GUIDE_FAR {
            let words = format!(
                "the cut line stands {} mm wrong to the {name} that is drawn",
                fixed(nearest, 3)
            );
            findings
                .push(Finding::new(Outcome::Fault, Topic::CutLine, words).measured(nearest, 0.0));
        }
    }
}

/// Ways to lay what sheets show over the definition: by its corners and middle, or, for sheets
/// that do not hang together, by those of each opening.
fn shifts(shown: Rect, reference: &Reference, whole: bool) -> Vec<Vec2> {
    let ends = |of: Rect| ([of.x0, of.x1, of.center().x], [of.y0, of.y1, of.center().y]);
    let (own_x, own_y) = ends(shown);
    let mut found = vec![];
    let mut add = |left: Rect, low: Rect| {
        let (x, y) = (ends(left).0, ends(low).1);
        for (own_x, x) in own_x.iter().zip(x) {
            for (own_y, y) in own_y.iter().zip(y) {
                found.push(Vec2::new(x - own_x, y - own_y));
            }
        }
    };
    if whole {
        found_whole(reference, &mut add);
    } else {
        const MOST: usize = 40;
        for left in reference.openings.iter().take(MOST) {
            for low in reference.openings.iter().take(MOST) {
                add(*left, *low);
            }
        }
    }
    found
}

fn found_whole(reference: &Reference, add: &mut impl FnMut(Rect, Rect)) {
    if let Some(all) = reference.cut.bounds() {
        add(all, all);
    }
}
