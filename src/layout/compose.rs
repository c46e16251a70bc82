//! From a drawing and a setup to the pages of a file.

use super::clip::work_in;
use super::error::SheetError;
use super::front::front_pages;
use super::furniture::Furniture;
use super::grid::Cell;
use super::ink::InkMap;
use super::joins::joins;
use super::one_page::one_page;
use super::plan::Plan;
use super::record::record_pages;
use super::setup::Setup;
use super::sheet_map::MapSource;
use super::{Page, PageKind, SheetSet};
use crate::draw::ink::{Drawing, mark_bounds};
use kurbo::Rect;

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
        return Ok(SheetSet::of(drawing, plan.frame.page, pages));
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
    for (index, mut furniture) in front.into_iter().enumerate() {
        let number = index + 1;
        let place = if index == 0 {
            "Front page"
        } else {
            "Front page, continued"
        };
        furniture.extend(Furniture::of(drawing, setup, (number, count), place).marks(frame));
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
            let mut furniture = Furniture::of(drawing, setup, (number, count), &place).marks(frame);
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
    Ok(SheetSet::of(drawing, frame.page, pages))
}
