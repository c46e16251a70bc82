//! A regular grid of windows over the work, and which of them are printed.

use super::ink::touches;
use kurbo::{Point, Rect, Size};
use std::collections::{BTreeSet, VecDeque};

/// Closeness under which lengths count as equal, mm, so that a work of exactly one window's
/// length takes one sheet.
pub(crate) const CLOSE: f64 = 1e-6;

/// Windows needed along one direction for a length of work: 1 if it fits, else
/// `ceil((length - overlap) / (usable - overlap))`.
pub(crate) fn windows_needed(length: f64, usable: f64, overlap: f64) -> usize {
    if length <= usable + CLOSE {
        1
    } else {
        ((length - overlap - CLOSE) / (usable - overlap)).ceil() as usize
    }
}

/// Place of a window in the grid: row 0 at the head, column 0 at the left.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Cell {
    /// Row, from the head.
    pub(crate) row: usize,
    /// Column, from the left.
    pub(crate) column: usize,
}

/// Equal windows that overlap, in the drawing's own coordinates.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Grid {
    /// Size of a window, mm.
    pub(crate) window: Size,
    /// What two neighbours share, mm.
    pub(crate) overlap: f64,
    /// Upper left corner of the first window.
    pub(crate) corner: Point,
    /// Columns.
    pub(crate) columns: usize,
    /// Rows.
    pub(crate) rows: usize,
    /// The windows that are printed, row by row from the head.
    pub(crate) kept: Vec<Cell>,
}

impl Grid {
    /// The window at a cell.
    pub(crate) fn window_at(&self, cell: Cell) -> Rect {
        let x0 = self.corner.x + cell.column as f64 * (self.window.width - self.overlap);
        let y1 = self.corner.y - cell.row as f64 * (self.window.height - self.overlap);
        Rect::new(x0, y1 - self.window.height, x0 + self.window.width, y1)
    }

    /// The part of a window that it alone answers for: up to the middle of each overlap.
    pub(crate) fn share_at(&self, cell: Cell) -> Rect {
        let half = self.overlap / 2.0;
        let window = self.window_at(cell);
        let inset = |inner: bool| if inner { half } else { 0.0 };
        Rect::new(
            window.x0 + inset(cell.column > 0),
            window.y0 + inset(cell.row + 1 < self.rows),
            window.x1 - inset(cell.column + 1 < self.columns),
            window.y1 - inset(cell.row > 0),
        )
    }

    /// Keeps the windows whose share holds ink, and those needed so that the sheets hang
    /// together: two islands with no sheet between them could not be laid in place.
    pub(crate) fn keep_inked(&mut self, boxes: &[Rect]) {
        let mut kept = BTreeSet::new();
        for ink in boxes {
            for cell in self.cells_near(*ink) {
                if !kept.contains(&cell) && touches(self.share_at(cell), *ink) {
                    kept.insert(cell);
                }
            }
        }
        self.join_islands(&mut kept);
        self.kept = kept.into_iter().collect();
        self.shed_empty_edges();
    }

    /// How many sheets it takes to print these cells, row by row, so that they hang together.
    pub(crate) fn joined(&self, inked: &[Cell]) -> usize {
        // Each cell but the first of a row next to one before it: no need to look further.
        let mut kept: BTreeSet<Cell> = BTreeSet::new();
        let follows = |(index, cell): (usize, &Cell)| {
            index == 0
                || inked[..index].iter().any(|other| {
                    other.row.abs_diff(cell.row) + other.column.abs_diff(cell.column) == 1
                })
        };
        if inked.iter().enumerate().all(follows) {
            return inked.len();
        }
        kept.extend(inked);
        self.join_islands(&mut kept);
        kept.len()
    }

    /// The cells whose window a box may touch.
    fn cells_near(&self, ink: Rect) -> impl Iterator<Item = Cell> + use<> {
        let (step_x, step_y) = (
            self.window.width - self.overlap,
            self.window.height - self.overlap,
        );
        let index = |along: f64, last: usize| (along.floor().max(0.0) as usize).min(last);
        let columns = index((ink.x0 - self.corner.x) / step_x - 1.0, self.columns - 1)
            ..=index((ink.x1 - self.corner.x) / step_x + 1.0, self.columns - 1);
        let rows = index((self.corner.y - ink.y1) / step_y - 1.0, self.rows - 1)
            ..=index((self.corner.y - ink.y0) / step_y + 1.0, self.rows - 1);
        rows.flat_map(move |row| columns.clone().map(move |column| Cell { row, column }))
    }

    fn neighbours(&self, cell: Cell) -> impl Iterator<Item = Cell> + use<> {
        let (columns, rows) = (self.columns, self.rows);
        [(0, 1), (1, 0), (0, -1), (-1, 0)]
            .into_iter()
            .filter_map(move |(down, across)| {
                let row = cell.row.checked_add_signed(down)?;
                let column = cell.column.checked_add_signed(across)?;
                (row < rows && column < columns).then_some(Cell { row, column })
            })
    }

    /// Joins what hangs apart by the shortest chain of further windows.
    fn join_islands(&self, kept: &mut BTreeSet<Cell>) {
        loop {
            let Some(first) = kept.first().copied() else {
                return;
            };
            let mut island = BTreeSet::from([first]);
            let mut queue = VecDeque::from([first]);
            while let Some(cell) = queue.pop_front() {
                for next in self.neighbours(cell) {
                    if kept.contains(&next) && island.insert(next) {
                        queue.push_back(next);
                    }
                }
            }
            if island.len() == kept.len() {
                return;
            }
            // Breadth first from the whole island: the first window met beyond it is nearest.
            let mut came_from = std::collections::BTreeMap::new();
            let mut queue: VecDeque<Cell> = island.iter().copied().collect();
            let mut reached = None;
            while let (Some(cell), None) = (queue.pop_front(), reached) {
                for next in self.neighbours(cell) {
                    if island.contains(&next) || came_from.contains_key(&next) {
                        continue;
                    }
                    came_from.insert(next, cell);
                    if kept.contains(&next) {
                        reached = Some(next);
                        break;
                    }
                    queue.push_back(next);
                }
            }
            let Some(mut cell) = reached else {
                return;
            };
            while let Some(before) = came_from.get(&cell) {
                kept.insert(cell);
                cell = *before;
            }
        }
    }

    /// Drops outer rows and columns with no printed window.
    fn shed_empty_edges(&mut self) {
        let ends = |along: fn(&Cell) -> usize, kept: &[Cell]| {
            let all = kept.iter().map(along);
            (all.clone().min().unwrap_or(0), all.max().unwrap_or(0))
        };
        let (first_row, last_row) = ends(|cell| cell.row, &self.kept);
        let (first_column, last_column) = ends(|cell| cell.column, &self.kept);
        self.corner = {
            let first = self.window_at(Cell {
                row: first_row,
                column: first_column,
            });
            Point::new(first.x0, first.y1)
        };
        self.rows = last_row - first_row + 1;
        self.columns = last_column - first_column + 1;
        for cell in &mut self.kept {
            cell.row -= first_row;
            cell.column -= first_column;
        }
    }

    /// The box round the whole grid.
    pub(crate) fn extent(&self) -> Rect {
        let first = self.window_at(Cell { row: 0, column: 0 });
        let last = self.window_at(Cell {
            row: self.rows - 1,
            column: self.columns - 1,
        });
        first.union(last)
    }
}
