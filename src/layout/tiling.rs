//! The fewest sheets for a drawing: one regular grid, its place free.
//!
//! Every place of the grid on a fine raster is counted against a summed map of the ink; among
//! those with the fewest windows, the one wins whose joins cut least of what should stay whole,
//! then least lettering, then the one that stands most nearly in the middle.

use super::grid::{CLOSE, Cell, Grid, windows_needed};
use super::ink::{InkMap, farther};
use super::summed::{Span, SummedInk};
use kurbo::{Point, Rect, Size};
use std::cmp::Ordering;

/// Places of the grid tried along one direction, at most.
const PLACES: usize = 40;

/// Air between the ink's outer edge and the outermost frame, mm, where there is any: a line of
/// the work that runs along the frame is not seen.
pub(super) const AIR: f64 = 3.0;

/// What a grid costs; less is better, the first difference decides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Cost {
    /// Windows printed.
    pub(crate) sheets: usize,
    /// Places to keep whole that no sheet shows whole.
    pub(crate) lost: u32,
    /// Places to keep whole that a join touches.
    pub(crate) crossed: u32,
    /// Long lines that run along a join, under the tape.
    pub(crate) along: u32,
    /// Words that no sheet shows whole.
    words_lost: u32,
    /// Words that a join touches.
    words_crossed: u32,
    /// Distance from the middle, mm.
    off_centre: f64,
}

impl Cost {
    /// Which of two is better.
    pub(crate) fn compare(&self, other: &Self) -> Ordering {
        let key = |cost: &Self| {
            (
                cost.sheets,
                cost.lost,
                cost.crossed,
                cost.along,
                cost.words_lost,
                cost.words_crossed,
            )
        };
        key(self)
            .cmp(&key(other))
            .then(self.off_centre.total_cmp(&other.off_centre))
    }
}

/// The best grid of windows of this size over the ink, and what it costs.
///
/// `overlap` is less than half of either side of `window`. No more sheets than
/// [`windows_needed`] gives for the box round the ink; fewer where sheets stay empty.
pub(crate) fn tile(ink: &InkMap, keep_whole: &[Rect], window: Size, overlap: f64) -> (Grid, Cost) {
    let bounds = ink.bounds;
    let one = centred(bounds, window, overlap);
    if bounds.width() <= window.width + CLOSE && bounds.height() <= window.height + CLOSE {
        return one;
    }
    let summed = SummedInk::of(&ink.boxes, bounds);
    let columns = axis(
        (bounds.x0, bounds.x1),
        window.width,
        overlap,
        |from, to| summed.across(from, to),
        &intervals(keep_whole, |at| (at.x0, at.x1)),
        &intervals(&ink.words, |at| (at.x0, at.x1)),
        &ink.upright,
    );
    // Along y the grid hangs from its head, so the axis runs down the page.
    let rows = axis(
        (-bounds.y1, -bounds.y0),
        window.height,
        overlap,
        |from, to| summed.down(from, to),
        &intervals(keep_whole, |at| (-at.y1, -at.y0)),
        &intervals(&ink.words, |at| (-at.y1, -at.y0)),
        &ink.level
            .iter()
            .map(|(low, high)| (-high, -low))
            .collect::<Vec<_>>(),
    );
    let at = |across: &Place, down: &Place| Grid {
        corner: Point::new(across.start, -down.start),
        columns: across.count,
        rows: down.count,
        ..one.0.clone()
    };
    let best = |minimal: bool| {
        let mut best: Option<(Cost, &Place, &Place)> = None;
        for across in columns.iter().filter(|place| !minimal || place.minimal) {
            for down in rows.iter().filter(|place| !minimal || place.minimal) {
                let most = best.map_or(usize::MAX, |(cost, ..)| cost.sheets);
                let Some(sheets) = summed.inked(&across.shares, &down.shares, most) else {
                    continue;
                };
                let cost = Cost {
                    sheets,
                    lost: across.keep.lost(&down.keep),
                    crossed: across.keep.crossed(&down.keep),
                    along: across.along + down.along,
                    words_lost: across.words.lost(&down.words),
                    words_crossed: across.words.crossed(&down.words),
                    off_centre: farther(
                        Point::new(across.off_centre, down.off_centre),
                        Point::ZERO,
                    ),
                };
                if best.is_none_or(|(least, ..)| cost.compare(&least).is_lt()) {
                    best = Some((cost, across, down));
                }
            }
        }
        best.map(|(cost, across, down)| {
            let mut grid = at(across, down);
            grid.keep_inked(&ink.boxes);
            let sheets = grid.kept.len();
            (grid, Cost { sheets, ..cost })
        })
    };
    // A grid with a row or column to spare may lose its gain where islands have to be joined.
    let mut found: Vec<_> = [best(false), best(true)].into_iter().flatten().collect();
    found.sort_by(|a, b| a.1.compare(&b.1));
    found.into_iter().next().unwrap_or(one)
}

/// One window with the ink in its middle.
fn centred(bounds: Rect, window: Size, overlap: f64) -> (Grid, Cost) {
    let middle = bounds.center();
    let grid = Grid {
        window,
        overlap,
        corner: Point::new(
            middle.x - window.width / 2.0,
            middle.y + window.height / 2.0,
        ),
        columns: 1,
        rows: 1,
        kept: vec![Cell { row: 0, column: 0 }],
    };
    let cost = Cost {
        sheets: 1,
        lost: 0,
        crossed: 0,
        along: 0,
        words_lost: 0,
        words_crossed: 0,
        off_centre: 0.0,
    };
    (grid, cost)
}

fn intervals(boxes: &[Rect], side: fn(&Rect) -> (f64, f64)) -> Vec<(f64, f64)> {
    boxes.iter().map(side).collect()
}

/// One place of the grid along one direction.
struct Place {
    /// Where the first window begins.
    start: f64,
    /// Windows.
    count: usize,
    /// No more windows than the length needs.
    minimal: bool,
    off_centre: f64,
    /// What each window answers for, on the ink's raster.
    shares: Vec<Span>,
    along: u32,
    keep: Cuts,
    words: Cuts,
}

/// Which of a list of intervals the windows hold whole and the joins touch, one bit each.
struct Cuts {
    whole: Vec<u64>,
    touched: Vec<u64>,
}

impl Cuts {
    fn touched(&self) -> u32 {
        self.touched.iter().map(|bits| bits.count_ones()).sum()
    }

    fn lost(&self, other: &Self) -> u32 {
        let pairs = self.whole.iter().zip(&other.whole);
        pairs.map(|(a, b)| (!(a & b)).count_ones()).sum()
    }

    fn crossed(&self, other: &Self) -> u32 {
        let pairs = self.touched.iter().zip(&other.touched);
        pairs.map(|(a, b)| (a | b).count_ones()).sum()
    }
}

/// The places worth trying along one direction.
fn axis(
    (from, to): (f64, f64),
    window: f64,
    overlap: f64,
    raster: impl Fn(f64, f64) -> Span,
    keep: &[(f64, f64)],
    words: &[(f64, f64)],
    lines: &[(f64, f64)],
) -> Vec<Place> {
    let (length, step) = (to - from, window - overlap);
    let needed = windows_needed(length, window, overlap);
    let covered = |count: usize| count as f64 * step + overlap;
    let slack = (covered(needed) - length).max(0.0);
    let mut offsets = vec![slack / 2.0];
    if needed > 1 {
        offsets.extend((1..PLACES).map(|index| step * index as f64 / PLACES as f64));
        // Closely about the middle too: where there is little slack the raster misses it.
        offsets.extend((1..8).map(|index| slack * f64::from(index) / 8.0));
    }
    let clear = |offset: f64| {
        let count = windows_needed(length + offset, window, overlap);
        offset >= AIR && covered(count) - length - offset >= AIR
    };
    offsets
        .into_iter()
        .enumerate()
        .filter(|(index, offset)| *index == 0 || clear(*offset))
        .map(|(_, offset)| {
            let start = from - offset;
            let count = windows_needed(length + offset, window, overlap);
            let minimal = count <= needed;
            Place {
                start,
                count,
                minimal,
                off_centre: start + covered(count) / 2.0 - (from + to) / 2.0,
                shares: (0..count)
                    .map(|index| {
                        let from = start + index as f64 * step;
                        let first = if index == 0 { 0.0 } else { overlap / 2.0 };
                        let last = if index + 1 == count {
                            0.0
                        } else {
                            overlap / 2.0
                        };
                        raster(from + first, from + window - last)
                    })
                    .collect(),
                along: cuts(lines, start, count, window, overlap).touched(),
                keep: cuts(keep, start, count, window, overlap),
                words: cuts(words, start, count, window, overlap),
            }
        })
        .collect()
}

fn cuts(intervals: &[(f64, f64)], start: f64, count: usize, window: f64, overlap: f64) -> Cuts {
    let step = window - overlap;
    let words = intervals.len().div_ceil(64);
    // Bits past the last interval count as whole, so that they are never counted as lost.
    let mut cuts = Cuts {
        whole: vec![u64::MAX; words],
        touched: vec![0; words],
    };
    let last = count.saturating_sub(1) as f64;
    for (index, (low, high)) in intervals.iter().enumerate() {
        let bit = 1_u64 << (index % 64);
        // The first window that reaches past the interval's end, and the last join before it.
        let nearest = ((low - start) / step).floor().clamp(0.0, last);
        let before = (nearest - 1.0).max(0.0);
        let whole = [before, nearest].into_iter().any(|window_at| {
            let begin = start + window_at * step;
            begin <= *low && *high <= begin + window
        });
        if !whole && let Some(word) = cuts.whole.get_mut(index / 64) {
            *word &= !bit;
        }
        let joins = [nearest - 1.0, nearest, nearest + 1.0];
        let touched = joins.into_iter().any(|join| {
            // Join `n` lies between windows `n - 1` and `n`.
            let begin = start + join * step;
            join >= 1.0 && join <= last && *low <= begin + overlap && begin <= *high
        });
        if touched && let Some(word) = cuts.touched.get_mut(index / 64) {
            *word |= bit;
        }
    }
    cuts
}
