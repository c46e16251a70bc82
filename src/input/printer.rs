//! A printer file as written.

use super::field::{date, filled_text, length, number};
use super::file::read_file;
use super::problem::Placed;
use super::report::Report;
use super::source::Source;
use super::table::{Entry, Table};
use crate::base::fixed;
use std::ops::RangeInclusive;

/// Scales that are a printer's own; beyond them it is the print dialog.
const SCALES: RangeInclusive<f64> = 0.97..=1.03;

/// Margins, mm: up to more than the widest unprintable border seen.
const MARGINS: RangeInclusive<f64> = 0.0..=50.0;

/// A printer as its file describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct PrinterSpec {
    /// What it is called where it stands.
    pub name: Placed<String>,
    /// When it was measured, `YYYY-MM-DD`.
    pub measured: Option<String>,
    /// What it makes of a length across its paper, as a ratio, 0.97 to 1.03.
    pub across: f64,
    /// What it makes of a length down its paper, as a ratio, 0.97 to 1.03.
    pub down: f64,
    /// The paper that it was measured with.
    pub paper: Placed<String>,
    /// Border to keep free, mm, 0 to 50.
    pub margin: f64,
}

impl PrinterSpec {
    /// Reads a printer file.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file(source, |file| file.table("printer", printer))
    }
}

fn printer(table: &mut Table<'_>) -> Option<PrinterSpec> {
    let name = table.required("name", filled_text);
    let measured = table.optional("measured", date);
    let across = table.required("across", scale);
    let down = table.required("down", scale);
    let paper = table.required("paper", filled_text);
    let margin = table.required("margin", |entry| length(entry, MARGINS));
    Some(PrinterSpec {
        name: name?,
        measured: measured.map(|measured| measured.value),
        across: across?.value,
        down: down?.value,
        paper: paper?,
        margin: margin?.value,
    })
}

/// A scale: what was read over what was drawn.
fn scale(entry: &Entry<'_>) -> Option<f64> {
    let Some(scale) = number(entry) else {
        return entry.wrong_kind(
            "a scale",
            "write what was read over what was drawn: `0.994`",
        );
    };
    if SCALES.contains(&scale) {
        return Some(scale);
    }
    let message = format!(
        "`{} = {}` is out of range: {} to {} is allowed",
        entry.key,
        entry.written(),
        fixed(*SCALES.start(), 2),
        fixed(*SCALES.end(), 2)
    );
    let hint = "more is the print dialog, not the printer: print at actual size and read again";
    entry.refuse(message, Some(hint.into()))
}
