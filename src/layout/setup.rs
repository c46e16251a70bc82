//! What sheets to make: paper, margin, overlap, and their orientation.

use super::error::SheetError;
use super::frame::PageFrame;
use super::paper::{Paper, Stock};
use crate::draw::ink::Ways;
use kurbo::Size;

/// The share of a window's shorter side that the overlap may take: register marks of both ends
/// of a join then stand clear of each other.
const OVERLAP_SHARE: f64 = 0.25;

/// Orientation of pages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PageOrientation {
    /// Short side at the foot.
    Portrait,
    /// Long side at the foot.
    Landscape,
    /// Whichever needs fewer sheets.
    #[default]
    Either,
}

/// How sheets are to be made.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// What is in the printer.
    pub paper: Paper,
    /// Border kept free at every edge of the paper, mm, 0 to 50.
    pub margin: f64,
    /// Work that two neighbours both show, mm: 5 up to a quarter of the usable area's shorter
    /// side.
    pub overlap: f64,
    /// Which way the page lies.
    pub orientation: PageOrientation,
    /// Title block and work on one page, and no front page.
    pub one_page: bool,
    /// Everything joined, with whatever lies between openings that are far apart.
    pub joined: bool,
    /// The record's pages after the work.
    pub record: bool,
    /// What every sheet says besides, in two parts that each stand on one line; may be empty.
    pub note: [String; 2],
    /// The kit that the sheets are issued with, by its number; may be empty.
    pub kit: String,
    /// The program that draws them, as they name it.
    pub program: String,
}

impl Setup {
    /// Margin unless given, mm: 1/4 in, more than nearly every printer's unprintable border.
    pub const MARGIN: f64 = 6.35;
    /// Overlap unless given, mm: room for a register mark and a strip of tape.
    pub const OVERLAP: f64 = 10.0;
    /// Widest margin, mm: more than the widest unprintable border seen, 18 mm.
    pub const WIDEST_MARGIN: f64 = 50.0;
    /// Least overlap, mm: a register mark and its 2.5 mm label stand inside it.
    pub const LEAST_OVERLAP: f64 = 5.0;

    /// This program and its version, as sheets name them.
    pub const PROGRAM: &str = concat!("Trimloft ", env!("CARGO_PKG_VERSION"));

    /// Sheets of `paper` with the usual margin and overlap, in the orientation that needs fewer.
    pub fn new(paper: Paper) -> Self {
        Self {
            paper,
            margin: Self::MARGIN,
            overlap: Self::OVERLAP,
            orientation: PageOrientation::Either,
            one_page: false,
            joined: false,
            record: false,
            note: Default::default(),
            kit: String::new(),
            program: Self::PROGRAM.into(),
        }
    }

    /// Which ways to print are thought of.
    pub fn ways(&self) -> Ways {
        match (self.one_page, self.joined) {
            (true, _) => Ways::OnePage,
            (false, true) => Ways::Joined,
            (false, false) => Ways::Any,
        }
    }

    /// Whether sheets can be made so at all, whatever the drawing.
    ///
    /// # Errors
    /// A margin or an overlap out of range, and paper that is too small for its rulers or for
    /// the overlap in either orientation.
    pub fn check(&self) -> Result<(), SheetError> {
        if !(0.0..=Self::WIDEST_MARGIN).contains(&self.margin) {
            return Err(SheetError::Margin {
                given: self.margin,
                at_most: Self::WIDEST_MARGIN,
            });
        }
        if !(Self::LEAST_OVERLAP..=super::paper::LONGEST_SIDE).contains(&self.overlap) {
            return Err(SheetError::Overlap {
                at_least: Self::LEAST_OVERLAP,
                given: self.overlap,
                at_most: None,
            });
        }
        let longest = match self.paper.stock() {
            Stock::Sheet(size) => size,
            Stock::Roll { width, at_most } => Size::new(width, at_most),
        };
        let landscape = Size::new(longest.height, longest.width);
        let mut refused = None;
        for page in self.either_way(longest, landscape) {
            match self.frame(page) {
                Ok(_) => return Ok(()),
                Err(error) => refused = refused.or(Some(error)),
            }
        }
        refused.map_or(Ok(()), Err)
    }

    /// The pages that may be used of a portrait and a landscape one, the portrait one first.
    pub(crate) fn either_way(&self, portrait: Size, landscape: Size) -> Vec<Size> {
        match self.orientation {
            PageOrientation::Portrait => vec![portrait],
            PageOrientation::Landscape => vec![landscape],
            PageOrientation::Either => vec![portrait, landscape],
        }
    }

    /// The parts of a page.
    ///
    /// # Errors
    /// A page too small for its rulers, or for the overlap.
    pub(crate) fn frame(&self, page: Size) -> Result<PageFrame, SheetError> {
        let frame = PageFrame::of(page, self.margin)?;
        let at_most = OVERLAP_SHARE * frame.window.width().min(frame.window.height());
        if self.overlap > at_most {
            let (given, at_most) = (self.overlap, Some(at_most));
            return Err(SheetError::Overlap {
                given,
                at_least: Self::LEAST_OVERLAP,
                at_most,
            });
        }
        Ok(frame)
    }
}

/// Width and height of the frame round a sheet's usable area, mm: the figure whose diagonals show
/// a skewed feed. Of the portrait page, unless the setup has it landscape.
///
/// # Errors
/// As [`Setup::check`]; on rolls the length that is allowed at most is taken.
pub fn frame_size(setup: &Setup) -> Result<Size, SheetError> {
    setup.check()?;
    let portrait = match setup.paper.stock() {
        Stock::Sheet(size) => size,
        Stock::Roll { width, at_most } => Size::new(width, at_most),
    };
    let page = match setup.orientation {
        PageOrientation::Landscape => Size::new(portrait.height, portrait.width),
        PageOrientation::Portrait | PageOrientation::Either => portrait,
    };
    Ok(setup.frame(page)?.window.size())
}
