//! Small pictures on the instruction sheet: how the sheets lie, and the bank card.

use super::grid::{Cell, Grid};
use super::words::{MIDDLE, PITCH, SMALL, Style, outline, straight};
use crate::drawing::{
    Anchor, Ink, Layer, Line, LineType, Mark, PageEdges, Shade, Width, lettering,
};
use kurbo::{Affine, Point, Rect, RoundedRect, Shape, Size, Vec2};

/// Bank card ISO/IEC 7810 ID-1, mm, and the nominal radius of its corners (read second-hand).
pub(crate) const CARD: Size = Size::new(85.60, 53.98);
const CARD_RADIUS: f64 = 3.18;

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
    let mut marks = vec![Style::heavy(SMALL).at(caption, (room.x0, room.y1 - SMALL))];
    let sides =
        [source.edges.left, source.edges.right].map(|direction| direction.word().to_uppercase());
    let aside = sides
        .iter()
        .map(|word| lettering::width(word, SMALL))
        .fold(0.0, f64::max)
        + 2.0;
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
    let words = |direction: crate::panel::Direction| direction.word().to_uppercase();
    marks.push(centred.at(words(source.edges.head), (middle.x, shown.y1 + 2.0)));
    marks.push(centred.at(words(source.edges.foot), (middle.x, shown.y0 - 2.0 - SMALL)));
    let side = middle.y - SMALL / 2.0;
    let [left, right] = sides;
    marks.push(small.anchored(Anchor::End).at(left, (shown.x0 - 2.0, side)));
    marks.push(small.at(right, (shown.x1 + 2.0, side)));

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
                marks.extend(cell_number(number, share));
                number += 1;
            } else {
                let line = Line::of(LineType::Dashed, Width::Fine);
                marks.push(Mark::stroke(Layer::Frame, share.to_path(0.01), line));
            }
        }
    }
    marks
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

/// A sheet's number on a cleared ground, where the cell has room for one.
fn cell_number(number: usize, share: Rect) -> Vec<Mark> {
    let words = number.to_string();
    let fits = |height: f64| {
        lettering::width(&words, height) + 2.0 <= share.width() && height + 2.0 <= share.height()
    };
    let Some(height) = [MIDDLE, SMALL].into_iter().find(|height| fits(*height)) else {
        return vec![];
    };
    let middle = share.center();
    let half = Vec2::new(
        lettering::width(&words, height) / 2.0 + 0.8,
        height / 2.0 + 0.8,
    );
    let ground = Rect::from_points(middle - half, middle + half).intersect(share);
    vec![
        Mark::fill(Layer::Frame, ground.to_path(0.01), Shade::White),
        Style::heavy(height)
            .anchored(Anchor::Middle)
            .at(words, (middle.x, middle.y - height / 2.0)),
    ]
}

/// The bank card's outline at full size, with its caption over it; hangs from its upper left.
pub(crate) fn bank_card(corner: Point) -> Vec<Mark> {
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
    let words = [
        "Lay a bank card here.",
        "It must cover the outline exactly:",
        "85.60 x 53.98 mm (ISO/IEC 7810 ID-1).",
    ];
    let style = Style::plain(SMALL).anchored(Anchor::Middle);
    let middle = card.center();
    for (index, line) in words.iter().enumerate() {
        let y = middle.y + PITCH - SMALL / 2.0 - PITCH * index as f64;
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
