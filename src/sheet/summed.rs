//! A raster of the ink, summed, so that a window is known to be empty in four look-ups.

use super::grid::{Cell, Grid};
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

    /// Windows of the grid whose share holds ink; `None` as soon as they are more than `most`.
    pub(crate) fn inked(&self, grid: &Grid, most: usize) -> Option<usize> {
        let mut count = 0;
        for row in 0..grid.rows {
            for column in 0..grid.columns {
                if self.any(grid.share_at(Cell { row, column })) {
                    count += 1;
                    if count > most {
                        return None;
                    }
                }
            }
        }
        Some(count)
    }

    fn any(&self, share: Rect) -> bool {
        let low =
            |along: f64, count: usize| ((along / self.pitch).floor().max(0.0) as usize).min(count);
        let high = |along: f64, count: usize| {
            ((along / self.pitch).floor().max(-1.0) + 1.0).min(count as f64) as usize
        };
        let (left, right) = (
            low(share.x0 - self.bounds.x0, self.columns),
            high(share.x1 - self.bounds.x0, self.columns),
        );
        let (top, bottom) = (
            low(self.bounds.y1 - share.y1, self.rows),
            high(self.bounds.y1 - share.y0, self.rows),
        );
        if left >= right || top >= bottom {
            return false;
        }
        let sum = |row: usize, column: usize| self.sums[row * (self.columns + 1) + column];
        sum(bottom, right) + sum(top, left) > sum(top, right) + sum(bottom, left)
    }
}
