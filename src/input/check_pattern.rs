//! Reads a pattern file, and checks what needs more than one of its tables.

use super::check_features::{check_features, check_lines};
use super::check_names::check_names;
use super::check_panel::words_where;
use super::file::read_file_checked;
use super::opening::OpeningGiven;
use super::part::PartPlace;
use super::pattern::PatternSpec;
use super::reading::Reading;
use super::report::Report;
use super::shop::ShopSpec;
use super::source::Source;
use super::surface::{FormSpec, Measured};
use super::trim::TrimGiven;
use crate::base::Direction;
use crate::base::words::{listed, shown};
use crate::model::panel::Orientation;

impl PatternSpec {
    /// Reads a pattern file.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file_checked(source, &Self::KEYS, check_whole)
    }

    /// Reads a pattern file for a shop, whose tools take the place of those that the file names.
    ///
    /// # Errors
    /// As [`PatternSpec::read`].
    pub fn read_for(source: &Source, shop: Option<&ShopSpec>) -> Result<Self, Report> {
        let mut spec = Self::read(source)?;
        if let Some(shop) = shop {
            spec.tools = Some(shop.tools.clone());
        }
        Ok(spec)
    }
}

/// Reports what does not go together in a whole pattern.
fn check_whole(pattern: &PatternSpec, reading: &Reading<'_>) {
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
