//! Register marks: a cross at both ends of each join, the same on both sheets.

use super::grid::{Cell, Grid};
use super::ink::{InkMap, touches};
use super::words::{MIDDLE, straight};
use crate::draw::ink::{Anchor, Layer, Line, Mark, Text, Width, lettering};
use kurbo::{Point, Rect};

/// Half the length of a cross along its join, mm.
const ARM: f64 = 4.0;
/// Clear space round a mark and its label, mm.
const CLEAR: f64 = 0.75;
/// Share of the overlap that a mark takes which stands at one side of it, and the least half of
/// that, mm: room for its label.
const ASIDE: f64 = 0.4;
const LEAST_HALF: f64 = 1.8;
/// Step by which a mark moves along its join in search of a free place, mm.
const STEP: f64 = 2.0;

/// One register mark, in the drawing's coordinates.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct RegisterMark {
    /// The two sheets that carry it.
    pub(crate) cells: [Cell; 2],
    /// Its name on both.
    pub(crate) label: String,
    /// Middle of its cross.
    pub(crate) at: Point,
    /// Half the length of the cross across its join, mm.
    pub(crate) arm_across: f64,
    /// Cross and label.
    pub(crate) marks: Vec<Mark>,
}

/// The marks of every join between printed sheets.
///
/// `page_number` gives a cell's number, by which labels read `3-4A`: sheets 3 and 4, first mark.
/// Each stands within both windows, as near the end of its join as the ink allows.
pub(crate) fn register_marks(
    grid: &Grid,
    ink: &InkMap,
    page_number: impl Fn(Cell) -> Option<usize>,
) -> Vec<RegisterMark> {
    let mut found = Vec::new();
    for cell in &grid.kept {
        let right = Cell {
            column: cell.column + 1,
            ..*cell
        };
        let below = Cell {
            row: cell.row + 1,
            ..*cell
        };
        for next in [right, below] {
            let (Some(first), Some(second)) = (page_number(*cell), page_number(next)) else {
                continue;
            };
            let band = grid.window_at(*cell).intersect(grid.window_at(next));
            // The ends where four sheets may lie over each other are left free.
            let join = Join::of(band, grid.overlap);
            for (letter, from_start) in [("A", true), ("B", false)] {
                let label = format!("{first}-{second}{letter}");
                let (join, footprint) = join.settled(&label, from_start, ink);
                found.push(RegisterMark {
                    cells: [*cell, next],
                    at: join.point(footprint + ARM + CLEAR),
                    arm_across: join.arm_across(),
                    marks: join.mark(&label, footprint),
                    label,
                });
            }
        }
    }
    found
}

/// A join's overlap: along it, and across it.
#[derive(Clone, Copy)]
struct Join {
    upright: bool,
    from: f64,
    to: f64,
    middle: f64,
    half: f64,
}

impl Join {
    fn of(band: Rect, overlap: f64) -> Self {
        let upright = band.height() > band.width();
        let (from, to, middle) = if upright {
            (band.y0, band.y1, (band.x0 + band.x1) / 2.0)
        } else {
            (band.x0, band.x1, (band.y0 + band.y1) / 2.0)
        };
        Self {
            upright,
            from: from + overlap,
            to: to - overlap,
            middle,
            half: overlap / 2.0,
        }
    }

    fn point(&self, along: f64) -> Point {
        if self.upright {
            Point::new(self.middle, along)
        } else {
            Point::new(along, self.middle)
        }
    }

    /// The box of a length of the join, over the height of a mark.
    fn stretch(&self, from: f64, to: f64) -> Rect {
        let half = self.arm_across().max(MIDDLE / 2.0) + CLEAR / 2.0;
        let half = half.min(self.half);
        if self.upright {
            Rect::new(self.middle - half, from, self.middle + half, to)
        } else {
            Rect::new(from, self.middle - half, to, self.middle + half)
        }
    }

    /// Half the length of the cross across the join: inside both windows.
    fn arm_across(&self) -> f64 {
        (self.half - 0.5).clamp(0.8, ARM)
    }

    fn length(label: &str) -> f64 {
        2.0 * (CLEAR + ARM) + CLEAR + lettering::width(label, MIDDLE) + CLEAR
    }

    /// Where a mark stands and begins: in the middle of the overlap, or, where the cut line runs
    /// along there, at one side of it.
    fn settled(self, label: &str, from_start: bool, ink: &InkMap) -> (Self, f64) {
        let clear = |join: Self| {
            let start = join.free_place(label, from_start, ink);
            let stretch = join.stretch(start, start + Self::length(label));
            let on_cut = ink.cut.iter().any(|cut| touches(*cut, stretch));
            (!on_cut).then_some((join, start))
        };
        let half = (ASIDE * self.half).max(LEAST_HALF).min(self.half);
        let aside = |side: f64| Self {
            middle: self.middle + side * (self.half - half),
            half,
            ..self
        };
        clear(self)
            .or_else(|| clear(aside(1.0)))
            .or_else(|| clear(aside(-1.0)))
            .unwrap_or_else(|| (self, self.free_place(label, from_start, ink)))
    }

    /// Where a mark begins: nearest its end of the join without ink, else without cut line, else at
    /// the end itself. Marks of the two ends keep to their own halves.
    fn free_place(&self, label: &str, from_start: bool, ink: &InkMap) -> f64 {
        let length = Self::length(label);
        let room = ((self.to - self.from) / 2.0 - length).max(0.0);
        let place = |moved: f64| {
            if from_start {
                self.from + moved
            } else {
                self.to - moved - length
            }
        };
        let band = self.stretch(self.from, self.to);
        let near = |boxes: &[Rect]| -> Vec<Rect> {
            boxes
                .iter()
                .copied()
                .filter(|ink| touches(*ink, band))
                .collect()
        };
        for obstacles in [near(&ink.boxes), near(&ink.cut)] {
            let mut moved = 0.0;
            while moved <= room {
                let start = place(moved);
                let stretch = self.stretch(start, start + length);
                if !obstacles.iter().any(|ink| touches(*ink, stretch)) {
                    return start;
                }
                moved += STEP;
            }
        }
        place(0.0)
    }

    fn mark(&self, label: &str, start: f64) -> Vec<Mark> {
        let centre = start + CLEAR + ARM;
        let across = self.arm_across();
        let (along, aside) = if self.upright {
            let at = self.point(centre);
            (
                straight(self.point(centre - ARM), self.point(centre + ARM)),
                straight((at.x - across, at.y), (at.x + across, at.y)),
            )
        } else {
            let at = self.point(centre);
            (
                straight(self.point(centre - ARM), self.point(centre + ARM)),
                straight((at.x, at.y - across), (at.x, at.y + across)),
            )
        };
        let line = Line::continuous(Width::Thin);
        let words = self.point(centre + ARM + CLEAR);
        let (at, turn) = if self.upright {
            (Point::new(words.x + MIDDLE / 2.0, words.y), 90.0)
        } else {
            (Point::new(words.x, words.y - MIDDLE / 2.0), 0.0)
        };
        let text = Text {
            words: label.into(),
            at,
            height: MIDDLE,
            anchor: Anchor::Start,
            turn,
            heavy: false,
        };
        vec![
            Mark::stroke(Layer::Register, along, line),
            Mark::stroke(Layer::Register, aside, line),
            Mark::text(Layer::Register, text),
        ]
    }
}
