//! What stays of the panel, as written: areas no cut may come near, lines to fold along, accepted findings.

use super::field::{choice, choices, keys, solid_keys};
use super::keys::{Kind, List, Pair};
use super::problem::Placed;
use super::value::{ANY_LENGTH, Value};
use crate::base::length::{LONGEST, Offset};
use std::collections::BTreeMap;

/// What a keep-out area guards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Guarded {
    /// A radar or parking sensor.
    Sensor,
    /// Wiring or hoses.
    Wiring,
    /// The exhaust.
    Exhaust,
}

impl Guarded {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Sensor, Self::Wiring, Self::Exhaust];

    /// The word for it in files and on sheets.
    pub fn word(self) -> &'static str {
        match self {
            Self::Sensor => "sensor",
            Self::Wiring => "wiring",
            Self::Exhaust => "exhaust",
        }
    }

    /// How near a cut may come to its area where nobody says, mm: design values, no source. Heat
    /// reaches farthest; a sensor looks past the rim of its area; a saw strays less than that.
    pub const fn distance(self) -> f64 {
        match self {
            Self::Sensor => 30.0,
            Self::Wiring => 20.0,
            Self::Exhaust => 50.0,
        }
    }
}

solid_keys! {
/// `[[keep_out]]`: an area that no cut may cross or come near.
#[derive(Debug, Clone)]
pub struct KeepOutSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
    /// What it guards.
    guards: Guarded = choice!(Guarded), required;
}
then {
    /// How near a cut may come, mm; unless given 30 to a sensor, 20 to wiring, 50 to the exhaust.
    distance: Option<f64> = Kind::Length(0.0, 1000.0);
}
}

/// What is done along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// Folded, or bent off.
    Fold,
}

impl LineKind {
    /// All of them.
    pub const ALL: [Self; 1] = [Self::Fold];

    /// The word for it in files and on sheets.
    pub fn word(self) -> &'static str {
        match self {
            Self::Fold => "fold",
        }
    }

    /// What may be meant by another word.
    pub fn hint(word: &str) -> Option<String> {
        let meant = "what falls away is a `[[trim]]`, with the same points and `falls_away`";
        (word == "trim").then(|| meant.into())
    }
}

choices!(Guarded, LineKind);

pub(super) static POINTS: List = List {
    of: "points",
    kind: Kind::Pair(&Pair {
        each: "a tape reading and a distance from the datum edge",
        first: (0.0, LONGEST),
        second: (-LONGEST, LONGEST),
        example: POINTS_EXAMPLE,
    }),
    least: 2,
    most: 200,
    example: POINTS_EXAMPLE,
    wrong_count: Some("a line runs through two points or more"),
};

const POINTS_EXAMPLE: &str =
    "write `[[120, 40], [860, 40]]`: tape reading, distance from the datum edge";

keys! {
/// `[[line]]`: a line to fold along.
#[derive(Debug, Clone)]
pub struct LineSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
    /// What is done along it.
    kind: LineKind = choice!(LineKind, LineKind::hint), required;
    /// Its points, each a tape reading and a distance from the datum edge, mm.
    points: Vec<Placed<(f64, f64)>> = Kind::List(&POINTS), required;
}
check(_table, reading) {
    for pair in points.iter().flat_map(|points| points.windows(2)) {
        if let [before, after] = pair
            && before.value == after.value
        {
            reading.report(after.problem("this point is the same as the one before it"));
        }
    }
}
}

keys! {
/// `[[accepted]]`: a finding that stands, by its id.
#[derive(Debug, Clone)]
pub struct AcceptedSpec {
    /// Id of the finding, as `trimloft check` tells it.
    finding: Placed<String> = Kind::FilledText, required;
    /// Its value when it was accepted, as the finding tells it; a bare number is never in inches.
    value: f64 = Kind::FindingValue, required;
    /// Who answers for it.
    by: String = Kind::FilledText, required;
    /// Why it may stand.
    because: String = Kind::FilledText, required;
}
}
