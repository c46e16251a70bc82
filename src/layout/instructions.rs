//! The instruction sheet: headline, blocks in columns, sheet map, bank card, title block.

use super::error::SheetError;
use super::flow::{Piece, set};
use super::frame::PageFrame;
use super::setting;
use super::sheet_map::{CAPTION, CARD, MapSource, bank_card, map_height, sheet_map};
use super::title_block::{HEIGHT, WIDEST, title_block};
use crate::draw::ink::{Drawing, Mark};
use kurbo::{Point, Rect, Size};

/// Air between the window's frame and what is set in it, mm.
const AIR: f64 = 4.0;
/// Space between two columns, mm.
const GUTTER: f64 = 8.0;
/// Narrowest column where there are two or more, mm: some 60 letters.
const NARROWEST: f64 = 120.0;
/// Space between blocks that stand at a fixed place, mm.
const BETWEEN: f64 = 5.0;
/// Least height worth setting text in, mm.
const LEAST_TEXT: f64 = 40.0;
/// Least and greatest height of the sheet map with its caption, mm.
const LEAST_MAP: f64 = 48.0;
const GREATEST_MAP: f64 = 100.0;
/// Narrowest sheet map, mm.
const NARROWEST_MAP: f64 = 60.0;

/// Height of the bank card with its caption, mm.
const CARD_HEIGHT: f64 = CAPTION + CARD.height;

/// Where things stand on the first page, and the columns of all further ones.
struct Layout {
    title: Rect,
    /// `None` where it goes with the text.
    map: Option<Rect>,
    /// Upper left; `None` where it goes with the text.
    card: Option<Point>,
    first_page: Vec<Rect>,
    further: Vec<Rect>,
}

/// The marks of each instruction page, inside the window, from the drawing and its sheet map.
///
/// # Errors
/// [`SheetError::BlockTooLarge`] for what no page can hold.
pub(crate) fn instruction_pages(
    drawing: &Drawing,
    frame: &PageFrame,
    source: &MapSource<'_>,
) -> Result<Vec<Vec<Mark>>, SheetError> {
    let layout = Layout::of(frame.window, source);
    // The map's numbers begin after the instruction pages, whose number is known once set.
    let pages = compose(drawing, &layout, source, frame.window.size())?.len();
    let source = MapSource {
        first: pages + 1,
        ..*source
    };
    let mut pages = compose(drawing, &layout, &source, frame.window.size())?;
    let count = pages.len() + source.grid.kept.len();
    if let Some(first) = pages.first_mut() {
        first.extend(title_block(&drawing.title, layout.title, 1, count));
        if let Some(room) = layout.map {
            first.extend(sheet_map(&source, room));
        }
        if let Some(corner) = layout.card {
            first.extend(bank_card(corner, frame.window.size()));
        }
    }
    Ok(pages)
}

fn compose(
    drawing: &Drawing,
    layout: &Layout,
    source: &MapSource<'_>,
    window: Size,
) -> Result<Vec<Vec<Mark>>, SheetError> {
    let column = layout.further.first().copied().unwrap_or(layout.title);
    let title = &drawing.title;
    let number = title.number_and_revision();
    let beside = [number.as_str(), title.supplement.as_str()];
    let beside: Vec<&str> = beside
        .into_iter()
        .filter(|words| !words.is_empty())
        .collect();
    let mut pieces = setting::headline(&title.title, &beside.join(", "), column.width());
    pieces.extend(setting::pieces(&drawing.instructions, column.width())?);
    if layout.map.is_none() {
        let wanted = map_height(source, column.width()).min(GREATEST_MAP);
        let height = wanted.min(column.height());
        let room = Rect::new(0.0, -height, column.width(), 0.0);
        pieces.push(Piece::new(
            "sheet map",
            height,
            BETWEEN,
            sheet_map(source, room),
        ));
    }
    if layout.card.is_none() {
        let marks = bank_card(Point::ZERO, window);
        pieces.push(Piece::new("bank card", CARD_HEIGHT, BETWEEN, marks));
    }
    let on_first = layout.first_page.len();
    set(
        &pieces,
        |number| match layout.first_page.get(number) {
            Some(room) => (0, *room),
            None => {
                let later = number - on_first;
                let of = layout.further.len().max(1);
                let room = layout.further.get(later % of).copied().unwrap_or(column);
                (1 + later / of, room)
            }
        },
        column.height(),
    )
}

impl Layout {
    fn of(window: Rect, source: &MapSource<'_>) -> Self {
        let room = window.inset(-AIR);
        let count = ((room.width() + GUTTER) / (NARROWEST + GUTTER))
            .floor()
            .max(1.0);
        let width = (room.width() - GUTTER * (count - 1.0)) / count;
        let further: Vec<Rect> = (0..count as usize)
            .map(|index| {
                let x0 = room.x0 + index as f64 * (width + GUTTER);
                Rect::new(x0, room.y0, x0 + width, room.y1)
            })
            .collect();
        let block_width = if further.len() == 1 {
            window.width().min(WIDEST)
        } else {
            width + AIR + GUTTER / 2.0
        };
        let title = Rect::new(
            window.x1 - block_width,
            window.y0,
            window.x1,
            window.y0 + HEIGHT,
        );
        if further.len() == 1 {
            Self::one_column(room, title, further)
        } else {
            Self::last_column(title, further, source)
        }
    }

    /// Map and card side by side over the title block, where that leaves room for words.
    fn one_column(room: Rect, title: Rect, further: Vec<Rect>) -> Self {
        let foot = title.y1 + BETWEEN;
        let head = foot + CARD_HEIGHT;
        let fits =
            room.y1 - head >= LEAST_TEXT && room.width() >= CARD.width + GUTTER + NARROWEST_MAP;
        let (map, card, text_foot) = if fits {
            let map = Rect::new(room.x0 + CARD.width + GUTTER, foot, room.x1, head);
            (Some(map), Some(Point::new(room.x0, head)), head + BETWEEN)
        } else {
            (None, None, foot)
        };
        let text = Rect::new(room.x0, text_foot, room.x1, room.y1);
        Self {
            title,
            map,
            card,
            first_page: [text].into_iter().filter(worth_setting).collect(),
            further,
        }
    }

    /// Title block, card and map one over the other in the last column, as far as they go.
    fn last_column(title: Rect, further: Vec<Rect>, source: &MapSource<'_>) -> Self {
        let mut first_page = further.clone();
        let (mut map, mut card) = (None, None);
        if let Some(last) = first_page.last_mut() {
            last.y0 = title.y1 + BETWEEN;
            if last.height() >= CARD_HEIGHT {
                last.y0 += CARD_HEIGHT;
                card = Some(Point::new(last.x0, last.y0));
                last.y0 += BETWEEN;
            }
            if last.height() >= LEAST_MAP {
                let wanted = map_height(source, last.width()).min(GREATEST_MAP);
                let height = last.height().min(wanted);
                let room = Rect::new(last.x0, last.y0, last.x1, last.y0 + height);
                map = Some(room);
                last.y0 = room.y1 + BETWEEN;
            }
        }
        first_page.retain(worth_setting);
        Self {
            title,
            map,
            card,
            first_page,
            further,
        }
    }
}

fn worth_setting(room: &Rect) -> bool {
    room.y1 - room.y0 >= LEAST_TEXT
}
