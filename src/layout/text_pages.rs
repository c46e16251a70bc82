//! Pages of words and tables alone: covers and cards, on the same paper as the sheets.

use super::error::SheetError;
use super::flow::set;
use super::frame::{PageFrame, WORD_ROW};
use super::furniture::{Corner, corner, foot_words, kit_words, page_name};
use super::paper::Stock;
use super::ruler;
use super::setting;
use super::setup::{PageOrientation, Setup};
use super::symbol::symbol;
use super::title_block::{HEIGHT, WIDEST, title_block};
use super::words::{SMALL, outline};
use super::{Page, PageKind, SheetSet};
use crate::base::paper::PageNumber;
use crate::draw::ink::{Block, Mark, TitleBlock, Width};
use crate::model::clearance::SCALE_ERROR;
use kurbo::{Rect, Size, Vec2};

/// Air between the window's frame and what is set in it, mm.
const AIR: f64 = 4.0;
/// Space between two columns, mm.
const GUTTER: f64 = 8.0;
/// Narrowest column where there are two or more, mm: tables are wider than words.
const NARROWEST: f64 = 150.0;
/// Space between the title block and what stands over it, mm.
const OVER_TITLE: f64 = 5.0;

/// Pages that tell these blocks under a headline, with a title block on the first.
///
/// `place` is what the pages are called: it stands at their heads and in their bookmarks. Pages
/// are oriented as the setup says, portrait where it leaves it open; a roll gives pages of A4.
///
/// # Errors
/// Paper that is too small, and a block that no page can hold.
pub fn text_pages(
    title: &TitleBlock,
    blocks: &[Block],
    setup: &Setup,
    place: &str,
) -> Result<SheetSet, SheetError> {
    let frame = setup.frame(page_size(setup))?;
    let called = Called {
        page: "PAGE",
        place,
        of_record: false,
        scale_error: SCALE_ERROR,
    };
    let pages = pages_on(&frame, title, blocks, setup, called)?;
    Ok(SheetSet {
        title: title.number_and_revision(),
        author: title.owner.clone(),
        subject: title.supplement.clone(),
        issued: title.issued.clone(),
        content: String::new(),
        size: frame.page,
        pages,
    })
}

/// What pages of words are called.
#[derive(Clone, Copy)]
pub(super) struct Called<'a> {
    /// The word before their number.
    pub(super) page: &'a str,
    /// What they are, at their heads and in their bookmarks.
    pub(super) place: &'a str,
    /// They are pages of a pattern's record, which a camera can tell.
    pub(super) of_record: bool,
    /// What the printed scale may be off by, a part of 1.
    pub(super) scale_error: f64,
}

/// The pages alone, on paper of this frame.
pub(super) fn pages_on(
    frame: &PageFrame,
    title: &TitleBlock,
    blocks: &[Block],
    setup: &Setup,
    called: Called<'_>,
) -> Result<Vec<Page>, SheetError> {
    let Called {
        page,
        place,
        of_record,
        scale_error,
    } = called;
    let room = frame.window.inset(-AIR);
    let count = ((room.width() + GUTTER) / (NARROWEST + GUTTER))
        .floor()
        .max(1.0);
    let width = (room.width() - GUTTER * (count - 1.0)) / count;
    let columns: Vec<Rect> = (0..count as usize)
        .map(|index| {
            let x0 = room.x0 + index as f64 * (width + GUTTER);
            Rect::new(x0, room.y0, x0 + width, room.y1)
        })
        .collect();
    let window = frame.window;
    let title_width = if columns.len() == 1 {
        window.width().min(WIDEST)
    } else {
        width + AIR
    };
    let title_room = Rect::new(
        window.x1 - title_width,
        window.y0,
        window.x1,
        window.y0 + HEIGHT,
    );
    let of = columns.len();
    let column = |number: usize| {
        let mut room = columns[number % of];
        if number + 1 == of {
            room.y0 = title_room.y1 + OVER_TITLE;
        }
        (number / of, room)
    };
    let mut pieces = setting::headline(&title.title, &title.supplement, width);
    pieces.extend(setting::pieces(blocks, width, SMALL)?);
    let mut pages = set(&pieces, column, room.height())?;
    let count = pages.len();
    if let Some(first) = pages.first_mut() {
        first.extend(title_block(title, title_room, 1, count));
    }
    let pages = pages.into_iter().enumerate().map(|(index, mut furniture)| {
        let number = index + 1;
        let words = Around {
            page,
            place,
            number,
            count,
            scale_error,
        };
        furniture.extend(around(title, setup, frame, &words));
        let page = PageNumber {
            of_record,
            number,
            count,
        };
        let name = page_name(title, Some(page)).filter(|_| of_record);
        furniture.extend(name.and_then(|name| symbol(&name.to_string(), frame)));
        Page {
            kind: PageKind::Record,
            bookmark: format!("{place}, page {number}"),
            furniture,
            work: vec![],
            window,
        }
    });
    Ok(pages.collect())
}

/// The size of the pages, mm.
pub(crate) fn page_size(setup: &Setup) -> Size {
    let size = match setup.paper.stock() {
        Stock::Sheet(size) => size,
        Stock::Roll { .. } => Size::new(210.0, 297.0),
    };
    match setup.orientation {
        PageOrientation::Landscape => Size::new(size.height, size.width),
        PageOrientation::Portrait | PageOrientation::Either => size,
    }
}

/// What pages of words say of themselves.
pub(super) struct Around<'a> {
    /// The word before their number.
    pub(super) page: &'a str,
    /// What they are called.
    pub(super) place: &'a str,
    /// Number of this one, from 1.
    pub(super) number: usize,
    /// How many there are.
    pub(super) count: usize,
    /// What the printed scale may be off by, a part of 1.
    pub(super) scale_error: f64,
}

fn words(strong: String, beside: &str) -> Corner {
    Corner {
        strong,
        beside: beside.into(),
    }
}

/// The frame, the words at its corners, and the rulers that prove the printer's scale.
pub(super) fn around(
    title: &TitleBlock,
    setup: &Setup,
    frame: &PageFrame,
    &Around {
        page,
        place,
        number,
        count,
        scale_error,
    }: &Around<'_>,
) -> Vec<Mark> {
    let window = frame.window;
    let head = [
        words(title.number_and_revision(), &title.title),
        words(format!("{page} {number} OF {count}"), place),
    ];
    let foot = foot_words(title, setup);
    let mut marks = vec![outline(window, Width::Thin)];
    let side = window.width() / 2.0 - GUTTER / 2.0;
    let rows = [(head, window.y1), (foot, window.y0 - ruler::ROW - WORD_ROW)];
    for ([left, right], base) in rows {
        let from = Vec2::new(window.x0, base);
        let to = Vec2::new(window.x1, base);
        marks.extend(
            corner(&left, side, false, true)
                .iter()
                .map(|mark| mark.moved(from)),
        );
        marks.extend(
            corner(&right, side, true, true)
                .iter()
                .map(|mark| mark.moved(to)),
        );
    }
    // Read from the right, as on the sheets.
    let kit = match setup.kit == title.number {
        true => Corner::default(),
        false => words(kit_words(&setup.kit), ""),
    };
    let code = words(title.code.clone(), &setup.program);
    let side = window.height() / 2.0 - GUTTER / 2.0;
    for (said, leftwards, y) in [(kit, false, window.y0), (code, true, window.y1)] {
        let at = Vec2::new(window.x1 + WORD_ROW, y);
        let row = corner(&said, side, leftwards, false);
        marks.extend(row.iter().map(|mark| mark.turned(1, at)));
    }
    let at = frame.foot_rulers().to_vec2();
    let rulers = ruler::rulers(window.width(), scale_error);
    marks.extend(rulers.iter().map(|mark| mark.moved(at)));
    let at = frame.left_rulers().to_vec2();
    let rulers = ruler::rulers(window.height(), scale_error);
    marks.extend(rulers.iter().map(|mark| mark.turned(1, at)));
    marks
}
