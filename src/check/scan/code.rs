//! What sheets in a picture say of themselves by their symbols: QR codes (ISO/IEC 18004), found and read
//! by rqrr, which did not write them.
//!
//! A photo is lit unevenly, and its symbol may be large or small in it. So the picture is taken in
//! several sizes, each pixel held against the mean of those round it, near and far, until something is
//! read. A symbol corrects its own errors (Reed and Solomon), and what is read must have the form of a
//! page's name: what can't be read rightly is not read.

use super::error::ScanError;
use super::raster::Raster;
use crate::base::paper::PageName;
use crate::check::watch::{GivenUp, longest_time, watched};
use rqrr::PreparedImage;

/// Longest sides that a picture is taken at, pixels, in the order tried. A sheet of A4 that fills
/// 2000 has three and a half pixels to a module of its symbol.
const SIDES: [usize; 4] = [2000, 1200, 3400, 5000];
/// Shares of the longest side that neighbours reach which a pixel is held against, each way.
const REACHES: [usize; 3] = [40, 12, 100];
/// How much darker than its neighbours ink is, in hundredths.
const DARKER: u64 = 12;

impl Raster {
    /// The names of the pages in a picture: of those whose symbols can be read, each once, in order. Of
    /// several sheets in one picture some may not be read: one picture a sheet is safe.
    ///
    /// # Errors
    /// [`ScanError::GivenUp`] for a picture that takes too long, [`ScanError::NoSymbol`] where none can
    /// be read.
    pub fn page_names(self) -> Result<Vec<PageName>, ScanError> {
        let time = longest_time(self.grey().len());
        let names = watched(time, move |given_up| names(&self, &given_up))
            .map_err(|stopped| ScanError::GivenUp(stopped.words()))?;
        match names.is_empty() {
            true => Err(ScanError::NoSymbol),
            false => Ok(names),
        }
    }
}

fn names(raster: &Raster, given_up: &GivenUp) -> Vec<PageName> {
    let longest = raster.width().max(raster.height());
    let mut tried = vec![];
    for side in SIDES {
        // Small pictures are taken as they are, and once in more pixels.
        let side = match longest {
            ..1000 => side.min(2 * longest),
            _ => side.min(longest),
        };
        if tried.contains(&side) {
            continue;
        }
        tried.push(side);
        let picture = Picture::of(raster, side);
        for reach in REACHES {
            if given_up.is_set() {
                return vec![];
            }
            let names = picture.names((side / reach).max(4));
            if !names.is_empty() {
                return names;
            }
        }
    }
    vec![]
}

/// A picture in another size.
struct Picture {
    width: usize,
    height: usize,
    grey: Vec<u8>,
    /// Sums of all pixels above and to the left, with a row and a column of noughts before.
    sums: Vec<u64>,
}

impl Picture {
    /// A raster with its longest side in so many pixels.
    fn of(raster: &Raster, side: usize) -> Self {
        let longest = raster.width().max(raster.height());
        let scaled = |length: usize| (length * side / longest).max(1);
        let (width, height) = (scaled(raster.width()), scaled(raster.height()));
        let grey = match width == raster.width() {
            true => raster.grey().to_vec(),
            false => resized(raster, width, height),
        };
        let across = width + 1;
        let mut sums = vec![0; across * (height + 1)];
        for y in 0..height {
            let mut row = 0;
            for x in 0..width {
                row += u64::from(grey[y * width + x]);
                sums[(y + 1) * across + x + 1] = sums[y * across + x + 1] + row;
            }
        }
        Self {
            width,
            height,
            grey,
            sums,
        }
    }

    /// Whether a pixel is ink beside those `reach` to each side of it.
    fn is_ink(&self, (x, y): (usize, usize), reach: usize) -> bool {
        let (x0, y0) = (x.saturating_sub(reach), y.saturating_sub(reach));
        let x1 = (x + reach + 1).min(self.width);
        let y1 = (y + reach + 1).min(self.height);
        let at = |x: usize, y: usize| self.sums[y * (self.width + 1) + x];
        let sum = at(x1, y1) + at(x0, y0) - at(x0, y1) - at(x1, y0);
        let count = ((x1 - x0) * (y1 - y0)) as u64;
        u64::from(self.grey[y * self.width + x]) * count * 100 < sum * (100 - DARKER)
    }

    fn names(&self, reach: usize) -> Vec<PageName> {
        let mut image = PreparedImage::prepare_from_bitmap(self.width, self.height, |x, y| {
            self.is_ink((x, y), reach)
        });
        let grids = image.detect_grids();
        let read = grids.iter().filter_map(|grid| grid.decode().ok());
        let mut names: Vec<PageName> = read
            .filter_map(|(_, text)| PageName::parse(&text))
            .collect();
        names.sort_by_cached_key(ToString::to_string);
        names.dedup();
        names
    }
}

/// A raster in other sides: each pixel the mean of those that it stands for, or between those round it.
fn resized(raster: &Raster, width: usize, height: usize) -> Vec<u8> {
    let [across, down] = [(width, raster.width()), (height, raster.height())].map(|(to, from)| {
        let shares = (0..to).map(|at| shares(at, to, from));
        shares.collect::<Vec<_>>()
    });
    let mut rows = vec![0.0_f32; width * raster.height()];
    for (row, out) in raster
        .grey()
        .chunks(raster.width())
        .zip(rows.chunks_mut(width))
    {
        for (out, (from, shares)) in out.iter_mut().zip(&across) {
            let pixels = row[*from..].iter().zip(shares);
            *out = pixels.map(|(pixel, share)| f32::from(*pixel) * share).sum();
        }
    }
    let mut grey = Vec::with_capacity(width * height);
    let mut sums = vec![0.0_f32; width];
    for (from, shares) in &down {
        sums.fill(0.0);
        for (row, share) in rows[from * width..].chunks(width).zip(shares) {
            for (sum, value) in sums.iter_mut().zip(row) {
                *sum += value * share;
            }
        }
        grey.extend(sums.iter().map(|sum| sum.round() as u8));
    }
    grey
}

/// Of which of `from` pixels, and how much of each, pixel `at` of `to` is made: the first, and shares that
/// make 1.
fn shares(at: usize, to: usize, from: usize) -> (usize, Vec<f32>) {
    let scale = from as f32 / to as f32;
    // As wide as a pixel at least, so that enlarged ones lie between two.
    let (middle, half) = ((at as f32 + 0.5) * scale, scale.max(1.0) / 2.0);
    let (start, end) = ((middle - half).max(0.0), (middle + half).min(from as f32));
    let first = (start as usize).min(from - 1);
    let last = (end.ceil() as usize).clamp(first + 1, from);
    let covered = (first..last).map(|pixel| {
        let pixel = pixel as f32;
        (end.min(pixel + 1.0) - start.max(pixel)).max(0.0)
    });
    let covered: Vec<f32> = covered.collect();
    let whole: f32 = covered.iter().sum();
    (first, covered.iter().map(|share| share / whole).collect())
}
