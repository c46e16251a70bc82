//! The comb of graduations beside a base line.
//!
//! A ruler is recognised by the number of intervals between the ends of its base line, 100 or 64,
//! as the strongest period says; then each graduation is found by itself.

use super::base_line::BaseLine;
use super::fit::{Fit, fit};
use super::view::View;
use std::f64::consts::TAU;

/// Intervals of the two rulers.
const INTERVALS: [u32; 2] = [100, 64];

/// Where graduations are looked for beside the base line's middle, mm: beyond the line itself, and
/// no farther than the shortest graduation reaches, 1.2 mm.
const BAND: (f64, f64) = (0.5, 1.05);
/// Where only the longest graduations are, mm: they reach 3 mm, the next 2.25 mm.
const LONG_BAND: (f64, f64) = (2.45, 2.85);
/// Least darkness that the longest have there beyond the others, as a share of a typical height.
const STANDING_OUT: f64 = 0.4;
/// Samples over the band.
const SAMPLES: u32 = 6;
/// How wrong the base line's length may make the period, as a share.
const PERIOD_DOUBT: f64 = 0.03;
/// Least amplitude of the period, of 1 for full black.
const LEAST_AMPLITUDE: f64 = 0.05;
/// Half of the stretch in which a graduation is looked for, in intervals.
const REACH: f64 = 0.32;
/// Least typical height of a graduation over its ground, of 1 for full black: what noise heaps up
/// by chance stays below.
const LEAST_TYPICAL: f64 = 0.15;
/// Least height of a graduation over its ground, as a share of the typical one.
const LEAST_HEIGHT: f64 = 0.35;
/// Least share of graduations that must be found.
const FOUND: f64 = 0.85;
/// Largest root mean square of a comb's residuals, in intervals.
const ROUGHEST: f64 = 0.04;
/// Most intervals that the base line may be longer or shorter than its graduations.
const ENDS: f64 = 1.6;
/// Where the first graduation may be, in intervals from the one nearest to the base line's start:
/// noise beside an end makes the line longer by more than half an interval. The longest tell which.
const FIRSTS: [f64; 3] = [0.0, 1.0, -1.0];
/// Passes of looking for each graduation.
const PASSES: usize = 4;

/// A ruler in the pixels of its view.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Comb {
    /// Its base line.
    pub(crate) base: BaseLine,
    /// Number of intervals: 100 or 64.
    pub(crate) intervals: u32,
    /// Graduations along x: the first at `offset`, `slope` pixels apart.
    pub(crate) graduations: Fit,
    /// Which side they stand on: 1 towards larger y, -1 towards smaller.
    pub(crate) side: f64,
}

/// Darkness beside the base line along x, sampled once.
struct Profile {
    start: f64,
    values: Vec<f64>,
}

impl Profile {
    /// Pixels from one sample to the next.
    const STEP: f64 = 0.5;

    /// The mean over a band beside the base line, from `near` to `far` mm of its middle, with some
    /// intervals to spare at both ends.
    fn of(view: &View<'_>, base: &BaseLine, side: f64, (near, far): (f64, f64)) -> Self {
        let (across, down) = base.line.normal();
        let spare = 3.0 * base.unit;
        let start = base.from - spare;
        let count = ((base.to - base.from + 2.0 * spare) / Self::STEP) as usize;
        let values = (0..count).map(|at| {
            let x = start + Self::STEP * at as f64;
            let y = base.line.at(x);
            let sum: f64 = (0..SAMPLES)
                .map(|sample| {
                    let share = f64::from(sample) / f64::from(SAMPLES - 1);
                    let by = side * base.unit * (near + share * (far - near));
                    view.between(x + by * across, y + by * down)
                })
                .sum();
            sum / f64::from(SAMPLES)
        });
        Self {
            start,
            values: values.collect(),
        }
    }

    /// Darkness at `x`; 0 where it was not sampled.
    fn at(&self, x: f64) -> f64 {
        let place = (x - self.start) / Self::STEP;
        let left = place.floor();
        let value = |at: f64| {
            let inside = (at >= 0.0).then_some(at as usize);
            inside
                .and_then(|at| self.values.get(at))
                .copied()
                .unwrap_or(0.0)
        };
        let here = value(left);
        here + (place - left) * (value(left + 1.0) - here)
    }

    /// Samples from `from` to `to`, each the mean of as many as come to `step` pixels, with the
    /// place of the first and the step taken.
    fn thinned(&self, from: f64, to: f64, step: f64) -> (Vec<f64>, f64, f64) {
        let block = ((step / Self::STEP) as usize).max(1);
        let first = ((from - self.start) / Self::STEP).max(0.0) as usize;
        let last = (((to - self.start) / Self::STEP).max(0.0) as usize).min(self.values.len());
        let kept = self.values.get(first..last).unwrap_or(&[]);
        let means = kept
            .chunks_exact(block)
            .map(|values| values.iter().sum::<f64>() / block as f64);
        let middle = (block as f64 - 1.0) / 2.0;
        let place = self.start + Self::STEP * (first as f64 + middle);
        (means.collect(), place, Self::STEP * block as f64)
    }
}

/// The strongest period of one kind.
#[derive(Clone, Copy)]
struct Period {
    intervals: u32,
    length: f64,
    first: f64,
    amplitude: f64,
}

/// The comb on either side of a base line; `None` where there is none.
pub(crate) fn comb(view: &View<'_>, base: &BaseLine) -> Option<Comb> {
    [1.0, -1.0]
        .into_iter()
        .filter_map(|side| {
            let profile = Profile::of(view, base, side, BAND);
            let period = period(&profile, base)?;
            let ends = Profile::of(view, base, side, LONG_BAND);
            FIRSTS.into_iter().find_map(|by| {
                let first = period.first + by * period.length;
                let (graduations, height) = graduations(&profile, Period { first, ..period })?;
                let comb = Comb {
                    base: *base,
                    intervals: period.intervals,
                    graduations,
                    side,
                };
                (comb.ends_with_base() && comb.longest_stand_out(&ends, height))
                    .then_some((period.amplitude, comb))
            })
        })
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, comb)| comb)
}

impl Comb {
    /// Whether there are as many graduations as the base line has room for.
    fn ends_with_base(&self) -> bool {
        let room = (self.base.to - self.base.from) / self.graduations.slope;
        (room - f64::from(self.intervals)).abs() <= ENDS
    }

    /// Whether every tenth graduation, or every sixteenth of inches, reaches farther than the
    /// others: a part of a ruler, or another comb by chance, does not have them there.
    fn longest_stand_out(&self, ends: &Profile, height: f64) -> bool {
        let every = if self.intervals == 100 { 10 } else { 16 };
        let (mut long, mut other) = ((0.0, 0.0), (0.0, 0.0));
        for at in 0..=self.intervals {
            let x = self.graduations.offset + self.graduations.slope * f64::from(at);
            let sum = if at.is_multiple_of(every) {
                &mut long
            } else {
                &mut other
            };
            sum.0 += ends.at(x);
            sum.1 += 1.0;
        }
        long.0 / long.1 - other.0 / other.1 >= STANDING_OUT * height
    }
}

/// The period with the greatest amplitude among those that the base line's length allows.
fn period(profile: &Profile, base: &BaseLine) -> Option<Period> {
    let length = base.to - base.from;
    // Ten samples to the shortest interval.
    let (values, from, step) = profile.thinned(base.from, base.to, length / 1000.0);
    let count = values.len();
    let mean = values.iter().sum::<f64>() / count.max(1) as f64;
    let mut best: Option<Period> = None;
    for intervals in INTERVALS {
        // A tenth of the width of a peak of the spectrum.
        let tries = (2.0 * PERIOD_DOUBT * f64::from(intervals) / 0.1).ceil() as i32;
        for attempt in 0..=tries {
            let share = f64::from(attempt) / f64::from(tries) - 0.5;
            let turns = f64::from(intervals) / length * (1.0 + 2.0 * PERIOD_DOUBT * share);
            let angle = TAU * turns * step;
            let (turn_cosine, turn_sine) = (angle.cos(), angle.sin());
            let (mut wave_cosine, mut wave_sine) = (1.0, 0.0);
            let (mut cosine, mut sine) = (0.0, 0.0);
            for value in &values {
                cosine += (value - mean) * wave_cosine;
                sine += (value - mean) * wave_sine;
                (wave_cosine, wave_sine) = (
                    wave_cosine * turn_cosine - wave_sine * turn_sine,
                    wave_sine * turn_cosine + wave_cosine * turn_sine,
                );
            }
            let amplitude = 2.0 * cosine.hypot(sine) / count.max(1) as f64;
            if best.is_none_or(|best| amplitude > best.amplitude) {
                let length = 1.0 / turns;
                // The graduation nearest to the start of the base line.
                let phase = sine.atan2(cosine) / TAU;
                let whole = ((base.from - from) / length - phase).round();
                let first = from + (whole + phase) * length;
                best = Some(Period {
                    intervals,
                    length,
                    first,
                    amplitude,
                });
            }
        }
    }
    best.filter(|best| best.amplitude >= LEAST_AMPLITUDE)
}

/// Every graduation by itself: the line through them, and their typical height.
fn graduations(profile: &Profile, period: Period) -> Option<(Fit, f64)> {
    let number = period.intervals + 1;
    let (mut offset, mut slope) = (period.first, period.length);
    let mut found = None;
    for _ in 0..PASSES {
        let seen: Vec<(f64, f64, f64)> = (0..number)
            .map(|at| {
                let (place, height) = one(profile, offset + slope * f64::from(at), REACH * slope);
                (f64::from(at), place, height)
            })
            .collect();
        let mut heights: Vec<f64> = seen.iter().map(|(.., height)| *height).collect();
        heights.sort_by(f64::total_cmp);
        let typical = heights.get(heights.len() / 2).copied()?;
        let points: Vec<(f64, f64)> = seen
            .iter()
            .filter(|(.., height)| *height >= LEAST_HEIGHT * typical && *height > 0.0)
            .map(|(at, place, _)| (*at, *place))
            .collect();
        let line = fit(&points, 0.02 * slope)?;
        (offset, slope) = (line.offset, line.slope);
        found = Some((line, typical));
    }
    found.filter(|(line, typical)| {
        *typical >= LEAST_TYPICAL
            && line.count as f64 >= FOUND * f64::from(number)
            && line.rms <= ROUGHEST * line.slope
    })
}

/// Middle and height of the ink around `x`, over the lightest place near it.
fn one(profile: &Profile, x: f64, reach: f64) -> (f64, f64) {
    let steps = ((2.0 * reach / 0.5).ceil() as i32).clamp(8, 32);
    let values: Vec<(f64, f64)> = (0..=steps)
        .map(|step| {
            let by = reach * (2.0 * f64::from(step) / f64::from(steps) - 1.0);
            (by, profile.at(x + by))
        })
        .collect();
    let ground = values.iter().map(|(_, dark)| *dark).fold(1.0, f64::min);
    let top = values.iter().map(|(_, dark)| *dark).fold(0.0, f64::max);
    let weight: f64 = values.iter().map(|(_, dark)| dark - ground).sum();
    if weight <= 0.0 {
        return (x, 0.0);
    }
    let moment: f64 = values.iter().map(|(by, dark)| by * (dark - ground)).sum();
    (x + moment / weight, top - ground)
}
