//! Small pictures on the front page: how the sheets lie, and the bank card.

use super::grid::Cell;
use super::ink::{InkMap, touches};
use super::plan::Plan;
use super::words::{MIDDLE, PITCH, SMALL, Style, outline, straight};
use crate::draw::ink::{
    Anchor, Ink, Layer, Line, LineType, Mark, PageEdges, Role, Said, Shade, Width, lettering,
};
use crate::model::clearance::accepted_readings_in_words;
use kurbo::{Affine, Insets, Point, Rect, RoundedRect, Shape, Size, Vec2};

/// Bank card ISO/IEC 7810 ID-1, mm, and the nominal radius of its corners (read second-hand).
pub(crate) const CARD: Size = Size::new(85.60, 53.98);
const CARD_RADIUS: f64 = 3.18;
/// Length of the ticks at the middle of its sides, mm.
const CARD_TICK: f64 = 2.5;

/// Air round a sheet's number, mm.
const AIR: f64 = 0.7;

/// Height of a caption line over a picture, mm.
const CAPTION: f64 = PITCH + 1.0;

/// What the map shows.
pub(crate) struct MapSource<'a> {
    /// Where the sheets lie.
    pub(crate) plan: &'a Plan,
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
    let extent = source.plan.extent();
    let picture = width - 2.0 * aside(source.edges);
    picture * extent.height() / extent.width() + CAPTION + 2.0 * (SMALL + 2.0)
}

/// How the sheets lie, in a box with its caption at the head.
pub(crate) fn sheet_map(source: &MapSource<'_>, room: Rect) -> Vec<Mark> {
    let grids = &source.plan.grids;
    let small = Style::plain(SMALL);
    let count = source.plan.cells().count();
    let last = source.first + count - 1;
    let caption = match count {
        1 => format!("The work is on sheet {last}"),
        _ => format!("How sheets {} to {last} lie", source.first),
    };
    let caption_at = (room.x0, room.y1 - SMALL);
    let words = Style::heavy(SMALL).at(&caption, caption_at);
    let mut told = vec![words.said(Said::first(Role::Paragraph))];
    let mut marks = vec![];
    if count < grids.iter().map(|grid| grid.rows * grid.columns).sum() {
        let x = room.x0 + lettering::width(&caption, SMALL) + 3.0;
        let legend = "dashed: left out";
        if lettering::width(legend, SMALL) <= room.x1 - x {
            let legend = small.at(legend, (x, caption_at.1));
            told.push(legend.said(Said::first(Role::Paragraph)));
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
    let extent = source.plan.extent();
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
    for grid in grids {
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
    }
    told.extend(pictured(marks, &format!("Map. {caption}")));
    told
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

/// Marks as a picture that shows what `shown` says.
fn pictured(marks: Vec<Mark>, shown: &str) -> impl Iterator<Item = Mark> {
    let figure = Said::first(Role::Figure(shown.into()));
    marks.into_iter().map(move |mark| mark.said(figure.clone()))
}

/// Height of the bank card's outline with the air that its stroke takes, mm.
pub(crate) fn bank_card_height() -> f64 {
    CARD.height + 0.5
}

/// The bank card's outline at full size, hung from its upper left, with all that the scale check
/// needs in it: what rulers must read, and what the frame of each sheet measures, by which a skewed
/// feed is found. Lettering of at most `text` mm.
pub(crate) fn bank_card(text: f64, scale_error: f64, frame: Size) -> Vec<Mark> {
    let card = Rect::new(0.0, -CARD.height, CARD.width, 0.0);
    let path = RoundedRect::from_rect(card, CARD_RADIUS).to_path(0.001);
    let mut marks = vec![Mark::stroke(
        Layer::Frame,
        path,
        Line::continuous(Width::Thin),
    )];
    let mm = |length: f64| crate::base::fixed(length, 1);
    let (width, height) = (mm(frame.width), mm(frame.height));
    let diagonal = mm(frame.width.hypot(frame.height));
    let reads = |nominal, unit| accepted_readings_in_words(nominal, scale_error, unit);
    let lines = [
        (
            true,
            "SCALE CHECK: a rule on every sheet's rulers".to_owned(),
        ),
        (
            false,
            "Read it to half a millimetre (1/64 in) or finer.".into(),
        ),
        (false, format!("100 mm must read {}", reads(100.0, "mm"))),
        (false, format!("4 in must read {}", reads(4.0, "in"))),
        // A card read by eye shows half a millimetre in 85.6, twice what rulers must hold.
        (false, "First look: a bank card covers this outline".into()),
        (
            false,
            "(85.60 x 53.98 mm). Only rulers prove the scale.".into(),
        ),
        (true, "If not: do not cut. Print again at 100 %.".into()),
        (false, format!("Frame of each sheet {width} x {height} mm,")),
        (false, format!("corner to corner {diagonal} mm, both ways")),
    ];
    let room = CARD.width - 2.0 * CARD_TICK - 3.0;
    let fits = |height: &f64| {
        let widest = lines
            .iter()
            .map(|(_, words)| lettering::width(words, *height) + 0.4);
        widest.fold(0.0, f64::max) <= room
    };
    let height = [text, 3.0].into_iter().find(fits).unwrap_or(SMALL);
    let pitch = 1.9 * height;
    let middle = card.center();
    let mut y = middle.y + pitch * (lines.len() - 1) as f64 / 2.0 - height / 2.0;
    let mut told = vec![];
    for (heavy, words) in lines {
        // What goes on with the line before begins small, or in brackets.
        let goes_on = words.starts_with(|first: char| first.is_lowercase() || first == '(');
        let said = Said::line(Role::Paragraph, usize::from(goes_on));
        let style = Style {
            heavy,
            ..Style::plain(height).anchored(Anchor::Middle)
        };
        told.push(style.at(words, (middle.x, y)).said(said));
        y -= pitch;
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
            straight(at, at + CARD_TICK * out),
            Line::continuous(Width::Thin),
        ));
    }
    told.extend(pictured(marks, "Outline of a bank card at full size"));
    told
}
