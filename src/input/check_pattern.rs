//! Checks of a pattern file that need more than one of its values.

use super::check_features::{check_features, check_lines};
use super::opening::OpeningGiven;
use super::part::PartPlace;
use super::pattern::PatternSpec;
use super::problem::Placed;
use super::reading::Reading;
use super::surface::{FormSpec, Measured};
use super::trim::TrimGiven;
use crate::base::Direction;
use crate::base::words::{listed, shown};
use crate::model::panel::{Face, Orientation, OrientationError};
use std::collections::HashMap;

/// How far the ends of a bowed edge may be from the ends of the panel, mm: what a tape is read to.
pub(super) const END_SLACK: f64 = 0.5;

/// Reports what does not go together in a whole pattern.
pub(super) fn check_whole(pattern: &PatternSpec, reading: &Reading<'_>) {
    check_all_names(pattern, reading);
    check_places(pattern, reading);
    check_thickness(pattern, reading);
}

/// Where a wall is met aslant it comes nearer to a part inside than on its face: how thick it is must
/// be known.
fn check_thickness(pattern: &PatternSpec, reading: &Reading<'_>) {
    if pattern.panel.thickness.is_some() {
        return;
    }
    let leans = pattern.panel.surface.as_ref().is_some_and(|surface| {
        surface.rake.value != 0.0 || !matches!(surface.form, FormSpec::Flat)
    });
    let parts = pattern.parts.iter().filter(|part| {
        let way = [&part.way.slope, &part.way.yaw];
        leans && part.measured == Measured::SquareOn || way.iter().any(|angle| angle.value != 0.0)
    });
    let openings = pattern.openings.iter().filter(|opening| {
        let square_on = matches!(&opening.given, OpeningGiven::Outright(shape) if shape.measured == Measured::SquareOn);
        leans && square_on
    });
    let parts = parts.map(|part| ("part", &part.name));
    let openings = openings.map(|opening| ("opening", &opening.name));
    if let Some((kind, name)) = parts.chain(openings).next() {
        let message = format!(
            "{kind} `{}` meets the panel aslant, and `thickness` is missing in `[panel]`",
            shown(&name.value)
        );
        let hint = "measure it at the cut: inside a wall that is met aslant the edge comes nearer than \
                    on its face";
        reading.report(name.problem(message).hint(hint));
    }
}

/// Reports what does not fit the panel, where the panel itself is in order.
fn check_places(pattern: &PatternSpec, reading: &Reading<'_>) {
    if !reading.is_whole() {
        return;
    }
    check_features(pattern, reading);
    check_lines(pattern, reading);
    if let Ok(orientation) = pattern.panel.orientation() {
        check_sides(pattern, orientation, reading);
        check_zero(pattern, orientation, reading);
    }
}

/// Every name of a kind once.
fn check_all_names(pattern: &PatternSpec, reading: &Reading<'_>) {
    let locators = pattern.locators.iter().map(|locator| &locator.name);
    let holes = pattern.holes.iter().map(|hole| &hole.name);
    check_names(locators.chain(holes), "locators or holes", reading);
    let pairs = pattern.centreline.iter().flat_map(|line| &line.pairs);
    check_names(pairs.map(|pair| &pair.name), "pairs", reading);
    let parts = pattern.parts.iter().map(|part| &part.name);
    check_names(parts, "parts", reading);
    let openings = pattern.openings.iter().map(|opening| &opening.name);
    let trims = pattern.trims.iter().map(|trim| &trim.name);
    check_names(openings.chain(trims), "openings or trims", reading);
    let keep_outs = pattern.keep_outs.iter().map(|area| &area.name);
    check_names(keep_outs, "keep-out areas", reading);
    let feet = pattern.feet.iter().map(|foot| &foot.name);
    check_names(feet, "feet", reading);
    let features = pattern.features.iter().map(|feature| &feature.name);
    check_names(features, "features", reading);
    let lines = pattern.lines.iter().map(|line| &line.name);
    check_names(lines, "lines", reading);
    let accepted = pattern.accepted.iter().map(|accepted| &accepted.finding);
    check_names(accepted, "accepted findings", reading);
}

pub(super) fn check_names<'n>(
    names: impl Iterator<Item = &'n Placed<String>>,
    kind: &str,
    reading: &Reading<'_>,
) {
    let mut seen = HashMap::new();
    for name in names {
        let Some(first) = seen.insert(name.value.as_str(), name) else {
            continue;
        };
        let mut problem = name.problem(format!("`{}` names two {kind}", shown(&name.value)));
        if let Some(span) = &first.span {
            let line = reading.line_of(span.start);
            problem = problem.hint(format!("the other is named in line {line}"));
        }
        reading.report(problem);
    }
}

/// The readings of a bowed edge: one past the other, from end to end.
pub(super) fn check_edge(edge: &[Placed<(f64, f64)>], width: f64, reading: &Reading<'_>) {
    let told = |mm: f64| reading.units.get().exact(mm);
    for pair in edge.windows(2) {
        if let [before, after] = pair
            && after.value.0 <= before.value.0
        {
            let message = format!(
                "the tape reading {} does not lie past the one before it, {}",
                told(after.value.0),
                told(before.value.0)
            );
            reading.report(after.problem(message));
        }
    }
    let ends = [(edge.first(), 0.0, "first"), (edge.last(), width, "last")];
    for (end, place, which) in ends {
        if let Some(end) = end
            && ((end.value.0 - place).abs() > END_SLACK || end.value.1.abs() > END_SLACK)
        {
            let message = format!(
                "the {which} reading of `edge` is {}, rise {}: it must be {}, rise {}, within {}",
                told(end.value.0),
                told(end.value.1),
                told(place),
                told(0.0),
                told(END_SLACK)
            );
            let hint = "the rise is measured from the straight line through the edge's two ends";
            reading.report(end.problem(message).hint(hint));
        }
    }
}

/// Sides must run along the datum edge.
fn check_sides(pattern: &PatternSpec, orientation: Orientation, reading: &Reading<'_>) {
    let right = orientation.frame_right();
    let along = words_where(|direction| direction == right || direction == right.opposite());
    let openings = pattern.openings.iter();
    let outright = openings.filter_map(|opening| match &opening.given {
        OpeningGiven::Outright(shape) => Some(&shape.centre_offset),
        OpeningGiven::Around(_) => None,
    });
    let trims = pattern.trims.iter().filter_map(|trim| match &trim.given {
        TrimGiven::Within(shape) => Some(&shape.centre_offset),
        TrimGiven::Along(_) => None,
    });
    let outright = outright.chain(trims);
    let parts = pattern.parts.iter().filter_map(|part| match &part.place {
        PartPlace::Offset { centre_offset, .. } => Some(centre_offset),
        PartPlace::Ties(_) => None,
    });
    let keep_outs = pattern.keep_outs.iter().map(|area| &area.centre_offset);
    let feet = pattern.feet.iter().map(|foot| &foot.centre_offset);
    let features = pattern.features.iter().map(|own| &own.centre_offset);
    let all = outright.chain(parts).chain(keep_outs);
    for offset in all.chain(feet).chain(features) {
        if let Some(side) = offset.value.towards
            && orientation.sign_along_edge(side).is_none()
        {
            let message = format!(
                "`{side}` does not run along the datum edge: {} do",
                listed(&along, " and ")
            );
            reading.report(offset.problem(message));
        }
    }
}

/// Readings start from an end of the datum edge; pairs mirror each other across the vehicle.
fn check_zero(pattern: &PatternSpec, orientation: Orientation, reading: &Reading<'_>) {
    let Some(centreline) = &pattern.centreline else {
        return;
    };
    let right = orientation.frame_right();
    if let Some(zero) = &centreline.zero
        && orientation.sign_along_edge(zero.value).is_none()
    {
        let message = format!("`zero = \"{}\"` is no end of the datum edge", zero.value);
        let hint = format!("write `{right}` or `{}`", right.opposite());
        reading.report(zero.problem(message).hint(hint));
    }
    let across_vehicle = matches!(right, Direction::Left | Direction::Right);
    let first = centreline.pairs.first().map(|pair| &pair.name);
    if let Some(name) = first.or(centreline.swings.first().map(|swing| &swing.name))
        && !across_vehicle
    {
        let message = "this datum edge runs from front to rear, where no left and right feature \
                       mirror each other";
        let hint = "leave pairs and swings out: offsets are then measured from half its width";
        reading.report(name.problem(message).hint(hint));
    }
}

/// The three directions of a panel, together; what is wrong is told at the likeliest key.
pub(super) fn check_orientation(
    seen_from: &Placed<Face>,
    datum_edge: &Placed<Direction>,
    page_up: &Placed<Direction>,
    reading: &Reading<'_>,
) {
    let Err(error) = Orientation::new(seen_from.value, datum_edge.value, page_up.value) else {
        return;
    };
    let message = error.to_string();
    reading.report(match error {
        OrientationError::UpAlongLook { seen_from, .. } => {
            let look = seen_from.look();
            let across = words_where(|direction| direction != look && direction != look.opposite());
            let hint = format!("write {}", listed(&across, " or "));
            page_up.problem(message).hint(hint)
        }
        OrientationError::DatumAtSide {
            datum_edge: edge, ..
        } => {
            let problem = datum_edge.problem(message);
            match Orientation::new(seen_from.value, edge, edge) {
                Ok(_) => problem.hint(format!(
                    "or turn the page: `page_up = \"{edge}\"` or `page_up = \"{}\"`",
                    edge.opposite()
                )),
                Err(_) => problem,
            }
        }
    });
}

fn words_where(holds: impl Fn(Direction) -> bool) -> Vec<&'static str> {
    let all = Direction::ALL.into_iter();
    all.filter(|direction| holds(*direction))
        .map(Direction::word)
        .collect()
}
