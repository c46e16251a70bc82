//! From a drawing and a setup to the pages of a file.

use super::clip::clip;
use super::error::SheetError;
use super::frame::PageFrame;
use super::front::front_pages;
use super::furniture::{Corner, Furniture, foot_words};
use super::grid::{Cell, Grid};
use super::ink::{InkMap, touches};
use super::one_page::one_page;
use super::paper::{LONGEST_SIDE, Stock};
use super::record::record_pages;
use super::register::register_marks;
use super::setup::Setup;
use super::sheet_map::MapSource;
use super::tiling::{AIR, Cost, tile};
use super::{Page, PageKind, SheetSet};
use crate::draw::ink::{Drawing, Ink, Mark, mark_bounds};
use kurbo::{Rect, Size, Vec2};

/// Shortest piece of a roll, mm, so that a front page has room: the length of A4.
const SHORTEST_PIECE: f64 = 297.0;

/// A page size with its best grid.
struct Choice {
    frame: PageFrame,
    grid: Grid,
    cost: Cost,
}

/// The sheets of a drawing: the front page, the work, row by row from its head, and the record where
/// [`Setup::record`] asks for it.
///
/// All pages have one size. The sheets of work are the fewest that one regular grid gives, and
/// where [`Setup::turn`] leaves it open, the page lies whichever way needs fewer.
///
/// # Errors
/// [`SheetError`] says what does not fit and what would.
pub fn sheets(drawing: &Drawing, setup: &Setup) -> Result<SheetSet, SheetError> {
    setup.check()?;
    let ink = InkMap::of(&drawing.work)?;
    if setup.one_page {
        let (size, page) = one_page(drawing, setup, &ink)?;
        let mut pages = vec![page];
        if setup.record {
            pages.extend(record_pages(drawing, setup, &setup.frame(size)?)?);
        }
        return Ok(set(drawing, size, pages));
    }
    let Choice { frame, grid, .. } = choose(drawing, setup, &ink)?;
    let source = MapSource {
        grid: &grid,
        work: &drawing.work,
        edges: drawing.edges,
        first: 2,
    };
    let front = front_pages(drawing, setup, &frame, &source)?;
    let first = front.len() + 1;
    let count = front.len() + grid.kept.len();

    let mut pages: Vec<Page> = Vec::with_capacity(count);
    for (index, marks) in front.into_iter().enumerate() {
        let number = index + 1;
        let place = if index == 0 {
            "Front page"
        } else {
            "Front page, continued"
        };
        let mut furniture = furniture(drawing, setup, (number, count), place).marks(&frame);
        furniture.extend(marks);
        pages.push(Page {
            kind: PageKind::Front,
            bookmark: format!("Sheet {number}: {}", place.to_lowercase()),
            furniture,
            work: vec![],
            window: frame.window,
        });
    }
    let number_of = |cell: Cell| {
        let index = grid.kept.binary_search(&cell).ok()?;
        Some(first + index)
    };
    let joins = register_marks(&grid, &ink, number_of);
    let bounds: Vec<Rect> = drawing.work.iter().map(mark_bounds).collect();
    for (index, cell) in grid.kept.iter().enumerate() {
        let number = first + index;
        let window = grid.window_at(*cell);
        let by = frame.window.origin() - window.origin();
        let place = format!("Row {}, column {}", cell.row + 1, cell.column + 1);
        let mut furniture = furniture(drawing, setup, (number, count), &place).marks(&frame);
        let here = joins.iter().filter(|join| join.cells.contains(cell));
        furniture.extend(here.flat_map(|join| join.marks.iter().map(|mark| mark.moved(by))));
        pages.push(Page {
            kind: PageKind::Work,
            bookmark: format!("Sheet {number}: {}", place.to_lowercase()),
            furniture,
            work: work_in(&drawing.work, &bounds, window, by),
            window: frame.window,
        });
    }
    if setup.record {
        pages.extend(record_pages(drawing, setup, &frame)?);
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
fn work_in(work: &[Mark], bounds: &[Rect], window: Rect, by: Vec2) -> Vec<Mark> {
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

/// The page and grid that need the fewest sheets, then the least paper, then cut least.
fn choose(drawing: &Drawing, setup: &Setup, ink: &InkMap) -> Result<Choice, SheetError> {
    let mut best: Option<Choice> = None;
    let mut refused = None;
    for page in page_sizes(setup, ink) {
        let frame = match setup.frame(page) {
            Ok(frame) => frame,
            Err(error) => {
                refused.get_or_insert(error);
                continue;
            }
        };
        let (grid, cost) = tile(ink, &drawing.keep_whole, frame.window.size(), setup.overlap);
        let better = best.as_ref().is_none_or(|best| {
            let key = |cost: &Cost, page: Size| {
                let area = (page.width * page.height).round() as u64;
                (cost.sheets, area, cost.lost, cost.crossed)
            };
            key(&cost, page) < key(&best.cost, best.frame.page)
        });
        if better {
            best = Some(Choice { frame, grid, cost });
        }
    }
    best.ok_or(refused.unwrap_or(SheetError::NoWork))
}

/// The pages that the setup allows, the upright one first.
pub(super) fn page_sizes(setup: &Setup, ink: &InkMap) -> Vec<Size> {
    let around = PageFrame::around(setup.margin);
    let (upright, lying) = match setup.paper.stock() {
        Stock::Sheet(size) => (size, Size::new(size.height, size.width)),
        Stock::Roll { width, at_most } => {
            let at_most = at_most.min(LONGEST_SIDE);
            // Ink stands as clear of the frame as on sheets with room to spare.
            let cut = |work: f64| (work + 2.0 * AIR).ceil().max(SHORTEST_PIECE).min(at_most);
            (
                Size::new(width, cut(ink.bounds.height() + around.height)),
                Size::new(cut(ink.bounds.width() + around.width), width),
            )
        }
    };
    setup.either_way(upright, lying)
}
