//! What is worth a look before cutting: readings that disagree, openings that look wrong.

use super::opening::Placed;
use super::relief::sharp_inner_corner;
use super::{
    Basis, Centreline, Clear, Clearances, Finding, FindingId, Locator, Opening, Panel, Piece,
    Severity,
};
use crate::base::fixed;
use crate::base::length::Units;
use crate::model::centre::{Agreement, ArcCentre, ArcResidual, Centre};
use crate::model::clearance::Reason;
use crate::model::panel::Orientation;

/// Locators that a pattern needs to be laid by: one fixes a point, two fix the turn.
const LOCATORS_NEEDED: usize = 2;

/// Doubts about the readings of the centre.
pub(super) fn about_centre(
    centreline: &Centreline,
    locators: &[Locator],
    units: Units,
) -> Vec<Finding> {
    let mut findings = vec![];
    match &centreline.basis {
        Basis::Pairs(centre) => findings.extend(about_pairs(centre, units)),
        Basis::Arcs(arcs) => findings.extend(about_arcs(arcs, units)),
        Basis::Assumed | Basis::Marked => {}
    }
    if centreline.basis != Basis::Marked && locators.len() < LOCATORS_NEEDED {
        findings.push(warning(
            FindingId::of("locators").about("too few"),
            format!(
                "the pattern has {} to be laid by",
                match locators.len() {
                    0 => "no locator",
                    _ => "one locator",
                }
            ),
            "measure two holes or edge corners near the opening, each from the zero end and from \
             the datum edge, and add them as `[[locator]]`",
        ));
    }
    findings
}

fn about_pairs(centre: &Centre, units: Units) -> Vec<Finding> {
    let mut findings = vec![];
    match centre.agreement() {
        Agreement::Agree => {}
        Agreement::Unproved => findings.push(Finding::new(
            Severity::Note,
            FindingId::of("centreline").about("one pair"),
            "the centre rests on one pair of readings, which nothing proves".into(),
            "read a second pair of features that mirror each other",
        )),
        Agreement::OneDisagrees(odd) => findings.push(warning(
            FindingId::of("centreline").beside("pair", &odd.name),
            format!(
                "pair `{}` disagrees with the others by {}, where {} could be explained; it {} \
                 the centre at the datum edge would be {} instead of {}",
                odd.name,
                units.doubt(odd.by, 1),
                units.doubt(odd.explained, 1),
                if odd.left_out { "is left out: with it" } else { "counts still: without it" },
                units.length(odd.otherwise.at(0.0).middle),
                units.length(centre.at(0.0).middle)
            ),
            "read that pair again; if it reads the same, the panel is uneven there: say how uneven \
             with `moulding`, or leave the pair out",
        )),
        Agreement::Disagree => findings.push(warning(
            FindingId::of("centreline").about("pairs disagree"),
            "the pairs disagree by more than tape, eye and moulding explain, and no single one is to \
             blame"
                .into(),
            "read them again, and read one pair more: with three, the odd one shows; if the panel is \
             that uneven, say so with `moulding`",
        )),
    }
    if centre.middle().leans_too_far() {
        findings.push(warning(
            FindingId::of("centreline").about("leans"),
            format!(
                "the centreline leans {} degrees, beyond the skew limit",
                fixed(centre.skew().degrees().abs(), 2)
            ),
            "check each pair's `from_datum`, and that the datum edge is the right one",
        ));
    }
    findings
}

fn about_arcs(arcs: &ArcCentre, units: Units) -> Option<Finding> {
    let unexplained = |residual: &&ArcResidual| residual.residual.abs() > residual.explained;
    let worst = arcs.residuals().iter().filter(unexplained).max_by(|a, b| {
        let times = |residual: &ArcResidual| residual.residual.abs() / residual.explained;
        times(a).total_cmp(&times(b))
    })?;
    Some(warning(
        FindingId::of("centreline").beside("arcs", &worst.name),
        format!(
            "distance `{}` of arcs `{}` is off the others by {}, where {} could be explained",
            worst.what,
            worst.name,
            units.doubt(worst.residual, 1),
            units.doubt(worst.explained, 1)
        ),
        "measure the distances to the mark again",
    ))
}

/// Openings whose middle is known less well than the gap that was asked for in them.
pub(super) fn about_gaps(
    centreline: &Centreline,
    spacings: &[Clear],
    units: Units,
) -> Vec<Finding> {
    let mut findings: Vec<Finding> = vec![];
    for clear in spacings.iter().filter(|clear| clear.gap > 0.0) {
        let at = clear.now.on_opening;
        let id = FindingId::of("centre").about(&clear.opening);
        let known = centreline.uncertainty_at(at.y).unwrap_or(0.0);
        if known <= clear.gap || findings.iter().any(|finding| finding.id == id) {
            continue;
        }
        let message = format!(
            "the centre is known to {} only at `{}`, where a gap of {} was asked for: the \
             opening is as much wider",
            units.doubt(known, 1),
            clear.opening,
            units.length(clear.gap)
        );
        let hint = "read the centre again, and one pair more, before anything is cut";
        findings.push(warning(id, message, hint));
    }
    findings
}

/// What a panel is made of decides its growth with warmth, which a clearance is to hold.
pub(super) fn about_material(panel: &Panel, clearances: &[Clearances]) -> Option<Finding> {
    let counted = |one: &Clearances| one.budget.thermal.reason == Reason::Given;
    if panel.material.is_some() || clearances.iter().all(counted) {
        return None;
    }
    Some(Finding::new(
        Severity::Note,
        FindingId::of("material").about("not told"),
        "nobody said what the panel is made of: no clearance counts its growth with warmth, and the \
         cautions of sheet metal are given"
            .into(),
        "write `material` in `[panel]`, or `thermal` in `[clearance]`",
    ))
}

/// Doubts about openings as they were given.
pub(super) fn about_openings(
    placed: &[Placed],
    openings: &[Opening],
    panel: &Panel,
    orientation: Orientation,
    units: Units,
) -> Vec<Finding> {
    let named = |one: &Placed| (one.declared.name.clone(), one.outline.bounds());
    let pieces = Piece::count(&placed.iter().map(named).collect::<Vec<_>>());
    let mut findings: Vec<Finding> = placed
        .iter()
        .zip(pieces)
        .filter(|(one, _)| one.declared.trimmed.is_none())
        .flat_map(|(one, piece)| over_the_edge(one, piece, panel, orientation, units))
        .collect();
    for opening in openings {
        if let Some(corner) = sharp_inner_corner(&opening.outline) {
            let sharp = warning(
                FindingId::of("sharp corner").opening(opening),
                format!(
                    "{} has a sharp inner corner, where a panel tears",
                    opening.called()
                ),
                "give that corner a radius, at least that of a drill",
            );
            findings.push(sharp.at(corner));
        }
    }
    findings
}

fn over_the_edge(
    one: &Placed,
    piece: Piece,
    panel: &Panel,
    orientation: Orientation,
    units: Units,
) -> Vec<Finding> {
    let Some(size) = panel.size else {
        return vec![];
    };
    let bounds = one.outline.bounds();
    let right = orientation.frame_right();
    let far = orientation.datum_edge().opposite();
    [
        (size.x0 - bounds.x0, format!("{} end", right.opposite())),
        (bounds.x1 - size.x1, format!("{right} end")),
        (bounds.y1 - size.y1, format!("{far} edge")),
    ]
    .into_iter()
    .filter(|(by, _)| *by > 0.0)
    .map(|(by, edge)| {
        let over = warning(
            FindingId::of("over the edge")
                .about(&one.declared.name)
                .piece(piece)
                .about(&edge),
            format!(
                "opening `{}` runs {} over the panel's {edge}",
                one.declared.name,
                units.length(by)
            ),
            "if that is not meant, look at its offset and at the panel's size",
        );
        over.at(one.declared.origin)
    })
    .collect()
}

fn warning(id: FindingId, message: String, hint: &str) -> Finding {
    Finding::new(Severity::Warning, id, message, hint)
}
