//! Files read back and proven.
//!
//! ```text
//! bytes -> pdf | svg -> Measured -> sheets seen -> Report
//! ```
//!
//! [`verify`] takes what any program may have made of a file; [`prove`] takes what was written a
//! moment ago. Both read it as an outsider does, measure every check ruler, lay the sheets by
//! their register marks, and account for every mark of ink on every page: what the definition's own
//! sheets show must be there, and nothing else. What can't be judged is said to be so, and is never
//! sound.
//!
//! What is independent, and what is not:
//!
//! - Reading is: other libraries than those that wrote the bytes, and no code of `output`. So is the
//!   scale: rulers are told by their graduations, and measured. Letters are told by their outlines.
//! - What must be there is the ink of `draw` and `layout`, for the sheets that the file turns out to
//!   be; the cut line besides comes from the solved outlines. This finds whatever went wrong after
//!   that, or to the file; it can't find a pattern that was solved, drawn or laid out wrongly.
//! - For that there is a second path, [`Reference::by_numbers`]: place and size of the openings that
//!   are given outright, worked out from the definition's numbers by plain sums, with their own
//!   arithmetic, corners and directions, and measured from the centreline and the datum edge that
//!   are drawn. It shares the reader of definitions and the files of families, and asks the solved
//!   pattern only which openings ran together. Openings worked out from parts, measured square-on
//!   on a panel that is not flat, on a datum edge that bows, or cut short by the panel's end are not
//!   judged by it, and the report names them.

mod budget;
mod error;
#[cfg(test)]
mod growth;
mod judge;
mod measured;
mod numbers;
mod paint;
#[deny(
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss
)]
mod pdf;
mod reference;
mod report;
mod seen;
#[deny(
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss
)]
mod svg;
mod wanted;

pub use budget::LARGEST_FILE;
pub use error::VerifyError;
pub use reference::Reference;
pub use report::{FileKind, Finding, Outcome, Report, Topic};

use crate::check::watch::{longest_time, watched};
use budget::Budget;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// What a file is held against.
#[derive(Debug, Clone, Copy, Default)]
pub struct Against<'r> {
    /// The cut line that it must show; `None` where that is not asked.
    pub reference: Option<&'r Reference>,
    /// Scales across and down that the drawing must have, for one corrected for a printer.
    pub scales: Option<(f64, f64)>,
}

/// The bytes of a file, up to one more than [`LARGEST_FILE`].
///
/// # Errors
/// [`VerifyError::Read`].
pub fn load(path: &Path) -> Result<Vec<u8>, VerifyError> {
    match File::open(path) {
        Ok(file) => load_from(path, file),
        Err(cause) => Err(VerifyError::Read {
            path: path.into(),
            cause,
        }),
    }
}

/// As [`load`], for what is read from elsewhere and called `name`.
///
/// # Errors
/// As [`load`].
pub fn load_from(name: &Path, from: impl Read) -> Result<Vec<u8>, VerifyError> {
    let mut bytes = vec![];
    // One byte more tells a file that is too large, whatever its length is said to be.
    match from.take(LARGEST_FILE + 1).read_to_end(&mut bytes) {
        Ok(_) => Ok(bytes),
        Err(cause) => Err(VerifyError::Read {
            path: name.into(),
            cause,
        }),
    }
}

/// Reads a file from anywhere and says what it comes to, within the bounds of `verify/budget.rs`.
///
/// # Errors
/// [`VerifyError`] for what is neither PDF nor SVG, is damaged, locked, or asks for more than is
/// read, packed or unpacked, and for what can't be read in a few seconds.
pub fn verify(bytes: Vec<u8>, against: Against<'_>) -> Result<Report, VerifyError> {
    let given = bytes.len() as u64;
    if given > LARGEST_FILE {
        return Err(VerifyError::TooLarge {
            given,
            at_most: LARGEST_FILE,
        });
    }
    let kind = kind(&bytes)?;
    let (reference, scales) = (against.reference.cloned(), against.scales);
    let outcome = watched(longest_time(bytes.len()), move |given_up| {
        let mut budget = Budget::new(given_up);
        let measured = match kind {
            FileKind::Pdf => pdf::read_foreign(bytes, &mut budget),
            FileKind::Svg => svg::read(&bytes, &mut budget),
        };
        let wanted = scales.unwrap_or((1.0, 1.0));
        measured.map(|measured| judge::judge(&measured, kind, reference.as_ref(), wanted))
    });
    outcome.unwrap_or_else(|stopped| Err(VerifyError::GivenUp(stopped.words())))
}

/// As [`verify`], for bytes that this program has just written: without the bounds.
///
/// # Errors
/// As [`verify`].
pub fn prove(bytes: Vec<u8>, against: Against<'_>) -> Result<Report, VerifyError> {
    let kind = kind(&bytes)?;
    let mut budget = Budget::unbound();
    let measured = match kind {
        FileKind::Pdf => pdf::read(bytes, &mut budget)?,
        FileKind::Svg => svg::read(&bytes, &mut budget)?,
    };
    let wanted = against.scales.unwrap_or((1.0, 1.0));
    Ok(judge::judge(&measured, kind, against.reference, wanted))
}

/// What the first bytes say that a file is.
fn kind(bytes: &[u8]) -> Result<FileKind, VerifyError> {
    let head = &bytes[..bytes.len().min(4096)];
    let holds = |what: &[u8]| head.windows(what.len()).any(|part| part == what);
    let start = head.iter().position(|byte| !byte.is_ascii_whitespace());
    if head[..head.len().min(1024)]
        .windows(5)
        .any(|part| part == b"%PDF-")
    {
        Ok(FileKind::Pdf)
    } else if holds(b"<svg") || start.is_some_and(|at| head[at..].starts_with(b"<?xml")) {
        Ok(FileKind::Svg)
    } else {
        Err(VerifyError::NeitherKind)
    }
}
