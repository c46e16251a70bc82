//! What stays of the panel, and what must not be cut.

mod cut_off;
mod excess;
mod keep_out;
mod ligament;
mod passing;
mod share;

use super::{Clear, Clearances, Finding, KeepOut, Locator, Opening, Panel, Part};
use crate::base::length::Units;
use crate::geometry::outline::{Outline, Runs, Segment, Side};
use crate::model::panel::Orientation;
use kurbo::Point;

pub(super) use ligament::ligament_rule;

/// All that is judged together.
pub(super) struct Judged<'a> {
    pub(super) panel: &'a Panel,
    pub(super) orientation: Orientation,
    pub(super) openings: &'a [Opening],
    pub(super) locators: &'a [Locator],
    pub(super) holes: &'a [Locator],
    pub(super) keep_outs: &'a [KeepOut],
    pub(super) parts: &'a [Part],
    pub(super) spacings: &'a [Clear],
    pub(super) clearances: &'a [Clearances],
    pub(super) units: Units,
}

/// Every finding about what stays.
pub(super) fn judge(judged: &Judged<'_>) -> Vec<Finding> {
    let mut findings = passing::findings(judged);
    findings.extend(ligament::findings(judged));
    findings.extend(share::finding(judged));
    findings.extend(keep_out::findings(judged));
    findings.extend(cut_off::findings(judged));
    findings.extend(excess::findings(judged));
    findings
}

/// The sides of an opening that are cut.
fn cut_sides(opening: &Opening) -> Runs {
    let sides = opening.outline.sides();
    Runs::new(sides.filter(|side| side.side == Side::Cut))
}

/// The least distance between cut sides and others, mm, and where on the cut; none where it is not
/// less than `within` mm.
fn nearest(cut: &Runs, others: &Runs, within: f64) -> Option<(f64, Point)> {
    let (on_cut, on_other) = cut.nearest_to(others, within)?;
    Some((on_cut.distance(on_other), on_cut))
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
    !crate::geometry::outline::intersection(one, other).is_empty()
}
