//! Paper and sheets: the drawing cut over pages.
//!
//! [`sheets`] lays one regular grid of windows over the work, puts register marks on its joins
//! and rulers and labels round each window, and sets the front page before it; [`fn@record`] sets what
//! is kept. [`fn@plate`] shows the whole work at once. Millimetres; a page's origin is its lower left corner, y up.

mod clip;
mod compose;
mod error;
mod flow;
mod frame;
mod front;
mod front_content;
mod furniture;
mod grid;
mod headline;
mod ink;
mod joins;
mod lettered;
mod one_page;
mod paper;
mod plan;
mod plate;
mod record;
mod register;
mod room;
mod ruler;
mod setting;
mod setup;
mod share;
mod sheet_map;
mod summed;
mod symbol;
mod table;
#[cfg(test)]
mod tests;
mod text_pages;
mod tiling;
mod title_block;
mod words;

pub use compose::{sheets, sheets_on};
pub use error::SheetError;
pub(crate) use frame::PageFrame;
pub(crate) use furniture::KIT;
pub(crate) use lettered::sheets_beside;
pub use lettered::sheets_of;
pub use paper::{LONGEST_SIDE, Paper, PaperError, Stock};
pub use plan::Plan;
pub use plate::plate;
pub(crate) use plate::plate_and_shift;
pub use record::record;
pub use setup::{PageOrientation, Setup, frame_size};
pub use share::{Piece, packed, shared_pages, small_piece};
pub(crate) use text_pages::page_size;
pub use text_pages::text_pages;

use crate::draw::ink::{Drawing, Mark};
use kurbo::{Rect, Size};

/// Pages of one file, all of one size and orientation.
#[derive(Debug, Clone)]
pub struct SheetSet {
    /// Title of the document.
    pub title: String,
    /// Legal owner, for the document's properties; may be empty.
    pub author: String,
    /// What it is about, for the document's properties.
    pub subject: String,
    /// Date of issue, `YYYY-MM-DD`; may be empty.
    pub issued: String,
    /// The facts of the pattern, as the file carries them; may be empty.
    pub content: String,
    /// Page size, mm.
    pub size: Size,
    /// The pages, in order.
    pub pages: Vec<Page>,
}

impl SheetSet {
    /// Pages with what their drawing says of itself.
    fn of(drawing: &Drawing, size: Size, pages: Vec<Page>) -> Self {
        Self {
            title: match drawing.title.title.as_str() {
                "" => drawing.title.number_and_revision(),
                title => format!("{} {title}", drawing.title.number_and_revision()),
            },
            author: drawing.title.owner.clone(),
            subject: drawing.title.supplement.clone(),
            issued: drawing.title.issued.clone(),
            content: drawing.content.clone(),
            size,
            pages,
        }
    }
}

/// What a page is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PageKind {
    /// Read before the work.
    Front,
    /// Taped to the panel.
    Work,
    /// Kept, and not needed at the panel; covers, cards and lists as well.
    Record,
}

/// One printed page; origin at its lower left, mm, y up.
#[derive(Debug, Clone)]
pub struct Page {
    /// What it is for.
    pub kind: PageKind,
    /// What the bookmark says.
    pub bookmark: String,
    /// Rulers, labels, register marks, words.
    pub furniture: Vec<Mark>,
    /// The work on this page, already in page coordinates; clipped to `window` when written.
    pub work: Vec<Mark>,
    /// The usable area, which no work leaves.
    pub window: Rect,
}
