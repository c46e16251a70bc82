//! What a fitter works by beside the cut line, layer by layer: all of it there, at its place, and
//! nothing else.

use super::frame::SHOWN_STEP;
use super::{CUT_WITHIN, Seen};
use crate::base::fixed;
use crate::check::verify::reference::{Guided, Reference};
use crate::check::verify::report::{FileKind, Finding, Outcome, Topic};
use crate::check::verify::seen::{CutLine, FAR, GUIDES, Index, Sheet};
use crate::draw::ink::Layer;
use kurbo::{Affine, Line, Point, Rect, Vec2};

/// Distance between the points of the definition that are looked for, mm.
const STEP: f64 = 2.0;
/// The border of a window, mm, in which a line may be cut short.
const BORDER: f64 = 0.5;

pub(super) fn judge(
    seen: &Seen<'_>,
    reference: &Reference,
    placed: &[(usize, Vec2)],
    findings: &mut Vec<Finding>,
) {
    let layers: Vec<(CutLine, CutLine)> = (0..GUIDES.len())
        .map(|place| {
            let all = laid(seen, placed, |page| &seen.sheets[page].guides[place].all);
            let firm = laid(seen, placed, |page| &seen.sheets[page].guides[place].firm);
            (all, firm)
        })
        .collect();
    let windows: Vec<Rect> = placed
        .iter()
        .filter_map(|(page, by)| Some(seen.sheets[*page].window?.inset(-BORDER) + *by))
        .collect();
    // Printed in any one of the ways, it is sound.
    let on_one_page = seen.kind == FileKind::Pdf && seen.sheets.first().is_some_and(Sheet::is_work);
    let ways = match on_one_page {
        true => &reference.on_one_page,
        false => &reference.ways,
    };
    let found = ways.iter().map(|way| {
        let layers = GUIDES.into_iter().zip(way).zip(&layers);
        let found: Vec<Finding> = layers
            .filter_map(|((guide, wanted), (all, firm))| one(guide, wanted, &windows, all, firm))
            .collect();
        (way, found)
    });
    let Some((way, found)) = found.min_by_key(|(_, found)| found.len()) else {
        return;
    };
    if found.is_empty() {
        let held = GUIDES.into_iter().zip(way);
        let held: Vec<&str> = held
            .filter(|(_, guided)| !guided.may.is_empty())
            .map(|(guide, _)| topic(guide).words())
            .collect();
        let words = format!("equal to the definition, too: {}", held.join(", "));
        findings.push(Finding::new(Outcome::Sound, Topic::CutLine, words));
    }
    findings.extend(found);
}

/// What the finding of a layer is about.
fn topic(guide: Layer) -> Topic {
    match guide {
        Layer::Centreline => Topic::Centreline,
        Layer::Locators => Topic::Locators,
        Layer::Relief => Topic::Relief,
        Layer::KeepOut => Topic::KeepOut,
        Layer::Parts => Topic::Parts,
        Layer::Panel => Topic::Panel,
        _ => Topic::DatumEdge,
    }
}

fn laid<'s>(
    seen: &'s Seen<'_>,
    placed: &[(usize, Vec2)],
    part: impl Fn(usize) -> &'s CutLine,
) -> CutLine {
    debug_assert!(placed.len() <= seen.sheets.len());
    let moved = placed
        .iter()
        .flat_map(|(page, by)| part(*page).mapped(Affine::translate(*by)).pieces);
    CutLine {
        pieces: moved.collect(),
    }
}

/// What is wrong with one layer.
fn one(
    guide: Layer,
    wanted: &Guided,
    windows: &[Rect],
    all: &CutLine,
    firm: &CutLine,
) -> Option<Finding> {
    let index = Index::of(all);
    let (mut length, mut lacking, mut off) = (0.0, 0.0, 0.0_f64);
    let reached = |point: &Point| windows.iter().any(|window| window.contains(*point));
    let mut look = |pieces: &[Line], asked: &dyn Fn(&Point) -> bool| {
        for piece in pieces {
            let one = CutLine {
                pieces: vec![*piece],
            };
            let points: Vec<Point> = one.points(STEP).collect();
            let looked_for: Vec<Point> = points.iter().copied().filter(asked).collect();
            let share = looked_for.len() as f64 / points.len().max(1) as f64;
            length += one.length() * share;
            let (worst, _) = index.farthest(looked_for.into_iter());
            if worst > CUT_WITHIN {
                off = off.max(worst);
                lacking += one.length() * share;
            }
        }
    };
    look(&wanted.must.pieces, &|point| !reached(point));
    look(&wanted.may.pieces, &reached);
    if lacking > 0.0 && lacking >= length && firm.is_empty() {
        // A pattern is laid by these; without them nothing says where its cut line stands.
        let lays = matches!(guide, Layer::Fold | Layer::Centreline | Layer::Locators);
        let (outcome, words) = if lays {
            (
                Outcome::CannotJudge,
                "gone: nothing says where the pattern is to be laid",
            )
        } else {
            (Outcome::Fault, "gone")
        };
        return Some(Finding::new(outcome, topic(guide), words));
    }
    let (extra, _) = Index::of(&wanted.may).farthest(firm.points(SHOWN_STEP));
    let far = |off: f64| match off >= FAR {
        true => format!("{} mm or more", fixed(FAR, 0)),
        false => format!("{} mm", fixed(off, 3)),
    };
    let words = if lacking > 0.0 {
        let (lacking, length, off) = (fixed(lacking, 2), fixed(length, 2), far(off));
        format!("{lacking} mm of {length} mm are not where they must be: {off} off")
    } else if extra > CUT_WITHIN {
        format!(
            "some of what is drawn is not in the definition: {} off",
            far(extra)
        )
    } else {
        return None;
    };
    let finding = Finding::new(Outcome::Fault, topic(guide), words);
    Some(finding.measured(off.max(extra), 0.0))
}
