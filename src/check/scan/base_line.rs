//! Stretches of a line that are long and solid enough to be a ruler's base line.

use super::fit::fit;
use super::line::Line;
use super::view::View;

/// Lengths of a base line that are believed, mm: 100 mm and 4 in at half to one and a half times
/// their size, and some.
const LENGTHS: std::ops::RangeInclusive<f64> = 47.0..=160.0;
/// Nominal length of a base line, mm: midway between 100 mm and 4 in, close enough to know what a
/// millimetre of the sheet is here before it is known which ruler it is.
const NOMINAL: f64 = 100.8;
/// Longest break that noise makes in a line, mm. The next ink beside a base line is 1 mm away.
const BREAK: f64 = 0.45;
/// How far beside the line ink is still taken for it, mm, while the line is known coarsely.
const BESIDE: f64 = 0.3;
/// The same once it is known finely: half the line's own width and less.
const CLOSE: f64 = 0.12;
/// The same on the sheet, to weigh the ink by, mm: the other ruler's base line begins at 1 mm.
const NEAR: f64 = 0.45;
/// Darkness from which a pixel counts as ink.
const INK: f64 = 0.45;
/// Least share of places along a base line where it must be seen.
const SEEN: f64 = 0.7;
/// Passes of following the line.
const PASSES: usize = 3;

/// A straight stretch of ink, in pixels of the view.
#[derive(Debug, Clone, Copy)]
pub(crate) struct BaseLine {
    /// Its middle.
    pub(crate) line: Line,
    /// Standard error of its slope.
    pub(crate) slope_error: f64,
    /// x of its start and of its end.
    pub(crate) from: f64,
    /// End.
    pub(crate) to: f64,
    /// Pixels to a millimetre of the sheet, as the length lets it be guessed, within 2 %.
    pub(crate) unit: f64,
}

impl BaseLine {
    /// Whether another line is this one, known more coarsely. The other ruler's is 1.25 mm away.
    pub(crate) fn is_along(&self, line: Line) -> bool {
        let middle = (self.from + self.to) / 2.0;
        (self.line.at(middle) - line.at(middle)).abs() < 0.4 * self.unit
    }
}

/// Base lines along `line`, followed to a fraction of a pixel.
///
/// A line that is known coarsely may run from one ruler's base line into the other's, or leave it
/// half way; so its ends are looked for again once its middle is known finely.
pub(crate) fn base_lines(view: &View<'_>, line: Line, pixels_per_mm: f64) -> Vec<BaseLine> {
    let long = |stretch: &(f64, f64)| {
        let length = stretch.1 - stretch.0;
        LENGTHS.contains(&(length / pixels_per_mm))
    };
    solid(view, line, BESIDE, pixels_per_mm)
        .into_iter()
        .filter(long)
        .filter_map(|(from, to)| {
            let first = follow(view, line, from, to)?;
            let middle = (from + to) / 2.0;
            let (from, to) = solid(view, first.line, CLOSE, pixels_per_mm)
                .into_iter()
                .find(|(from, to)| (*from..=*to).contains(&middle))
                .filter(long)?;
            follow(view, first.line, from, to)
        })
        .collect()
}

/// From where to where the line is inked, breaks aside.
fn solid(view: &View<'_>, line: Line, beside: f64, pixels_per_mm: f64) -> Vec<(f64, f64)> {
    let beside = (beside * pixels_per_mm).round() as i64;
    let stride = (beside / 3).max(1) as usize;
    let longest_break = (BREAK * pixels_per_mm).max(2.0) as i64;
    let mut stretches: Vec<(i64, i64)> = Vec::new();
    for x in 0..view.width() as i64 {
        let y = line.at(x as f64).round() as i64;
        if !(-beside..=beside)
            .step_by(stride)
            .any(|by| view.at(x, y + by) >= INK)
        {
            continue;
        }
        match stretches.last_mut() {
            Some((_, to)) if x - *to <= longest_break => *to = x,
            _ => stretches.push((x, x)),
        }
    }
    let half = 0.5;
    stretches
        .into_iter()
        .map(|(from, to)| (from as f64 - half, to as f64 + half))
        .collect()
}

/// The line's middle as the ink has it; `None` where it is not seen most of the way.
fn follow(view: &View<'_>, line: Line, from: f64, to: f64) -> Option<BaseLine> {
    let unit = (to - from) * line.slope.hypot(1.0) / NOMINAL;
    let (mut line, mut slope_error) = (line, 0.0);
    let places = 200;
    let steps = ((NEAR * unit) as i64).clamp(3, 12);
    for _ in 0..PASSES {
        let mut points = Vec::new();
        let (across, down) = line.normal();
        for place in 0..places {
            let x = from + (to - from) * (f64::from(place) + 0.5) / f64::from(places);
            let y = line.at(x);
            let (mut weight, mut moment) = (0.0, 0.0);
            for step in -steps..=steps {
                let by = step as f64 / steps as f64 * NEAR * unit;
                let dark = view.between(x + by * across, y + by * down);
                weight += dark;
                moment += dark * by;
            }
            if weight * NEAR / steps as f64 > 0.15 {
                let by = moment / weight;
                points.push((x + by * across, y + by * down));
            }
        }
        if (points.len() as f64) < SEEN * f64::from(places) {
            return None;
        }
        let found = fit(&points, 0.02 * unit)?;
        line = Line {
            offset: found.offset,
            slope: found.slope,
        };
        slope_error = found.slope_error;
    }
    Some(BaseLine {
        line,
        slope_error,
        from,
        to,
        unit,
    })
}
