//! `[[trim]]` as written: what falls away at an edge, a lip or a corner of the panel.

use super::field::choice;
use super::field::keys;
use super::got::{Field, Got, Taken};
use super::judging::POINTS;
use super::keys::{Keys, Kind, Way, Ways};
use super::opening::SquareTo;
use super::opening::{CORNER, ShapeAt};
use super::problem::Placed;
use super::reading::Reading;
use super::surface::Measured;
use super::value::ANY_LENGTH;
use crate::base::Direction;

static WAYS: Ways = Ways {
    each: &[
        Way {
            key: "points",
            needs: &["falls_away"],
            may: &["corner_radius"],
        },
        Way {
            key: "shape",
            needs: &["centre_offset", "from_datum"],
            may: &["with", "square_to", "measured"],
        },
    ],
    none: Some("`points` is missing in `[[trim]]`"),
    two: "a trim is given in one way, not by",
    hint: "give the points of its line and the side that falls away, or a shape and its place",
};

keys! {
/// `[[trim]]`: a region of the panel that falls away, on one side of a line from edge to edge, or
/// within a shape that reaches over an edge.
const TRIM, &WAYS;
/// Its name.
name = Kind::FilledText, required;
/// Points of the line, each a tape reading and a distance from the datum edge, mm; both ends at the
/// panel's edge or past it.
points = Kind::List(&POINTS);
/// The side of the line that falls away, of the straight line through its ends.
falls_away = choice!(Direction, Direction::hint);
/// Radius of the line's corners, mm.
corner_radius = CORNER;
/// Name of a shape family: what lies within falls away.
shape = Kind::FilledWord;
/// Values of the shape's parameters.
with = Kind::Values;
/// Offset from the centreline.
centre_offset = Kind::Offset;
/// From the datum edge to the shape's origin, mm.
from_datum = ANY_LENGTH;
/// What its axis stands square to, where the centreline leans.
square_to = choice!(SquareTo), or(SquareTo::DatumEdge);
/// How shape and place were measured.
measured = choice!(Measured), or(Measured::OnPanel);
}

impl TrimSpec {
    /// Its keys.
    pub const KEYS: Keys = TRIM;
}

impl Field for TrimSpec {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        let table = got.value.table()?;
        let given = match table.written("points") {
            Some(_) => TrimGiven::Along(along(table, reading)?),
            None => TrimGiven::Within(ShapeAt::of(table, reading)?),
        };
        Some(Self {
            name: table.get("name", reading)?,
            given,
        })
    }
}

fn along(table: &Taken, reading: &Reading<'_>) -> Option<TrimLine> {
    let points: Vec<Placed<(f64, f64)>> = table.get("points", reading)?;
    for pair in points.windows(2) {
        if let [before, after] = pair
            && before.value == after.value
        {
            reading.report(after.problem("this point is the same as the one before it"));
            return None;
        }
    }
    Some(TrimLine {
        points,
        falls_away: table.get("falls_away", reading)?,
        corner_radius: table.get("corner_radius", reading)?,
    })
}

/// `[[trim]]`.
#[derive(Debug, Clone)]
pub struct TrimSpec {
    /// Its name.
    pub name: Placed<String>,
    /// How it is given.
    pub given: TrimGiven,
}

/// How a trim is given.
#[derive(Debug, Clone)]
pub enum TrimGiven {
    /// By a line, and what lies on one side of it.
    Along(TrimLine),
    /// By what lies within a shape.
    Within(ShapeAt),
}

/// A line from edge to edge of the panel, and the side of it that falls away.
#[derive(Debug, Clone)]
pub struct TrimLine {
    /// Its points, each a tape reading and a distance from the datum edge, mm.
    pub points: Vec<Placed<(f64, f64)>>,
    /// The side that falls away, of the straight line through its ends.
    pub falls_away: Placed<Direction>,
    /// Radius of its corners, mm; sharp unless given.
    pub corner_radius: Option<Placed<f64>>,
}
