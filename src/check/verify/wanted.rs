//! What every page of a file must show: each mark of the definition's own sheets, in the order that
//! they are painted.

use crate::draw::ink::{Layer, Mark, Plate};
use crate::layout::{PageKind, SheetSet};
use kurbo::Rect;
use std::collections::BTreeSet;

/// A file as it must be.
#[derive(Debug)]
pub(crate) enum Wanted {
    Sheets(SheetSet),
    Plate(Plate),
}

/// A mark, and what it is clipped to.
#[derive(Debug, Clone, Copy)]
pub(crate) struct WantedMark<'w> {
    pub(crate) mark: &'w Mark,
    pub(crate) window: Rect,
}

impl Wanted {
    /// How many pages there are, and how many of them are sheets rather than the record.
    pub(crate) fn pages(&self) -> (usize, usize) {
        match self {
            Self::Sheets(set) => {
                let is_sheet = |kind| kind != PageKind::Record;
                let sheets = set.pages.iter().filter(|page| is_sheet(page.kind));
                (set.pages.len(), sheets.count())
            }
            Self::Plate(_) => (1, 1),
        }
    }

    /// What a file and its parts may be called, and how it is described.
    pub(crate) fn titles(&self) -> BTreeSet<&str> {
        match self {
            Self::Sheets(set) => {
                let pages = set.pages.iter().map(|page| page.bookmark.as_str());
                pages.chain([set.title.as_str()]).collect()
            }
            Self::Plate(plate) => {
                let openings = plate.marks.iter().filter_map(|mark| mark.of.as_deref());
                openings
                    .chain([&*plate.title, &*plate.description])
                    .collect()
            }
        }
    }

    /// The marks of one page.
    pub(crate) fn page(&self, page: usize) -> Vec<WantedMark<'_>> {
        let mut all = vec![];
        match self {
            Self::Sheets(set) => {
                if let Some(page) = set.pages.get(page) {
                    in_layers(&page.work, page.window, &mut all);
                    in_layers(&page.furniture, set.size.to_rect(), &mut all);
                }
            }
            Self::Plate(plate) => in_layers(&plate.marks, plate.size.to_rect(), &mut all),
        }
        all
    }
}

fn in_layers<'w>(marks: &'w [Mark], window: Rect, all: &mut Vec<WantedMark<'w>>) {
    let place = |mark: &Mark| Layer::ALL.iter().position(|layer| *layer == mark.layer);
    let from = all.len();
    all.extend(marks.iter().map(|mark| WantedMark { mark, window }));
    all[from..].sort_by_key(|wanted| place(wanted.mark));
}
