//! The check rulers of a scanned or rasterised sheet, found and measured.
//!
//! ```text
//! file -> Raster -> tones -> straight lines -> base lines -> combs of graduations -> SheetScale
//! ```
//!
//! A check ruler is a base line with a comb of graduations on one side. Lines are found by a Hough
//! transform, combs by their period, and each graduation to a fraction of a pixel; the scale is
//! the slope of a least-squares line through all of them. The sheet may lie shifted, upside down,
//! on its side, and up to [`MOST_TURN`] degrees askew. A comb of 100 intervals is the millimetre
//! ruler, one of 64 the inch ruler, so that nothing rests on the scale being near 1.
//!
//! Raster coordinates are pixels, x to the right and y downwards, whole at a pixel's middle;
//! results are in millimetres, y up.

mod base_line;
mod coarse;
mod code;
mod comb;
mod corner;
mod error;
mod fit;
mod line;
#[deny(
    clippy::indexing_slicing,
    clippy::cast_possible_truncation,
    clippy::cast_precision_loss,
    clippy::cast_sign_loss
)]
mod load;
mod raster;
mod sheet;
mod spot;
#[cfg(test)]
mod tests;
mod tone;
mod view;

pub use error::ScanError;
pub use line::MOST_TURN;
pub use raster::{LARGEST_RASTER, Raster};
pub use sheet::{RulerKind, RulerReading, SheetScale};

use coarse::Coarse;
use tone::Tones;
use view::View;

/// Resolutions that are worth measuring at, pixels to the inch: below, a graduation is lost in a
/// pixel; above, no scanner goes.
const RESOLUTIONS: std::ops::RangeInclusive<f64> = 90.0..=2400.0;

/// Scanner scales that are believed, as ratios.
const SCANNERS: std::ops::RangeInclusive<f64> = 0.9..=1.1;

/// How a sheet was scanned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scanner {
    /// Resolution, pixels to the inch, 90 to 2400.
    pub dpi: f64,
    /// What the scanner makes of a true length along the picture's width and height, as ratios,
    /// 0.9 to 1.1; `None` where it is not known.
    pub own_scale: Option<(f64, f64)>,
}

/// Finds the check rulers of one sheet and measures the sheet by them.
///
/// Within 0.05 % for sheets printed at half to one and a half times their size, at 150 dpi and
/// more, with moderate blur, noise and grey.
///
/// # Errors
/// [`ScanError`] says what was not found, and what to do.
pub fn measure(raster: &Raster, scanner: &Scanner) -> Result<SheetScale, ScanError> {
    if !RESOLUTIONS.contains(&scanner.dpi) {
        return Err(ScanError::Resolution {
            given: scanner.dpi,
            allowed: RESOLUTIONS,
        });
    }
    if let Some((x, y)) = scanner.own_scale {
        for given in [x, y] {
            if !SCANNERS.contains(&given) {
                return Err(ScanError::ScannerScale {
                    given,
                    allowed: SCANNERS,
                });
            }
        }
    }
    let tones = Tones::of(raster).ok_or(ScanError::NoContrast)?;
    let pixels = scanner.dpi / 25.4;
    let coarse = Coarse::of(raster, &tones, scanner.dpi);
    let found = [false, true].map(|turned| {
        let view = View::new(raster, &tones, turned);
        let mut combs: Vec<comb::Comb> = Vec::new();
        for line in line::lines(&coarse, turned, pixels) {
            if combs.iter().any(|comb| comb.base.is_along(line)) {
                continue;
            }
            for base in base_line::base_lines(&view, line, pixels) {
                combs.extend(comb::comb(&view, &base));
            }
        }
        let spots = combs.iter().map(|comb| spot::Spot::of(comb, turned));
        spot::distinct(spots.collect())
    });
    sheet::assemble(found, scanner)
}
