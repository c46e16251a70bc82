//! Features of the panel as written: what a pattern is laid over, and holes that are there already.

use super::field::keys;
use super::keys::Kind;
use super::problem::Placed;
use super::value::{ANY_LENGTH, DIAMETER};

keys! {
/// `[[locator]]`: a feature of the panel that can be found by hand.
#[derive(Debug, Clone)]
pub struct LocatorSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
    /// Tape reading from the zero end, mm.
    across: Placed<f64> = ANY_LENGTH, required;
    /// Distance from the datum edge there, mm.
    from_datum: Placed<f64> = ANY_LENGTH, required;
    /// Diameter if it is a hole, mm.
    diameter: Option<f64> = DIAMETER;
    /// Whether the panel is held there.
    fixed: bool = Kind::YesOrNo;
}
}

keys! {
/// `[[hole]]`: a round hole that the panel has already, and that no pattern is laid by.
#[derive(Debug, Clone)]
pub struct HoleSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
    /// Tape reading from the zero end to its middle, mm.
    across: Placed<f64> = ANY_LENGTH, required;
    /// Distance of its middle from the datum edge there, mm.
    from_datum: Placed<f64> = ANY_LENGTH, required;
    /// Its diameter, mm.
    diameter: Placed<f64> = DIAMETER, required;
}
}
