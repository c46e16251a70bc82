//! Material left between an opening and an edge, a hole or another opening.

use super::super::{Finding, FindingId, Locator, Measure, Opening, Severity};
use super::{Judged, cut_sides, nearest, straight};
use crate::base::length::Units;
use crate::geometry::outline::{ON_EDGE, Runs};
use kurbo::{Point, Rect};

/// The least ligament to leave in a panel of this thickness, mm: the larger of 10 mm and 4
/// thicknesses. A design value, no source.
fn ligament_rule(thickness: f64) -> f64 {
    (4.0 * thickness).max(10.0)
}

/// Least distance from the centre of a fastener hole of `diameter` to the edge of aluminium
/// sheet, mm: 2 diameters (FAA AC 43.13-1B ch. 4, read second-hand).
fn sheet_edge_distance(diameter: f64) -> f64 {
    2.0 * diameter
}

pub(super) fn findings(judged: &Judged<'_>) -> Vec<Finding> {
    let rule = ligament_rule(judged.panel.thickness.unwrap_or(0.0));
    let edges = judged.panel.size.map(|size| edges(judged, size));
    let cuts: Vec<Runs> = judged.openings.iter().map(cut_sides).collect();
    let whole = |opening: &Opening| Runs::new(opening.outline.sides());
    let wholes: Vec<Runs> = judged.openings.iter().map(whole).collect();
    let mut findings = vec![];
    for (i, opening) in judged.openings.iter().enumerate() {
        for (name, sides) in edges.iter().flatten() {
            // An opening that runs over an edge leaves nothing there to judge.
            let found = nearest(&cuts[i], sides, rule).filter(|found| found.0 > ON_EDGE);
            let id = of(opening).about(name);
            let edge = (id, name.as_str(), "an edge");
            findings.extend(short(opening, edge, found, rule, judged.units));
        }
        for locator in judged.locators {
            findings.extend(to_hole(judged, opening, &cuts[i], locator, rule));
        }
        for (other, sides) in judged.openings.iter().zip(&wholes).skip(i + 1) {
            let found = nearest(&cuts[i], sides, rule);
            let id = of(opening).beside_opening(other);
            let name = other.name();
            let other = (id, name.as_str(), "another opening");
            findings.extend(short(opening, other, found, rule, judged.units));
        }
    }
    findings
}

/// The panel's four edges by the vehicle's directions.
fn edges(judged: &Judged<'_>, size: Rect) -> Vec<(String, Runs)> {
    let right = judged.orientation.frame_right();
    let datum = judged.orientation.datum_edge();
    let foot = judged.panel.edge.points(size.x0, size.x1);
    let corner = |x: f64, y: f64| Point::new(x, y);
    let name = |direction: crate::base::Direction, word: &str| format!("{direction} {word}");
    vec![
        (
            name(datum, "edge"),
            Runs::new(foot.windows(2).map(|pair| straight(pair[0], pair[1]))),
        ),
        (
            name(datum.opposite(), "edge"),
            Runs::new([straight(corner(size.x0, size.y1), corner(size.x1, size.y1))]),
        ),
        (
            name(right.opposite(), "end"),
            Runs::new([straight(corner(size.x0, 0.0), corner(size.x0, size.y1))]),
        ),
        (
            name(right, "end"),
            Runs::new([straight(corner(size.x1, 0.0), corner(size.x1, size.y1))]),
        ),
    ]
}

fn to_hole(
    judged: &Judged<'_>,
    opening: &Opening,
    cut: &Runs,
    locator: &Locator,
    rule: f64,
) -> Option<Finding> {
    let diameter = locator.diameter?;
    // A hole in sheet metal keeps its middle two diameters from an edge.
    let rule = if judged.panel.is_metal() {
        rule.max(sheet_edge_distance(diameter) - diameter / 2.0)
    } else {
        rule
    };
    let middle = Runs::new([straight(locator.at, locator.at)]);
    let (distance, on_cut) = nearest(cut, &middle, rule + diameter / 2.0)?;
    if opening.outline.contains(locator.at) {
        return None;
    }
    let id = of(opening).beside("hole", &locator.name);
    short(
        opening,
        (id, &locator.name, "a hole"),
        Some((distance - diameter / 2.0, on_cut)),
        rule,
        judged.units,
    )
}

fn of(opening: &Opening) -> FindingId {
    FindingId::of("ligament").opening(opening)
}

fn short(
    opening: &Opening,
    (id, to, what): (FindingId, &str, &str),
    found: Option<(f64, Point)>,
    rule: f64,
    units: Units,
) -> Option<Finding> {
    let (left, at) = found.filter(|(left, _)| *left < rule)?;
    let finding = Finding::new(
        Severity::Error,
        id,
        format!(
            "{} stay between opening `{}` and `{to}`; at least {} shall stay to {what}",
            units.length(left),
            opening.name(),
            units.length(rule)
        ),
        "move the opening or make it smaller; if it holds all the same, accept it by its id",
    );
    Some(finding.at(at).measured(Measure::Least(left)))
}

#[cfg(test)]
mod tests {
    use super::{ligament_rule, sheet_edge_distance};

    // FAA AC 43.13-1B: an M6 bolt in sheet needs 12 mm to the edge.
    #[test]
    fn ligaments_and_edges() {
        assert_eq!(ligament_rule(2.5), 10.0);
        assert_eq!(ligament_rule(3.5), 14.0);
        assert_eq!(sheet_edge_distance(6.0), 12.0);
    }
}
