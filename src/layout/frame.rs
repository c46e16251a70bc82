//! What of a page is margin, furniture and usable window.
//!
//! Outside the window, from the paper's edge inwards: the margin; on all four sides a row of
//! words with the vehicle's direction in its middle; at the foot and the left also a row with the
//! check rulers.

use super::error::SheetError;
use super::ruler;
use kurbo::{Point, Rect, Size};

/// Height of the row of words at each side, mm: 3.5 mm letters with air.
pub(crate) const WORD_ROW: f64 = 6.0;

/// A page and its parts, mm, origin at the page's lower left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PageFrame {
    /// The whole page.
    pub(crate) page: Size,
    /// Free border.
    pub(crate) margin: f64,
    /// What the work may use.
    pub(crate) window: Rect,
}

impl PageFrame {
    /// The parts of a page.
    ///
    /// # Errors
    /// [`SheetError::TooSmall`] where the rulers find no room.
    pub(crate) fn of(page: Size, margin: f64) -> Result<Self, SheetError> {
        let around = Self::around(margin);
        let [across, down] = ruler::least_lengths();
        let needed = Size::new(across + around.width, down + around.height);
        if page.width + 1e-9 < needed.width || page.height + 1e-9 < needed.height {
            return Err(SheetError::TooSmall { page, needed });
        }
        let low = margin + WORD_ROW + ruler::ROW;
        let high = margin + WORD_ROW;
        Ok(Self {
            page,
            margin,
            window: Rect::new(low, low, page.width - high, page.height - high),
        })
    }

    /// The margin of a page that has a window of this size.
    pub(crate) fn margin(page: Size, window: Size) -> f64 {
        (page.width - window.width - Self::around(0.0).width) / 2.0
    }

    /// What a page takes beyond its window, mm.
    pub(crate) fn around(margin: f64) -> Size {
        let both = 2.0 * (margin + WORD_ROW) + ruler::ROW;
        Size::new(both, both)
    }

    /// Lower left of the rulers' row at the foot.
    pub(crate) fn foot_rulers(&self) -> Point {
        Point::new(self.window.x0, self.window.y0 - ruler::ROW)
    }

    /// Lower right of the rulers' column at the left: turned a quarter it starts here.
    pub(crate) fn left_rulers(&self) -> Point {
        Point::new(self.window.x0, self.window.y0)
    }
}
