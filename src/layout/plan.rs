//! Where the sheets lie: found for what must be shown, before any lettering is placed.

use super::error::SheetError;
use super::frame::PageFrame;
use super::grid::{Cell, Grid};
use super::ink::InkMap;
use super::paper::{LONGEST_SIDE, Stock};
use super::room::room_on;
use super::setup::Setup;
use super::tiling::{AIR, Cost, tile};
use crate::draw::ink::{Geometry, Island, Rooms};
use kurbo::{Rect, Size};
use std::borrow::Borrow;
use std::cmp::Ordering;

/// Shortest piece of a roll, mm, so that an instruction sheet has room: the length of A4.
const SHORTEST_PIECE: f64 = 297.0;

/// Room for lettering round what is shown on a roll, mm: a roll is cut where the work ends.
const ROUND_WORK: f64 = 30.0;

/// Between lettering and the frame or a join, mm.
const INSIDE: f64 = 1.0;

/// Where the sheets of a drawing lie.
#[derive(Debug, Clone)]
pub struct Plan {
    pub(super) frame: PageFrame,
    /// One grid for each island.
    pub(super) grids: Vec<Grid>,
}

impl Plan {
    /// The way to print that takes fewest sheets, and where they lie; of equals, the first.
    ///
    /// All pages have one size. Where [`Setup::orientation`] leaves it open, they take the orientation that needs
    /// fewer, and of equals, whichever crosses less and leaves more room.
    ///
    /// # Errors
    /// [`SheetError`] says what does not fit and what would.
    pub fn best<W: Borrow<Geometry>>(
        ways: impl IntoIterator<Item = W>,
        setup: &Setup,
    ) -> Result<(Self, W), SheetError> {
        setup.check()?;
        let mut best: Option<(Cost, Self, W)> = None;
        let mut refused = None;
        for way in ways {
            let found = if setup.one_page {
                Self::on_one_page(way.borrow(), setup)
            } else {
                Self::of(way.borrow(), setup)
            };
            match found {
                Ok((cost, plan)) => {
                    let fewer = |(least, ..): &(Cost, Self, W)| cost.sheets < least.sheets;
                    if best.as_ref().is_none_or(fewer) {
                        best = Some((cost, plan, way));
                    }
                }
                Err(error) => refused = refused.or(Some(error)),
            }
            if matches!(&best, Some((cost, ..)) if cost.sheets == 1) {
                break;
            }
        }
        best.map(|(_, plan, way)| (plan, way))
            .ok_or(refused.unwrap_or(SheetError::NoWork))
    }

    fn of(geometry: &Geometry, setup: &Setup) -> Result<(Cost, Self), SheetError> {
        let islands = measured(geometry)?;
        let mut best: Option<(Cost, Self)> = None;
        let mut refused = None;
        for page in page_sizes(setup, &islands) {
            let frame = match setup.frame(page) {
                Ok(frame) => frame,
                Err(error) => {
                    refused.get_or_insert(error);
                    continue;
                }
            };
            let tiled = islands
                .iter()
                .map(|(ink, island)| tile(ink, island, frame.window.size(), setup.overlap));
            let (grids, costs): (Vec<Grid>, Vec<Cost>) = tiled.unzip();
            let cost = costs.into_iter().fold(Cost::default(), Cost::and);
            let better = |(least, plan): &(Cost, Self)| {
                let area = |page: Size| page.area().round();
                let paper = area(page).total_cmp(&area(plan.frame.page));
                let order = cost.sheets.cmp(&least.sheets);
                order.then(paper).then(cost.compare(least)) == Ordering::Less
            };
            if best.as_ref().is_none_or(better) {
                best = Some((cost, Self { frame, grids }));
            }
        }
        best.ok_or(refused.unwrap_or(SheetError::NoWork))
    }

    /// All that must be shown on one page, beside its words.
    fn on_one_page(geometry: &Geometry, setup: &Setup) -> Result<(Cost, Self), SheetError> {
        let islands = measured(geometry)?;
        let [(ink, island)] = islands.as_slice() else {
            return Err(SheetError::NoWork);
        };
        let work = ink.bounds.size();
        let mut largest = Size::ZERO;
        let mut best: Option<(Cost, Self)> = None;
        let mut refused = None;
        for page in page_sizes(setup, &islands) {
            let frame = match setup.frame(page) {
                Ok(frame) => frame,
                Err(error) => {
                    refused.get_or_insert(error);
                    continue;
                }
            };
            let room = room_on(&frame).size();
            if room.area() > largest.area() {
                largest = room;
            }
            let fits = |work: f64, room: f64| work + 2.0 * AIR <= room;
            if !fits(work.width, room.width) || !fits(work.height, room.height) {
                continue;
            }
            let (grid, cost) = tile(ink, island, room, setup.overlap);
            if best
                .as_ref()
                .is_none_or(|(least, _)| cost.compare(least).is_lt())
            {
                let grids = vec![grid];
                best = Some((cost, Self { frame, grids }));
            }
        }
        let none = if largest == Size::ZERO {
            refused.unwrap_or(SheetError::NoWork)
        } else {
            SheetError::OnePage {
                work,
                room: largest,
            }
        };
        best.ok_or(none)
    }

    /// Where lettering may stand on these sheets.
    pub fn rooms(&self) -> Rooms {
        let windows: Vec<Rect> = self
            .cells()
            .map(|(grid, cell)| grid.window_at(cell))
            .collect();
        let alone = |index: usize| {
            let others = windows.iter().enumerate();
            let others = others.filter(|(other, _)| *other != index);
            others.fold(windows[index], |room, (_, other)| less(room, *other))
        };
        Rooms {
            rooms: (0..windows.len())
                .map(|index| alone(index).inset(-INSIDE))
                .collect(),
            windows,
            taken: vec![],
        }
    }

    /// The box round all sheets.
    pub(super) fn extent(&self) -> Rect {
        let extents = self.grids.iter().map(Grid::extent);
        extents.reduce(|a, b| a.union(b)).unwrap_or_default()
    }

    /// What a sheet is called by its place.
    pub(super) fn place(&self, island: usize, cell: Cell) -> String {
        let place = format!("row {}, column {}", cell.row + 1, cell.column + 1);
        match self.grids.len() {
            1 => format!("R{}", &place[1..]),
            _ => format!("Island {}, {place}", island + 1),
        }
    }

    /// The printed windows, in order of the pages.
    pub(super) fn cells(&self) -> impl Iterator<Item = (&Grid, Cell)> {
        let grids = self.grids.iter();
        grids.flat_map(|grid| grid.kept.iter().map(move |cell| (grid, *cell)))
    }
}

/// What is left of a room beside another window: the largest piece along one side.
fn less(room: Rect, other: Rect) -> Rect {
    let shared = room.intersect(other);
    if shared.width() <= 0.0 || shared.height() <= 0.0 {
        return room;
    }
    let pieces = [
        Rect {
            x1: shared.x0,
            ..room
        },
        Rect {
            x0: shared.x1,
            ..room
        },
        Rect {
            y1: shared.y0,
            ..room
        },
        Rect {
            y0: shared.y1,
            ..room
        },
    ];
    let larger = |best: Rect, next: Rect| {
        if next.area() > best.area() {
            next
        } else {
            best
        }
    };
    pieces
        .into_iter()
        .fold(Rect::from_origin_size(room.origin(), Size::ZERO), larger)
}

fn measured(geometry: &Geometry) -> Result<Vec<(InkMap, &Island)>, SheetError> {
    if geometry.islands.is_empty() {
        return Err(SheetError::NoWork);
    }
    let islands = geometry.islands.iter();
    islands
        .map(|island| Ok((InkMap::of(&island.must_show)?, island)))
        .collect()
}

/// The pages that the setup allows, the portrait one first.
fn page_sizes(setup: &Setup, islands: &[(InkMap, &Island)]) -> Vec<Size> {
    let around = PageFrame::around(setup.margin);
    let (portrait, landscape) = match setup.paper.stock() {
        Stock::Sheet(size) => (size, Size::new(size.height, size.width)),
        Stock::Roll { width, at_most } => {
            let at_most = at_most.min(LONGEST_SIDE);
            let cut = |side: fn(Rect) -> f64, around: f64| {
                let shown = |(ink, island): &(InkMap, &Island)| {
                    let wanted = island.wanted.iter();
                    side(wanted.fold(ink.bounds, |all, place| all.union(*place)))
                };
                let longest = islands.iter().map(shown).fold(0.0, f64::max);
                let length = (longest + 2.0 * ROUND_WORK + around).ceil();
                length.max(SHORTEST_PIECE).min(at_most)
            };
            (
                Size::new(width, cut(|all| all.height(), around.height)),
                Size::new(cut(|all| all.width(), around.width), width),
            )
        }
    };
    setup.either_way(portrait, landscape)
}

#[cfg(test)]
mod tests {
    use super::less;
    use kurbo::Rect;

    #[test]
    fn a_room_is_what_one_window_shows_alone() {
        let room = Rect::new(0.0, 0.0, 100.0, 200.0);
        let right = Rect::new(90.0, 0.0, 190.0, 200.0);
        assert_eq!(less(room, right), Rect::new(0.0, 0.0, 90.0, 200.0));
        let corner = Rect::new(90.0, 190.0, 190.0, 390.0);
        assert_eq!(less(room, corner), Rect::new(0.0, 0.0, 100.0, 190.0));
        assert_eq!(less(room, Rect::new(100.0, 0.0, 200.0, 200.0)), room);
    }
}
