//! A rough cut: a line inside the opening that is cut first, so that the part can be offered up while
//! there is still material to be wrong by.

use super::allowance::Allowances;
use super::{Clear, Finding, FindingId, Opening, Severity};
use crate::base::length::Units;
use crate::geometry::outline::{ON_EDGE, Outline, difference, mark_open, offset, outers};
use crate::input::OpeningSpec;

/// What a part keeps of a rough cut at least, mm, to be brought past it: a design value, no source.
const PASSES: f64 = 0.5;

/// A rough cut nearer to its line than this, mm, is no cut of its own: a design value, no source.
const WORTH_CUTTING: f64 = 1.0;

/// What is cut first.
#[derive(Debug, Clone)]
pub struct RoughCut {
    /// How far inside the line it lies, mm.
    pub inside: f64,
    /// Its lines, sides on the panel's edge open.
    pub lines: Vec<Outline>,
}

/// Gives the openings that ask for one their rough cut: inward by what the cut may be off by, and the
/// part still passes. Where there is no room for one, that is found.
pub(super) fn rough_cuts(
    openings: &mut [Opening],
    specs: &[OpeningSpec],
    panel: &Outline,
    allowances: &Allowances<'_>,
    spacings: &[Clear],
    units: Units,
) -> Vec<Finding> {
    let asked = specs.iter().filter(|spec| spec.rough_cut);
    let names: Vec<&str> = asked.map(|spec| spec.name.value.as_str()).collect();
    let mut findings = vec![];
    for opening in openings {
        if !names.iter().any(|name| opening.includes(name)) {
            continue;
        }
        let movement = allowances.budget(opening.outline.bounds()).movement();
        let within = spacings
            .iter()
            .filter(|clear| opening.includes(&clear.opening));
        let passes = within.map(|clear| clear.now.distance - PASSES);
        let inward = passes.fold(movement.sideways.min(movement.depthways), f64::min);
        let lines = match inward >= WORTH_CUTTING {
            true => inside(&opening.outline, panel, inward),
            false => vec![],
        };
        opening.rough = (!lines.is_empty()).then_some(RoughCut {
            inside: inward,
            lines,
        });
        if opening.rough.is_none() {
            let message = format!(
                "{} has no room for a rough cut {} inside its line",
                opening.called(),
                units.length(movement.sideways.min(movement.depthways))
            );
            let hint = "cut to the line at once, and offer the part up before that";
            let id = FindingId::of("rough cut").opening(opening);
            findings.push(Finding::new(Severity::Warning, id, message, hint));
        }
    }
    findings
}

/// What is left of an opening when the panel round it grows by `inward` mm: its mouth stays open.
fn inside(opening: &Outline, panel: &Outline, inward: f64) -> Vec<Outline> {
    let kept = difference(panel, opening);
    let closed = kept.iter().any(|region| !region.holes.is_empty());
    if closed {
        return outers(offset(opening, -inward));
    }
    let grown = kept
        .iter()
        .flat_map(|region| outers(offset(&region.outer, inward)));
    let left = grown.fold(vec![opening.clone()], |left, grown| {
        let pieces = left.iter().flat_map(|piece| difference(piece, &grown));
        outers(pieces.collect())
    });
    left.iter()
        .map(|piece| mark_open(piece, panel, ON_EDGE))
        .collect()
}
