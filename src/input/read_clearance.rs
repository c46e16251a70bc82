//! Reads `[clearance]`.

use super::clearance::ClearanceSpec;
use super::field::{choice, length};
use super::problem::Placed;
use super::quantity::{share, temperature};
use super::table::Table;
use crate::base::fixed;
use crate::model::clearance::{Combine, PRINTER_ERROR, Temperatures};
use std::ops::RangeInclusive;

/// Terms of a clearance, mm.
const TERM: RangeInclusive<f64> = 0.0..=100.0;

/// Errors of a printed scale, percent: beyond what a printer is ever off by it is the print dialog.
const SCALE_ERROR: RangeInclusive<f64> = 0.0..=100.0 * PRINTER_ERROR;

/// Temperatures of panels, from a winter night to a heat shield's, degrees Celsius.
const TEMPERATURE: RangeInclusive<f64> = -60.0..=500.0;

pub(super) fn clearance(table: &mut Table<'_>) -> Option<ClearanceSpec> {
    let gap = term(table, "gap");
    let position = term(table, "position");
    let centre = term(table, "centre");
    let marking = term(table, "marking");
    let cutting = term(table, "cutting");
    let print = term(table, "print");
    let scale_error = table.optional("scale_error", |entry| share(entry, SCALE_ERROR));
    let thermal = term(table, "thermal");
    let temperatures = temperatures(table);
    let combine = table.optional("combine", |entry| {
        choice(entry, &Combine::ALL, Combine::word)
    });
    Some(ClearanceSpec {
        gap,
        position,
        centre,
        marking,
        cutting,
        print,
        scale_error: scale_error.map(|share| share.value),
        thermal,
        temperatures,
        combine: combine.map_or_else(Combine::default, |combine| combine.value),
    })
}

fn term(table: &mut Table<'_>, key: &'static str) -> Option<f64> {
    let read = table.optional(key, |entry| length(entry, TERM));
    read.map(|term| term.value)
}

/// The panel is fitted at a temperature that it sees.
fn temperatures(table: &mut Table<'_>) -> Temperatures {
    let usual = Temperatures::default();
    let mut read = |key, usual| {
        let read = table.optional(key, |entry| temperature(entry, TEMPERATURE));
        read.unwrap_or_else(|| Placed::unwritten(usual))
    };
    let fitted = read("fitted", usual.fitted);
    let coldest = read("coldest", usual.lowest);
    let hottest = read("hottest", usual.highest);
    for (low, high, words) in [
        (&coldest, &fitted, ("coldest", "fitted")),
        (&fitted, &hottest, ("fitted", "hottest")),
    ] {
        if low.value <= high.value {
            continue;
        }
        let message = format!(
            "`{}`, {} degC, lies above `{}`, {} degC",
            words.0,
            fixed(low.value, 1),
            words.1,
            fixed(high.value, 1)
        );
        let written = if low.span.is_some() { low } else { high };
        let hint = format!(
            "not given, they are fitted {}, coldest {} and hottest {} degC",
            fixed(usual.fitted, 0),
            fixed(usual.lowest, 0),
            fixed(usual.highest, 0)
        );
        table.reading.report(written.problem(message).hint(hint));
    }
    Temperatures {
        fitted: fitted.value,
        lowest: coldest.value,
        highest: hottest.value,
    }
}
