//! The measuring sheet: one page to fill in at the vehicle, with the questions' own words.

mod panel;

use super::choices;
use super::list::questions;
use super::openings::blank;
use super::question::{Blank, BlankKind, Question};
use crate::base::Direction;
use crate::base::length::Units;
use crate::draw::ink::{Anchor, Layer, Line, LineType, Mark, Text, Width, lettering};
use crate::input::families::Library;
use crate::layout::{Page, PageKind, SheetSet};
use crate::model::panel::Face;
use kurbo::{Point, Rect, Shape, Size, Vec2};
use toml_edit::DocumentMut;

/// Lettering, mm; none of it smaller, as it is read at arm's length under a vehicle.
const SMALL: f64 = 3.5;
const LARGE: f64 = 5.0;
/// From one line of small lettering to the next, mm.
const PITCH: f64 = 5.2;
/// Height of a box to write in, mm: for a gloved hand.
const BOX: f64 = 10.0;
/// Side of a box to tick, mm.
const TICK: f64 = 5.0;
/// From a box to tick to its word, and the most from there to the next box, mm.
const TO_WORD: f64 = 1.5;
const MOST_BETWEEN: f64 = 14.0;
/// The least there, mm, where they stand beside their question.
const LEAST_BETWEEN: f64 = 2.5;
/// Between two cards, mm.
const GAP: f64 = 2.5;
/// From the paper's edge, mm: more than printers leave white.
const MARGIN: f64 = 8.0;
/// Least height of the picture, mm.
const PICTURE: f64 = 35.0;

/// What stands side by side on the sheet, from its head: questions with the rows that are left for
/// each. What is asked of every pattern comes first.
const LINES: [&[(&str, usize)]; 9] = [
    &[("seen-from", 1)],
    &[("datum-edge", 1)],
    &[("width", 1), ("thickness", 1), ("material", 1)],
    &[("pairs", 2), ("locators", 2)],
    &[("part.1.what", 1), ("part.1.size", 1)],
    &[("part.1.at", 1), ("open-at-edge", 1)],
    &[("edge", 2), ("rise", 1)],
    &[("rake", 1), ("gap", 1), ("zero", 1)],
    &[("keep-outs", 1)],
];

/// The letters by which the picture shows the blanks of a question.
const LETTERS: [(&str, &[&str]); 5] = [
    ("width", &["A"]),
    ("pairs", &["B", "C", "D"]),
    ("locators", &["E", "F", "G"]),
    ("part.1.at", &["H", "J"]),
    ("part.1.size", &["K", "L"]),
];

/// How somebody stands to the panel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Standing {
    /// The face that is seen, where it is known already.
    pub seen_from: Option<Face>,
    /// The edge that the tape is hooked over, likewise.
    pub datum_edge: Option<Direction>,
}

impl Standing {
    /// As far as a definition says it.
    pub fn of(definition: &DocumentMut) -> Self {
        Self {
            seen_from: choices::face(definition),
            datum_edge: choices::datum_edge(definition),
        }
    }
}

/// The sheet on a page of this size, mm. What is known already is ticked.
///
/// # Errors
/// Paper smaller than A4 and Letter have in common.
pub fn measuring_sheet(
    standing: Standing,
    units: Units,
    page: Size,
) -> Result<SheetSet, &'static str> {
    let (least_width, least_height) = (209.0, 279.0);
    if page.width < least_width || page.height < least_height {
        return Err("a measuring sheet needs paper of A4, Letter or larger, portrait");
    }
    let asked = asked(standing, units);
    let mut pen = Pen {
        marks: vec![],
        standing,
    };
    let room = page.to_rect().inset(-MARGIN);
    let mut y = pen.head(room, units);
    let width = |line: &[(&str, usize)]| (room.width() + GAP) / line.len() as f64 - GAP;
    let heights: f64 = LINES
        .iter()
        .map(|line| height(&asked, line, width(line)) + GAP)
        .sum();
    // What the cards leave is the picture's, the rest of a larger page stays white.
    let picture = (y - room.y0 - heights).clamp(PICTURE, room.width() * 0.45);
    let place = Rect::new(room.x0, y - picture, room.x1, y);
    pen.marks.extend(panel::picture(standing, place));
    y -= picture + GAP;
    for line in LINES {
        let width = width(line);
        let tall = height(&asked, line, width);
        for (column, (id, rows)) in line.iter().enumerate() {
            let x = room.x0 + (width + GAP) * column as f64;
            let place = Rect::new(x, y - tall, x + width, y);
            match asked.iter().find(|own| own.id == *id) {
                Some(question) if stands_beside(question, width) => {
                    pen.row(question, place);
                }
                Some(question) => pen.card(question, *rows, place),
                None => {}
            }
        }
        y -= tall + GAP;
    }
    let title = "Measuring sheet";
    Ok(SheetSet {
        title: title.into(),
        author: String::new(),
        subject: "Tape readings of a panel and its parts".into(),
        issued: String::new(),
        content: String::new(),
        size: page,
        pages: vec![Page {
            kind: PageKind::Record,
            bookmark: title.into(),
            furniture: pen.marks,
            work: vec![],
            window: room,
        }],
    })
}

/// The questions of a definition in which nothing else is answered.
fn asked(standing: Standing, units: Units) -> Vec<Question> {
    let mut definition = blank("sheet");
    let mut known = vec![("units", units.word())];
    known.extend(standing.seen_from.map(|face| ("seen-from", face.word())));
    known.extend(standing.datum_edge.map(|edge| ("datum-edge", edge.word())));
    // With a locator it is asked from which end it was read.
    known.push(("locators", "0, 0"));
    let shapes = Library::shipped();
    for (id, line) in known {
        let asked = questions(&definition, &shapes);
        if let Some(question) = asked.iter().find(|own| own.id == id) {
            // An edge that this face does not have is left open.
            let _ = question.write(&mut definition, &question.rows(line));
        }
    }
    questions(&definition, &shapes)
}

fn has_ticks(blank: &Blank) -> bool {
    matches!(&blank.kind, BlankKind::YesOrNo)
        || matches!(&blank.kind, BlankKind::Choice(words) if words.len() <= 6)
}

/// Whether all of a card are boxes to tick.
fn is_ticked(question: &Question) -> bool {
    question.blanks.len() == 1 && question.blanks.iter().all(has_ticks)
}

/// Words of the boxes to tick.
fn ticked(question: &Question) -> Vec<String> {
    match question.blanks.first().map(|blank| &blank.kind) {
        Some(BlankKind::Choice(choices)) => choices.iter().map(|(word, _)| word.clone()).collect(),
        _ => vec!["yes".into(), "no".into()],
    }
}

/// Width of a box to tick with its word.
fn tick_width(word: &str) -> f64 {
    TICK + TO_WORD + lettering::width(word, SMALL)
}

/// Whether the boxes to tick have room beside their question.
fn stands_beside(question: &Question, width: f64) -> bool {
    let words = ticked(question);
    let boxes: f64 = words
        .iter()
        .map(|word| tick_width(word) + LEAST_BETWEEN)
        .sum();
    is_ticked(question) && lettering::width(&question.words, SMALL) + 2.0 * GAP + boxes <= width
}

/// Lines that words take in this width, two at most.
fn lines(words: &str, width: f64) -> Vec<String> {
    let mut lines = lettering::wrap(words, SMALL, width - 1.0);
    lines.truncate(2);
    lines
}

/// What stands over the boxes of a card of this width: its question, and the name of each blank.
fn over(question: &Question, width: f64) -> (Vec<String>, Vec<Vec<String>>) {
    let own = letters(&question.id);
    let lettered = |letter: Option<&&str>, words: &str| match letter {
        Some(letter) => format!("{letter}  {words}"),
        None => words.to_owned(),
    };
    if let [_] = question.blanks.as_slice() {
        return (
            lines(&lettered(own.first(), &question.words), width),
            vec![],
        );
    }
    let column = width / question.blanks.len() as f64;
    let names = question.blanks.iter().enumerate();
    let names = names.map(|(index, blank)| lines(&lettered(own.get(index), &label(blank)), column));
    (lines(&question.words, width), names.collect())
}

/// Height of what stands over the boxes.
fn height_over(question: &Question, width: f64) -> f64 {
    let (asked, names) = over(question, width);
    let names = names.iter().map(Vec::len).max().unwrap_or(0);
    PITCH * (asked.len() + names) as f64
}

/// Height of a line of cards.
fn height(asked: &[Question], line: &[(&str, usize)], width: f64) -> f64 {
    let card = |(id, rows): &(&str, usize)| {
        let question = asked.iter().find(|own| own.id == *id);
        question.map_or(0.0, |question| {
            if stands_beside(question, width) {
                return TICK + 1.0;
            }
            let boxes = if is_ticked(question) {
                TICK
            } else {
                BOX * *rows as f64
            };
            height_over(question, width) + boxes
        })
    };
    line.iter().map(card).fold(0.0, f64::max)
}

fn letters(id: &str) -> &'static [&'static str] {
    let own = LETTERS.iter().find(|(known, _)| *known == id);
    own.map_or(&[], |(_, letters)| letters)
}

fn words(words: &str, at: Point, height: f64, heavy: bool) -> Mark {
    let text = Text {
        words: words.into(),
        at,
        height,
        anchor: Anchor::Start,
        turn: 0.0,
        heavy,
    };
    Mark::text(Layer::Text, text)
}

fn outline(place: Rect, width: Width) -> Mark {
    Mark::stroke(
        Layer::Frame,
        place.to_path(0.1),
        Line::of(LineType::Continuous, width),
    )
}

struct Pen {
    marks: Vec<Mark>,
    standing: Standing,
}

impl Pen {
    /// Title and who it is for; returns where the rest begins.
    fn head(&mut self, room: Rect, units: Units) -> f64 {
        let at = Point::new(room.x0, room.y1 - LARGE);
        self.marks.push(words("MEASURING SHEET", at, LARGE, true));
        let unit = match units {
            Units::Mm => "all in millimetres",
            Units::In => "all in inches",
        };
        let right = format!("{unit}. Vehicle, date, name:");
        let from = room.x0 + lettering::width("MEASURING SHEET", LARGE) + 6.0;
        self.marks
            .push(words(&right, Point::new(from, at.y), SMALL, false));
        let end = from + lettering::width(&right, SMALL) + 2.0;
        let rule = [Point::new(end, at.y - 0.8), Point::new(room.x1, at.y - 0.8)];
        self.marks.push(panel::line(&rule, Width::Thin));
        at.y - GAP - 1.0
    }

    /// One question with its boxes at the foot of its place, its words over them.
    fn card(&mut self, question: &Question, rows: usize, place: Rect) {
        let (asked, names) = over(question, place.width());
        let mut y = place.y1;
        for line in &asked {
            self.marks
                .push(words(line, Point::new(place.x0, y - SMALL), SMALL, true));
            y -= PITCH;
        }
        let column = place.width() / question.blanks.len() as f64;
        for (index, lines) in names.iter().enumerate() {
            for (number, line) in lines.iter().enumerate() {
                let at = Point::new(
                    place.x0 + column * index as f64,
                    y - SMALL - PITCH * number as f64,
                );
                self.marks.push(words(line, at, SMALL, false));
            }
        }
        let top = place.y1 - height_over(question, place.width());
        if is_ticked(question) {
            return self.ticks(question, Rect::new(place.x0, top - TICK, place.x1, top));
        }
        for row in 0..rows {
            for index in 0..question.blanks.len() {
                let corner = Point::new(
                    place.x0 + column * index as f64,
                    top - BOX * (row as f64 + 1.0),
                );
                let cell = Rect::from_origin_size(corner, Size::new(column, BOX));
                self.marks.push(outline(cell, Width::Thin));
            }
        }
    }

    /// A question with its boxes to tick beside it.
    fn row(&mut self, question: &Question, place: Rect) {
        let at = Point::new(place.x0, place.y0 + (TICK - SMALL) / 2.0);
        self.marks.push(words(&question.words, at, SMALL, true));
        let from = place.x0 + lettering::width(&question.words, SMALL) + 2.0 * GAP;
        self.ticks(
            question,
            Rect::new(from, place.y0, place.x1, place.y0 + TICK),
        );
    }

    /// A box to tick for each word, evenly over the place; what is known is ticked.
    fn ticks(&mut self, question: &Question, place: Rect) {
        let choices = ticked(question);
        let known = match question.id.as_str() {
            "seen-from" => self.standing.seen_from.map(Face::word),
            "datum-edge" => self.standing.datum_edge.map(Direction::word),
            _ => None,
        };
        let wide = |word: &String| tick_width(word);
        let free = place.width() - choices.iter().map(wide).sum::<f64>();
        let between = (free / choices.len() as f64).min(MOST_BETWEEN);
        let mut x = place.x0;
        for word in &choices {
            let corner = Point::new(x, place.y0);
            x += wide(word) + between;
            let cell = Rect::from_origin_size(corner, Size::new(TICK, TICK));
            self.marks.push(outline(cell, Width::Medium));
            if known == Some(word.as_str()) {
                let arms = [cell.origin(), Point::new(cell.x1, cell.y1)];
                let others = [Point::new(cell.x0, cell.y1), Point::new(cell.x1, cell.y0)];
                self.marks.push(panel::line(&arms, Width::Broad));
                self.marks.push(panel::line(&others, Width::Broad));
            }
            let at = corner + Vec2::new(TICK + TO_WORD, (TICK - SMALL) / 2.0);
            self.marks.push(words(word, at, SMALL, false));
        }
    }
}

/// A blank's name, with the words that it takes where these are few and short.
fn label(blank: &Blank) -> String {
    match &blank.kind {
        BlankKind::Choice(words) if words.len() <= 3 => words
            .iter()
            .map(|(word, _)| word.as_str())
            .collect::<Vec<_>>()
            .join(", "),
        _ => blank.label.clone(),
    }
}
