//! What is made of one pattern of a kit.

use super::manifest::{FileEntry, PatternEntry};
use crate::jobs::papers::Clash;
use crate::layout::Piece;
use crate::output::PackedPage;

/// A pattern with all that its volume, the index and the manifest need of it.
pub(super) struct Made {
    pub(super) entry: PatternEntry,
    pub(super) pages: Vec<PackedPage>,
    /// Its record's.
    pub(super) record: Vec<PackedPage>,
    /// Its work in a frame, where it may share a sheet.
    pub(super) piece: Option<Piece>,
    pub(super) picture: String,
    pub(super) file: FileEntry,
    pub(super) taken_over: bool,
    /// The other paper that stands under its number and revision elsewhere, where one does.
    pub(super) clash: Option<Clash>,
}
