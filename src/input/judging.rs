//! What stays of the panel, as written: areas no cut may come near, lines, accepted findings.

use super::pattern::Value;
use super::problem::Placed;
use crate::base::length::Offset;
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

/// `[[keep_out]]`: an area that no cut may cross or come near.
#[derive(Debug, Clone)]
pub struct KeepOutSpec {
    /// Its name.
    pub name: Placed<String>,
    /// What it guards.
    pub guards: Guarded,
    /// Name of its shape family.
    pub shape: Placed<String>,
    /// Values of the shape.
    pub with: BTreeMap<String, Placed<Value>>,
    /// Offset from the centreline.
    pub centre_offset: Placed<Offset>,
    /// From the datum edge to the shape's origin, mm.
    pub from_datum: Placed<f64>,
    /// How near a cut may come, mm, where it was given.
    pub distance: Option<f64>,
}

/// What is done along a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// Folded, or bent off.
    Fold,
    /// Trimmed off.
    Trim,
}

impl LineKind {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Fold, Self::Trim];

    /// The word for it in files and on sheets.
    pub fn word(self) -> &'static str {
        match self {
            Self::Fold => "fold",
            Self::Trim => "trim",
        }
    }
}

/// `[[line]]`: a line through tape readings.
#[derive(Debug, Clone)]
pub struct LineSpec {
    /// Its name.
    pub name: Placed<String>,
    /// What is done along it.
    pub kind: LineKind,
    /// Its points: tape reading, distance from the datum edge, mm; at least two.
    pub points: Vec<(f64, f64)>,
}

/// `[[accepted]]`: a finding that stands, by its id.
#[derive(Debug, Clone)]
pub struct AcceptedSpec {
    /// Id of the finding.
    pub finding: Placed<String>,
    /// Its value when it was accepted, as findings hold it: mm for a length, a share for a
    /// percentage, a plain number as it stands. A bare number is never in inches, as it is not
    /// known yet to be a length.
    pub value: f64,
    /// Who accepted it.
    pub by: String,
    /// Why.
    pub because: String,
}
