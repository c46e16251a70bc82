//! Reads `[[opening]]`, given outright or around parts, and shapes at their places.

use super::clearance::{AroundSpec, Follow};
use super::field::{
    ANY_LENGTH, choice, filled_text, filled_word, length, offset, value, yes_or_no,
};
use super::pattern::{OpeningGiven, OpeningSpec, ShapeAt, SquareTo, Value};
use super::problem::{Placed, Problem};
use super::read_surface::measured;
use super::surface::Measured;
use super::table::{Entry, Table};
use crate::base::length::Offset;
use crate::base::words::listed;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// Most values given to a shape.
const MOST_VALUES: usize = 100;

/// Most parts through one opening.
const MOST_AROUND: usize = 50;

/// Radii of corners, mm.
pub(super) const CORNER: RangeInclusive<f64> = 0.0..=500.0;

/// Keys of an opening given outright.
const OUTRIGHT: [&str; 6] = [
    "shape",
    "with",
    "centre_offset",
    "from_datum",
    "square_to",
    "measured",
];

/// Keys of an opening worked out, besides `around` itself.
const AROUND: [&str; 3] = ["follow", "open_at_edge", "corner_radius"];

pub(super) fn opening(table: &mut Table<'_>) -> Option<OpeningSpec> {
    let name = table.required("name", filled_text);
    let given = if table.written("around").is_some() {
        refuse_beside(table, "around", &OUTRIGHT);
        around(table).map(OpeningGiven::Around)
    } else if table.written("shape").is_some() {
        refuse_beside(table, "shape", &AROUND);
        table.pass_over(&["around"]);
        shape_at(table).map(OpeningGiven::Outright)
    } else {
        table.missing::<()>("shape", Some(WAYS));
        table.pass_over(&OUTRIGHT);
        table.pass_over(&["around"]);
        table.pass_over(&AROUND);
        None
    };
    Some(OpeningSpec {
        name: name?,
        given: given?,
    })
}

const WAYS: &str = "give a shape and its place, or the parts that pass through, as \
                    `around = [\"neck\"]`";

/// Keys of the other way to give an opening do not go with this one.
fn refuse_beside(table: &mut Table<'_>, way: &str, others: &[&'static str]) {
    let found = table.all_written(others);
    table.pass_over(others);
    if let Some(first) = found.first() {
        let keys: Vec<_> = found.iter().map(|key| key.value).collect();
        let verb = if keys.len() == 1 { "does" } else { "do" };
        let message = format!("{} {verb} not go with `{way}`", listed(&keys, " and "));
        table.reading.report(first.problem(message).hint(WAYS));
    }
}

fn around(table: &mut Table<'_>) -> Option<AroundSpec> {
    let parts = table.required("around", part_names);
    let follow = table.optional("follow", |entry| choice(entry, &Follow::ALL, Follow::word));
    let open_at_edge = table.optional("open_at_edge", yes_or_no);
    let corner = table.written("corner_radius");
    let corner_radius = table.optional("corner_radius", |entry| length(entry, CORNER));
    let follow = follow.map_or_else(Follow::default, |follow| follow.value);
    if let (Follow::Contour, Some(corner)) = (follow, corner) {
        let hint = "a contour has the corners of its parts: leave `corner_radius` out, or follow a \
                    box";
        let message = "`corner_radius` goes with `follow = \"box\"` only";
        table.reading.report(corner.problem(message).hint(hint));
    }
    Some(AroundSpec {
        parts: parts?.value,
        follow,
        open_at_edge: open_at_edge.is_some_and(|open| open.value),
        corner_radius,
    })
}

/// `around`: names of parts, each once.
fn part_names(entry: &Entry<'_>) -> Option<Vec<Placed<String>>> {
    let DeValue::Array(items) = entry.value.get_ref() else {
        return entry.wrong_kind("a list of names of parts", "write `[\"neck\", \"bolt\"]`");
    };
    if !(1..=MOST_AROUND).contains(&items.len()) {
        let message = format!(
            "`around` has {} names: 1 to {MOST_AROUND} are allowed",
            items.len()
        );
        return entry.refuse(message, None);
    }
    let read: Vec<_> = items
        .iter()
        .map(|item| entry.item(item).read(filled_text))
        .collect();
    read.into_iter().collect()
}

/// A shape with its values, at its place.
pub(super) fn shape_at(table: &mut Table<'_>) -> Option<ShapeAt> {
    let shape = table.required("shape", filled_word);
    let with = table.optional_table("with", values);
    let place = place(table);
    let measured = table.optional("measured", measured);
    let (centre_offset, from_datum, square_to) = place?;
    Some(ShapeAt {
        shape: shape?,
        with: with.unwrap_or_default(),
        centre_offset,
        from_datum,
        square_to,
        measured: measured.map_or(Measured::OnPanel, |measured| measured.value),
    })
}

/// Where something stands, and what its axis stands square to.
pub(super) fn place(table: &mut Table<'_>) -> Option<(Placed<Offset>, Placed<f64>, SquareTo)> {
    let centre_offset = table.required("centre_offset", offset);
    let from_datum = table.required("from_datum", |entry| length(entry, ANY_LENGTH));
    let square_to = table.optional("square_to", |entry| {
        choice(entry, &SquareTo::ALL, SquareTo::word)
    });
    let square_to = square_to.map_or(SquareTo::DatumEdge, |square_to| square_to.value);
    Some((centre_offset?, from_datum?, square_to))
}

/// `with`: the shape chooses the keys, so any may stand here.
pub(super) fn values(table: &mut Table<'_>) -> Option<BTreeMap<String, Placed<Value>>> {
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
