//! Check rulers, told by what they are: a line with a comb of graduations on one side of it.
//!
//! A comb of 101 is the 100 mm ruler, one of 65 the 4 in ruler, whatever their length, so nothing
//! rests on layers or on the scale.

use super::segments::{Straight, Straights};
use kurbo::{Affine, Point, Vec2};

/// How far a graduation may begin from its line, mm.
const ON_LINE: f64 = 0.05;
/// Graduations closer than this are one, mm.
const ONE: f64 = 0.02;
/// A comb of fewer is no ruler.
const FEWEST: usize = 40;
/// How far apart the two base lines of a pair may stand, mm, at any believed scale.
const PAIR: f64 = 6.0;

/// Graduations tried against lines, at most.
const MOST_TRIALS: usize = 200_000_000;

/// Which of the two rulers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    Metric,
    Inches,
}

impl Kind {
    /// What it must measure, mm.
    pub(crate) fn nominal(self) -> f64 {
        match self {
            Self::Metric => 100.0,
            Self::Inches => 4.0 * 25.4,
        }
    }

    /// Graduations, both ends included.
    fn count(self) -> usize {
        match self {
            Self::Metric => 101,
            Self::Inches => 65,
        }
    }

    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Metric => "100 mm",
            Self::Inches => "4 in",
        }
    }
}

/// One ruler as found.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ruler {
    pub(crate) kind: Kind,
    /// Ends of its base line; from zero once it has been paired.
    pub(crate) ends: [Point; 2],
    /// The side of its graduations, a unit vector.
    pub(crate) side: Vec2,
    /// How far a graduation is from its place at most, mm.
    pub(crate) uneven: f64,
    /// Index of the base line's stroke.
    pub(crate) stroke: usize,
}

impl Ruler {
    pub(crate) fn length(&self) -> f64 {
        (self.ends[1] - self.ends[0]).hypot()
    }

    /// What it measures over what it must.
    pub(crate) fn scale(&self) -> f64 {
        self.length() / self.kind.nominal()
    }

    fn along(&self) -> Vec2 {
        (self.ends[1] - self.ends[0]) / self.length()
    }
}

/// All rulers on a page, and how many combs are there that are no whole ruler.
pub(crate) fn rulers(straights: &Straights) -> (Vec<Ruler>, usize) {
    let mut found = vec![];
    let mut broken = 0;
    // A page of nothing but lines must not take for ever.
    let most = MOST_TRIALS / straights.short.len().max(1);
    for base in straights.long.iter().take(most) {
        match comb(base, &straights.short) {
            Comb::Ruler(ruler) => found.push(ruler),
            Comb::Broken => broken += 1,
            Comb::None => {}
        }
    }
    (found, broken)
}

enum Comb {
    None,
    Broken,
    Ruler(Ruler),
}

fn comb(base: &Straight, short: &[Straight]) -> Comb {
    let line = base.line;
    let length = (line.p1 - line.p0).hypot();
    let along = (line.p1 - line.p0) / length;
    let aside = Vec2::new(-along.y, along.x);
    let mut places: [Vec<f64>; 2] = [vec![], vec![]];
    for graduation in short {
        let ends = [graduation.line.p0, graduation.line.p1];
        let heights = ends.map(|end| (end - line.p0).dot(aside));
        let (foot, head) = if heights[0].abs() < heights[1].abs() {
            (0, 1)
        } else {
            (1, 0)
        };
        let at = (ends[foot] - line.p0).dot(along);
        let leaning = ((ends[head] - line.p0).dot(along) - at).abs();
        let rises = heights[head].abs();
        if heights[foot].abs() <= ON_LINE
            && rises > 2.0 * ON_LINE
            && leaning <= 0.02 * rises
            && (-0.5..=length + 0.5).contains(&at)
        {
            places[usize::from(heights[head] < 0.0)].push(at);
        }
    }
    let below = places[1].len() > places[0].len();
    let mut at = std::mem::take(&mut places[usize::from(below)]);
    at.sort_by(f64::total_cmp);
    at.dedup_by(|a, b| (*a - *b).abs() < ONE);
    let kind = [Kind::Metric, Kind::Inches]
        .into_iter()
        .find(|kind| kind.count() == at.len());
    let Some(kind) = kind else {
        return if at.len() < FEWEST {
            Comb::None
        } else {
            Comb::Broken
        };
    };
    let pitch = length / (kind.count() - 1) as f64;
    let uneven = at
        .iter()
        .enumerate()
        .map(|(place, at)| (at - place as f64 * pitch).abs())
        .fold(0.0, f64::max);
    Comb::Ruler(Ruler {
        kind,
        ends: [line.p0, line.p1],
        side: if below { -aside } else { aside },
        uneven,
        stroke: base.stroke,
    })
}

/// How a sheet lies, told by its rulers: the sheet's own directions in the page's.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Lie {
    /// Rulers across and down, as indices.
    pub(crate) across: [usize; 2],
    pub(crate) down: [usize; 2],
    /// The direction across, degrees from the page's.
    pub(crate) turn: f64,
    /// Right reads as left.
    pub(crate) mirrored: bool,
    /// By how much the corner between across and down falls short of a right angle, degrees.
    pub(crate) skew: f64,
    /// From the page to the sheet's own directions.
    pub(crate) to_sheet: Affine,
}

/// Why rulers do not say how a sheet lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum NoLie {
    /// Rulers of one direction or of both are missing.
    Missing,
    /// More rulers than a sheet has.
    TooMany,
}

/// Pairs the rulers, turns them so that they begin at zero, and says how the sheet lies.
pub(crate) fn lie(rulers: &mut [Ruler]) -> Result<Lie, NoLie> {
    let mut pairs: Vec<[usize; 2]> = vec![];
    for metric in 0..rulers.len() {
        if rulers[metric].kind != Kind::Metric {
            continue;
        }
        let near = (0..rulers.len()).find(|&inches| are_pair(&rulers[metric], &rulers[inches]));
        if let Some(inches) = near {
            pairs.push([metric, inches]);
        }
    }
    match pairs.len() {
        0 | 1 => return Err(NoLie::Missing),
        2 if rulers.len() == 4 => {}
        _ => return Err(NoLie::TooMany),
    }
    for [metric, inches] in &pairs {
        begin_at_zero(rulers, *metric, *inches);
    }
    let along = |pair: [usize; 2]| rulers[pair[0]].along();
    // Seen along the 100 mm ruler, its graduations are on the left.
    let mirrored = |pair: [usize; 2]| along(pair).cross(rulers[pair[0]].side) < 0.0;
    let (first, second) = (pairs[0], pairs[1]);
    let is_mirrored = mirrored(first);
    let left_turn = along(first).cross(along(second)) > 0.0;
    let (across, down) = if left_turn != is_mirrored {
        (first, second)
    } else {
        (second, first)
    };
    let (a, d) = (along(across), along(down));
    let corner = libm::atan2(a.cross(d).abs(), a.dot(d)).to_degrees();
    let turn = libm::atan2(a.y, a.x);
    let upright = Affine::rotate(-turn);
    let to_sheet = if is_mirrored {
        Affine::FLIP_Y * upright
    } else {
        upright
    };
    Ok(Lie {
        across,
        down,
        turn: turn.to_degrees(),
        mirrored: is_mirrored,
        skew: 90.0 - corner,
        to_sheet,
    })
}

fn are_pair(metric: &Ruler, inches: &Ruler) -> bool {
    let along = metric.along();
    inches.kind == Kind::Inches
        && along.cross(inches.along()).abs() < 0.01
        && inches.ends.iter().all(|end| {
            let from = *end - metric.ends[0];
            let reach = from.dot(along);
            from.cross(along).abs() < PAIR && (-4.0..=metric.length() + 4.0).contains(&reach)
        })
}

/// The two of a pair share their zero; 4 in ends 1.6 mm farther out.
fn begin_at_zero(rulers: &mut [Ruler], metric: usize, inches: usize) {
    let along = rulers[metric].along();
    if rulers[inches].along().dot(along) < 0.0 {
        rulers[inches].ends.reverse();
    }
    let apart = |end: usize| {
        (rulers[inches].ends[end] - rulers[metric].ends[end])
            .dot(along)
            .abs()
    };
    if apart(0) > apart(1) {
        rulers[metric].ends.reverse();
        rulers[inches].ends.reverse();
    }
}
