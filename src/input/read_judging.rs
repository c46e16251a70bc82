//! Reads `[[keep_out]]`, `[[line]]` and `[[accepted]]`.

use super::field::{ANY_LENGTH, choice, filled_text, filled_word, length, offset};
use super::judging::{AcceptedSpec, Guarded, KeepOutSpec, LineKind, LineSpec};
use super::pairs::Pairs;
use super::quantity::finding_value;
use super::read_opening::values;
use super::table::{Entry, Table};
use crate::base::length::LONGEST;
use std::ops::RangeInclusive;

/// How far a cut may have to stay away, mm.
const DISTANCE: RangeInclusive<f64> = 0.0..=1000.0;

/// Most points of a line.
const MOST_POINTS: usize = 200;

pub(super) fn keep_out(table: &mut Table<'_>) -> Option<KeepOutSpec> {
    let name = table.required("name", filled_text);
    let guards = table.required("guards", |entry| {
        choice(entry, &Guarded::ALL, Guarded::word)
    });
    let shape = table.required("shape", filled_word);
    let with = table.optional_table("with", values);
    let centre_offset = table.required("centre_offset", offset);
    let from_datum = table.required("from_datum", |entry| length(entry, ANY_LENGTH));
    let distance = table.optional("distance", |entry| length(entry, DISTANCE));
    Some(KeepOutSpec {
        name: name?,
        guards: guards?.value,
        shape: shape?,
        with: with.unwrap_or_default(),
        centre_offset: centre_offset?,
        from_datum: from_datum?,
        distance: distance.map(|distance| distance.value),
    })
}

pub(super) fn line(table: &mut Table<'_>) -> Option<LineSpec> {
    let name = table.required("name", filled_text);
    let kind = table.required("kind", |entry| {
        choice(entry, &LineKind::ALL, LineKind::word)
    });
    let points = table.required("points", points);
    Some(LineSpec {
        name: name?,
        kind: kind?.value,
        points: points?.value,
    })
}

/// Points of a line, each another than the one before it.
fn points(entry: &Entry<'_>) -> Option<Vec<(f64, f64)>> {
    let points = Pairs {
        of: "points",
        each: "a tape reading and a distance from the datum edge",
        count: 2..=MOST_POINTS,
        first: 0.0..=LONGEST,
        second: ANY_LENGTH,
        example: "write `[[120, 40], [860, 40]]`: tape reading, distance from the datum edge",
        wrong_count: "a line runs through two points or more",
    }
    .read(entry)?;
    for pair in points.windows(2) {
        if let [before, after] = pair
            && before.value == after.value
        {
            let message = "this point is the same as the one before it";
            entry.reading.report(after.problem(message));
            return None;
        }
    }
    Some(points.into_iter().map(|point| point.value).collect())
}

pub(super) fn accepted(table: &mut Table<'_>) -> Option<AcceptedSpec> {
    let finding = table.required("finding", filled_text);
    let value = table.required("value", finding_value);
    let by = table.required("by", filled_text);
    let because = table.required("because", filled_text);
    Some(AcceptedSpec {
        finding: finding?,
        value: value?.value,
        by: by?.value,
        because: because?.value,
    })
}
