//! What an opening's corners do to the stress beside them.

use super::super::{Finding, FindingId, Opening, Severity};
use super::Judged;
use crate::drawing::fixed;
use crate::outline::Side;
use crate::strength::{ROUND_HOLE, rectangular_opening};
use kurbo::Point;

/// Families whose outline is a rectangle with round corners.
const RECTANGULAR: [&str; 2] = ["window", "box"];

/// One note for each opening with corners: its factor where the published fit is valid, a plain
/// statement where it is not.
pub(super) fn findings(judged: &Judged<'_>) -> Vec<Finding> {
    judged
        .openings
        .iter()
        .map(|opening| {
            let finding = Finding::new(
                Severity::Note,
                FindingId::of("corners").opening(opening),
                statement(opening),
                "a larger radius is always the safer one",
            );
            match sharpest(opening) {
                Some((_, at)) => finding.at(at),
                None => finding,
            }
        })
        .collect()
}

fn statement(opening: &Opening) -> String {
    let name = opening.name();
    let flat = "elastic, flat, wide plate: it explains, it predicts nothing";
    if opening.is_round_hole() {
        return format!(
            "stress beside round hole `{name}` rises {} times ({flat})",
            fixed(ROUND_HOLE, 1)
        );
    }
    if opening.is_open() {
        return format!(
            "opening `{name}` is open at an edge, where no published stress factor holds"
        );
    }
    let rectangular =
        matches!(opening.declared.as_slice(), [one] if RECTANGULAR.contains(&one.shape.as_str()));
    let Some((radius, _)) = sharpest(opening).filter(|_| rectangular) else {
        return format!(
            "opening `{name}` is no rectangle, and the published stress factor does not hold"
        );
    };
    let bounds = opening.outline.bounds();
    let (width, depth) = (bounds.width(), bounds.height());
    let factors = [
        ("along the edge", depth, width),
        ("away from the edge", width, depth),
    ]
    .map(|(pull, across, along)| (pull, rectangular_opening(across, along, radius)));
    let known: Vec<String> = factors
        .iter()
        .filter_map(|(pull, factor)| {
            factor
                .as_ref()
                .ok()
                .map(|factor| format!("{} times pulled {pull}", fixed(*factor, 1)))
        })
        .collect();
    match (known.as_slice(), &factors[0].1) {
        ([], Err(why)) => format!(
            "opening `{name}`, corner radius {} mm: {why}",
            fixed(radius, 1)
        ),
        (known, _) => format!(
            "stress at the corners of `{name}`, radius {} mm, rises {} ({flat})",
            fixed(radius, 1),
            known.join(", ")
        ),
    }
}

/// The least radius that is cut, mm, and where.
fn sharpest(opening: &Opening) -> Option<(f64, Point)> {
    opening
        .outline
        .sides()
        .filter(|side| side.side == Side::Cut)
        .filter_map(|side| Some((side.radius()?, side.at(0.5))))
        .min_by(|a, b| a.0.total_cmp(&b.0))
}
