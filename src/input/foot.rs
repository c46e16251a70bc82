//! What holds the panel, and what stands behind it, as written.

use super::field::{choice, choices, keys};
use super::keys::Kind;
use super::pattern::{ANY_LENGTH, Value};
use super::problem::Placed;
use crate::base::length::Offset;
use std::collections::BTreeMap;

keys! {
/// `[[foot]]`: where the accessory presses the panel against the frame.
#[derive(Debug, Clone)]
pub struct FootSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
    /// Name of its shape family.
    shape: Placed<String> = Kind::FilledWord, required;
    /// Values of the shape.
    with: BTreeMap<String, Placed<Value>> = Kind::Values;
    /// Offset from the centreline, to a side of the vehicle.
    centre_offset: Placed<Offset> = Kind::Offset, required;
    /// From the datum edge to the shape's origin, mm.
    from_datum: Placed<f64> = ANY_LENGTH, required;
}
}

/// What stands on the panel's hidden side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FeatureKind {
    /// A peg that the panel is placed by.
    Peg,
    /// A rib that stiffens it.
    Rib,
    /// The tower of a clip.
    ClipTower,
    /// A socket for a lamp or a sensor.
    Socket,
}

impl FeatureKind {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Peg, Self::Rib, Self::ClipTower, Self::Socket];

    /// The word for it in files and on sheets.
    pub fn word(self) -> &'static str {
        match self {
            Self::Peg => "peg",
            Self::Rib => "rib",
            Self::ClipTower => "clip tower",
            Self::Socket => "socket",
        }
    }
}

choices!(FeatureKind);

keys! {
/// `[[feature]]`: what stands on the panel's hidden side.
#[derive(Debug, Clone)]
pub struct FeatureSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
    /// What it is.
    kind: FeatureKind = choice!(FeatureKind), required;
    /// Name of its shape family, as it is seen from your side.
    shape: Placed<String> = Kind::FilledWord, required;
    /// Values of the shape.
    with: BTreeMap<String, Placed<Value>> = Kind::Values;
    /// Offset from the centreline, to a side of the vehicle.
    centre_offset: Placed<Offset> = Kind::Offset, required;
    /// From the datum edge to the shape's origin, mm.
    from_datum: Placed<f64> = ANY_LENGTH, required;
    /// How far it stands out of the panel's hidden face, mm; on a panel that curves, as if it were flat there.
    height: f64 = Kind::Length(0.5, 1000.0), required;
}
}
