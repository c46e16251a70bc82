//! What stays of the panel, and what must not be cut.

mod cut_off;
mod excess;
mod keep_out;
mod ligament;
mod passing;
mod share;
mod stress;

use super::{Clear, Finding, KeepOut, Locator, Opening, Panel, Part};
use crate::outline::{Outline, Segment, Side, nearest_of};
use crate::panel::Orientation;
use kurbo::Point;

/// All that is judged together.
pub(super) struct Judged<'a> {
    pub(super) panel: &'a Panel,
    pub(super) orientation: Orientation,
    pub(super) openings: &'a [Opening],
    pub(super) locators: &'a [Locator],
    pub(super) keep_outs: &'a [KeepOut],
    pub(super) parts: &'a [Part],
    pub(super) spacings: &'a [Clear],
}

/// Every finding about what stays.
pub(super) fn judge(judged: &Judged<'_>) -> Vec<Finding> {
    let mut findings = passing::findings(judged);
    findings.extend(ligament::findings(judged));
    findings.extend(stress::findings(judged));
    findings.extend(share::finding(judged));
    findings.extend(keep_out::findings(judged));
    findings.extend(cut_off::findings(judged));
    findings.extend(excess::findings(judged));
    findings
}

/// The least distance between an opening's cut sides and other sides, mm, and where on the cut.
fn nearest(opening: &Opening, others: &[Segment]) -> Option<(f64, Point)> {
    let cut: Vec<Segment> = opening
        .outline
        .sides()
        .filter(|side| side.side == Side::Cut)
        .collect();
    let others: Vec<_> = others.iter().map(|side| (*side, side.bounds())).collect();
    nearest_of(&cut, &others).map(|(on_cut, on_other)| (on_cut.distance(on_other), on_cut))
}

/// A straight side between two points.
fn straight(start: Point, end: Point) -> Segment {
    Segment {
        start,
        end,
        bulge: 0.0,
        side: Side::Open,
    }
}

/// Whether two outlines share any place.
fn meet(one: &Outline, other: &Outline) -> bool {
    !crate::outline::intersection(one, other).is_empty()
}
