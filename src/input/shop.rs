//! A shop file: what one shop drills and saws with.

use super::field::{choice, keys};
use super::file::read_file;
use super::keys::{Kind, List};
use super::report::Report;
use super::source::Source;
use crate::base::length::Units;

/// Diameters nearer than this, mm, are one: an inch size written both ways.
const SAME: f64 = 1e-6;

pub(super) static TOOLS: List = List {
    of: "diameters",
    kind: Kind::Length(0.5, 300.0),
    least: 1,
    most: 200,
    example: "write `[8, 10, \"7/8 in\"]`",
    wrong_count: None,
};

keys! {
/// A shop file: what one shop drills and saws with.
#[derive(Debug, Clone, PartialEq)]
pub struct ShopSpec file {
    /// Units of bare numbers.
    units: Units = choice!(Units), or(Units::Mm);
    /// Name of the shop.
    name: String = Kind::FilledText, required;
    /// Diameters of its drills and hole saws, mm.
    tools: Vec<f64> = Kind::List(&TOOLS), required;
}
check(_table, _reading) {
    let tools = tools.map(sorted);
}
}

/// Diameters smallest first, each once.
pub(super) fn sorted(mut diameters: Vec<f64>) -> Vec<f64> {
    diameters.sort_by(f64::total_cmp);
    diameters.dedup_by(|one, other| (*one - *other).abs() < SAME);
    diameters
}

impl ShopSpec {
    /// Reads a shop file.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file(source, &Self::KEYS)
    }
}
