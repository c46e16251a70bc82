//! `[[part]]` as written: a thing that must pass through the panel.

use super::pattern::{SquareTo, Value};
use super::problem::Placed;
use super::surface::Measured;
use crate::base::length::Offset;
use crate::model::hardware::{Bolt, Fit};
use std::collections::BTreeMap;

/// `[[part]]`.
#[derive(Debug, Clone)]
pub struct PartSpec {
    /// Its name.
    pub name: Placed<String>,
    /// What it is, seen along its way through the panel.
    pub body: PartBody,
    /// Offset from the centreline.
    pub centre_offset: Placed<Offset>,
    /// From the datum edge to its origin, mm.
    pub from_datum: Placed<f64>,
    /// What its axis stands square to.
    pub square_to: SquareTo,
    /// How body and place were measured; square-on unless given.
    pub measured: Measured,
    /// The way it passes through, from the reader's look.
    pub way: WaySpec,
}

/// The way a part passes through, degrees from the reader's look, as it goes away from the reader.
#[derive(Debug, Clone)]
pub struct WaySpec {
    /// How much it rises to the head of the page.
    pub slope: Placed<f64>,
    /// How much it turns to the right of the page.
    pub yaw: Placed<f64>,
}

/// What a part is.
#[derive(Debug, Clone)]
pub enum PartBody {
    /// `shape` and `with`: any shape family.
    Shape {
        /// Name of the family.
        shape: Placed<String>,
        /// Values of its parameters.
        with: BTreeMap<String, Placed<Value>>,
    },
    /// `bolt = "M10"`: round, of its nominal diameter.
    Bolt {
        /// Its size.
        bolt: &'static Bolt,
        /// With `drilled_together = true`, how loosely the hole that is drilled through panel and
        /// bracket at once fits it; medium unless given.
        drilled: Option<Fit>,
    },
    /// `head`, `washer` or `socket`: a round thing of this measured diameter.
    Round {
        /// Which of them.
        kind: RoundKind,
        /// Its measured outside diameter, mm.
        diameter: f64,
    },
    /// `tube`, a receiver, with its measured `outside`.
    Tube {
        /// Its trade size as written, which is its inside.
        nominal: Placed<String>,
        /// Its measured outside over the collar, mm; square.
        outside: f64,
        /// Radius of its outer corners, mm; 0 unless given.
        corner_radius: f64,
    },
}

/// A round thing known by its measured diameter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoundKind {
    /// A bolt's head.
    Head,
    /// A washer.
    Washer,
    /// The socket that must reach the bolt.
    Socket,
}

impl RoundKind {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Head, Self::Washer, Self::Socket];

    /// Its key in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Head => "head",
            Self::Washer => "washer",
            Self::Socket => "socket",
        }
    }
}
