//! Material left between an opening and an edge, a hole or another opening.

use super::super::{Finding, FindingId, Locator, Measure, Opening, Severity};
use super::{Judged, cut_sides, nearest, straight};
use crate::base::length::Units;
use crate::geometry::outline::{ON_EDGE, Runs, Segment, Side};
use kurbo::{Point, Rect};

/// The least ligament to leave in a panel of this thickness, mm: the larger of 10 mm and 4
/// thicknesses. A design value, no source.
pub(in crate::solve) fn ligament_rule(thickness: f64) -> f64 {
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
        for hole in judged.locators.iter().chain(judged.holes) {
            findings.extend(to_hole(judged, opening, &cuts[i], hole, rule));
        }
        for (j, other) in judged.openings.iter().enumerate().skip(i + 1) {
            // A rim that was there is no cut, but what is cut beside it leaves as little.
            let each =
                [(i, j), (j, i)].map(|(one, other)| nearest(&cuts[one], &wholes[other], rule));
            let found = each
                .into_iter()
                .flatten()
                .min_by(|a, b| a.0.total_cmp(&b.0));
            let id = of(opening).beside_opening(other);
            let name = other.name();
            let other = (id, name.as_str(), "another opening");
            findings.extend(short(opening, other, found, rule, judged.units));
        }
    }
    findings
}

/// The panel's four edges by the vehicle's directions, less what of them falls away.
fn edges(judged: &Judged<'_>, size: Rect) -> Vec<(String, Runs)> {
    let right = judged.orientation.frame_right();
    let datum = judged.orientation.datum_edge();
    let foot = judged.panel.edge.points(size.x0, size.x1);
    let corner = |x: f64, y: f64| Point::new(x, y);
    let sides = |points: &[Point]| {
        let sides = points.windows(2);
        let sides = sides.map(|pair| straight(pair[0], pair[1]));
        Runs::new(sides.flat_map(|side| staying(&side, judged.openings)))
    };
    let name = |direction: crate::base::Direction, word: &str| format!("{direction} {word}");
    vec![
        (name(datum, "edge"), sides(&foot)),
        (
            name(datum.opposite(), "edge"),
            sides(&[corner(size.x0, size.y1), corner(size.x1, size.y1)]),
        ),
        (
            name(right.opposite(), "end"),
            sides(&[corner(size.x0, 0.0), corner(size.x0, size.y1)]),
        ),
        (
            name(right, "end"),
            sides(&[corner(size.x1, 0.0), corner(size.x1, size.y1)]),
        ),
    ]
}

/// The stretches of a straight edge that no opening takes: between the ends of open sides on it.
fn staying(edge: &Segment, openings: &[Opening]) -> Vec<Segment> {
    let along = edge.end - edge.start;
    let place = |at: Point| (at - edge.start).dot(along) / along.hypot2();
    let is_on = |at: Point| edge.nearest(at).distance(at) <= ON_EDGE;
    let sides = openings.iter().flat_map(|opening| opening.outline.sides());
    let open = sides.filter(|side| side.side == Side::Open && !side.is_arc());
    // An open side may be a piece of the edge, or the edge a piece of it.
    let meets = open.filter(|side| {
        [side.start, side.end].into_iter().all(is_on)
            || [edge.start, edge.end]
                .into_iter()
                .all(|at| side.nearest(at).distance(at) <= ON_EDGE)
    });
    let mut taken: Vec<(f64, f64)> = meets
        .map(|side| (place(side.start), place(side.end)))
        .map(|(a, b)| (a.min(b), a.max(b)))
        .collect();
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut from = 0.0;
    let mut left = vec![];
    for (start, end) in taken.into_iter().chain([(1.0, 1.0)]) {
        if start > from {
            left.push(straight(edge.at(from), edge.at(start.min(1.0))));
        }
        from = from.max(end);
    }
    left
}

fn to_hole(
    judged: &Judged<'_>,
    opening: &Opening,
    cut: &Runs,
    hole: &Locator,
    rule: f64,
) -> Option<Finding> {
    let diameter = hole.diameter?;
    if opening.takes_in(hole) {
        return None;
    }
    // A hole in sheet metal keeps its middle two diameters from an edge.
    let rule = if judged.panel.is_metal() {
        rule.max(sheet_edge_distance(diameter) - diameter / 2.0)
    } else {
        rule
    };
    let middle = Runs::new([straight(hole.at, hole.at)]);
    let (distance, on_cut) = nearest(cut, &middle, rule + diameter / 2.0)?;
    if opening.outline.contains(hole.at) {
        return None;
    }
    let left = distance - diameter / 2.0;
    let to = (
        of(opening).beside("hole", &hole.name),
        hole.name.as_str(),
        "a hole",
    );
    let mut found = short(opening, to, Some((left, on_cut)), rule, judged.units)?;
    if left < 0.0 {
        found.message = format!("{} runs into hole `{}`", opening.called(), hole.name);
    }
    found.hint = format!(
        "move the opening or make it smaller, or let it take the hole in, as `take_in = [\"{}\"]`; if \
         it holds all the same, accept it by its id",
        hole.name
    );
    Some(found)
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
            "{} stay between {} and `{to}`; at least {} shall stay to {what}",
            units.length(left),
            opening.called(),
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
