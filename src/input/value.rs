//! Values as files write them, and ranges that several tables have in common.

use super::keys::{Kind, List, texts};
use crate::base::length::LONGEST;

/// Lengths that a file may hold anywhere.
pub(super) const ANY_LENGTH: Kind = Kind::Length(-LONGEST, LONGEST);

/// Diameters of holes.
pub(super) const DIAMETER: Kind = Kind::Length(0.1, LONGEST);

/// Notes: they share one sheet.
pub(super) static NOTES: List = texts("notes", Kind::Text, 20);

/// A shape's value as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Value {
    /// mm for a length, degrees for an angle.
    pub number: f64,
    /// Whether it was written as an angle.
    pub angle: bool,
}

/// A torque as the accessory's maker gives it.
#[derive(Debug, Clone, PartialEq)]
pub struct Torque {
    /// As written.
    pub written: String,
    /// Least, N m.
    pub least: f64,
    /// Greatest, N m; as `least` unless a range is given.
    pub greatest: f64,
    /// Whether it was written in N m.
    pub in_newton_metres: bool,
}
