//! The raster at some 100 dpi, where long lines are looked for.

use super::raster::Raster;
use super::tone::Tones;

/// Resolution that is enough to find a line of half a millimetre, pixels to the inch.
const ENOUGH: f64 = 100.0;

/// Mean darkness of square blocks of pixels.
#[derive(Debug, Clone)]
pub(crate) struct Coarse {
    /// Pixels along a block's side.
    pub(crate) block: usize,
    width: usize,
    height: usize,
    /// As parts of 255: a picture of one block a pixel has no more of them, and takes no more room
    /// than its pixels.
    cells: Vec<u8>,
}

impl Coarse {
    /// The raster in blocks; what is left over at its right and foot is dropped.
    pub(crate) fn of(raster: &Raster, tones: &Tones, dpi: f64) -> Self {
        let block = ((dpi / ENOUGH) as usize).max(1);
        let (width, height) = (raster.width() / block, raster.height() / block);
        let mut cells = Vec::with_capacity(width * height);
        let share = 255.0 / (block * block) as f32;
        for rows in raster.grey().chunks_exact(raster.width() * block) {
            let mut sums = vec![0.0_f32; width];
            for row in rows.chunks_exact(raster.width()) {
                for (sum, pixels) in sums.iter_mut().zip(row.chunks_exact(block)) {
                    *sum += pixels.iter().map(|grey| tones.darkness(*grey)).sum::<f32>();
                }
            }
            cells.extend(sums.iter().map(|sum| (sum * share).round() as u8));
        }
        Self {
            block,
            width,
            height,
            cells,
        }
    }

    /// Blocks along x and y of the view.
    pub(crate) fn size(&self, turned: bool) -> (usize, usize) {
        if turned {
            (self.height, self.width)
        } else {
            (self.width, self.height)
        }
    }

    /// Darkness of a block of the view; 0 outside.
    pub(crate) fn at(&self, x: usize, y: usize, turned: bool) -> f32 {
        let (x, y) = if turned { (y, x) } else { (x, y) };
        if x >= self.width {
            return 0.0;
        }
        let cell = self.cells.get(y * self.width + x).copied().unwrap_or(0);
        f32::from(cell) / 255.0
    }
}
