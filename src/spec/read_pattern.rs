//! Reads a pattern file, table by table.

use super::check_pattern::{check_edge, check_names, check_orientation, check_places};
use super::field::{
    ANY_LENGTH, choice, date, filled_text, filled_word, length, offset, text, texts, value, word,
};
use super::file::read_file;
use super::pattern::{
    Extent, Identity, LocatorSpec, OpeningSpec, PanelSpec, PatternSpec, SquareTo, Value,
};
use super::problem::{Placed, Problem};
use super::read_centreline::centreline;
use super::report::Report;
use super::source::Source;
use super::table::{Entry, Table};
use crate::length::{LONGEST, Units};
use crate::panel::{Direction, Face};
use crate::words::shown;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// Most openings on a panel: more are no trim part.
const MOST_OPENINGS: usize = 200;

/// Most locators on a panel.
const MOST_LOCATORS: usize = 1000;

/// Most notes: they share one sheet.
const MOST_NOTES: usize = 20;

/// Most readings along a bowed edge.
const MOST_READINGS: usize = 500;

/// Most values given to a shape.
const MOST_VALUES: usize = 100;

/// Widths and heights of panels, mm.
const PANEL_SIZE: RangeInclusive<f64> = 1.0..=LONGEST;

/// Sheet thicknesses, mm.
const THICKNESS: RangeInclusive<f64> = 0.1..=50.0;

/// Diameters of holes, mm.
pub(super) const DIAMETER: RangeInclusive<f64> = 0.1..=LONGEST;

/// How far a datum edge may bow, mm either way: more is no datum.
const RISE: RangeInclusive<f64> = -1000.0..=1000.0;

impl PatternSpec {
    /// Reads a pattern file.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file(source, pattern)
    }
}

fn pattern(file: &mut Table<'_>) -> Option<PatternSpec> {
    let units = file.optional("units", |entry| choice(entry, &Units::ALL, Units::word));
    let units = units.map_or(Units::Mm, |units| units.value);
    file.reading.units.set(units);
    let identity = file.table("pattern", identity);
    let panel = file.table("panel", panel);
    let centreline = file.optional_table("centreline", centreline);
    let locators = file.tables("locator", 0..=MOST_LOCATORS, locator);
    let openings = file.tables("opening", 1..=MOST_OPENINGS, opening);
    let names = locators.iter().map(|locator| &locator.name);
    check_names(names, "locators", file.reading);
    let names = openings.iter().map(|opening| &opening.name);
    check_names(names, "openings", file.reading);
    if let Some(centreline) = &centreline {
        let names = centreline.pairs.iter().map(|pair| &pair.name);
        check_names(names, "pairs", file.reading);
    }
    let pattern = PatternSpec {
        units,
        identity: identity?,
        panel: panel?,
        centreline,
        locators,
        openings,
    };
    check_places(&pattern, file.reading);
    Some(pattern)
}

fn identity(table: &mut Table<'_>) -> Option<Identity> {
    let number = table.required("number", filled_word);
    let title = table.required("title", filled_text);
    let revision = table.optional("revision", word);
    let issued = table.optional("issued", date);
    let owner = text_or_empty(table, "owner");
    let drawn_by = text_or_empty(table, "drawn_by");
    let approved_by = text_or_empty(table, "approved_by");
    let vehicle = text_or_empty(table, "vehicle");
    let accessory = text_or_empty(table, "accessory");
    let notes = table.optional("notes", |entry| texts(entry, MOST_NOTES));
    Some(Identity {
        number: number?,
        title: title?.value,
        revision: or_empty(revision),
        issued: or_empty(issued),
        owner,
        drawn_by,
        approved_by,
        vehicle,
        accessory,
        notes: or_empty(notes),
    })
}

fn panel(table: &mut Table<'_>) -> Option<PanelSpec> {
    let name = text_or_empty(table, "name");
    let material = text_or_empty(table, "material");
    let thickness = table.optional("thickness", |entry| length(entry, THICKNESS));
    let width = table.required("width", |entry| length(entry, PANEL_SIZE));
    let height = table.required("height", |entry| length(entry, PANEL_SIZE));
    let datum_edge = table.required("datum_edge", direction);
    let seen_from = table.required("seen_from", |entry| choice(entry, &Face::ALL, Face::word));
    let page_up = table.required("page_up", direction);
    let edge = table.optional("edge", edge);
    let extent = table.optional("extent", |entry| choice(entry, &Extent::ALL, Extent::word));
    if let (Some(from), Some(datum), Some(up)) = (&seen_from, &datum_edge, &page_up) {
        check_orientation(from, datum, up, table.reading);
    }
    if let (Some(edge), Some(width)) = (&edge, &width) {
        check_edge(&edge.value, width.value, table.reading);
    }
    Some(PanelSpec {
        name,
        material,
        thickness: thickness.map(|thickness| thickness.value),
        width: Some(width?.value),
        height: Some(height?.value),
        datum_edge: datum_edge?,
        seen_from: seen_from?,
        page_up: page_up?,
        edge: or_empty(edge),
        extent: extent.map_or(Extent::Work, |extent| extent.value),
    })
}

fn locator(table: &mut Table<'_>) -> Option<LocatorSpec> {
    let name = table.required("name", filled_text);
    let across = table.required("across", |entry| length(entry, ANY_LENGTH));
    let from_datum = table.required("from_datum", |entry| length(entry, ANY_LENGTH));
    let diameter = table.optional("diameter", |entry| length(entry, DIAMETER));
    Some(LocatorSpec {
        name: name?,
        across: across?,
        from_datum: from_datum?,
        diameter: diameter.map(|diameter| diameter.value),
    })
}

fn opening(table: &mut Table<'_>) -> Option<OpeningSpec> {
    let name = table.required("name", filled_text);
    let shape = table.required("shape", filled_word);
    let with = table.optional_table("with", values);
    let centre_offset = table.required("centre_offset", offset);
    let from_datum = table.required("from_datum", |entry| length(entry, ANY_LENGTH));
    let square_to = table.optional("square_to", |entry| {
        choice(entry, &SquareTo::ALL, SquareTo::word)
    });
    Some(OpeningSpec {
        name: name?,
        shape: shape?,
        with: with.unwrap_or_default(),
        centre_offset: centre_offset?,
        from_datum: from_datum?,
        square_to: square_to.map_or(SquareTo::DatumEdge, |square_to| square_to.value),
    })
}

/// `with`: the shape chooses the keys, so any may stand here.
fn values(table: &mut Table<'_>) -> Option<BTreeMap<String, Placed<Value>>> {
    let span = table.span.clone();
    let given = table.take_all();
    if given.len() > MOST_VALUES {
        let message = format!(
            "`with` gives {} values: at most {MOST_VALUES} are allowed",
            given.len()
        );
        table.reading.report(Problem {
            message,
            hint: None,
            span,
        });
        return None;
    }
    let read = given
        .into_iter()
        .filter_map(|(key, entry)| Some((key.value.to_owned(), entry.read(value)?)));
    Some(read.collect())
}

/// `edge`: readings along the tape, each with the edge's rise there.
fn edge(entry: &Entry<'_>) -> Option<Vec<Placed<(f64, f64)>>> {
    let DeValue::Array(items) = entry.value.get_ref() else {
        return entry.wrong_kind("a list of readings", EDGE_HINT);
    };
    if !(3..=MOST_READINGS).contains(&items.len()) {
        let message = format!(
            "`edge` has {} readings: 3 to {MOST_READINGS} are allowed",
            items.len()
        );
        return entry.refuse(
            message,
            Some("leave `edge` out where it is straight".into()),
        );
    }
    let read: Vec<_> = items
        .iter()
        .map(|item| entry.item(item).read(edge_reading))
        .collect();
    read.into_iter().collect()
}

const EDGE_HINT: &str = "write `[[0, 0], [250, 4], [500, 0]]`: tape reading, rise";

fn edge_reading(entry: &Entry<'_>) -> Option<(f64, f64)> {
    match entry.value.get_ref() {
        DeValue::Array(pair) if pair.len() == 2 => {
            let reading = length(&entry.item(pair.first()?), 0.0..=LONGEST);
            let rise = length(&entry.item(pair.get(1)?), RISE);
            Some((reading?, rise?))
        }
        DeValue::Array(_) => {
            let message = format!(
                "`{}` in `edge` is not two lengths: a tape reading and a rise",
                shown(&entry.written())
            );
            entry.refuse(message, Some(EDGE_HINT.into()))
        }
        _ => entry.wrong_kind("two lengths", EDGE_HINT),
    }
}

pub(super) fn direction(entry: &Entry<'_>) -> Option<Direction> {
    choice(entry, &Direction::ALL, Direction::word)
}

fn text_or_empty(table: &mut Table<'_>, key: &'static str) -> String {
    or_empty(table.optional(key, text))
}

fn or_empty<T: Default>(read: Option<Placed<T>>) -> T {
    read.map(|read| read.value).unwrap_or_default()
}
