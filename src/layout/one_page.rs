//! Title block and work on a single page, for a pattern small enough.

use super::compose::{furniture, work_in};
use super::frame::PageFrame;
use super::plan::Plan;
use super::setup::Setup;
use super::tiling::AIR;
use super::title_block::{HEIGHT, WIDEST, title_block};
use super::words::{PITCH, SMALL, Style};
use super::{Page, PageKind};
use crate::draw::ink::{Drawing, lettering, mark_bounds};
use kurbo::Rect;

/// What must be known even where there is no room for the steps.
const CAUTIONS: &str = "The full set of sheets has the steps, the tape check and all cautions. Prove \
    both rulers before you cut. Eye protection, gloves; never under a vehicle held only by a jack; \
    look behind for high-voltage cables, fuel and brake pipes; never cut the crash beam; cut no more \
    than needed.";

/// Lines kept for locators that were left out, and for what found no place on the pattern.
const MORE_LINES: usize = 2;

/// The title block at the foot of a window.
fn title_place(window: Rect) -> Rect {
    let width = window.width().min(WIDEST);
    Rect::new(window.x1 - width, window.y0, window.x1, window.y0 + HEIGHT)
}

/// Lines of words over the title block.
fn words(window: Rect, drawing: &Drawing) -> Vec<String> {
    let left_out = &drawing.geometry.left_out;
    let mut lines = lettering::wrap(CAUTIONS, SMALL, window.width() - 2.0 * AIR);
    let numbered = drawing.front.numbered.iter();
    let mut told: Vec<String> = numbered.map(|words| format!("{words}.")).collect();
    if !left_out.is_empty() {
        told.insert(0, format!("Left out to fit: {}.", left_out.join(", ")));
    }
    lines.splice(
        0..0,
        lettering::wrap(&told.join(" "), SMALL, window.width() - 2.0 * AIR)
            .into_iter()
            .filter(|line| !line.is_empty())
            .take(MORE_LINES),
    );
    lines
}

/// What the work may take of a page.
pub(super) fn room_on(frame: &PageFrame) -> Rect {
    let window = frame.window;
    let lines = lettering::wrap(CAUTIONS, SMALL, window.width() - 2.0 * AIR).len() + MORE_LINES;
    let foot = title_place(window).y1 + AIR + PITCH * lines as f64;
    Rect::new(window.x0, foot, window.x1, window.y1)
}

/// The page.
pub(super) fn one_page(drawing: &Drawing, setup: &Setup, plan: &Plan) -> Page {
    let frame = &plan.frame;
    let (window, room) = (frame.window, room_on(frame));
    let mut marks = furniture(drawing, setup, (1, 1), "One page").marks(frame);
    marks.extend(title_block(&drawing.title, title_place(window), 1, 1));
    let style = Style::plain(SMALL);
    let lines = words(window, drawing).into_iter().enumerate();
    marks.extend(lines.map(|(index, line)| {
        let y = room.y0 - PITCH * (index as f64 + 1.0) + (PITCH - SMALL);
        style.at(line, (window.x0 + AIR, y))
    }));
    let bounds: Vec<Rect> = drawing.work.iter().map(mark_bounds).collect();
    let shown = plan.cells().map(|(grid, cell)| grid.window_at(cell));
    let work = shown.flat_map(|shown| {
        work_in(
            &drawing.work,
            &bounds,
            shown,
            room.origin() - shown.origin(),
        )
    });
    Page {
        kind: PageKind::Work,
        bookmark: "Sheet 1: pattern".into(),
        furniture: marks,
        work: work.collect(),
        window,
    }
}
