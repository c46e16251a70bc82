//! From a drawing and a setup to the pages of a file.

use super::clip::clip;
use super::error::SheetError;
use super::front::front_pages;
use super::furniture::{Corner, Furniture, foot_words};
use super::grid::Cell;
use super::ink::{InkMap, touches};
use super::joins::joins;
use super::one_page::one_page;
use super::plan::Plan;
use super::record::record_pages;
use super::setup::Setup;
use super::sheet_map::MapSource;
use super::{Page, PageKind, SheetSet};
use crate::draw::ink::{Drawing, Ink, Mark, mark_bounds};
use kurbo::{Rect, Size, Vec2};

/// The sheets of a drawing whose lettering stands where it is: the front page, the work, row by row
/// from its head, and the record where [`Setup::record`] asks for it.
///
/// # Errors
/// [`SheetError`] says what does not fit and what would.
pub fn sheets(drawing: &Drawing, setup: &Setup) -> Result<SheetSet, SheetError> {
    let (plan, _) = Plan::best([&drawing.geometry], setup)?;
    sheets_on(&plan, drawing, setup)
}

/// As [`sheets`], where the sheets lie as planned.
///
/// # Errors
/// [`SheetError::BlockTooLarge`] for words that no page can hold, and work that no printer
/// could print.
pub fn sheets_on(plan: &Plan, drawing: &Drawing, setup: &Setup) -> Result<SheetSet, SheetError> {
    let ink = InkMap::of(&drawing.work)?;
    if setup.one_page {
        let mut pages = vec![one_page(drawing, setup, plan)];
        if setup.record {
            pages.extend(record_pages(drawing, setup, &plan.frame)?);
        }
        return Ok(set(drawing, plan.frame.page, pages));
    }
    let frame = &plan.frame;
    let source = MapSource {
        plan,
        work: &drawing.work,
        edges: drawing.edges,
        first: 2,
    };
    let front = front_pages(drawing, setup, frame, &source)?;
    let count = front.len() + plan.cells().count();

    let mut pages: Vec<Page> = Vec::with_capacity(count);
    for (index, marks) in front.into_iter().enumerate() {
        let number = index + 1;
        let place = if index == 0 {
            "Front page"
        } else {
            "Front page, continued"
        };
        let mut furniture = furniture(drawing, setup, (number, count), place).marks(frame);
        furniture.extend(marks);
        pages.push(Page {
            kind: PageKind::Front,
            bookmark: format!("Sheet {number}: {}", place.to_lowercase()),
            furniture,
            work: vec![],
            window: frame.window,
        });
    }
    let bounds: Vec<Rect> = drawing.work.iter().map(mark_bounds).collect();
    for (index, grid) in plan.grids.iter().enumerate() {
        let before = pages.len();
        let number_of = |cell: Cell| Some(before + 1 + grid.kept.binary_search(&cell).ok()?);
        let joins = joins(grid, &ink, &drawing.title.sizes_in, number_of);
        for cell in &grid.kept {
            let number = pages.len() + 1;
            let window = grid.window_at(*cell);
            let by = frame.window.origin() - window.origin();
            let place = plan.place(index, *cell);
            let mut furniture = furniture(drawing, setup, (number, count), &place).marks(frame);
            let here = joins.iter().filter(|(on, _)| on == cell);
            furniture.extend(here.map(|(_, mark)| mark.moved(by)));
            pages.push(Page {
                kind: PageKind::Work,
                bookmark: format!("Sheet {number}: {}", place.to_lowercase()),
                furniture,
                work: work_in(&drawing.work, &bounds, window, by),
                window: frame.window,
            });
        }
    }
    if setup.record {
        pages.extend(record_pages(drawing, setup, frame)?);
    }
    Ok(set(drawing, frame.page, pages))
}

pub(super) fn set(drawing: &Drawing, size: Size, pages: Vec<Page>) -> SheetSet {
    SheetSet {
        title: match drawing.title.title.as_str() {
            "" => drawing.title.number_and_revision(),
            title => format!("{} {title}", drawing.title.number_and_revision()),
        },
        author: drawing.title.owner.clone(),
        subject: drawing.title.supplement.clone(),
        issued: drawing.title.issued.clone(),
        size,
        pages,
    }
}

/// The work inside a window, moved to the page.
pub(super) fn work_in(work: &[Mark], bounds: &[Rect], window: Rect, by: Vec2) -> Vec<Mark> {
    work.iter()
        .zip(bounds)
        .filter(|(_, bounds)| touches(**bounds, window))
        .flat_map(|(mark, _)| {
            // Cut half a width outside, so that a slanting stroke fills the window to its edge.
            let half = match &mark.ink {
                Ink::Stroke { line, .. } => line.width.mm() / 2.0,
                _ => 0.0,
            };
            clip(mark, window.inflate(half, half))
        })
        .map(|mark| mark.moved(by))
        .collect()
}

/// What page `number` of `count` carries round its window.
pub(super) fn furniture(
    drawing: &Drawing,
    setup: &Setup,
    (number, count): (usize, usize),
    place: &str,
) -> Furniture {
    let [foot_left, foot_right] = foot_words(&drawing.title, setup);
    Furniture {
        head_left: Corner {
            strong: drawing.title.number_and_revision(),
            beside: drawing.title.title.clone(),
        },
        head_right: Corner {
            strong: format!("SHEET {number} OF {count}"),
            beside: place.into(),
        },
        foot_left,
        foot_right,
        edges: drawing.edges,
        warning: drawing.warning.clone(),
        scale_error: drawing.scale_error,
        note: setup.note.clone(),
    }
}
