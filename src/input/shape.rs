//! A shape file as written.

use super::pattern::Value;
use super::problem::Placed;
use crate::geometry::outline::Side;

/// A shape file: a family of outlines, as corners that depend on parameters.
#[derive(Debug, Clone)]
pub struct ShapeSpec {
    /// The family's name, as patterns call it.
    pub name: Placed<String>,
    /// What it is called on lists.
    pub title: String,
    /// What it is for; may be empty.
    pub about: String,
    /// Its parameters, in the order of the file.
    pub parameters: Vec<ParameterSpec>,
    /// Its corners, in the order of the file.
    pub corners: Vec<CornerSpec>,
}

/// `[parameters.X]`: what a pattern may set.
#[derive(Debug, Clone)]
pub struct ParameterSpec {
    /// Its name: an identifier, and none of the words that expressions keep for themselves.
    pub name: Placed<String>,
    /// What it is; may be empty.
    pub about: String,
    /// What it is.
    pub kind: ParameterKind,
    /// An example, with which the family is proved; of a radius, what stands in an opening that does
    /// not say. An angle here makes the parameter an angle.
    pub default: Placed<Value>,
    /// Expression for the least value, mm or degrees; a literal stands as its bare number.
    pub at_least: Option<Placed<String>>,
    /// Expression for the greatest value, as `at_least`.
    pub at_most: Option<Placed<String>>,
}

/// What a parameter is, which decides what may stand in where nobody gives it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ParameterKind {
    /// Measured: it is never made up.
    Size,
    /// Radius of corners: 0 for a part, the default for an opening.
    Radius,
}

impl ParameterKind {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Size, Self::Radius];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Size => "size",
            Self::Radius => "radius",
        }
    }
}

/// `[[corner]]`: one corner, and the side from it to the next.
#[derive(Debug, Clone)]
pub struct CornerSpec {
    /// Expression, mm, to the right as one faces the panel with its datum edge at the foot.
    pub x: Placed<String>,
    /// Expression, mm, away from the datum edge.
    pub y: Placed<String>,
    /// Expression for the corner's radius, mm; a sharp corner has none.
    pub radius: Option<Placed<String>>,
    /// What lies along the side from this corner to the next.
    pub side: Side,
}
