//! A ruler where it was found, in the raster's own pixels, y up.

use super::comb::Comb;
use kurbo::{Point, Vec2};

/// Two combs of one kind nearer than this, in millimetres of the sheet, are one found twice.
const SAME: f64 = 3.0;

/// One ruler of the sheet.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Spot {
    /// Number of intervals: 100 or 64.
    pub(crate) intervals: u32,
    /// Middle of the ruler.
    pub(crate) middle: Point,
    /// Its first and last graduation, from zero to its full length if the sheet is not mirrored.
    pub(crate) ends: [Point; 2],
    /// One interval, from zero onwards.
    pub(crate) step: Vec2,
    /// Standard error of an interval's length, as a share of it.
    pub(crate) error: f64,
    /// Standard error of the base line's direction, radians.
    pub(crate) turn_error: f64,
    /// Root mean square of the graduations' residuals, in intervals.
    pub(crate) rms: f64,
    /// Graduations found.
    pub(crate) count: usize,
}

impl Spot {
    /// From the view's pixels to the raster's, y up.
    pub(crate) fn of(comb: &Comb, turned: bool) -> Self {
        let up = |x: f64, y: f64| {
            if turned {
                Vec2::new(y, -x)
            } else {
                Vec2::new(x, -y)
            }
        };
        let line = comb.base.line;
        let on = |x: f64| up(x, line.at(x)).to_point();
        let (across, down) = line.normal();
        let towards = comb.side * up(across, down);
        // Metric graduations stand to the left of the way from zero, those of inches to the right.
        let left = if comb.intervals == 100 {
            towards
        } else {
            -towards
        };
        let onwards = Vec2::new(left.y, -left.x);
        let spacing = comb.graduations.slope;
        let mut step = up(spacing, spacing * line.slope);
        // By the graduations, since noise and other ink make a base line longer or shorter.
        let first = comb.graduations.offset;
        let mut ends = [on(first), on(first + spacing * f64::from(comb.intervals))];
        if step.dot(onwards) < 0.0 {
            step = -step;
            ends.reverse();
        }
        Self {
            intervals: comb.intervals,
            middle: ends[0].midpoint(ends[1]),
            ends,
            step,
            error: comb.graduations.slope_error / spacing,
            turn_error: comb.base.slope_error,
            rms: comb.graduations.rms / spacing,
            count: comb.graduations.count,
        }
    }

    /// Interval in millimetres, as drawn.
    pub(crate) fn pitch(&self) -> f64 {
        if self.intervals == 100 {
            1.0
        } else {
            25.4 / 16.0
        }
    }

    /// One millimetre of the drawing, in pixels.
    pub(crate) fn millimetre(&self) -> Vec2 {
        self.step / self.pitch()
    }
}

/// Each ruler once, as its finest comb has it.
pub(crate) fn distinct(mut spots: Vec<Spot>) -> Vec<Spot> {
    spots.sort_by(|a, b| a.error.total_cmp(&b.error));
    let mut kept: Vec<Spot> = Vec::new();
    for spot in spots {
        let near = SAME * spot.millimetre().hypot();
        let known = kept.iter().any(|known| {
            known.intervals == spot.intervals && known.middle.distance(spot.middle) < near
        });
        if !known {
            kept.push(spot);
        }
    }
    kept
}
