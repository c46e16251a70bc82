//! What a print comes to.

use crate::check::scale::{Fault, Scales, Verdict};

/// What a sheet's rulers make of its cut.
pub(super) struct Judged {
    pub(super) verdict: Verdict,
    pub(super) faults: Vec<Fault>,
    pub(super) scales: Scales,
    /// Whether a printer that prints so is worth keeping.
    pub(super) keeps: bool,
    /// What a scan can't tell.
    pub(super) cannot_tell: Vec<String>,
}
