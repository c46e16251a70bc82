//! Material left between an opening and an edge, a hole or another opening.

use super::super::{Finding, Locator, Measure, Opening, Severity};
use super::{Judged, nearest, straight};
use crate::drawing::fixed;
use crate::outline::{ON_EDGE, Segment};
use crate::strength::{ligament_rule, sheet_edge_distance};
use kurbo::{Point, Rect};

pub(super) fn findings(judged: &Judged<'_>) -> Vec<Finding> {
    let rule = ligament_rule(judged.panel.thickness.unwrap_or(0.0));
    let mut findings = vec![];
    for (i, opening) in judged.openings.iter().enumerate() {
        findings.extend(to_edges(judged, opening, rule));
        for locator in judged.locators {
            findings.extend(to_hole(judged, opening, locator, rule));
        }
        for other in &judged.openings[i + 1..] {
            let sides: Vec<Segment> = other.outline.sides().collect();
            let name = other.name();
            findings.extend(short(
                opening,
                &name,
                nearest(opening, &sides),
                rule,
                "another opening",
            ));
        }
    }
    findings
}

/// Edges of the panel that the opening does not run over itself.
fn to_edges(judged: &Judged<'_>, opening: &Opening, rule: f64) -> Vec<Finding> {
    let Some(size) = judged.panel.size else {
        return vec![];
    };
    edges(judged, size)
        .into_iter()
        .filter_map(|(name, sides)| {
            let found = nearest(opening, &sides)?;
            // An opening that runs over an edge leaves nothing there to judge.
            (found.0 > ON_EDGE).then(|| short(opening, &name, Some(found), rule, "an edge"))?
        })
        .collect()
}

/// The panel's four edges by the vehicle's directions.
fn edges(judged: &Judged<'_>, size: Rect) -> Vec<(String, Vec<Segment>)> {
    let right = judged.orientation.frame_right();
    let datum = judged.orientation.datum_edge();
    let foot = judged.panel.edge.points(size.x0, size.x1);
    let corner = |x: f64, y: f64| Point::new(x, y);
    let name = |direction: crate::panel::Direction, word: &str| format!("{direction} {word}");
    vec![
        (
            name(datum, "edge"),
            foot.windows(2)
                .map(|pair| straight(pair[0], pair[1]))
                .collect(),
        ),
        (
            name(datum.opposite(), "edge"),
            vec![straight(corner(size.x0, size.y1), corner(size.x1, size.y1))],
        ),
        (
            name(right.opposite(), "end"),
            vec![straight(corner(size.x0, 0.0), corner(size.x0, size.y1))],
        ),
        (
            name(right, "end"),
            vec![straight(corner(size.x1, 0.0), corner(size.x1, size.y1))],
        ),
    ]
}

fn to_hole(
    judged: &Judged<'_>,
    opening: &Opening,
    locator: &Locator,
    rule: f64,
) -> Option<Finding> {
    let diameter = locator.diameter?;
    if opening.outline.contains(locator.at) {
        return None;
    }
    let (distance, on_cut) = nearest(opening, &[straight(locator.at, locator.at)])?;
    // A hole in sheet metal keeps its middle two diameters from an edge.
    let rule = if judged.panel.is_metal() {
        rule.max(sheet_edge_distance(diameter) - diameter / 2.0)
    } else {
        rule
    };
    short(
        opening,
        &locator.name,
        Some((distance - diameter / 2.0, on_cut)),
        rule,
        "a hole",
    )
}

fn short(
    opening: &Opening,
    to: &str,
    found: Option<(f64, Point)>,
    rule: f64,
    what: &str,
) -> Option<Finding> {
    let (left, at) = found.filter(|(left, _)| *left < rule)?;
    let finding = Finding::new(
        Severity::Error,
        &format!("ligament: {}, {to}", opening.name()),
        format!(
            "{} mm stay between opening `{}` and `{to}`; at least {} mm shall stay to {what}",
            fixed(left, 1),
            opening.name(),
            fixed(rule, 1)
        ),
        "move the opening or make it smaller; if it holds all the same, accept it by name",
    );
    Some(finding.at(at).measured(Measure::Least(left)))
}
