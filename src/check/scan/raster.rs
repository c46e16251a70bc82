//! A grey picture.

use super::error::ScanError;

/// Most pixels that are taken: A2 at 600 dpi, and some.
pub const LARGEST_RASTER: u64 = 150_000_000;

/// Grey pixels, row by row from the top, 0 black to 255 white.
#[derive(Debug, Clone)]
pub struct Raster {
    width: usize,
    height: usize,
    grey: Vec<u8>,
}

impl Raster {
    /// A raster of `width` x `height` pixels.
    ///
    /// # Errors
    /// [`ScanError::TooLarge`] beyond [`LARGEST_RASTER`], [`ScanError::Sides`] where `grey` is
    /// not one byte a pixel or there is none.
    pub fn new(width: usize, height: usize, grey: Vec<u8>) -> Result<Self, ScanError> {
        let pixels = (width as u64).saturating_mul(height as u64);
        if pixels > LARGEST_RASTER {
            return Err(ScanError::TooLarge {
                given: pixels,
                at_most: LARGEST_RASTER,
                unit: "pixels",
            });
        }
        if pixels == 0 || pixels != grey.len() as u64 {
            return Err(ScanError::Sides {
                width,
                height,
                bytes: grey.len(),
            });
        }
        Ok(Self {
            width,
            height,
            grey,
        })
    }

    /// Pixels across.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Pixels down.
    pub fn height(&self) -> usize {
        self.height
    }

    /// The pixels, row by row from the top.
    pub fn grey(&self) -> &[u8] {
        &self.grey
    }
}
