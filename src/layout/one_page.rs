//! Title block and work on a single page, for a pattern small enough.

use super::clip::work_in;
use super::furniture::Furniture;
use super::plan::Plan;
use super::room::{CAUTIONS, MORE_LINES, room_on, title_place};
use super::setup::Setup;
use super::tiling::AIR;
use super::title_block::title_block;
use super::words::{MIDDLE, Style, pitch};
use super::{Page, PageKind};
use crate::draw::ink::{Drawing, Role, Said, lettering, mark_bounds};
use kurbo::Rect;

/// Lines of words over the title block.
fn words(window: Rect, drawing: &Drawing) -> Vec<String> {
    let left_out = &drawing.geometry.left_out;
    let mut lines = lettering::wrap(CAUTIONS, MIDDLE, window.width() - 2.0 * AIR);
    let numbered = drawing.front.numbered.iter();
    let mut told: Vec<String> = numbered.map(|words| format!("{words}.")).collect();
    if !left_out.is_empty() {
        told.insert(0, format!("Left out to fit: {}.", left_out.join(", ")));
    }
    lines.splice(
        0..0,
        lettering::wrap(&told.join(" "), MIDDLE, window.width() - 2.0 * AIR)
            .into_iter()
            .filter(|line| !line.is_empty())
            .take(MORE_LINES),
    );
    lines
}

/// The page.
pub(super) fn one_page(drawing: &Drawing, setup: &Setup, plan: &Plan) -> Page {
    let frame = &plan.frame;
    let (window, room) = (frame.window, room_on(frame));
    let mut marks = vec![];
    let title = title_block(&drawing.title, title_place(window), 1, 1);
    let style = Style::plain(MIDDLE);
    let lines = words(window, drawing).into_iter().enumerate();
    marks.extend(lines.map(|(index, line)| {
        let y = room.y0 - pitch(MIDDLE) * (index as f64 + 1.0) + (pitch(MIDDLE) - MIDDLE);
        let line = style.at(line, (window.x0 + AIR, y));
        line.said(Said::line(Role::Paragraph, index))
    }));
    marks.extend(title);
    marks.extend(Furniture::of(drawing, setup, (1, 1), "One page").marks(frame));
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
