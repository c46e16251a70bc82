//! What a scan can't tell.

use crate::base::fixed;
use std::fmt;
use std::ops::RangeInclusive;
use std::path::PathBuf;

/// Why a scan gives no scale.
#[derive(Debug)]
pub enum ScanError {
    /// The file can't be read.
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        cause: std::io::Error,
    },
    /// The bytes are no PNG, PGM or JPEG picture, or a damaged one.
    Picture(String),
    /// It was given up, in words that follow `reading it`.
    GivenUp(&'static str),
    /// More bytes or pixels than are taken.
    TooLarge {
        /// How many.
        given: u64,
        /// How many are taken.
        at_most: u64,
        /// Of what.
        unit: &'static str,
    },
    /// A raster whose bytes don't fill its sides.
    Sides {
        /// Pixels across.
        width: usize,
        /// Pixels down.
        height: usize,
        /// Bytes given.
        bytes: usize,
    },
    /// Resolution out of range.
    Resolution {
        /// As given, pixels to the inch.
        given: f64,
        /// What is taken.
        allowed: RangeInclusive<f64>,
    },
    /// Scanner's own scale out of range.
    ScannerScale {
        /// As given.
        given: f64,
        /// What is taken.
        allowed: RangeInclusive<f64>,
    },
    /// No ink to be told from paper.
    NoContrast,
    /// No check ruler in either direction.
    NoRulers,
    /// Rulers in one direction of the picture only.
    OneDirection {
        /// What 100 mm reads along it.
        reads: f64,
        /// Whether that is the picture's height.
        along_height: bool,
    },
    /// Rulers of more than one sheet.
    SeveralSheets,
    /// No symbol of a sheet was read.
    NoSymbol,
    /// One of the four rulers was not found.
    RulerMissing {
        /// Which.
        ruler: &'static str,
        /// The side of the picture that it should run along.
        along: &'static str,
    },
    /// The sheet is the mirror image of a true one.
    Mirrored,
    /// The rulers don't tell how the sheet lies.
    Unclear,
    /// The frame of the sheet is not that of the paper it should be for.
    OtherPaper {
        /// The paper.
        paper: String,
    },
}

impl fmt::Display for ScanError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read { path, cause } => {
                write!(out, "`{}` can't be read: {cause}", path.display())
            }
            Self::Picture(cause) => write!(
                out,
                "this is no picture that can be read: {cause}; allowed: PNG, PGM and JPEG"
            ),
            Self::GivenUp(why) => write!(
                out,
                "cannot tell: reading it {why}; hint: scan to PNG, at 300 dpi"
            ),
            Self::TooLarge {
                given,
                at_most,
                unit,
            } => write!(
                out,
                "the picture has {given} {unit}; allowed: up to {at_most}; hint: scan at 300 dpi"
            ),
            Self::Sides {
                width,
                height,
                bytes,
            } => write!(
                out,
                "a raster of {width} x {height} pixels can't be made of {bytes} bytes"
            ),
            Self::Resolution { given, allowed } => write!(
                out,
                "`{} dpi` is out of range; allowed: {} to {} dpi; hint: scan at 300 dpi",
                fixed(*given, 1),
                fixed(*allowed.start(), 0),
                fixed(*allowed.end(), 0)
            ),
            Self::ScannerScale { given, allowed } => write!(
                out,
                "a scanner's own scale of `{}` is out of range; allowed: {} to {}; hint: scan a \
                 steel rule, and give what it measures in the scan over what it is",
                fixed(*given, 4),
                fixed(*allowed.start(), 1),
                fixed(*allowed.end(), 1)
            ),
            Self::NoContrast => write!(
                out,
                "cannot tell: no ink can be told from the paper; hint: scan in grey, with the \
                 printed side to the glass"
            ),
            Self::NoRulers => write!(
                out,
                "cannot tell: no check ruler was found; hint: scan the whole sheet, laid within \
                 3 degrees of straight, and give the resolution it was scanned at"
            ),
            Self::NoSymbol => write!(
                out,
                "no sheet's code can be read in it; hint: take the picture from straight over the code at \
                 the sheet's lower left, sharp and in good light, or type the code that the sheet prints"
            ),
            Self::OneDirection {
                reads,
                along_height,
            } => write!(
                out,
                "cannot tell: rulers were found along the picture's {} only, where 100 mm reads \
                 {}; hint: scan the whole sheet, with its foot and its left edge",
                if *along_height { "height" } else { "width" },
                fixed(*reads, 2)
            ),
            Self::SeveralSheets => write!(
                out,
                "cannot tell: there are rulers of more than one sheet; hint: scan one sheet at \
                 a time"
            ),
            Self::RulerMissing { ruler, along } => write!(
                out,
                "cannot tell: the {ruler} ruler along the picture's {along} was not found, and \
                 without it the sheet may be mirrored; hint: scan the whole sheet, clean, at 300 dpi"
            ),
            Self::Mirrored => write!(
                out,
                "cannot tell: the sheet is mirrored, and nothing may be cut from it; hint: turn off \
                 `Mirror` or `Flip` in the print dialog, or in the scan"
            ),
            Self::Unclear => write!(
                out,
                "cannot tell: the rulers don't say whether the sheet is mirrored or turned; hint: \
                 scan one whole sheet, clean, at 300 dpi"
            ),
            Self::OtherPaper { paper } => write!(
                out,
                "cannot tell: the frame of this sheet is not that of {paper} as it is given, so it \
                 is for another paper, lies otherwise, or was cut off; hint: check `--paper`, \
                 `--orientation` and `--margin`, and scan the whole sheet"
            ),
        }
    }
}

impl std::error::Error for ScanError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Read { cause, .. } => Some(cause),
            _ => None,
        }
    }
}
