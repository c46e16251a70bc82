//! What finds no place beside what it is about: a number in a circle there, and a sentence under
//! that number on the front page.

use super::dimension::{LabelLine, label, stroke};
use super::field::{Field, clear_of_start};
use super::leader::rays;
use super::offer::Candidate;
use super::offer::{Later, Offer};
use crate::draw::ink::{Anchor, Layer, Line as Pen, Mark, Text, Width, lettering};
use crate::geometry::outline::CURVE_TOLERANCE;
use kurbo::{Circle, Line, Point, Rect, Shape, Vec2};

/// Height of the number, mm.
const HEIGHT: f64 = super::dimension::WORKED_BY;

/// From the number to its circle, mm.
const AIR: f64 = 0.7;

/// Between places that are tried for a number that can stand nowhere near, mm.
const STEP: f64 = 4.0;

impl Field {
    /// As [`Field::place`]; where no candidate finds a place, a number stands at the target, or as
    /// near as it can, and the sentence is noted under it, so that nothing is left untold.
    pub(super) fn place_or_note(
        &mut self,
        candidates: impl IntoIterator<Item = impl Offer>,
        target: Point,
        sentence: &str,
        layer: Layer,
    ) -> Vec<Mark> {
        if let Some(marks) = self.place(candidates) {
            return marks;
        }
        let number = self.numbered + self.notes.len() + 1;
        self.notes.push(format!("{number}: {sentence}"));
        let radius = radius(number);
        let near = rays().map(|(direction, length, cost)| {
            Later::new(cost, move || {
                let middle = target + direction * (length + radius);
                let mut candidate = balloon(middle, number, layer);
                let line = Line::new(target, target + direction * length);
                candidate.lines.push(clear_of_start(line, AIR));
                candidate.marks.push(stroke(layer, line));
                candidate
            })
        });
        if let Some(marks) = self.place(near) {
            return marks;
        }
        let anywhere: Vec<_> = self
            .places(target, radius)
            .map(|middle| {
                Later::new(middle.distance(target), move || {
                    balloon(middle, number, layer)
                })
            })
            .collect();
        self.place(anywhere).unwrap_or_default()
    }

    /// Places for a number on the sheets that show the target.
    fn places(&self, target: Point, radius: f64) -> impl Iterator<Item = Point> {
        let on_sheet = self.rooms.rooms.iter().zip(&self.rooms.windows);
        let rooms = on_sheet.filter(move |(_, window)| window.contains(target));
        rooms.flat_map(move |(room, _)| {
            // A room without end is looked through about the target.
            let about = Rect::from_center_size(target, (400.0, 400.0)).intersect(*room);
            let inner = about.inset(-radius);
            let count = |length: f64| (length.max(0.0) / STEP) as usize;
            let (columns, rows) = (count(inner.width()), count(inner.height()));
            (0..=columns).flat_map(move |column| {
                (0..=rows)
                    .map(move |row| inner.origin() + Vec2::new(column as f64, row as f64) * STEP)
            })
        })
    }
}

/// The sentences under their numbers, as lines from an upper left corner down.
pub(crate) fn note_list(notes: &[String], upper_left: Point) -> Vec<Mark> {
    let line = |note: &String| LabelLine::new(note.as_str(), HEIGHT);
    let lines: Vec<LabelLine> = notes.iter().map(line).collect();
    label(upper_left, &lines, Layer::Text).marks
}

fn radius(number: usize) -> f64 {
    let half = lettering::width(&number.to_string(), HEIGHT) / 2.0;
    half.hypot(HEIGHT / 2.0) + AIR
}

/// A number in a circle.
fn balloon(middle: Point, number: usize, layer: Layer) -> Candidate {
    let circle = Circle::new(middle, radius(number));
    let text = Text {
        words: number.to_string(),
        at: middle - Vec2::new(0.0, HEIGHT / 2.0),
        height: HEIGHT,
        anchor: Anchor::Middle,
        turn: 0.0,
        heavy: true,
    };
    Candidate {
        marks: vec![
            Mark::stroke(
                layer,
                circle.to_path(CURVE_TOLERANCE),
                Pen::continuous(Width::Thin),
            ),
            Mark::text(layer, text),
        ],
        area: Some(circle.bounding_box()),
        ..Candidate::default()
    }
}
