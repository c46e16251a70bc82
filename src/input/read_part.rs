//! Reads `[[part]]`.

use super::field::{angle, choice, filled_text, filled_word, length, yes_or_no};
use super::part::{PartBody, PartSpec, RoundKind, WaySpec};
use super::problem::{Placed, Problem};
use super::read_opening::{CORNER, place, values};
use super::read_surface::{LEAN, measured};
use super::surface::Measured;
use super::table::{Entry, Table};
use crate::base::fixed;
use crate::base::length::Told;
use crate::base::words::{listed, shown};
use crate::model::hardware::{self, Bolt, Fit, MEASURE_OUTSIDE, nominal_tube};
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// Outside sizes of parts, mm.
const OUTSIDE: RangeInclusive<f64> = 1.0..=500.0;

/// What a part can be, each with the keys that belong to it.
const BODIES: [(&str, &[&str]); 6] = [
    ("shape", &["with"]),
    ("bolt", &["drilled_together", "fit"]),
    (RoundKind::Head.word(), &[]),
    (RoundKind::Washer.word(), &[]),
    (RoundKind::Socket.word(), &[]),
    ("tube", &["outside", "corner_radius"]),
];

/// A part; its name goes into `named` even where something else about it is wrong.
pub(super) fn part(table: &mut Table<'_>, named: &mut Vec<String>) -> Option<PartSpec> {
    let name = table.required("name", filled_text);
    if let Some(name) = &name
        && !named.contains(&name.value)
    {
        named.push(name.value.clone());
    }
    let body = body(table);
    let measured = table.optional("measured", measured);
    let measured = measured.map_or(Measured::SquareOn, |measured| measured.value);
    let way = way(table, measured);
    let (centre_offset, from_datum, square_to) = place(table)?;
    Some(PartSpec {
        name: name?,
        body: body?,
        centre_offset,
        from_datum,
        square_to,
        measured,
        way: way?,
    })
}

/// `slope` and `yaw`.
fn way(table: &mut Table<'_>, measured: Measured) -> Option<WaySpec> {
    if measured == Measured::OnPanel {
        for key in table.all_written(&["slope", "yaw"]) {
            let message = format!(
                "`{}` needs a part that was measured square to its way, not on the panel",
                key.value
            );
            let hint = "write `measured = \"square-on\"`";
            table.reading.report(key.problem(message).hint(hint));
        }
    }
    let mut lean = |key| match table.written(key) {
        Some(_) => table.optional(key, |entry| angle(entry, LEAN)),
        None => {
            table.pass_over(&[key]);
            Some(Placed::unwritten(0.0))
        }
    };
    let (slope, yaw) = (lean("slope"), lean("yaw"));
    Some(WaySpec {
        slope: slope?,
        yaw: yaw?,
    })
}

fn body(table: &mut Table<'_>) -> Option<PartBody> {
    let written = table.all_written(&BODIES.map(|(body, _)| body));
    let body = match written.as_slice() {
        [one] => {
            refuse_strangers(table, one.value);
            match one.value {
                "shape" => shape(table),
                "bolt" => bolt(table),
                "tube" => tube(table),
                _ => round(table),
            }
        }
        [] => {
            let mut problem = Problem::new("`[[part]]` does not say what the part is");
            problem.span = table.span.clone();
            table.reading.report_missing(problem.hint(one_body()));
            None
        }
        [_, second, ..] => {
            let bodies: Vec<_> = written.iter().map(|body| body.value).collect();
            let message = format!(
                "a part is one thing, not {} at once",
                listed(&bodies, " and ")
            );
            table
                .reading
                .report(second.problem(message).hint(one_body()));
            None
        }
    };
    for (key, companions) in BODIES {
        table.pass_over(&[key]);
        table.pass_over(companions);
    }
    body
}

fn one_body() -> String {
    let bodies = BODIES.map(|(body, _)| body);
    format!("give one of {}", listed(&bodies, " and "))
}

/// Keys that belong to another body than `body`.
fn refuse_strangers(table: &Table<'_>, body: &str) {
    for (owner, companions) in BODIES {
        if owner == body {
            continue;
        }
        for stranger in table.all_written(companions) {
            let message = format!(
                "`{}` goes with `{owner}`, not with `{body}`",
                stranger.value
            );
            table.reading.report(stranger.problem(message));
        }
    }
}

fn shape(table: &mut Table<'_>) -> Option<PartBody> {
    let shape = table.required("shape", filled_word);
    let with = table.optional_table("with", values);
    Some(PartBody::Shape {
        shape: shape?,
        with: with.unwrap_or_default(),
    })
}

fn bolt(table: &mut Table<'_>) -> Option<PartBody> {
    let bolt = table.required("bolt", known_bolt)?;
    let fitted = table.written("fit");
    let drilled = table.optional("drilled_together", yes_or_no);
    let fit = table.optional("fit", |entry| choice(entry, &Fit::ALL, Fit::word));
    let drilled = drilled.is_some_and(|drilled| drilled.value);
    if let (Some(fit), false) = (fitted, drilled) {
        let hint = format!(
            "without it the bolt is round, Ø{} mm, and keeps the full clearance on every side",
            fixed(bolt.value.diameter, 1)
        );
        let message = "`fit` goes with `drilled_together = true` only";
        table.reading.report(fit.problem(message).hint(hint));
    }
    let fit = fit.map_or_else(Fit::default, |fit| fit.value);
    Some(PartBody::Bolt {
        bolt: bolt.value,
        drilled: drilled.then_some(fit),
    })
}

/// A bolt of the table.
fn known_bolt(entry: &Entry<'_>) -> Option<&'static Bolt> {
    let name = filled_text(entry)?;
    match hardware::bolt(&name) {
        Ok(bolt) => Some(bolt),
        Err(unknown) => entry.refuse(unknown.to_string(), Some(unknown.hint())),
    }
}

fn round(table: &mut Table<'_>) -> Option<PartBody> {
    RoundKind::ALL.into_iter().find_map(|kind| {
        let diameter = table.optional(kind.word(), |entry| length(entry, OUTSIDE))?;
        Some(PartBody::Round {
            kind,
            diameter: diameter.value,
        })
    })
}

fn tube(table: &mut Table<'_>) -> Option<PartBody> {
    let tube = table.required("tube", |entry| {
        Some((length(entry, OUTSIDE)?, trade_name(entry)))
    });
    let is_measured = table.written("outside").is_some();
    let outside = table.optional("outside", |entry| length(entry, OUTSIDE));
    let corner_radius = table.optional("corner_radius", |entry| length(entry, CORNER));
    let units = table.reading.units.get();
    let told = |mm: f64| units.exact(mm);
    let tube = tube?;
    let (inside, name) = &tube.value;
    if !is_measured {
        let why = match nominal_tube(*inside) {
            Some(nominal) => nominal.told(units),
            None => format!(
                "a receiver is named by its inside, here `{}`; its outside varies with wall and \
                 collar",
                shown(name)
            ),
        };
        table
            .reading
            .report_missing(tube.problem(why).hint(MEASURE_OUTSIDE));
        return None;
    }
    let outside = outside?;
    if outside.value <= *inside {
        let message = format!(
            "the outside, {}, is not larger than the inside that names the tube, {}",
            told(outside.value),
            told(*inside)
        );
        table
            .reading
            .report(outside.problem(message).hint(MEASURE_OUTSIDE));
    }
    if let Some(radius) = &corner_radius
        && radius.value > outside.value / 2.0
    {
        let message = format!(
            "`corner_radius`, {}, does not fit: at most half the outside, {}, is allowed",
            told(radius.value),
            told(outside.value / 2.0)
        );
        table.reading.report(radius.problem(message));
    }
    Some(PartBody::Tube {
        nominal: tube.map(|(_, name)| name),
        outside: outside.value,
        corner_radius: corner_radius.map_or(0.0, |radius| radius.value),
    })
}

/// A trade size as it is written.
fn trade_name(entry: &Entry<'_>) -> String {
    match entry.value.get_ref() {
        DeValue::String(text) => text.trim().to_owned(),
        _ => format!("{} {}", entry.written(), entry.reading.units.get().word()),
    }
}
