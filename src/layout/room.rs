//! What title block and words leave to the work on a single page.

use super::frame::PageFrame;
use super::tiling::AIR;
use super::title_block::{HEIGHT, WIDEST};
use super::words::{MIDDLE, pitch};
use crate::draw::ink::lettering;
use kurbo::Rect;

/// What must be known even where there is no room for the steps.
pub(super) const CAUTIONS: &str = "The full set of sheets has the steps, the tape check and all cautions. Prove \
    both rulers before you cut. Eye protection, gloves; never under a vehicle held only by a jack; \
    look behind for high-voltage cables, fuel and brake pipes; never cut the crash beam; cut no more \
    than needed.";

/// Lines kept for locators that were left out, and for what found no place on the pattern.
pub(super) const MORE_LINES: usize = 2;

/// The title block at the foot of a window.
pub(super) fn title_place(window: Rect) -> Rect {
    let width = window.width().min(WIDEST);
    Rect::new(window.x1 - width, window.y0, window.x1, window.y0 + HEIGHT)
}

/// What the work may take of a page.
pub(super) fn room_on(frame: &PageFrame) -> Rect {
    let window = frame.window;
    let lines = lettering::wrap(CAUTIONS, MIDDLE, window.width() - 2.0 * AIR).len() + MORE_LINES;
    let foot = title_place(window).y1 + AIR + pitch(MIDDLE) * lines as f64;
    Rect::new(window.x0, foot, window.x1, window.y1)
}
