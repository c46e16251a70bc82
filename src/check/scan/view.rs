//! The raster seen so that the rulers looked for lie along x.

use super::raster::Raster;
use super::tone::Tones;

/// A raster as darkness, as it is or with x and y changed over.
#[derive(Debug, Clone, Copy)]
pub(crate) struct View<'a> {
    raster: &'a Raster,
    tones: &'a Tones,
    turned: bool,
}

impl<'a> View<'a> {
    /// A view; with `turned`, x runs down the raster and y to its right.
    pub(crate) fn new(raster: &'a Raster, tones: &'a Tones, turned: bool) -> Self {
        Self {
            raster,
            tones,
            turned,
        }
    }

    /// Pixels along x.
    pub(crate) fn width(&self) -> usize {
        if self.turned {
            self.raster.height()
        } else {
            self.raster.width()
        }
    }

    /// Darkness of a pixel, 0 to 1; 0 outside.
    pub(crate) fn at(&self, x: i64, y: i64) -> f64 {
        let (x, y) = if self.turned { (y, x) } else { (x, y) };
        let (width, height) = (self.raster.width(), self.raster.height());
        match (usize::try_from(x), usize::try_from(y)) {
            (Ok(x), Ok(y)) if x < width && y < height => {
                let grey = self.raster.grey()[y * width + x];
                f64::from(self.tones.darkness(grey))
            }
            _ => 0.0,
        }
    }

    /// Darkness between pixels, straight-line in both directions.
    pub(crate) fn between(&self, x: f64, y: f64) -> f64 {
        let (left, top) = (x.floor(), y.floor());
        let (right_share, low_share) = (x - left, y - top);
        let (left, top) = (left as i64, top as i64);
        let row = |y| {
            let here = self.at(left, y);
            here + right_share * (self.at(left + 1, y) - here)
        };
        let here = row(top);
        here + low_share * (row(top + 1) - here)
    }
}
