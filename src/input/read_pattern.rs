//! Reads a pattern file, table by table.

use super::check_parts::{check_around, check_passage};
use super::check_pattern::{check_all_names, check_edge, check_orientation, check_places};
use super::field::{
    ANY_LENGTH, DIAMETER, choice, choice_or_hint, date, direction, filled_text, filled_word,
    length, text_or_empty, texts, units, word, yes_or_no,
};
use super::file::read_file;
use super::pairs::Pairs;
use super::pattern::{Extent, Identity, LocatorSpec, PanelSpec, PatternSpec};
use super::problem::Placed;
use super::quantity::number_within;
use super::read_centreline::centreline;
use super::read_clearance::clearance;
use super::read_judging::{accepted, keep_out, line};
use super::read_opening::opening;
use super::read_part::part;
use super::read_surface::surface;
use super::read_tools::tools;
use super::report::Report;
use super::source::Source;
use super::table::{Entry, Table};
use crate::base::length::LONGEST;
use crate::model::material::{self, Material, OTHER};
use crate::model::panel::Face;
use std::ops::RangeInclusive;

/// Linear expansion of anything that panels are made of, millionths per K: glass fibre to the
/// softest plastics.
const EXPANSION: RangeInclusive<f64> = 1.0..=300.0;

/// Most openings on a panel: more are no trim part.
const MOST_OPENINGS: usize = 200;

/// Most locators on a panel.
const MOST_LOCATORS: usize = 1000;

/// Most things that pass through a panel.
const MOST_PARTS: usize = 200;

/// Most areas to keep out of.
const MOST_KEEP_OUTS: usize = 200;

/// Most lines to fold or trim along.
const MOST_LINES: usize = 200;

/// Most findings that can stand: more is a panel to leave alone.
const MOST_ACCEPTED: usize = 200;

/// Most notes: they share one sheet.
const MOST_NOTES: usize = 20;

/// Most readings along a bowed edge.
const MOST_READINGS: usize = 500;

/// Widths and heights of panels, mm.
const PANEL_SIZE: RangeInclusive<f64> = 1.0..=LONGEST;

/// Sheet thicknesses, mm.
const THICKNESS: RangeInclusive<f64> = 0.1..=50.0;

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
    let units = units(file);
    let identity = file.table("pattern", identity);
    let panel = file.table("panel", panel);
    let centreline = file.optional_table("centreline", centreline);
    let locators = file.tables("locator", 0..=MOST_LOCATORS, locator);
    let mut named = vec![];
    let parts = file.tables("part", 0..=MOST_PARTS, |table| part(table, &mut named));
    let clearance = file.optional_table("clearance", clearance);
    let problems = file.reading.problem_count();
    let openings = file.tables("opening", 1..=MOST_OPENINGS, opening);
    check_around(&openings, &named, file.reading);
    if file.reading.problem_count() == problems {
        check_passage(&parts, &openings, file.reading);
    }
    let keep_outs = file.tables("keep_out", 0..=MOST_KEEP_OUTS, keep_out);
    let lines = file.tables("line", 0..=MOST_LINES, line);
    let accepted = file.tables("accepted", 0..=MOST_ACCEPTED, accepted);
    let tools = file.optional("tools", tools);
    let pattern = PatternSpec {
        units,
        identity: identity?,
        panel: panel?,
        centreline,
        locators,
        parts,
        clearance: clearance.unwrap_or_default(),
        openings,
        keep_outs,
        lines,
        accepted,
        tools: tools.map(|tools| tools.value),
    };
    check_all_names(&pattern, file.reading);
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
    let material = material(table);
    let thickness = table.optional("thickness", |entry| length(entry, THICKNESS));
    let width = table.required("width", |entry| length(entry, PANEL_SIZE));
    let height = table.required("height", |entry| length(entry, PANEL_SIZE));
    let datum_edge = table.required("datum_edge", direction);
    let seen_from = table.required("seen_from", |entry| {
        choice_or_hint(entry, &Face::ALL, Face::word, Face::hint)
    });
    let page_up = table.required("page_up", direction);
    let edge = table.optional("edge", edge);
    let extent = table.optional("extent", |entry| choice(entry, &Extent::ALL, Extent::word));
    let surface = table.optional_table("surface", surface);
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
        surface,
    })
}

/// `material`, with the `expansion` of one that the table does not hold.
fn material(table: &mut Table<'_>) -> Option<Material> {
    let written = table.written("expansion");
    let expansion = table.optional("expansion", |entry| {
        number_within(entry, EXPANSION, "millionths per K")
    });
    let named = table.written("material");
    let material = table.optional("material", |entry| {
        let name = filled_text(entry)?;
        if name.trim().eq_ignore_ascii_case(OTHER) {
            return Some(None);
        }
        match material::find(&name) {
            Ok(known) => Some(Some(*known)),
            Err(unknown) => entry.refuse(unknown.to_string(), Some(unknown.hint())),
        }
    });
    match (material.map(|material| material.value), written) {
        (Some(None), Some(_)) => Some(material::other(expansion?.value)),
        (Some(None), None) => {
            let hint = "write millionths per K, from its maker's data sheet";
            table.missing("expansion", Some(hint))
        }
        (Some(known), None) => known,
        (known, Some(written)) => {
            // Where the name itself is wrong, that is said already.
            if known.is_some() || named.is_none() {
                let message = format!("`expansion` goes with `material = \"{OTHER}\"` only");
                table.reading.report(written.problem(message));
            }
            None
        }
        (None, None) => None,
    }
}

fn locator(table: &mut Table<'_>) -> Option<LocatorSpec> {
    let name = table.required("name", filled_text);
    let across = table.required("across", |entry| length(entry, ANY_LENGTH));
    let from_datum = table.required("from_datum", |entry| length(entry, ANY_LENGTH));
    let diameter = table.optional("diameter", |entry| length(entry, DIAMETER));
    let fixed = table.optional("fixed", yes_or_no);
    Some(LocatorSpec {
        name: name?,
        across: across?,
        from_datum: from_datum?,
        diameter: diameter.map(|diameter| diameter.value),
        fixed: fixed.is_some_and(|fixed| fixed.value),
    })
}

/// `edge`: readings along the tape, each with the edge's rise there.
fn edge(entry: &Entry<'_>) -> Option<Vec<Placed<(f64, f64)>>> {
    Pairs {
        of: "readings",
        each: "a tape reading and a rise",
        count: 3..=MOST_READINGS,
        first: 0.0..=LONGEST,
        second: RISE,
        example: "write `[[0, 0], [250, 4], [500, 0]]`: tape reading, rise",
        wrong_count: "leave `edge` out where it is straight",
    }
    .read(entry)
}

fn or_empty<T: Default>(read: Option<Placed<T>>) -> T {
    read.map(|read| read.value).unwrap_or_default()
}
