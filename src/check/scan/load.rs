//! Pictures as files: PNG, PGM (and its kin) and JPEG.

use super::error::ScanError;
use super::raster::{LARGEST_RASTER, Raster};
use crate::check::watch::{longest_time, watched};
use image::{DynamicImage, ImageDecoder, ImageReader, Limits};
use std::io::{Cursor, Read};
use std::path::Path;

/// Largest file that is read, bytes.
const LARGEST_FILE: u64 = 512 << 20;

/// Most memory that a picture may take as it is stored, bytes: beside it stand its grey pixels, and
/// all of it must stay within 512 MB. That is A3 in colour at 600 dpi, or A2 in grey.
const MOST_MEMORY: u64 = 300 << 20;

impl Raster {
    /// The picture in a file.
    ///
    /// # Errors
    /// [`ScanError::Read`] where the file can't be read, and all of [`Raster::decode`].
    pub fn load(path: &Path) -> Result<Self, ScanError> {
        let failed = |cause| ScanError::Read {
            path: path.into(),
            cause,
        };
        let file = std::fs::File::open(path).map_err(failed)?;
        let mut bytes = Vec::new();
        // One byte more tells a file that is too large, whatever its length is said to be.
        file.take(LARGEST_FILE + 1)
            .read_to_end(&mut bytes)
            .map_err(failed)?;
        // A file may ask for many rounds over all of its pixels.
        watched(longest_time(bytes.len()), move |_| Self::decode(&bytes))
            .unwrap_or_else(|stopped| Err(ScanError::GivenUp(stopped.words())))
    }

    /// Whether a file begins as a picture of a known kind does.
    pub fn is_picture(path: &Path) -> bool {
        let mut head = [0; 16];
        let read = std::fs::File::open(path).and_then(|mut file| file.read(&mut head));
        read.is_ok_and(|_| image::guess_format(&head).is_ok())
    }

    /// The picture in these bytes; colours become grey, what is see-through becomes paper.
    ///
    /// # Errors
    /// [`ScanError::TooLarge`] for more bytes, pixels or memory than are taken,
    /// [`ScanError::Picture`] for what is no picture of a known kind, or a damaged one.
    pub fn decode(bytes: &[u8]) -> Result<Self, ScanError> {
        if bytes.len() as u64 > LARGEST_FILE {
            return Err(ScanError::TooLarge {
                given: bytes.len() as u64,
                at_most: LARGEST_FILE,
                unit: "bytes",
            });
        }
        let broken = |cause: image::ImageError| ScanError::Picture(cause.to_string());
        let mut limits = Limits::no_limits();
        limits.max_alloc = Some(MOST_MEMORY);
        let mut reader = ImageReader::new(Cursor::new(bytes))
            .with_guessed_format()
            .map_err(|cause| ScanError::Picture(cause.to_string()))?;
        reader.limits(limits.clone());
        let mut decoder = reader.into_decoder().map_err(broken)?;
        let (width, height) = decoder.dimensions();
        let pixels = u64::from(width).saturating_mul(u64::from(height));
        if pixels > LARGEST_RASTER {
            return Err(ScanError::TooLarge {
                given: pixels,
                at_most: LARGEST_RASTER,
                unit: "pixels",
            });
        }
        if decoder.total_bytes() > MOST_MEMORY {
            return Err(ScanError::TooLarge {
                given: decoder.total_bytes(),
                at_most: MOST_MEMORY,
                unit: "bytes once unpacked",
            });
        }
        decoder.set_limits(limits).map_err(broken)?;
        let picture = DynamicImage::from_decoder(decoder).map_err(broken)?;
        let grey = if picture.color().has_alpha() {
            let over_paper = |pixel: &image::LumaA<u8>| {
                let [grey, cover] = pixel.0.map(u16::from);
                let ink = (255 - grey) * cover / 255;
                255 - u8::try_from(ink).unwrap_or(255)
            };
            picture
                .into_luma_alpha8()
                .pixels()
                .map(over_paper)
                .collect()
        } else {
            picture.into_luma8().into_raw()
        };
        let side = |side: u32| usize::try_from(side).unwrap_or(usize::MAX);
        Self::new(side(width), side(height), grey)
    }
}
