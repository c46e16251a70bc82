//! A raster of the ink, summed, so that a window is known to be empty in four look-ups.

use super::grid::Cell;
use kurbo::Rect;

/// Raster cells along the longer side, at most, which bounds time and memory for any drawing.
const MOST: f64 = 400.0;
/// Finest raster, mm.
const FINEST: f64 = 2.0;

/// How much of the raster's cells hold ink, summed from the upper left.
pub(crate) struct SummedInk {
    bounds: Rect,
    pitch: f64,
    columns: usize,
    rows: usize,
    /// `(columns + 1) * (rows + 1)` sums.
    sums: Vec<u32>,
}

impl SummedInk {
    /// Rasters `boxes`, which lie in `bounds`. A cell that ink touches counts whole, so a window
    /// may be called inked for ink within one raster pitch of it, never empty for ink inside it.
    pub(crate) fn of(boxes: &[Rect], bounds: Rect) -> Self {
        let pitch = (bounds.width().max(bounds.height()) / MOST).max(FINEST);
        let cells = |length: f64| (length / pitch).floor() as usize + 1;
        let (columns, rows) = (cells(bounds.width()), cells(bounds.height()));
        let mut sums = vec![0_u32; (columns + 1) * (rows + 1)];
        let index = |along: f64, count: usize| ((along / pitch).max(0.0) as usize).min(count - 1);
        for ink in boxes {
            let across = index(ink.x0 - bounds.x0, columns)..=index(ink.x1 - bounds.x0, columns);
            for row in index(bounds.y1 - ink.y1, rows)..=index(bounds.y1 - ink.y0, rows) {
                let line = (row + 1) * (columns + 1) + 1;
                for column in across.clone() {
                    sums[line + column] = 1;
                }
            }
        }
        for row in 1..=rows {
            let mut along = 0;
            for column in 1..=columns {
                let here = row * (columns + 1) + column;
                along += sums[here];
                sums[here] = along + sums[here - columns - 1];
            }
        }
        Self {
            bounds,
            pitch,
            columns,
            rows,
            sums,
        }
    }

    /// Raster columns that a stretch across touches.
    pub(crate) fn across(&self, from: f64, to: f64) -> Span {
        self.span(from - self.bounds.x0, to - self.bounds.x0, self.columns)
    }

    /// Raster rows that a stretch down touches; `from` and `to` grow down the page, as `-y`.
    pub(crate) fn down(&self, from: f64, to: f64) -> Span {
        self.span(from + self.bounds.y1, to + self.bounds.y1, self.rows)
    }

    fn span(&self, from: f64, to: f64, count: usize) -> Span {
        let cell =
            |along: f64| ((along / self.pitch).floor() + 1.0).clamp(0.0, count as f64) as usize;
        Span {
            from: cell(from).saturating_sub(1),
            to: cell(to),
        }
    }

    /// Side of a raster cell, mm.
    pub(crate) fn pitch(&self) -> f64 {
        self.pitch
    }

    /// Which boxes of a row of stretches and a column of stretches hold ink, row by row; `false` as
    /// soon as they are more than `most`.
    pub(crate) fn inked(
        &self,
        across: &[Span],
        down: &[Span],
        most: usize,
        found: &mut Vec<Cell>,
    ) -> bool {
        found.clear();
        for (row, rows) in down.iter().enumerate() {
            let top = rows.from * (self.columns + 1);
            let bottom = rows.to * (self.columns + 1);
            for (column, columns) in across.iter().enumerate() {
                let sum = |line: usize, at: usize| self.sums[line + at];
                let empty = rows.from >= rows.to
                    || columns.from >= columns.to
                    || sum(bottom, columns.to) + sum(top, columns.from)
                        == sum(top, columns.to) + sum(bottom, columns.from);
                if !empty {
                    found.push(Cell { row, column });
                    if found.len() > most {
                        return false;
                    }
                }
            }
        }
        true
    }
}

/// Raster cells from `from` up to and without `to`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Span {
    from: usize,
    to: usize,
}
