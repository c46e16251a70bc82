//! How a sheet lies, from where its four rulers stand: which is told from the picture alone.
//!
//! A ruler knows its zero by the side that its graduations stand on, which a mirror turns round. Two
//! things do not follow it: the rulers of a pair share their zero and not their far end, 1.6 mm
//! apart; and the zeros of both pairs stand at one corner of the sheet, their far ends apart.

use super::error::ScanError;
use super::spot::Spot;
use kurbo::{Point, Vec2};

/// Zeros of the two metric rulers from each other, mm, with room for a sheared print: drawn, 12.4.
const ZEROS_WITHIN: f64 = 30.0;
/// Their far ends from each other, mm: drawn, 153.8.
const FAR_ENDS_BEYOND: f64 = 90.0;
/// Least difference between what the ends of a pair are apart, mm: 4 in is 1.6 mm more than 100 mm.
const CLEAR: f64 = 0.8;
/// From the zero of the metric ruler across back to the frame's lower left, mm: so far left, and up.
const TO_FRAME: f64 = 4.0;

/// Both rulers of one direction.
#[derive(Clone, Copy)]
pub(super) struct Pair<'a> {
    metric: &'a Spot,
    inches: &'a Spot,
}

impl<'a> Pair<'a> {
    fn of(spots: &'a [Spot], along: &'static str) -> Result<Self, ScanError> {
        let of = |intervals, ruler| {
            let found = spots.iter().find(|spot| spot.intervals == intervals);
            found.ok_or(ScanError::RulerMissing { ruler, along })
        };
        Ok(Self {
            metric: of(100, "100 mm")?,
            inches: of(64, "4 in")?,
        })
    }

    /// Whether they share their far end in place of their zero; `None` where that can't be told.
    fn mirrored(&self) -> Option<bool> {
        let unit = self.metric.millimetre();
        let apart = |end: usize| {
            let between = self.inches.ends[end] - self.metric.ends[end];
            between.dot(unit).abs() / unit.hypot2()
        };
        let (zero, far) = (apart(0), apart(1));
        ((zero - far).abs() > CLEAR).then_some(zero > far)
    }
}

/// Both pairs of a sheet that is shown not to be mirrored.
///
/// # Errors
/// A ruler that is missing, a sheet that is mirrored, and one where that can't be told.
pub(super) fn pairs<'a>(
    along_width: &'a [Spot],
    along_height: &'a [Spot],
) -> Result<[Pair<'a>; 2], ScanError> {
    let pairs = [
        Pair::of(along_width, "width")?,
        Pair::of(along_height, "height")?,
    ];
    let [width, height] = &pairs;
    match [
        width.mirrored(),
        height.mirrored(),
        at_far_corner(width, height),
    ] {
        [Some(false), Some(false), Some(false)] => Ok(pairs),
        [Some(true), Some(true), Some(true)] => Err(ScanError::Mirrored),
        _ => Err(ScanError::Unclear),
    }
}

/// Whether the far ends stand at one corner, in place of the zeros; `None` where neither do.
fn at_far_corner(one: &Pair<'_>, other: &Pair<'_>) -> Option<bool> {
    let unit = (one.metric.millimetre().hypot() + other.metric.millimetre().hypot()) / 2.0;
    let apart = |end: usize| one.metric.ends[end].distance(other.metric.ends[end]) / unit;
    let (zeros, far) = (apart(0), apart(1));
    let lies = |near: f64, away: f64| near < ZEROS_WITHIN && away > FAR_ENDS_BEYOND;
    match (lies(zeros, far), lies(far, zeros)) {
        (true, false) => Some(false),
        (false, true) => Some(true),
        _ => None,
    }
}

/// The corner of the sheet's frame at which the rulers start, in pixels, y up.
pub(super) struct Corner {
    pub(super) frame: Point,
    /// One millimetre of the drawing to the right, and towards the head.
    pub(super) right: Vec2,
    pub(super) up: Vec2,
}

impl Corner {
    /// From the rulers across the sheet and those down it.
    pub(super) fn of(across: Pair<'_>, down: Pair<'_>) -> Self {
        let (right, up) = (across.metric.millimetre(), down.metric.millimetre());
        Self {
            frame: across.metric.ends[0] - TO_FRAME * right + TO_FRAME * up,
            right,
            up,
        }
    }
}
