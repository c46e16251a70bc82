//! Title block and work on a single page, for a pattern small enough.

use super::compose::{furniture, page_sizes};
use super::error::SheetError;
use super::ink::InkMap;
use super::setup::Setup;
use super::tiling::AIR;
use super::title_block::{HEIGHT, WIDEST, title_block};
use super::words::{PITCH, SMALL, Style};
use super::{Page, PageKind};
use crate::draw::ink::{Drawing, Mark, lettering};
use kurbo::{Rect, Size};

/// What must be known even where there is no room for the steps.
const CAUTIONS: &str = "The full set of sheets has the steps, the tape check and all cautions. Prove \
    both rulers before you cut. Eye protection, gloves; never under a vehicle held only by a jack; \
    look behind for high-voltage cables, fuel and brake pipes; never cut the crash beam; cut no more \
    than needed.";

/// The page, and its size: upright where the work fits so, else lying.
///
/// # Errors
/// [`SheetError::OnePage`] where it fits neither way.
pub(super) fn one_page(
    drawing: &Drawing,
    setup: &Setup,
    ink: &InkMap,
) -> Result<(Size, Page), SheetError> {
    let work = ink.bounds.size();
    let mut largest = Size::ZERO;
    let mut refused = None;
    for size in page_sizes(setup, ink) {
        let frame = match setup.frame(size) {
            Ok(frame) => frame,
            Err(error) => {
                refused.get_or_insert(error);
                continue;
            }
        };
        let window = frame.window;
        let width = window.width().min(WIDEST);
        let title = Rect::new(window.x1 - width, window.y0, window.x1, window.y0 + HEIGHT);
        let lines = lettering::wrap(CAUTIONS, SMALL, window.width() - 2.0 * AIR);
        let words_top = title.y1 + AIR + PITCH * lines.len() as f64;
        let room = Rect::new(window.x0, words_top, window.x1, window.y1).inset(-AIR);
        if work.width > room.width() || work.height > room.height() {
            if room.area() > largest.area() {
                largest = room.size();
            }
            continue;
        }
        let by = room.center() - ink.bounds.center();
        let mut marks = furniture(drawing, setup, (1, 1), "One page").marks(&frame);
        marks.extend(title_block(&drawing.title, title, 1, 1));
        let style = Style::plain(SMALL);
        marks.extend(lines.iter().enumerate().map(|(index, line)| {
            let y = words_top - PITCH * (index as f64 + 1.0) + (PITCH - SMALL);
            style.at(line.clone(), (window.x0 + AIR, y))
        }));
        let page = Page {
            kind: PageKind::Work,
            bookmark: "Sheet 1: pattern".into(),
            furniture: marks,
            work: drawing
                .work
                .iter()
                .map(|mark: &Mark| mark.moved(by))
                .collect(),
            window,
        };
        return Ok((size, page));
    }
    if largest == Size::ZERO {
        return Err(refused.unwrap_or(SheetError::NoWork));
    }
    Err(SheetError::OnePage {
        work,
        room: largest,
    })
}
