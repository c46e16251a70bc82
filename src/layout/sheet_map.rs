//! Small pictures on the instruction sheet: how the sheets lie, and the bank card.

use super::grid::{Cell, Grid};
use super::ink::{InkMap, touches};
use super::words::{MIDDLE, PITCH, SMALL, Style, outline, straight};
use crate::draw::ink::{
    Anchor, Ink, Layer, Line, LineType, Mark, PageEdges, Shade, Width, lettering,
};
use kurbo::{Affine, Insets, Point, Rect, RoundedRect, Shape, Size, Vec2};

/// Bank card ISO/IEC 7810 ID-1, mm, and the nominal radius of its corners (read second-hand).
pub(crate) const CARD: Size = Size::new(85.60, 53.98);
const CARD_RADIUS: f64 = 3.18;

/// Air round a sheet's number, mm.
const AIR: f64 = 0.7;

/// Height of a caption line over a picture, mm.
pub(crate) const CAPTION: f64 = PITCH + 1.0;

/// What the map shows.
pub(crate) struct MapSource<'a> {
    /// The grid of sheets.
    pub(crate) grid: &'a Grid,
    /// The work.
    pub(crate) work: &'a [Mark],
    /// Directions of the page's edges.
    pub(crate) edges: PageEdges,
    /// Page number of the first sheet of work.
    pub(crate) first: usize,
}

fn side_words(edges: PageEdges) -> [String; 2] {
    [edges.left, edges.right].map(|direction| direction.word().to_uppercase())
}

/// Room at each side of the picture for its directions, mm.
fn aside(edges: PageEdges) -> f64 {
    let lengths = side_words(edges).map(|word| lettering::width(&word, SMALL));
    lengths.into_iter().fold(0.0, f64::max) + 2.0
}

/// Height of the map with its captions where it fills `width` mm.
pub(crate) fn map_height(source: &MapSource<'_>, width: f64) -> f64 {
    let extent = source.grid.extent();
    let picture = width - 2.0 * aside(source.edges);
    picture * extent.height() / extent.width() + CAPTION + 2.0 * (SMALL + 2.0)
}

/// How the sheets lie, in a box with its caption at the head.
pub(crate) fn sheet_map(source: &MapSource<'_>, room: Rect) -> Vec<Mark> {
    let grid = source.grid;
    let small = Style::plain(SMALL);
    let count = grid.kept.len();
    let last = source.first + count - 1;
    let caption = match count {
        1 => format!("The work is on sheet {last}"),
        _ => format!("How sheets {} to {last} lie", source.first),
    };
    let caption_at = (room.x0, room.y1 - SMALL);
    let mut marks = vec![Style::heavy(SMALL).at(&caption, caption_at)];
    if count < grid.rows * grid.columns {
        let x = room.x0 + lettering::width(&caption, SMALL) + 3.0;
        let legend = "dashed: left out";
        if lettering::width(legend, SMALL) <= room.x1 - x {
            marks.push(small.at(legend, (x, caption_at.1)));
        }
    }
    let [left, right] = side_words(source.edges);
    let aside = aside(source.edges);
    let picture = Rect::new(
        room.x0 + aside,
        room.y0 + SMALL + 2.0,
        room.x1 - aside,
        room.y1 - CAPTION - SMALL - 2.0,
    );
    let extent = grid.extent();
    let scale = (picture.width() / extent.width()).min(picture.height() / extent.height());
    let place = Affine::translate(picture.center().to_vec2())
        * Affine::scale(scale)
        * Affine::translate(-extent.center().to_vec2());
    let shown = place.transform_rect_bbox(extent);
    let middle = shown.center();
    let centred = small.anchored(Anchor::Middle);
    let words = |direction: crate::base::Direction| direction.word().to_uppercase();
    marks.push(centred.at(words(source.edges.head), (middle.x, shown.y1 + 2.0)));
    marks.push(centred.at(words(source.edges.foot), (middle.x, shown.y0 - 2.0 - SMALL)));
    let side = middle.y - SMALL / 2.0;
    marks.push(small.anchored(Anchor::End).at(left, (shown.x0 - 2.0, side)));
    marks.push(small.at(right, (shown.x1 + 2.0, side)));

    let ink = shown_ink(source.work, place);
    marks.extend(
        source
            .work
            .iter()
            .filter_map(|mark| small_line(mark, place)),
    );
    let mut number = source.first;
    for row in 0..grid.rows {
        for column in 0..grid.columns {
            let cell = Cell { row, column };
            let share = place.transform_rect_bbox(grid.share_at(cell));
            if grid.kept.contains(&cell) {
                marks.push(outline(share, Width::Medium));
                marks.extend(cell_number(number, share, &ink));
                number += 1;
            } else {
                let line = Line::of(LineType::Dashed, Width::Fine);
                marks.push(Mark::stroke(Layer::Frame, share.to_path(0.01), line));
            }
        }
    }
    marks
}

/// Boxes round what the map shows of the work.
fn shown_ink(work: &[Mark], place: Affine) -> Vec<Rect> {
    let shown: Vec<Mark> = work
        .iter()
        .filter(|mark| small_line(mark, place).is_some())
        .cloned()
        .collect();
    // A map may show nothing of the work: a pattern of holes alone.
    let boxes = InkMap::of(&shown).map_or_else(|_| vec![], |ink| ink.boxes);
    boxes
        .into_iter()
        .map(|ink| place.transform_rect_bbox(ink))
        .collect()
}

/// What an outline of the work becomes on the map; nothing for what is only read at full size.
fn small_line(mark: &Mark, place: Affine) -> Option<Mark> {
    let Ink::Stroke { path, .. } = &mark.ink else {
        return None;
    };
    let line = match mark.layer {
        Layer::Cut => Line::continuous(Width::Medium),
        Layer::Panel => Line::continuous(Width::Fine),
        Layer::Centreline => Line::of(LineType::LongDashDot, Width::Fine),
        _ => return None,
    };
    Some(Mark::stroke(Layer::Frame, place * path.clone(), line))
}

/// A sheet's number where the cell has room for one: clear of the work, else on a cleared ground.
fn cell_number(number: usize, share: Rect, ink: &[Rect]) -> Vec<Mark> {
    let words = number.to_string();
    let fits = |height: f64| {
        lettering::width(&words, height) + 2.0 <= share.width() && height + 2.0 <= share.height()
    };
    let Some(height) = [MIDDLE, SMALL].into_iter().find(|height| fits(*height)) else {
        return vec![];
    };
    let half = Vec2::new(
        lettering::width(&words, height) / 2.0 + AIR,
        height / 2.0 + AIR,
    );
    let room = share.inset(Insets::uniform_xy(-half.x - 0.3, -half.y - 0.3));
    let places = [
        room.center(),
        Point::new(room.x0, room.y1),
        Point::new(room.x1, room.y1),
        Point::new(room.x0, room.y0),
        Point::new(room.x1, room.y0),
    ];
    let ground = places.map(|middle| Rect::from_points(middle - half, middle + half));
    let free = ground
        .into_iter()
        .find(|ground| !ink.iter().any(|ink| touches(*ink, *ground)));
    let [_, corner, ..] = ground;
    let ground = free.unwrap_or(corner);
    let baseline = (ground.center().x, ground.y0 + AIR);
    let number = Style::heavy(height)
        .anchored(Anchor::Middle)
        .at(words, baseline);
    if free.is_some() {
        vec![number]
    } else {
        let cleared = Mark::fill(Layer::Frame, ground.to_path(0.01), Shade::White);
        vec![cleared, number]
    }
}

/// The bank card's outline at full size, with its caption over it; hangs from its upper left. In
/// it also stands what the frame of each sheet measures, by which a skewed feed is found.
pub(crate) fn bank_card(corner: Point, frame: Size) -> Vec<Mark> {
    let mut marks =
        vec![Style::heavy(SMALL).at("Scale check without a rule", (corner.x, corner.y - SMALL))];
    let top = corner.y - CAPTION;
    let card = Rect::new(corner.x, top - CARD.height, corner.x + CARD.width, top);
    let path = RoundedRect::from_rect(card, CARD_RADIUS).to_path(0.001);
    marks.push(Mark::stroke(
        Layer::Frame,
        path,
        Line::continuous(Width::Thin),
    ));
    let mm = |length: f64| crate::base::fixed(length, 1);
    let (width, height) = (mm(frame.width), mm(frame.height));
    let diagonal = mm(frame.width.hypot(frame.height));
    let words = [
        "Lay a bank card here.",
        "It must cover the outline exactly:",
        "85.60 x 53.98 mm (ISO/IEC 7810 ID-1).",
        "",
        &format!("Frame of each sheet: {width} x {height} mm;"),
        &format!("corner to corner {diagonal} mm, both ways."),
    ];
    let style = Style::plain(SMALL).anchored(Anchor::Middle);
    let middle = card.center();
    for (index, line) in words.iter().enumerate() {
        if line.is_empty() {
            continue;
        }
        let y = middle.y + 2.5 * PITCH - SMALL / 2.0 - PITCH * index as f64;
        marks.push(style.at(*line, (middle.x, y)));
    }
    // Ticks at the middle of each side, where a card's edge is easiest to judge.
    for (at, out) in [
        (Point::new(card.x0, middle.y), Vec2::new(1.0, 0.0)),
        (Point::new(card.x1, middle.y), Vec2::new(-1.0, 0.0)),
        (Point::new(middle.x, card.y0), Vec2::new(0.0, 1.0)),
        (Point::new(middle.x, card.y1), Vec2::new(0.0, -1.0)),
    ] {
        marks.push(Mark::stroke(
            Layer::Frame,
            straight(at, at + 2.5 * out),
            Line::continuous(Width::Thin),
        ));
    }
    marks
}
