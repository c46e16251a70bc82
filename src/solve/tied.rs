//! Parts placed by the tape: distances from known features along the panel's face.

use super::place::{Place, Placing};
use super::{Finding, FindingId, Locator, Severity};
use crate::base::Direction;
use crate::base::fixed;
use crate::base::length::Units;
use crate::base::words::did_you_mean;
use crate::geometry::outline::{ON_EDGE, Outline};
use crate::input::{Measured, PartSpec, Placed, Problem, TieSpec, TiesSpec};
use crate::model::centre::{Measuring, rectangular, root_sum_square};
use crate::model::clearance::{EachWay, Term};
use crate::model::ties::{LEAST_CROSSING, Tie, TieError, alone_to_blame, crossing, place};
use kurbo::{Point, Vec2};

/// A part's place by its ties.
#[derive(Debug, Clone)]
pub struct TiedPlace {
    /// What the tape read.
    pub ties: Vec<ReadTie>,
    /// The widest angle at which two of the distances cross, degrees.
    pub crossing: f64,
    /// Half-widths of what the place may be off by, mm.
    pub off: EachWay,
    /// What each distance would be off by if it alone were wrong, mm, where they disagree.
    pub blamed: Vec<Option<f64>>,
}

/// One distance, as it was read and as it is by the part's place.
#[derive(Debug, Clone)]
pub struct ReadTie {
    /// Name of the feature.
    pub from: String,
    /// Where that is, mm.
    pub feature: Point,
    /// The point of the part that the tape was held to, mm.
    pub held: Point,
    /// What the tape read, mm.
    pub distance: f64,
    /// What that is over the distance by the part's place, mm.
    pub over: f64,
}

impl TiedPlace {
    /// The points of the part that tapes were held to, each once, mm.
    pub fn held(&self) -> Vec<Point> {
        let mut held: Vec<Point> = vec![];
        for tie in &self.ties {
            if !held.contains(&tie.held) {
                held.push(tie.held);
            }
        }
        held
    }

    /// What stands for `position`, each way: that given for all, where it is more.
    pub(super) fn position(&self, usual: &EachWay<Term>) -> EachWay<Term> {
        let term = |own: f64, usual: &Term| match usual.is_given() && usual.value > own {
            true => usual.clone(),
            false => Term::worked_out(own, "from the ties that place the part".into()),
        };
        EachWay {
            sideways: term(self.off.sideways, &usual.sideways),
            depthways: term(self.off.depthways, &usual.depthways),
        }
    }

    /// Distances that contradict one another, as a finding about a part.
    pub(super) fn finding(&self, part: &str, at: Point, units: Units) -> Option<Finding> {
        if self.blamed.is_empty() {
            return None;
        }
        let ties = self.ties.iter().zip(&self.blamed);
        let told = ties.filter_map(|(tie, off)| {
            let off = (*off)?;
            let way = if off > 0.0 { "long" } else { "short" };
            Some(format!(
                "`{}` by {} too {way}",
                tie.from,
                units.length(off.abs())
            ))
        });
        let told: Vec<String> = told.collect();
        let (why, hint) = match told.as_slice() {
            [] => ("more than one of them is wrong".into(), "read all again"),
            [one] => (format!("it is {one}"), "read that again"),
            _ => (
                format!("if one alone is wrong, then {}", told.join(", or ")),
                "read those again; a tie more, from another side, tells which",
            ),
        };
        let message = format!("the ties of part `{part}` disagree: {why}");
        let id = FindingId::of("ties").about(part);
        Some(Finding::new(Severity::Warning, id, message, hint).at(at))
    }
}

/// Where a part with these ties stands: `own` is its outline about its own origin, turned as it lies.
pub(super) fn tied(
    spec: &PartSpec,
    ties: &TiesSpec,
    own: &Outline,
    turn: f64,
    placing: &Placing<'_>,
) -> Result<(Place, TiedPlace), Vec<Problem>> {
    if spec.measured == Measured::SquareOn && !placing.surface.is_plain() {
        let message =
            "ties are read along the panel's face, and this panel is not flat and square to you";
        let hint =
            "write `measured = \"on the panel\"`, with the part as its outline lies on the face";
        return Err(vec![ties.key.problem(message).hint(hint)]);
    }
    let turned = own.placed(turn, Vec2::ZERO);
    let mut problems = vec![];
    let mut read = vec![];
    for tie in &ties.each {
        match tie_of(tie, &turned, placing) {
            Ok(tie) => read.push(tie),
            Err(problem) => problems.push(problem),
        }
    }
    for (index, tie) in ties.each.iter().enumerate() {
        let same =
            |other: &&TieSpec| other.from.value == tie.from.value && told_to(other) == told_to(tie);
        if ties.each[..index].iter().any(|other| same(&other)) {
            let message = format!("`{}` is tied twice", tie.from.value);
            problems.push(
                tie.from
                    .problem(message)
                    .hint("keep one of the two, or their mean"),
            );
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let size = placing.size;
    let on_panel = |at: Point| {
        size.is_none_or(|size| {
            (size.x0..=size.x1).contains(&at.x) && (placing.edge.at(at.x)..=size.y1).contains(&at.y)
        })
    };
    let found = place(&read, on_panel).map_err(|error| vec![told(&error, ties, placing)])?;
    // Rectangular half-widths of the same standard uncertainty (GUM 4.3.7).
    let off = found.half_widths(3.0_f64.sqrt());
    let blamed = match found.disagree() {
        true => alone_to_blame(&read, found.at),
        false => vec![],
    };
    let each = ties.each.iter().zip(&read).zip(&found.residuals);
    let tied = TiedPlace {
        ties: each
            .map(|((spec, read), left)| ReadTie {
                from: spec.from.value.clone(),
                feature: read.from,
                held: found.at + read.to,
                distance: read.distance,
                over: *left,
            })
            .collect(),
        crossing: found.crossing,
        off: EachWay {
            sideways: off.x,
            depthways: off.y,
        },
        blamed,
    };
    let place = Place {
        origin: found.at,
        offset: found.at.x - placing.centreline.x_at(found.at.y),
        turn,
    };
    Ok((place, tied))
}

fn told_to(tie: &TieSpec) -> Option<&str> {
    tie.to.as_ref().map(|to| to.value.as_str())
}

fn tie_of(spec: &TieSpec, turned: &Outline, placing: &Placing<'_>) -> Result<Tie, Problem> {
    let features = placing.features;
    let name = spec.from.value.as_str();
    let feature = features
        .iter()
        .find(|own| own.name == name)
        .ok_or_else(|| {
            let names: Vec<&str> = features.iter().map(|own| own.name.as_str()).collect();
            let hint = match names.is_empty() {
                true => "give it as a `[[locator]]` or a `[[hole]]`".into(),
                false => did_you_mean(name, &names),
            };
            let message = format!("no feature of the panel is called `{name}`");
            spec.from.problem(message).hint(hint)
        })?;
    let to = match &spec.to {
        Some(corner) => corner_of(corner, turned, placing)?,
        None => Vec2::ZERO,
    };
    Ok(Tie {
        from: feature.at,
        to,
        distance: spec.distance.value,
        common: rectangular(
            placing
                .measuring
                .tape
                .permissible_error(spec.distance.value),
        ),
        uncertainty: uncertainty(&placing.measuring, feature, spec.distance.value),
    })
}

/// Standard uncertainty of a tie, mm: both of its ends found by eye, the tape read, what the tape may
/// be wrong by; and the same of the two readings that gave the feature its own place, one along each
/// way.
fn uncertainty(measuring: &Measuring, feature: &Locator, distance: f64) -> f64 {
    let tape = measuring.tape;
    let end = rectangular(measuring.reading);
    let blade = |length: f64| rectangular(tape.permissible_error(length));
    let read = root_sum_square([end, end, tape.rounding(), blade(distance)]);
    let own = root_sum_square([end, tape.rounding(), blade(feature.at.to_vec2().hypot())]);
    root_sum_square([read, own])
}

/// From a part's origin to its corner on two sides of the vehicle, where it has a sharp one there.
fn corner_of(
    corner: &Placed<String>,
    turned: &Outline,
    placing: &Placing<'_>,
) -> Result<Vec2, Problem> {
    let (datum, right) = (
        placing.orientation.datum_edge(),
        placing.orientation.frame_right(),
    );
    let bounds = turned.bounds();
    let words: Vec<&str> = corner.value.split_whitespace().collect();
    let one_of = |ways: [(Direction, f64); 2]| {
        let named = |way: &&(Direction, f64)| words.contains(&way.0.word());
        let mut fit = ways.iter().filter(named);
        fit.next().filter(|_| fit.next().is_none()).map(|way| way.1)
    };
    let x = one_of([(right, bounds.x1), (right.opposite(), bounds.x0)]);
    let y = one_of([(datum, bounds.y0), (datum.opposite(), bounds.y1)]);
    let (Some(x), Some(y), 2) = (x, y, words.len()) else {
        let message = format!("`{}` names no corner", corner.value);
        let hint = format!("write two sides, as `to = \"{datum} {right}\"`");
        return Err(corner.problem(message).hint(hint));
    };
    let at = Point::new(x, y);
    if turned.distance(at).0 > ON_EDGE {
        let message = format!("the part has no sharp corner at its {}", corner.value);
        let hint = "measure to its middle, or to a corner that a tape can be held to";
        return Err(corner.problem(message).hint(hint));
    }
    Ok(at.to_vec2())
}

/// A feature that crosses one of the ties well, seen from the part: none of those that are used.
fn crosses_well<'f>(
    ties: &TiesSpec,
    used: [usize; 2],
    at: Point,
    features: &'f [Locator],
) -> Option<(&'f Locator, f64)> {
    let place = |index: usize| {
        let name = &ties.each.get(index)?.from.value;
        features.iter().find(|own| own.name == *name)
    };
    let used = used.map(place);
    let widest = |feature: &Locator| {
        let ways = used.into_iter().flatten();
        let angles = ways.map(|used| crossing(used.at - at, feature.at - at));
        angles.fold(0.0, f64::max)
    };
    let named = |own: &&Locator| !ties.each.iter().any(|tie| tie.from.value == own.name);
    let each = features.iter().filter(named).map(|own| (own, widest(own)));
    let best = each.max_by(|a, b| a.1.total_cmp(&b.1));
    best.filter(|(_, angle)| *angle >= LEAST_CROSSING)
}

fn told(error: &TieError, ties: &TiesSpec, placing: &Placing<'_>) -> Problem {
    let name = |index: usize| {
        ties.each
            .get(index)
            .map_or("", |tie| tie.from.value.as_str())
    };
    match error {
        TieError::Apart(one, other, by) => ties
            .key
            .problem(format!(
                "the ties from `{}` and `{}` do not meet: {} are lacking",
                name(*one),
                name(*other),
                placing.units.length(*by)
            ))
            .hint("read both again, and look at the places of the two features"),
        TieError::TooFlat(angle, one, other, at) => {
            let message = format!(
                "the ties cross at {} degrees at most, those from `{}` and `{}`: less than {} places \
                 nothing",
                fixed(*angle, 0),
                name(*one),
                name(*other),
                LEAST_CROSSING
            );
            let hint = match crosses_well(ties, [*one, *other], *at, placing.features) {
                Some((feature, angle)) => format!(
                    "measure from `{}` too, which crosses at {} degrees",
                    feature.name,
                    fixed(angle, 0)
                ),
                None => {
                    "measure from a feature that lies square to these, seen from the part".into()
                }
            };
            ties.key.problem(message).hint(hint)
        }
        TieError::OffPanel(_) => ties
            .key
            .problem("where the ties meet lies off the panel")
            .hint("read them again, and look at the places of the features and the panel's size"),
        TieError::Two(..) => ties
            .key
            .problem("the ties meet at two places, both on the panel")
            .hint("add a tie from a feature that is not in line with these"),
    }
}
