//! What holds the panel, and what stands behind it, as written.

use super::field::{choice, choices, keys, solid_keys};
use super::keys::Kind;
use super::problem::Placed;
use super::value::{ANY_LENGTH, Value};
use crate::base::length::Offset;
use std::collections::BTreeMap;

solid_keys! {
/// `[[foot]]`: where the accessory presses the panel against the frame.
#[derive(Debug, Clone)]
pub struct FootSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
}
then {}
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

solid_keys! {
/// `[[feature]]`: what stands on the panel's hidden side.
#[derive(Debug, Clone)]
pub struct FeatureSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
    /// What it is.
    kind: FeatureKind = choice!(FeatureKind), required;
}
then {
    /// How far it stands out of the panel's hidden face, mm; on a panel that curves, as if it were flat there.
    height: f64 = Kind::Length(0.5, 1000.0), required;
}
}
