//! The front page: one page, in the largest lettering at which all that it tells fits.
//!
//! What does not fit in the smallest stays in the record, from the end of the page: notes first, then
//! labels by number, findings, tape checks. Only paper that is too small for the rest takes a second.

use super::error::SheetError;
use super::flow::set;
use super::frame::PageFrame;
use super::front_content::{Content, Entry, Heights, Section};
use super::headline::{LOOSE, TIGHT, headline};
use super::setting;
use super::setup::Setup;
use super::sheet_map::{MapSource, map_height};
use super::title_block::{HEIGHT, WIDEST, title_block};
use super::words::{GUTTER, MIDDLE, SMALL, Style, pitch};
use crate::draw::ink::{Drawing, Mark, Role, Said, lettering};
use kurbo::{Rect, Vec2};

/// Heights of the lettering, mm, the best first: of what is worked by, which is read at arm's length,
/// and of what is read before.
/// Each with whether entries stand as close as lines do: better close than small.
const HEIGHTS: [(Heights, bool); 7] = [
    (Heights::of(MIDDLE, MIDDLE), false),
    (Heights::of(MIDDLE, 3.0), false),
    (Heights::of(MIDDLE, SMALL), false),
    (Heights::of(MIDDLE, SMALL), true),
    (Heights::of(3.0, SMALL), false),
    (Heights::of(3.0, SMALL), true),
    (SMALLEST, false),
];
const SMALLEST: Heights = Heights::of(SMALL, SMALL);
/// Air between the window's frame and what is set in it, mm.
const AIR: f64 = 3.0;
/// Narrowest column where there are two or more, in heights of its lettering: some 45 letters.
const NARROWEST: f64 = 30.0;
/// Narrowest column beside that of the bank card, mm.
const BESIDE_CARD: f64 = 70.0;
/// Space between the title block and what stands over it, mm.
const OVER_TITLE: f64 = 3.0;
/// Heights of the sheet map with its captions, mm, the best first.
const MAPS: [f64; 5] = [80.0, 65.0, 52.0, 42.0, 30.0];
/// Lines kept for what only the record tells: as many as it takes where something is left out.
const LINES_WHOLE: f64 = 1.0;
const LINES_LEFT_OUT: f64 = 2.0;
/// Space over a heading, mm.
const OVER_HEADING: f64 = 4.0;

/// The marks of each front page, inside the window: one wherever the paper is large enough.
///
/// # Errors
/// [`SheetError::BlockTooLarge`] for what no page can hold.
pub(crate) fn front_pages(
    drawing: &Drawing,
    setup: &Setup,
    frame: &PageFrame,
    source: &MapSource<'_>,
) -> Result<Vec<Vec<Mark>>, SheetError> {
    let work = source.plan.cells().count();
    let content = Content::of(drawing, setup, frame, source);
    let pages = match one_page(&content, frame)? {
        Some(page) => vec![page],
        None => several(&content, frame)?,
    };
    let count = pages.len();
    // The map's numbers begin after the front pages, whose number is known once set.
    let mut pages = if count + 1 == source.first {
        pages
    } else {
        let source = MapSource {
            first: count + 1,
            ..*source
        };
        several(&Content::of(drawing, setup, frame, &source), frame)?
    };
    if let Some(first) = pages.first_mut() {
        let room = title_room(frame);
        first.extend(title_block(&drawing.title, room, 1, count + work));
    }
    Ok(pages)
}

/// Everything on one page, in the largest lettering; or in the smallest, with as much left out as
/// must be. `None` where that is not enough.
fn one_page(content: &Content<'_>, frame: &PageFrame) -> Result<Option<Vec<Mark>>, SheetError> {
    for (heights, tight) in HEIGHTS {
        let [rest @ .., least] = MAPS;
        let whole = |map: f64| -> Result<Option<Page>, SheetError> {
            // Steps that are not broken over two columns read better.
            for steps_together in [true, false] {
                let way = Way {
                    heights,
                    map,
                    lines: LINES_WHOLE,
                    tight,
                    steps_together,
                };
                let page = Page::set(content, frame, way)?;
                if let Some(page) = page.filter(Page::is_whole) {
                    return Ok(Some(page));
                }
            }
            Ok(None)
        };
        let Some(page) = whole(least)? else {
            continue;
        };
        for map in rest {
            if let Some(page) = whole(map)? {
                return Ok(Some(page.marks));
            }
        }
        return Ok(Some(page.marks));
    }
    let [.., least] = MAPS;
    let last_resort = |lines: f64| {
        let way = Way {
            heights: SMALLEST,
            map: least,
            lines,
            tight: true,
            steps_together: false,
        };
        Page::set(content, frame, way)
    };
    let page = match last_resort(LINES_WHOLE)?.filter(Page::is_whole) {
        Some(page) => Some(page),
        None => last_resort(LINES_LEFT_OUT)?,
    };
    Ok(page.map(|page| page.marks))
}

/// Over as many pages as it takes, one column each.
fn several(content: &Content<'_>, frame: &PageFrame) -> Result<Vec<Vec<Mark>>, SheetError> {
    let room = frame.window.inset(-AIR);
    let mut pieces = vec![headline(content.title, room.width(), LOOSE)];
    for section in &content.sections {
        let heading = section.heading.as_str();
        pieces.extend(
            (!heading.is_empty())
                .then(|| setting::heading(heading, room.width()))
                .into_iter()
                .flatten(),
        );
        for entry in &section.entries {
            let height = map_height(content.map, room.width()).min(MAPS[0]);
            pieces.extend(entry.pieces(room.width(), SMALL, height.min(room.height()))?);
        }
    }
    let first = Rect {
        y0: title_room(frame).y1 + OVER_TITLE,
        ..room
    };
    let column = |number: usize| (number, if number == 0 { first } else { room });
    set(&pieces, column, room.height())
}

fn title_room(frame: &PageFrame) -> Rect {
    let window = frame.window;
    let width = window.width().min(WIDEST);
    Rect::new(window.x1 - width, window.y0, window.x1, window.y0 + HEIGHT)
}

/// How a page is set.
#[derive(Clone, Copy)]
struct Way {
    heights: Heights,
    /// Greatest height of the map, mm.
    map: f64,
    /// Lines kept for what only the record tells.
    lines: f64,
    /// Whether entries stand as close as lines do: a last resort.
    tight: bool,
    /// Whether steps begin a column.
    steps_together: bool,
}

/// A page being set, column after column.
struct Page {
    columns: Vec<Rect>,
    at: usize,
    y: f64,
    marks: Vec<Mark>,
    /// How many entries of each section found no room.
    left_out: Vec<(usize, &'static str)>,
}

impl Page {
    fn is_whole(&self) -> bool {
        self.left_out.is_empty()
    }

    /// Sets all that fits; `None` where something does not that must not be left out.
    fn set(content: &Content<'_>, frame: &PageFrame, way: Way) -> Result<Option<Self>, SheetError> {
        let for_record = pitch(SMALL) * way.lines;
        let (columns, mut marks) = columns(content, frame, way, for_record);
        let Some(last) = columns.last().copied() else {
            return Ok(None);
        };
        let mut page = Self {
            y: columns[0].y1,
            columns,
            at: 0,
            marks: vec![],
            left_out: vec![],
        };
        let mut is_full = false;
        for section in &content.sections {
            let mut set = 0;
            if way.steps_together && section.begins_a_column && page.at + 1 < page.columns.len() {
                page.next_column();
            }
            while !is_full && set < section.entries.len() {
                if !page.put(section, set, way)? {
                    if section.kind.is_empty() {
                        return Ok(None);
                    }
                    is_full = true;
                    break;
                }
                set += 1;
            }
            if set < section.entries.len() {
                page.left_out
                    .push((section.entries.len() - set, section.kind));
            }
        }
        for (index, line) in page.about_record(last.width()).into_iter().enumerate() {
            let y = last.y0 - pitch(SMALL) * (index + 1) as f64;
            let line = Style::heavy(SMALL).at(line, (last.x0, y));
            page.marks
                .push(line.said(Said::line(Role::Paragraph, index)));
        }
        // What is read out begins with the headline.
        marks.extend(page.marks);
        page.marks = marks;
        Ok(Some(page))
    }

    /// Sets one entry, with its section's heading over the first, in this column or one after it.
    fn put(&mut self, section: &Section<'_>, index: usize, way: Way) -> Result<bool, SheetError> {
        let text = section.height(way.heights);
        while let Some(room) = self.columns.get(self.at).copied() {
            let heading = (index == 0 && !section.heading.is_empty())
                .then(|| setting::heading(&section.heading, room.width()));
            let mut pieces = heading.unwrap_or_default();
            if let Some(first) = pieces.first_mut() {
                first.space = if way.tight { 0.7 } else { 1.0 } * OVER_HEADING;
            }
            let entry = &section.entries[index];
            let after_heading = !pieces.is_empty();
            for (number, mut piece) in entry
                .pieces(room.width(), text, way.map)?
                .into_iter()
                .enumerate()
            {
                if number == 0 {
                    piece.space = entry.space(text, index == 0 && after_heading, way.tight);
                }
                pieces.push(piece);
            }
            let first = self.y >= room.y1;
            let height: f64 = pieces
                .iter()
                .enumerate()
                .map(|(number, piece)| {
                    let space = if number == 0 && first {
                        0.0
                    } else {
                        piece.space
                    };
                    space + piece.height
                })
                .sum();
            if self.y - height < room.y0 - 1e-6 {
                self.next_column();
                continue;
            }
            for (number, piece) in pieces.into_iter().enumerate() {
                if number > 0 || !first {
                    self.y -= piece.space;
                }
                let by = Vec2::new(room.x0, self.y);
                self.marks
                    .extend(piece.marks.iter().map(|mark| mark.moved(by)));
                self.y -= piece.height;
            }
            return Ok(true);
        }
        Ok(false)
    }

    fn next_column(&mut self) {
        self.at += 1;
        self.y = self.columns.get(self.at).map_or(0.0, |next| next.y1);
    }

    /// Where the rest is told, in lines of `width` mm.
    fn about_record(&self, width: f64) -> Vec<String> {
        let mut words = "All else is in the record.".to_owned();
        if !self.left_out.is_empty() {
            let left: Vec<String> = self
                .left_out
                .iter()
                .map(|(count, kind)| match count {
                    1 => format!("1 {kind}"),
                    _ => format!("{count} {kind}s"),
                })
                .collect();
            words = format!("NO ROOM HERE FOR {}: see the record.", left.join(", "));
        }
        lettering::wrap(&words, SMALL, width - 0.5)
    }
}

/// The columns of a page under its headline and over what stands at its foot, and the headline.
fn columns(
    content: &Content<'_>,
    frame: &PageFrame,
    way: Way,
    for_record: f64,
) -> (Vec<Rect>, Vec<Mark>) {
    let room = frame.window.inset(-AIR);
    let text = way.heights.worked_by;
    let head = headline(
        content.title,
        room.width(),
        if way.tight { TIGHT } else { LOOSE },
    );
    let to = Vec2::new(room.x0, room.y1);
    let marks = head.marks.iter().map(|mark| mark.moved(to)).collect();
    let top = room.y1 - head.height - 2.0;
    let card = Entry::CARD_WIDTH;
    let beside = (room.width() - card - GUTTER) / (BESIDE_CARD + GUTTER);
    let fits = ((room.width() + GUTTER) / (NARROWEST * text + GUTTER)).floor();
    let count = fits.max(if beside >= 0.9 { 2.0 } else { 1.0 });
    let even = (room.width() - GUTTER * (count - 1.0)) / count;
    let first = even.max(card).min(room.width());
    let other = (room.width() - first - GUTTER * (count - 1.0)) / (count - 1.0).max(1.0);
    let title = title_room(frame);
    let mut columns = vec![];
    let mut x = room.x0;
    for index in 0..count as usize {
        let width = if index == 0 { first } else { other };
        let over_title = x + width > title.x0;
        let y0 = if over_title {
            title.y1 + OVER_TITLE
        } else {
            room.y0
        };
        columns.push(Rect::new(x, y0, x + width, top));
        x += width + GUTTER;
    }
    if let Some(last) = columns.last_mut() {
        last.y0 += for_record;
    }
    columns.retain(|column| column.height() > 0.0 && column.width() > 0.0);
    (columns, marks)
}
