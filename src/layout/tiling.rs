//! The fewest sheets for what an island must show: one regular grid, its place free.
//!
//! Every place of the grid on the raster of a summed map of the ink is counted; among those with
//! the fewest windows, the one wins whose joins touch fewest openings, then holes, locators and
//! corners, then the one that shows most of what is wanted besides, then the one that stands most
//! nearly in the middle.

use super::grid::{CLOSE, Cell, Grid, windows_needed};
use super::ink::{InkMap, farther};
use super::summed::{Span, SummedInk};
use crate::draw::ink::Island;
use kurbo::{Point, Rect, Size};
use std::cmp::Ordering;

/// Air between the ink's outer edge and the outermost frame, mm, where there is any: a line of
/// the work that runs along the frame is not seen.
pub(super) const AIR: f64 = 3.0;

/// Room for lettering beside what a single sheet shows, mm, beyond which more is no better.
const FOR_LETTERING: f64 = 25.0;

/// What a grid costs; less is better, the first difference decides.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Cost {
    /// Windows printed.
    pub(crate) sheets: usize,
    /// Openings that fit on a sheet and that a join touches.
    pub(crate) openings: u32,
    /// Places to keep whole that no sheet shows whole.
    pub(crate) lost: u32,
    /// Places to keep whole that a join touches.
    pub(crate) crossed: u32,
    /// Long lines that run along a join, under the tape, or along a frame.
    pub(crate) along: u32,
    /// What is wanted and not shown.
    pub(crate) unshown: u32,
    /// Room for lettering that a single sheet lacks at its narrower side, mm.
    pub(crate) tight: f64,
    /// Distance from the middle, mm.
    off_centre: f64,
}

impl Cost {
    /// Which of two is better.
    pub(crate) fn compare(&self, other: &Self) -> Ordering {
        let key = |cost: &Self| {
            let Self {
                sheets,
                openings,
                lost,
                crossed,
                along,
                unshown,
                ..
            } = *cost;
            (sheets, openings, lost, crossed, along, unshown)
        };
        key(self)
            .cmp(&key(other))
            .then(self.tight.total_cmp(&other.tight))
            .then(self.off_centre.total_cmp(&other.off_centre))
    }

    /// Of two grids together.
    pub(crate) fn and(self, other: Self) -> Self {
        Self {
            sheets: self.sheets + other.sheets,
            openings: self.openings + other.openings,
            lost: self.lost + other.lost,
            crossed: self.crossed + other.crossed,
            along: self.along + other.along,
            unshown: self.unshown + other.unshown,
            tight: self.tight.max(other.tight),
            off_centre: self.off_centre.max(other.off_centre),
        }
    }
}

/// The best grid of windows of this size over the ink that an island must show, and what it costs.
///
/// `overlap` is less than half of either side of `window`. No more sheets than
/// [`windows_needed`] gives for the box round the ink; fewer where sheets stay empty.
pub(crate) fn tile(ink: &InkMap, island: &Island, window: Size, overlap: f64) -> (Grid, Cost) {
    let bounds = ink.bounds;
    let one = single(bounds, &island.wanted, window, overlap);
    if bounds.width() <= window.width + CLOSE && bounds.height() <= window.height + CLOSE {
        return one;
    }
    let summed = SummedInk::of(&ink.boxes, bounds);
    let fitting: Vec<Rect> = island
        .openings
        .iter()
        .copied()
        .filter(|own| own.width() <= window.width && own.height() <= window.height)
        .collect();
    let across = Axis {
        bounds: (bounds.x0, bounds.x1),
        window: window.width,
        overlap,
        pitch: summed.pitch(),
        openings: sides(&fitting, |at| (at.x0, at.x1)),
        places: sides(&island.places, |at| (at.x0, at.x1)),
        wanted: sides(&island.wanted, |at| (at.x0, at.x1)),
        lines: ink.upright.clone(),
    };
    // Along y the grid hangs from its head, so the axis runs down the page.
    let down = Axis {
        bounds: (-bounds.y1, -bounds.y0),
        window: window.height,
        overlap,
        pitch: summed.pitch(),
        openings: sides(&fitting, |at| (-at.y1, -at.y0)),
        places: sides(&island.places, |at| (-at.y1, -at.y0)),
        wanted: sides(&island.wanted, |at| (-at.y1, -at.y0)),
        lines: ink.level.iter().map(|(low, high)| (-high, -low)).collect(),
    };
    let columns = across.places(|from, to| summed.across(from, to));
    let rows = down.places(|from, to| summed.down(from, to));
    let grid_at = |across: &Place, down: &Place| Grid {
        corner: Point::new(across.start, -down.start),
        columns: across.count,
        rows: down.count,
        ..one.0.clone()
    };
    let mut best: Option<(Cost, &Place, &Place)> = None;
    let mut inked: Vec<Cell> = vec![];
    for across in &columns {
        for down in &rows {
            let most = best.map_or(usize::MAX, |(cost, ..)| cost.sheets);
            if !summed.inked(&across.shares, &down.shares, most, &mut inked) {
                continue;
            }
            let sheets = grid_at(across, down).joined(&inked);
            if sheets > most {
                continue;
            }
            let cost = Cost {
                sheets,
                openings: across.openings.crossed(&down.openings),
                lost: across.keep.lost(&down.keep),
                crossed: across.keep.crossed(&down.keep),
                along: across.along + down.along,
                unshown: across.wanted.lost(&down.wanted),
                tight: 0.0,
                off_centre: farther(Point::new(across.off_centre, down.off_centre), Point::ZERO),
            };
            if best.is_none_or(|(least, ..)| cost.compare(&least).is_lt()) {
                best = Some((cost, across, down));
            }
        }
    }
    best.map_or(one.clone(), |(cost, across, down)| {
        let mut grid = grid_at(across, down);
        grid.keep_inked(&ink.boxes);
        let sheets = grid.kept.len();
        (grid, Cost { sheets, ..cost })
    })
}

/// One window over the ink and as much of what is wanted as goes on it with it.
fn single(bounds: Rect, wanted: &[Rect], window: Size, overlap: f64) -> (Grid, Cost) {
    let holds = |all: Rect| {
        all.width() + 2.0 * AIR <= window.width && all.height() + 2.0 * AIR <= window.height
    };
    let mut shown = bounds;
    let mut unshown = 0;
    for place in wanted {
        if holds(shown.union(*place)) {
            shown = shown.union(*place);
        } else {
            unshown += 1;
        }
    }
    let middle = shown.center();
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
    let spare = (window.width - shown.width()).min(window.height - shown.height());
    let cost = Cost {
        sheets: 1,
        unshown,
        tight: (2.0 * FOR_LETTERING - spare).max(0.0),
        ..Cost::default()
    };
    (grid, cost)
}

fn sides(boxes: &[Rect], side: fn(&Rect) -> (f64, f64)) -> Vec<(f64, f64)> {
    boxes.iter().map(side).collect()
}

/// One direction of the search: what lies along it.
struct Axis {
    /// From where to where there is ink that must be shown.
    bounds: (f64, f64),
    window: f64,
    overlap: f64,
    /// Between two places that are tried, mm.
    pitch: f64,
    openings: Vec<(f64, f64)>,
    places: Vec<(f64, f64)>,
    wanted: Vec<(f64, f64)>,
    lines: Vec<(f64, f64)>,
}

/// One place of the grid along one direction.
struct Place {
    /// Where the first window begins.
    start: f64,
    /// Windows.
    count: usize,
    off_centre: f64,
    /// What each window answers for, on the ink's raster.
    shares: Vec<Span>,
    along: u32,
    openings: Cuts,
    keep: Cuts,
    wanted: Cuts,
}

impl Axis {
    fn step(&self) -> f64 {
        self.window - self.overlap
    }

    /// What so many windows cover.
    fn covered(&self, count: usize) -> f64 {
        count as f64 * self.step() + self.overlap
    }

    /// The places worth trying.
    fn places(&self, raster: impl Fn(f64, f64) -> Span) -> Vec<Place> {
        let (from, to) = self.bounds;
        let needed = windows_needed(to - from, self.window, self.overlap);
        let slack = (self.covered(needed) - (to - from)).max(0.0);
        let mut offsets = vec![slack / 2.0];
        if needed > 1 {
            let count = (self.step() / self.pitch).ceil() as usize;
            offsets.extend((0..count).map(|index| index as f64 * self.pitch));
            // Closely about the middle too: where there is little slack the raster misses it.
            offsets.extend((1..8).map(|index| slack * f64::from(index) / 8.0));
        }
        let middle = self.wanted_middle(self.covered(needed));
        offsets
            .into_iter()
            .map(|offset| self.place(offset, middle, &raster))
            .collect()
    }

    /// The middle of what must be and of what is wanted to be shown, as far as it goes on sheets
    /// of this length.
    fn wanted_middle(&self, length: f64) -> f64 {
        let shown = self.wanted.iter().fold(self.bounds, |shown, place| {
            let with = (shown.0.min(place.0), shown.1.max(place.1));
            if with.1 - with.0 + 2.0 * AIR <= length {
                with
            } else {
                shown
            }
        });
        (shown.0 + shown.1) / 2.0
    }

    fn place(&self, offset: f64, middle: f64, raster: impl Fn(f64, f64) -> Span) -> Place {
        let (from, to) = self.bounds;
        let (step, half) = (self.step(), self.overlap / 2.0);
        let start = from - offset;
        let count = windows_needed(to - start, self.window, self.overlap);
        let end = start + self.covered(count);
        let share = |index: usize| {
            let from = start + index as f64 * step;
            let first = if index == 0 { 0.0 } else { half };
            let last = if index + 1 == count { 0.0 } else { half };
            raster(from + first, from + self.window - last)
        };
        let cuts = |of: &[(f64, f64)]| cuts(of, start, count, self.window, self.overlap);
        let air = [from - start, end - to].map(|air| u32::from(air < AIR));
        Place {
            start,
            count,
            off_centre: (start + end) / 2.0 - middle,
            shares: (0..count).map(share).collect(),
            along: cuts(&self.lines).touched() + air[0] + air[1],
            openings: cuts(&self.openings),
            keep: cuts(&self.places),
            wanted: within(&self.wanted, start, end),
        }
    }
}

/// Which of a list of intervals the windows hold whole and the joins touch, one bit each.
struct Cuts {
    whole: Vec<u64>,
    touched: Vec<u64>,
}

impl Cuts {
    /// None of so many is lost or touched.
    fn none(count: usize) -> Self {
        let words = count.div_ceil(64);
        // Bits past the last interval count as whole, so that they are never counted as lost.
        Self {
            whole: vec![u64::MAX; words],
            touched: vec![0; words],
        }
    }

    fn lose(&mut self, index: usize) {
        self.whole[index / 64] &= !(1 << (index % 64));
    }

    fn touch(&mut self, index: usize) {
        self.touched[index / 64] |= 1 << (index % 64);
    }

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

/// Which intervals lie between two places.
fn within(intervals: &[(f64, f64)], start: f64, end: f64) -> Cuts {
    let mut cuts = Cuts::none(intervals.len());
    for (index, (low, high)) in intervals.iter().enumerate() {
        if *low < start || *high > end {
            cuts.lose(index);
        }
    }
    cuts
}

fn cuts(intervals: &[(f64, f64)], start: f64, count: usize, window: f64, overlap: f64) -> Cuts {
    let step = window - overlap;
    let mut cuts = Cuts::none(intervals.len());
    let last = count.saturating_sub(1) as f64;
    for (index, (low, high)) in intervals.iter().enumerate() {
        // The first window that reaches past the interval's end, and the last join before it.
        let nearest = ((low - start) / step).floor().clamp(0.0, last);
        let before = (nearest - 1.0).max(0.0);
        let whole = [before, nearest].into_iter().any(|window_at| {
            let begin = start + window_at * step;
            begin <= *low && *high <= begin + window
        });
        if !whole {
            cuts.lose(index);
        }
        // Join `n` lies between windows `n - 1` and `n`; the first that ends past the interval's
        // start is the one that may touch it.
        let join = ((low - overlap - start) / step).ceil().max(1.0);
        if join <= last && start + join * step <= *high {
            cuts.touch(index);
        }
    }
    cuts
}
