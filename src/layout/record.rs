//! The record: what is kept and not needed at the panel, on pages of its own.

use super::error::SheetError;
use super::frame::PageFrame;
use super::setup::Setup;
use super::text_pages::{Called, page_size, pages_on};
use super::{Page, SheetSet};
use crate::draw::ink::{Block, Drawing};

/// The record of a drawing as a document of its own, all that the front page may have had no room for
/// among it.
///
/// # Errors
/// Paper that is too small, and a block that no page can hold.
pub fn record(drawing: &Drawing, setup: &Setup) -> Result<SheetSet, SheetError> {
    let frame = setup.frame(page_size(setup))?;
    let pages = record_pages(drawing, setup, &frame)?;
    let mut set = SheetSet::of(drawing, frame.page, pages);
    set.title += ", record";
    Ok(set)
}

/// Its pages, counted by themselves: sheets say the same with and without it.
pub(super) fn record_pages(
    drawing: &Drawing,
    setup: &Setup,
    frame: &PageFrame,
) -> Result<Vec<Page>, SheetError> {
    let called = Called {
        page: "RECORD",
        place: "Record",
        of_record: true,
        scale_error: drawing.scale_error,
    };
    let numbered = &drawing.front.numbered;
    let by_number = [
        Block::Heading("Labels by number".into()),
        Block::Points(numbered.clone()),
    ];
    let mut blocks = drawing.record.clone();
    if !numbered.is_empty() {
        blocks.splice(0..0, by_number);
    }
    pages_on(frame, &drawing.title, &blocks, setup, called)
}
