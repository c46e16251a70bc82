//! How sheets are joined: the edge that is trimmed and the line that it is laid on, the arms of the
//! crosses drawn on over that edge, and two crosses far apart to be checked by a tape.
//!
//! Of two neighbours the later lies over the earlier, trimmed at its window's edge. A cross stands on
//! both, in the strip that they share; the earlier one's is covered then, but for the arm that reaches
//! past the trimmed edge, which must be in line with the arm on the sheet above.

use super::grid::{Cell, Grid};
use super::ink::{InkMap, touches};
use super::register::{RegisterMark, register_marks};
use super::words::{MIDDLE, straight};
use crate::base::length::Units;
use crate::draw::ink::{Anchor, Layer, Line, LineType, Mark, Text, Width, lettering, mark_bounds};
use kurbo::{Circle, Point, Rect, Shape, Vec2};

/// How far an arm reaches past the trimmed edge, mm.
const PAST_EDGE: f64 = 5.0;
/// Air round words in a strip, mm.
const AIR: f64 = 1.0;
/// Step by which words move along a strip in search of a free place, mm.
const STEP: f64 = 4.0;
/// Length of the scissors, mm, and radius of their handles.
const SCISSORS: f64 = 6.0;
const HANDLE: f64 = 0.8;

/// The marks of all joins of a grid, each with the sheet that shows it; `sizes_in` is the unit of the
/// sizes on the sheets.
pub(super) fn joins(
    grid: &Grid,
    ink: &InkMap,
    sizes_in: &str,
    number_of: impl Fn(Cell) -> Option<usize>,
) -> Vec<(Cell, Mark)> {
    let crosses = register_marks(grid, ink, &number_of);
    let check = farthest(&crosses).map(|[one, other]| {
        let distance = one.at.distance(other.at);
        let distance = match sizes_in {
            "in" => Units::In.length(distance),
            _ => Units::Mm.length(distance),
        };
        let words = format!("{} to {}: {distance}", one.label, other.label);
        ([one.cells, other.cells], words)
    });
    let mut marks = vec![];
    for pair in crosses.chunks(2) {
        let [first, second] = pair[0].cells;
        for cross in pair {
            for mark in &cross.marks {
                marks.extend([(first, mark.clone()), (second, mark.clone())]);
            }
        }
        let mut strip = Strip::of(grid, first, second, pair);
        marks.push((first, strip.lay_line()));
        for cross in pair {
            let arms = strip.arms(cross, ink);
            marks.extend(arms.map(|(on, mark)| ([first, second][on], mark)));
        }
        let number = number_of(second).unwrap_or_default();
        let lies = strip.words(&format!("sheet {number} to this line"), false, ink);
        marks.extend(lies.into_iter().map(|mark| (first, mark)));
        let cut = strip.words("cut along the frame", true, ink);
        let cut_at: Vec<Rect> = cut.iter().map(mark_bounds).collect();
        marks.extend(cut.into_iter().map(|mark| (second, mark)));
        if let Some((between, words)) = &check
            && between.contains(&pair[0].cells)
        {
            // The later sheet lies on top and can be read.
            strip.taken.extend(cut_at);
            let check = strip.words(words, false, ink);
            marks.extend(check.into_iter().map(|mark| (second, mark)));
        }
    }
    marks
}

/// The two crosses of different joins that are farthest apart; none for a single join, which has
/// nothing to go askew.
fn farthest(crosses: &[RegisterMark]) -> Option<[&RegisterMark; 2]> {
    let pairs = crosses
        .iter()
        .enumerate()
        .flat_map(|(index, one)| crosses[index + 1..].iter().map(move |other| [one, other]));
    pairs
        .filter(|[one, other]| one.cells != other.cells)
        .max_by(|a, b| {
            let apart = |[one, other]: &[&RegisterMark; 2]| one.at.distance(other.at);
            apart(a).total_cmp(&apart(b))
        })
}

/// The strip that two neighbours share.
struct Strip {
    /// It runs up the page.
    upright: bool,
    band: Rect,
    /// Ends of the edge that is trimmed.
    edge: [Point; 2],
    /// From the edge into the strip.
    inward: Vec2,
    /// Boxes of its crosses.
    taken: Vec<Rect>,
}

impl Strip {
    fn of(grid: &Grid, first: Cell, second: Cell, crosses: &[RegisterMark]) -> Self {
        let band = grid.window_at(first).intersect(grid.window_at(second));
        let upright = first.row == second.row;
        let (edge, inward) = if upright {
            let x = band.x0;
            ([(x, band.y0), (x, band.y1)], Vec2::new(1.0, 0.0))
        } else {
            let y = band.y1;
            ([(band.x0, y), (band.x1, y)], Vec2::new(0.0, -1.0))
        };
        let marks = crosses.iter().flat_map(|cross| &cross.marks);
        Self {
            upright,
            band,
            edge: edge.map(Point::from),
            inward,
            taken: marks.map(mark_bounds).collect(),
        }
    }

    /// Where the trimmed edge of the later sheet comes to lie on the earlier one.
    fn lay_line(&self) -> Mark {
        let line = Line::of(LineType::Dashed, Width::Thin);
        Mark::stroke(Layer::Frame, straight(self.edge[0], self.edge[1]), line)
    }

    /// The arm of a cross from its end to the edge, on the later sheet; and past it, on the earlier
    /// one, where nothing stands.
    fn arms(&self, cross: &RegisterMark, ink: &InkMap) -> impl Iterator<Item = (usize, Mark)> {
        let off = (cross.at - self.edge[0]).dot(self.inward);
        let on_edge = cross.at - self.inward * off;
        let end = on_edge + self.inward * (off - cross.arm_across);
        let past = on_edge - self.inward * PAST_EDGE;
        let free = |from: Point, to: Point| {
            let arm = Rect::from_points(from, to).inflate(0.3, 0.3);
            !ink.boxes.iter().any(|ink| touches(*ink, arm))
        };
        let arm = |from: Point| {
            Mark::stroke(
                Layer::Frame,
                straight(from, end),
                Line::continuous(Width::Thin),
            )
        };
        let short = (off - cross.arm_across > 0.2).then(|| (1, arm(on_edge)));
        let from = if free(past, on_edge) { past } else { on_edge };
        short.into_iter().chain([(0, arm(from))])
    }

    /// Words along the strip, with scissors before them where it is cut, nearest its middle; none
    /// where ink leaves no room.
    fn words(&self, words: &str, scissors: bool, ink: &InkMap) -> Vec<Mark> {
        let lead = if scissors { SCISSORS + AIR } else { 0.0 };
        let length = lead + lettering::width(words, MIDDLE);
        let (from, to) = match self.upright {
            true => (self.band.y0, self.band.y1),
            false => (self.band.x0, self.band.x1),
        };
        let middle = (from + to - length) / 2.0;
        let reach = ((to - from - length) / 2.0 - self.thickness()).max(0.0);
        let count = (reach / STEP) as usize;
        let starts = (0..=count).flat_map(|step| {
            let by = STEP * step as f64;
            [middle + by, middle - by]
        });
        let place = |start: f64| self.place(start - AIR, start + length + AIR);
        let free = |start: &f64| {
            let place = place(*start);
            !ink.boxes
                .iter()
                .chain(&self.taken)
                .any(|ink| touches(*ink, place))
        };
        let Some(start) = starts.into_iter().find(free) else {
            return vec![];
        };
        let mut marks = vec![Mark::text(Layer::Frame, self.text(words, start + lead))];
        if scissors {
            marks.extend(self.scissors(start));
        }
        marks
    }

    fn thickness(&self) -> f64 {
        match self.upright {
            true => self.band.width(),
            false => self.band.height(),
        }
    }

    /// The box of a length of the strip, over the height of its words.
    fn place(&self, from: f64, to: f64) -> Rect {
        let middle = self.band.center();
        let half = MIDDLE / 2.0 + 0.4;
        match self.upright {
            true => Rect::new(middle.x - half, from, middle.x + half, to),
            false => Rect::new(from, middle.y - half, to, middle.y + half),
        }
    }

    /// So far along the strip and so far to the left of its middle as it is read.
    fn point(&self, along: f64, left: f64) -> Point {
        let middle = self.band.center();
        match self.upright {
            true => Point::new(middle.x - left, along),
            false => Point::new(along, middle.y + left),
        }
    }

    fn text(&self, words: &str, start: f64) -> Text {
        Text {
            words: words.into(),
            at: self.point(start, -MIDDLE / 2.0),
            height: MIDDLE,
            anchor: Anchor::Start,
            turn: if self.upright { 90.0 } else { 0.0 },
            heavy: false,
        }
    }

    /// Two blades that cross, each with a round handle.
    fn scissors(&self, start: f64) -> Vec<Mark> {
        let line = Line::continuous(Width::Thin);
        let handle = |left: f64| {
            let circle = Circle::new(self.point(start + HANDLE, left), HANDLE);
            Mark::stroke(Layer::Frame, circle.to_path(0.01), line)
        };
        let blade = |left: f64| {
            let from = self.point(start + 2.0 * HANDLE, left);
            let to = self.point(start + SCISSORS, -0.8 * left);
            Mark::stroke(Layer::Frame, straight(from, to), line)
        };
        vec![handle(0.9), handle(-0.9), blade(0.7), blade(-0.7)]
    }
}
