//! What a file comes to, from what was read of it.

mod account;
mod cut;
mod file;
mod frame;
mod identity;
mod ink;
mod marks;
mod numbers;
mod scale;
mod setups;
mod shown;
mod told;

use super::measured::Measured;
use super::reference::Reference;
use super::report::{FileKind, Finding, Report};
use super::seen::{Laid, Layers, Sheet, lay, sheet};
use crate::base::length::Units;

/// How much a ruler may be off, mm: 0.02 % of its length.
const RULER_WITHIN: f64 = 0.02;
/// How far shared marks may be apart, mm.
const MARK_WITHIN: f64 = 0.02;
/// How far the cut line may be from the definition, mm.
const CUT_WITHIN: f64 = 0.02;
/// How much sizes of pages and boxes may be off, mm.
const PAGE_WITHIN: f64 = 0.02;

/// Everything that the judges look at.
struct Seen<'m> {
    file: &'m Measured,
    kind: FileKind,
    sheets: Vec<Sheet>,
    layers: Layers,
    /// That lengths are told in: the definition's.
    units: Units,
    laid: Laid,
    /// Scales across and down that the drawing must have: 1 unless corrected for a printer.
    wanted: (f64, f64),
}

/// Judges a file.
pub(super) fn judge(
    file: &Measured,
    kind: FileKind,
    reference: Option<&Reference>,
    wanted: (f64, f64),
) -> Report {
    let layer = |name: &str| file.layers.iter().position(|layer| layer == name);
    let layers = Layers {
        cut: layer("cut"),
        register: layer("register"),
        centreline: layer("centreline"),
        check_ruler: layer("check-ruler"),
        frame: layer("frame"),
    };
    let sheets: Vec<Sheet> = file
        .pages
        .iter()
        .map(|page| sheet(page, layers, wanted))
        .collect();
    let work: Vec<(usize, &Sheet)> = sheets
        .iter()
        .enumerate()
        .filter(|(_, sheet)| sheet.is_work())
        .collect();
    let laid = lay(&work);
    let seen = Seen {
        file,
        kind,
        layers,
        units: reference.map_or(Units::Mm, Reference::units),
        laid,
        wanted,
        sheets,
    };
    let mut findings: Vec<Finding> = vec![];
    file::judge(&seen, &mut findings);
    scale::judge(&seen, &mut findings);
    marks::judge(&seen, &mut findings);
    cut::judge(&seen, reference, &mut findings);
    if let Some(reference) = reference {
        identity::judge(&seen, reference, &mut findings);
        ink::judge(&seen, reference, &mut findings);
    }
    Report {
        kind,
        pages: file.pages.len(),
        findings,
    }
}
