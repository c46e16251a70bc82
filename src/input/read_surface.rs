//! Reads `[panel.surface]`.

use super::field::{ANY_LENGTH, angle, choice, length};
use super::pairs::Pairs;
use super::problem::Placed;
use super::surface::{CircleSize, FormSpec, Measured, ProfileSpec, SurfaceSpec};
use super::table::{Entry, Table};
use crate::base::length::LONGEST;
use crate::base::words::listed;
use crate::geometry::development::{Along, Bulge, MOST_READINGS, READING_ERROR};
use std::ops::RangeInclusive;

/// Angles of rake, slope and yaw, degrees: past them nothing can be looked through.
pub(super) const LEAN: RangeInclusive<f64> = -84.0..=84.0;

/// Lengths that are over nothing, mm.
const SIZE: RangeInclusive<f64> = 0.1..=LONGEST;

/// Radii, mm: a panel of a larger one is flat to a tape.
const RADIUS: RangeInclusive<f64> = 1.0..=100_000.0;

/// How well a reading may be known, mm.
const ERROR: RangeInclusive<f64> = 0.0..=20.0;

/// Ways to say how a panel is curved, each with the keys that belong to it.
const FORMS: [(&str, &[&str]); 3] = [
    ("chord", &["rise", "bulges", "crown"]),
    ("radius", &["bulges", "crown"]),
    ("profile", &["error", "at", "other_profile", "other_at"]),
];

pub(super) fn surface(table: &mut Table<'_>) -> Option<SurfaceSpec> {
    let rake = table.optional("rake", |entry| angle(entry, LEAN));
    let along = table.optional("along", |entry| choice(entry, &Along::ALL, Along::word));
    let along = along.map_or(Along::Across, |along| along.value);
    let form = form(table, along);
    Some(SurfaceSpec {
        rake: rake.unwrap_or(Placed::unwritten(0.0)),
        form: form?,
        along,
        span: table.span.clone(),
    })
}

fn form(table: &mut Table<'_>, along: Along) -> Option<FormSpec> {
    let written = table.all_written(&FORMS.map(|(form, _)| form));
    let form = match written.as_slice() {
        [] => {
            refuse_strangers(table, None);
            Some(FormSpec::Flat)
        }
        [one] => {
            refuse_strangers(table, Some(one.value));
            match one.value {
                "profile" => profile(table),
                way => circle(table, way, along),
            }
        }
        [_, second, ..] => {
            let ways: Vec<_> = written.iter().map(|way| way.value).collect();
            let message = format!(
                "a panel is curved in one way, not by {} at once",
                listed(&ways, " and ")
            );
            let hint = "give `chord` and `rise`, or `radius`, or `profile`";
            table.reading.report(second.problem(message).hint(hint));
            None
        }
    };
    for (key, companions) in FORMS {
        table.pass_over(&[key]);
        table.pass_over(companions);
    }
    form
}

/// Keys that belong to another form than the one that is given.
fn refuse_strangers(table: &Table<'_>, form: Option<&str>) {
    let own = FORMS
        .iter()
        .find(|(owner, _)| Some(*owner) == form)
        .map_or(&[][..], |(_, companions)| companions);
    let mut told: Vec<&str> = vec![];
    for (owner, companions) in FORMS {
        for stranger in table.all_written(companions) {
            if own.contains(&stranger.value) || told.contains(&stranger.value) {
                continue;
            }
            told.push(stranger.value);
            let message = format!("`{}` goes with `{owner}`", stranger.value);
            table.reading.report(stranger.problem(message));
        }
    }
}

fn circle(table: &mut Table<'_>, way: &str, along: Along) -> Option<FormSpec> {
    let size = if way == "chord" {
        let chord = table.required("chord", |entry| length(entry, SIZE));
        let rise = table.required("rise", |entry| length(entry, SIZE));
        Some(CircleSize::Chord {
            chord: chord?.value,
            rise: rise?.value,
        })
    } else {
        let radius = table.required("radius", |entry| length(entry, RADIUS));
        radius.map(|radius| CircleSize::Radius(radius.value))
    };
    let bulges = table.required("bulges", |entry| choice(entry, &Bulge::ALL, Bulge::word));
    let read = |entry: &Entry<'_>| length(entry, ANY_LENGTH);
    let crown = match along {
        Along::Across => table
            .optional("crown", read)
            .map_or(0.0, |crown| crown.value),
        // Where a rolled edge turns can't be guessed.
        Along::EdgeToEdge => table.required("crown", read)?.value,
    };
    Some(FormSpec::Circle {
        size: size?,
        bulges: bulges?.value,
        crown,
    })
}

fn profile(table: &mut Table<'_>) -> Option<FormSpec> {
    let readings = table.required("profile", readings);
    let error = table.optional("error", |entry| length(entry, ERROR));
    let two = table.written("other_profile").is_some() || table.written("other_at").is_some();
    let place = |entry: &Entry<'_>| length(entry, ANY_LENGTH);
    let (at, other) = if two {
        let at = table.required("at", place);
        let other = table.required("other_profile", self::readings);
        let other_at = table.required("other_at", place);
        let (at, other_at) = (at?, other_at?);
        if at.value == other_at.value {
            let message = "both profiles were taken at one place";
            let hint = "take the other a hand's breadth away, or leave it out";
            table.reading.report(other_at.problem(message).hint(hint));
            return None;
        }
        let other = ProfileSpec {
            readings: other?,
            at: other_at.value,
        };
        (at.value, Some(other))
    } else {
        let at = table.optional("at", place);
        (at.map_or(0.0, |at| at.value), None)
    };
    Some(FormSpec::Profile {
        one: ProfileSpec {
            readings: readings?,
            at,
        },
        other,
        error: error.map_or(READING_ERROR, |error| error.value),
    })
}

/// Readings of a cross-section, each place beyond the one before.
fn readings(entry: &Entry<'_>) -> Option<Vec<(f64, f64)>> {
    let readings = Pairs {
        of: "readings",
        each: "a place and how far the panel falls away there",
        count: 2..=MOST_READINGS,
        first: ANY_LENGTH,
        second: ANY_LENGTH,
        example: "write `[[-300, 22], [0, 0], [300, 22]]`: place, fall away from you",
        wrong_count: "a profile needs readings at both ends and in the middle",
    }
    .read(entry)?;
    for pair in readings.windows(2) {
        if let [before, after] = pair
            && after.value.0 <= before.value.0
        {
            let message = "this reading does not lie beyond the one before it";
            entry.reading.report(after.problem(message));
            return None;
        }
    }
    Some(readings.into_iter().map(|reading| reading.value).collect())
}

/// How a shape was measured.
pub(super) fn measured(entry: &Entry<'_>) -> Option<Measured> {
    choice(entry, &Measured::ALL, Measured::word)
}
