//! Straight lines of the sheet, by a Hough transform over what is thin and dark.

use super::coarse::Coarse;

/// How far from straight a sheet may lie, degrees, beside whole quarter turns.
pub const MOST_TURN: f64 = 4.0;

/// Step of the angles tried, degrees: over a ruler it moves a line's end by 0.09 mm either way.
const STEP: f64 = 0.1;
/// Darkness from which a block counts as ink.
const INK: f32 = 0.4;
/// Thickest line, mm: base lines are 0.5 mm, and blur and scale add to them.
const THICKEST: f64 = 1.3;
/// Least dark length of a line, mm: a 100 mm base line at half size, as graduations and noise
/// leave it.
const LEAST: f64 = 27.0;
/// Lines nearer to each other than this over the whole sheet are one, mm.
const APART: f64 = 0.5;
/// Most lines that are looked at: an instruction sheet's rows of lettering come to some 100.
const MOST_LINES: usize = 200;
/// Most ink that is looked at, blocks: ten times that of the largest sheet's. A picture of more is
/// speckled all over, and would be looked at for minutes.
const MOST_INK: usize = 1_000_000;

/// `y = offset + slope x`, in pixels of the view.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Line {
    /// y at x = 0.
    pub(crate) offset: f64,
    /// Rise over run.
    pub(crate) slope: f64,
}

impl Line {
    /// y at `x`.
    pub(crate) fn at(&self, x: f64) -> f64 {
        self.offset + self.slope * x
    }

    /// Unit vector square to the line, towards larger y.
    pub(crate) fn normal(&self) -> (f64, f64) {
        let length = self.slope.hypot(1.0);
        (-self.slope / length, 1.0 / length)
    }
}

/// Lines along x of the view, the darkest first.
pub(crate) fn lines(coarse: &Coarse, turned: bool, pixels_per_mm: f64) -> Vec<Line> {
    let per_mm = pixels_per_mm / coarse.block as f64;
    let (width, height) = coarse.size(turned);
    let middle = width as f64 / 2.0;
    let steps = (2.0 * MOST_TURN / STEP).round() as usize;
    let slopes: Vec<f64> = (0..=steps)
        .map(|step| libm::tan((step as f64 * STEP - MOST_TURN).to_radians()))
        .collect();
    // A sheared row of the sheet may leave it by this much at either side.
    let pad = (middle * libm::tan(MOST_TURN.to_radians())).ceil() as usize + 2;
    let rows = height + 2 * pad;
    let mut counts = vec![0_u32; rows * slopes.len()];
    let points: Vec<(f64, f64)> = thin(coarse, turned, (THICKEST * per_mm).ceil() as usize)
        .into_iter()
        .map(|(x, y)| (x as f64 - middle, (y + pad) as f64 + 0.5))
        .collect();
    for (slope, counts) in slopes.iter().zip(counts.chunks_exact_mut(rows)) {
        for (along, start) in &points {
            let row = (start - slope * along) as usize;
            if let Some(count) = counts.get_mut(row) {
                *count += 1;
            }
        }
    }
    let least = (LEAST * per_mm) as u32;
    let mut peaks: Vec<(u32, usize, usize)> = Vec::new();
    for (step, here) in counts.chunks_exact(rows).enumerate() {
        for (row, count) in here.iter().enumerate() {
            let beside = |row: Option<usize>| row.and_then(|row| here.get(row)).unwrap_or(&0);
            let highest = *count >= *beside(row.checked_sub(1)) && *count >= *beside(Some(row + 1));
            if *count >= least && highest {
                peaks.push((*count, step, row));
            }
        }
    }
    peaks.sort_by_key(|(count, step, row)| (std::cmp::Reverse(*count), *step, *row));
    let block = coarse.block as f64;
    let mut lines: Vec<Line> = Vec::new();
    let (quarter, near) = (width as f64 * block / 4.0, APART * pixels_per_mm);
    for (_, step, row) in peaks {
        let slope = slopes[step];
        let y = row as f64 - pad as f64 - slope * middle;
        // From the middles of blocks to the middles of pixels.
        let to_pixel = |at: f64| (at + 0.5) * block - 0.5;
        let offset = to_pixel(y) - slope * to_pixel(0.0);
        let line = Line { offset, slope };
        let known = lines.iter().any(|known| {
            [quarter, 3.0 * quarter]
                .into_iter()
                .all(|x| (known.at(x) - line.at(x)).abs() < near)
        });
        if !known {
            lines.push(line);
        }
        if lines.len() == MOST_LINES {
            break;
        }
    }
    lines
}

/// Dark blocks that are part of no more than `most` dark ones one over the other; none where there
/// are more than [`MOST_INK`].
fn thin(coarse: &Coarse, turned: bool, most: usize) -> Vec<(usize, usize)> {
    let (width, height) = coarse.size(turned);
    let mut found = Vec::new();
    for x in 0..width {
        let mut run = 0;
        for y in 0..=height {
            if y < height && coarse.at(x, y, turned) >= INK {
                run += 1;
                continue;
            }
            if run > 0 && run <= most {
                found.extend((y - run..y).map(|y| (x, y)));
            }
            run = 0;
        }
        if found.len() > MOST_INK {
            return vec![];
        }
    }
    found
}
