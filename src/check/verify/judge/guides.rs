//! What a fitter works by beside the cut line, layer by layer: all of it there, at its place, and
//! nothing else.

use super::frame::SHOWN_STEP;
use super::{CUT_WITHIN, Seen};
use crate::base::fixed;
use crate::check::verify::reference::{Guided, Reference};
use crate::check::verify::report::{Finding, Outcome, Topic};
use crate::check::verify::seen::{CutLine, FAR, GUIDES, Index};
use crate::draw::ink::Layer;
use kurbo::{Affine, Vec2};

/// Distance between the points of the definition that are looked for, mm.
const STEP: f64 = 2.0;

pub(super) fn judge(
    seen: &Seen<'_>,
    reference: &Reference,
    placed: &[(usize, Vec2)],
    findings: &mut Vec<Finding>,
) {
    let before = findings.len();
    for (place, guide) in GUIDES.into_iter().enumerate() {
        let all = laid(seen, placed, |page| &seen.sheets[page].guides[place].all);
        let firm = laid(seen, placed, |page| &seen.sheets[page].guides[place].firm);
        findings.extend(one(guide, &reference.guides[place], &all, &firm));
    }
    if findings.len() == before {
        let held = GUIDES.into_iter().zip(&reference.guides);
        let held: Vec<&str> = held
            .filter(|(_, guided)| !guided.must.is_empty())
            .map(|(guide, _)| topic(guide).words())
            .collect();
        let words = format!("equal to the definition, too: {}", held.join(", "));
        findings.push(Finding::new(Outcome::Sound, Topic::CutLine, words));
    }
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
fn one(guide: Layer, wanted: &Guided, all: &CutLine, firm: &CutLine) -> Option<Finding> {
    let index = Index::of(all);
    let (mut lacking, mut off) = (0.0, 0.0_f64);
    for piece in &wanted.must.pieces {
        let one = CutLine {
            pieces: vec![*piece],
        };
        let (worst, _) = index.farthest(one.points(STEP));
        if worst > CUT_WITHIN {
            off = off.max(worst);
            lacking += one.length();
        }
    }
    let length = wanted.must.length();
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
