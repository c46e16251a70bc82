//! Checks that features, holes and lines lie on the panel.

use super::check_panel::END_SLACK;
use super::pattern::PatternSpec;
use super::problem::Placed;
use super::reading::Reading;
use crate::base::words::shown;

/// A feature of the panel with its kind, name, tape reading, depth and diameter.
type Feature<'a> = (
    &'static str,
    &'a Placed<String>,
    [&'a Placed<f64>; 2],
    Option<f64>,
);

/// Locators and holes lie on the panel, and their holes are no wider than it.
pub(super) fn check_features(pattern: &PatternSpec, reading: &Reading<'_>) {
    let told = |mm: f64| reading.units.get().exact(mm);
    let panel = &pattern.panel;
    let (Some(width), Some(height)) = (panel.width, panel.height) else {
        return;
    };
    let edge = panel.edge_along_tape();
    let locators = pattern.locators.iter().map(|own| -> Feature<'_> {
        let place = [&own.across, &own.from_datum];
        ("locator", &own.name, place, own.diameter)
    });
    let holes = pattern.holes.iter().map(|own| -> Feature<'_> {
        let place = [&own.across, &own.from_datum];
        ("hole", &own.name, place, Some(own.diameter.value))
    });
    for (kind, name, [across, from_datum], _) in locators.clone().chain(holes.clone()) {
        let name = shown(&name.value);
        if !(0.0..=width).contains(&across.value) {
            let message = format!(
                "{kind} `{name}` lies {} across, off the panel: {} to {} is allowed",
                told(across.value),
                told(0.0),
                told(width)
            );
            reading.report(across.problem(message));
        }
        // The tape is hooked over the edge at that place; the height counts from its ends.
        let height_there = height - edge.at(across.value);
        if from_datum.value > height_there {
            let message = format!(
                "{kind} `{name}` lies {} from the datum edge, off the panel: at most {} is allowed",
                told(from_datum.value),
                told(height_there)
            );
            reading.report(from_datum.problem(message));
        }
        if from_datum.value < -END_SLACK {
            let message = format!(
                "{kind} `{name}` lies {} from the datum edge, off the panel: at least {} is allowed",
                told(from_datum.value),
                told(0.0)
            );
            let hint = "depths grow from the datum edge into the panel";
            reading.report(from_datum.problem(message).hint(hint));
        }
    }
    let pairs = pattern.centreline.iter().flat_map(|one| &one.pairs);
    let sizes = locators
        .chain(holes)
        .map(|(_, name, _, diameter)| (name, diameter))
        .chain(pairs.map(|pair| (&pair.name, pair.diameter)));
    for (name, diameter) in sizes {
        if let Some(diameter) = diameter
            && diameter > width.min(height)
        {
            let message = format!(
                "the hole of `{}` is {} wide, and the panel only {}",
                shown(&name.value),
                told(diameter),
                told(width.min(height))
            );
            reading.report(name.problem(message).hint("look at its `diameter`"));
        }
    }
}

/// Lines lie on the panel.
pub(super) fn check_lines(pattern: &PatternSpec, reading: &Reading<'_>) {
    let told = |mm: f64| reading.units.get().exact(mm);
    let edge = pattern.panel.edge_along_tape();
    for line in &pattern.lines {
        let off = line.points.iter().position(|point| {
            let (across, from_datum) = &point.value;
            let panel = &pattern.panel;
            panel
                .width
                .is_some_and(|width| !(0.0..=width).contains(across))
                || panel
                    .height
                    .is_some_and(|height| *from_datum > height - edge.at(*across))
        });
        if let Some((index, (across, from_datum))) =
            off.and_then(|index| Some((index, &line.points.get(index)?.value)))
        {
            let message = format!(
                "point {} of line `{}`, {} across and {} from the datum edge, lies off the panel",
                index + 1,
                shown(&line.name.value),
                told(*across),
                told(*from_datum)
            );
            reading.report(line.name.problem(message));
        }
    }
}
