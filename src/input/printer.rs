//! A printer file as written.

use super::field::keys;
use super::file::read_file;
use super::keys::{Kind, SCALE};
use super::problem::Placed;
use super::report::Report;
use super::source::Source;

/// Scales that are a printer's own; beyond them it is the print dialog.
const OWN_SCALE: Kind = Kind::Number(&SCALE, 0.97, 1.03);

keys! {
/// A printer file.
#[derive(Debug)]
pub struct PrinterFile file {
    /// The printer.
    printer: PrinterSpec = Kind::Table(&PrinterSpec::KEYS), required;
}
}

keys! {
/// `[printer]`: a printer, and what it makes of lengths.
#[derive(Debug, Clone, PartialEq)]
pub struct PrinterSpec {
    /// What it is called where it stands.
    name: Placed<String> = Kind::FilledText, required;
    /// When it was measured, `YYYY-MM-DD`.
    measured: Option<String> = Kind::Date;
    /// What it makes of a length across its portrait paper: read over drawn.
    across: f64 = OWN_SCALE, required;
    /// What it makes of a length down its portrait paper: read over drawn.
    down: f64 = OWN_SCALE, required;
    /// The paper that it was measured with.
    paper: Placed<String> = Kind::FilledText, required;
    /// Border to keep free, mm: up to more than the widest unprintable border seen.
    margin: f64 = Kind::Length(0.0, 50.0), required;
}
}

impl PrinterSpec {
    /// Reads a printer file.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file(source, &PrinterFile::KEYS).map(|file: PrinterFile| file.printer)
    }
}
