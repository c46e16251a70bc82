//! `[[opening]]` as written: given outright, or worked out around parts.

use super::clearance::{AroundSpec, Follow, GapToSpec};
use super::field::{choice, choices, keys};
use super::got::{Field, Got, Taken};
use super::keys::{Keys, Kind, List, Way, Ways};
use super::problem::Placed;
use super::reading::Reading;
use super::surface::Measured;
use super::value::{ANY_LENGTH, Value};
use crate::base::length::Offset;
use std::collections::BTreeMap;

/// Radii of corners.
pub(super) const CORNER: Kind = Kind::Length(0.0, 500.0);

static AROUND: List = List {
    of: "names of parts",
    kind: Kind::FilledText,
    least: 1,
    most: 50,
    example: "write `[\"neck\", \"bolt\"]`",
    wrong_count: None,
};

static TAKE_IN: List = List {
    of: "names of holes",
    kind: Kind::FilledText,
    least: 1,
    most: 20,
    example: "write `[\"stud hole\"]`",
    wrong_count: Some("leave `take_in` out where no hole is taken in"),
};

static WAYS: Ways = Ways {
    each: &[
        Way {
            key: "shape",
            needs: &["centre_offset", "from_datum"],
            may: &["with", "square_to", "measured", "take_in", "rough_cut"],
        },
        Way {
            key: "around",
            needs: &[],
            may: &[
                "follow",
                "open_at_edge",
                "corner_radius",
                "gap_to",
                "take_in",
                "rough_cut",
            ],
        },
    ],
    none: Some("`shape` is missing in `[[opening]]`"),
    two: "an opening is given in one way, not by",
    hint: "give a shape and its place, or the parts that pass through, as `around = [\"neck\"]`",
};

keys! {
/// `[[opening]]`: one that is cut, given by a shape or by the parts that pass through.
const OPENING, &WAYS;
/// Its name.
name = Kind::FilledText, required;
/// Name of its shape family.
shape = Kind::FilledWord;
/// Values of the shape's parameters.
with = Kind::Values;
/// Offset from the centreline, to a side of the vehicle.
centre_offset = Kind::Offset;
/// From the datum edge to the shape's origin, mm: the middle of an open shape's mouth, else its
/// centre.
from_datum = ANY_LENGTH;
/// What its axis stands square to, where the centreline leans.
square_to = choice!(SquareTo), or(SquareTo::DatumEdge);
/// How shape and place were measured.
measured = choice!(Measured), or(Measured::OnPanel);
/// Names of the parts that it is worked out from.
around = Kind::List(&AROUND);
/// How it follows the parts: the simplest box round them, or their own contour.
follow = choice!(Follow), or(Follow::Box);
/// Whether it is open at the datum edge, so that the panel can be brought past a part that is fitted.
open_at_edge = Kind::YesOrNo;
/// Radius of a box's corners, mm; the largest of the shop's tools that clears unless given.
corner_radius = CORNER;
/// Gaps of a box's single sides, as `{ rear = 12 }`: snug above, wide below. A part's own `gap` is
/// kept besides, the greater of the two.
gap_to = Kind::Table(&GapToSpec::KEYS);
/// Names of holes that the panel has already and that become part of it: `[[hole]]`s, or locators with
/// a diameter.
take_in = Kind::List(&TAKE_IN);
/// Whether a line inside it is cut first, so that the part can be offered up before the last cut.
rough_cut = Kind::YesOrNo;
}

choices!(SquareTo, Measured, Follow);

impl OpeningSpec {
    /// Its keys.
    pub const KEYS: Keys = OPENING;
}

impl Field for OpeningSpec {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        let table = got.value.table()?;
        let given = match table.written("around") {
            Some(_) => OpeningGiven::Around(around(table, reading)?),
            None => OpeningGiven::Outright(ShapeAt::of(table, reading)?),
        };
        Some(Self {
            name: table.get("name", reading)?,
            given,
            take_in: table.get("take_in", reading)?,
            rough_cut: table.get("rough_cut", reading)?,
        })
    }
}

fn around(table: &Taken, reading: &Reading<'_>) -> Option<AroundSpec> {
    let follow = table.get("follow", reading).unwrap_or_default();
    if let (Follow::Contour, Some(corner)) = (follow, table.written("corner_radius")) {
        let hint = "a contour has the corners of its parts: leave `corner_radius` out, or follow a \
                    box";
        let message = "`corner_radius` goes with `follow = \"box\"` only";
        reading.report(corner.problem(message).hint(hint));
    }
    let gap_to: Option<GapToSpec> = table.get("gap_to", reading)?;
    if let (Follow::Contour, Some(gaps)) = (follow, table.written("gap_to")) {
        let message = "`gap_to` goes with `follow = \"box\"` only";
        let hint = "a contour has no sides: give parts a `gap` of their own, or follow a box";
        reading.report(gaps.problem(message).hint(hint));
    }
    Some(AroundSpec {
        gap_to,
        parts: table.get("around", reading)?,
        follow,
        open_at_edge: table.get("open_at_edge", reading)?,
        corner_radius: table.get("corner_radius", reading)?,
    })
}

/// `[[opening]]`.
#[derive(Debug, Clone)]
pub struct OpeningSpec {
    /// Its name.
    pub name: Placed<String>,
    /// How it is given.
    pub given: OpeningGiven,
    /// Holes that become part of it, by name.
    pub take_in: Vec<Placed<String>>,
    /// Whether a line inside it is cut first.
    pub rough_cut: bool,
}

/// How an opening is given.
#[derive(Debug, Clone)]
pub enum OpeningGiven {
    /// By a shape and its place.
    Outright(ShapeAt),
    /// By the parts that pass through.
    Around(AroundSpec),
}

/// A shape with its values, at its place on the panel.
#[derive(Debug, Clone)]
pub struct ShapeAt {
    /// Name of its shape family.
    pub shape: Placed<String>,
    /// Values for the shape's parameters; the family's defaults stand for the rest.
    pub with: BTreeMap<String, Placed<Value>>,
    /// Offset from the centreline.
    pub centre_offset: Placed<Offset>,
    /// From the datum edge to the shape's origin, mm.
    pub from_datum: Placed<f64>,
    /// What its axis stands square to.
    pub square_to: SquareTo,
    /// How shape and place were measured; on the panel unless given.
    pub measured: Measured,
}

impl ShapeAt {
    /// From a table that holds its keys.
    pub(super) fn of(table: &Taken, reading: &Reading<'_>) -> Option<Self> {
        Some(Self {
            shape: table.get("shape", reading)?,
            with: table.get("with", reading)?,
            centre_offset: table.get("centre_offset", reading)?,
            from_datum: table.get("from_datum", reading)?,
            square_to: table.get("square_to", reading).unwrap_or_default(),
            measured: table.get("measured", reading).unwrap_or(Measured::OnPanel),
        })
    }
}

/// What an opening's axis stands square to, where the centreline leans.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SquareTo {
    /// To the datum edge.
    #[default]
    DatumEdge,
    /// To a line square to the centreline: the axis leans as the centreline does.
    Centreline,
}

impl SquareTo {
    /// Both.
    pub const ALL: [Self; 2] = [Self::DatumEdge, Self::Centreline];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::DatumEdge => "datum edge",
            Self::Centreline => "centreline",
        }
    }
}
