//! A raster of the ink, summed, so that a window is known to be empty in four look-ups.

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

    /// How many of the boxes of a row of stretches and a column of stretches hold ink; `None` as
    /// soon as they are more than `most`.
    pub(crate) fn inked(&self, across: &[Span], down: &[Span], most: usize) -> Option<usize> {
        let mut count = 0;
        for row in down {
            let top = row.from * (self.columns + 1);
            let bottom = row.to * (self.columns + 1);
            for column in across {
                let sum = |line: usize, at: usize| self.sums[line + at];
                let empty = row.from >= row.to
                    || column.from >= column.to
                    || sum(bottom, column.to) + sum(top, column.from)
                        == sum(top, column.to) + sum(bottom, column.from);
                if !empty {
                    count += 1;
                    if count > most {
                        return None;
                    }
                }
            }
        }
        Some(count)
    }
}

/// Raster cells from `from` up to and without `to`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Span {
    from: usize,
    to: usize,
}
