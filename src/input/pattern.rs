//! A pattern file as written.

use super::centreline::CentrelineSpec;
use super::clearance::{AroundSpec, ClearanceSpec};
use super::judging::{AcceptedSpec, KeepOutSpec, LineSpec};
use super::part::PartSpec;
use super::problem::Placed;
use super::surface::{Measured, SurfaceSpec};
use crate::base::Direction;
use crate::base::length::{Offset, Units};
use crate::model::material::Material;
use crate::model::panel::{DatumEdge, Face, Orientation, OrientationError};
use std::collections::BTreeMap;

/// A pattern file: one printable template for one panel.
#[derive(Debug, Clone)]
pub struct PatternSpec {
    /// Units of bare numbers, and of the dimensions on the sheet.
    pub units: Units,
    /// `[pattern]`.
    pub identity: Identity,
    /// `[panel]`.
    pub panel: PanelSpec,
    /// `[centreline]`.
    pub centreline: Option<CentrelineSpec>,
    /// `[[locator]]`.
    pub locators: Vec<LocatorSpec>,
    /// `[[part]]`.
    pub parts: Vec<PartSpec>,
    /// `[clearance]`.
    pub clearance: ClearanceSpec,
    /// `[[opening]]`.
    pub openings: Vec<OpeningSpec>,
    /// `[[keep_out]]`.
    pub keep_outs: Vec<KeepOutSpec>,
    /// `[[line]]`.
    pub lines: Vec<LineSpec>,
    /// `[[accepted]]`.
    pub accepted: Vec<AcceptedSpec>,
    /// Diameters of the shop's drills and hole saws, mm; the published series unless given.
    pub tools: Option<Vec<f64>>,
}

/// `[pattern]`: what identifies it.
#[derive(Debug, Clone)]
pub struct Identity {
    /// Letters, digits, `-`, `_` and `.`; names the files written.
    pub number: Placed<String>,
    /// Title.
    pub title: String,
    /// Revision, same letters as `number`; may be empty.
    pub revision: String,
    /// Date of issue as `YYYY-MM-DD`; may be empty.
    pub issued: String,
    /// Legal owner; may be empty.
    pub owner: String,
    /// Creator; may be empty.
    pub drawn_by: String,
    /// Approval person; may be empty.
    pub approved_by: String,
    /// Vehicle; may be empty.
    pub vehicle: String,
    /// Accessory; may be empty.
    pub accessory: String,
    /// Notes for the instruction sheet.
    pub notes: Vec<String>,
}

/// How much of the panel is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// The openings and the nearest locators.
    Work,
    /// The whole panel.
    Panel,
}

/// `[panel]`.
#[derive(Debug, Clone)]
pub struct PanelSpec {
    /// Its name; may be empty.
    pub name: String,
    /// What it is made of, where that was told.
    pub material: Option<Material>,
    /// Thickness, mm.
    pub thickness: Option<f64>,
    /// End to end along the datum edge, mm; only a pattern with no file may leave it out.
    pub width: Option<f64>,
    /// Away from the datum edge, mm; as `width`.
    pub height: Option<f64>,
    /// The edge that depths are measured from.
    pub datum_edge: Placed<Direction>,
    /// Where the reader stands.
    pub seen_from: Placed<Face>,
    /// What lies at the head of the page.
    pub page_up: Placed<Direction>,
    /// The datum edge where it bows: tape reading from the zero end, and how far the edge stands
    /// out past the straight line through its ends (negative where it is hollow), mm. Empty
    /// where it is straight.
    pub edge: Vec<Placed<(f64, f64)>>,
    /// How much is printed.
    pub extent: Extent,
    /// `[panel.surface]`: how it leans and curves, where it does.
    pub surface: Option<SurfaceSpec>,
}

impl Extent {
    /// Both, in the order that messages list them.
    pub const ALL: [Self; 2] = [Self::Work, Self::Panel];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Work => "work",
            Self::Panel => "panel",
        }
    }
}

impl PanelSpec {
    /// Which way round the panel lies.
    ///
    /// # Errors
    /// Three directions that do not go together.
    pub fn orientation(&self) -> Result<Orientation, OrientationError> {
        Orientation::new(
            self.seen_from.value,
            self.datum_edge.value,
            self.page_up.value,
        )
    }

    /// The datum edge with tape readings for x: `at` is less than 0 where it stands out.
    pub fn edge_along_tape(&self) -> DatumEdge {
        let points = self.edge.iter().map(|reading| reading.value);
        let points: Vec<(f64, f64)> = points.map(|(across, rise)| (across, -rise)).collect();
        DatumEdge::through(&points)
    }
}

/// `[[locator]]`: a feature of the panel that can be found by hand.
#[derive(Debug, Clone)]
pub struct LocatorSpec {
    /// Its name.
    pub name: Placed<String>,
    /// Tape reading from the zero end, mm.
    pub across: Placed<f64>,
    /// Distance from the datum edge there, mm.
    pub from_datum: Placed<f64>,
    /// Diameter if it is a hole, mm.
    pub diameter: Option<f64>,
    /// Whether the panel is held there.
    pub fixed: bool,
}

/// A shape's value as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Value {
    /// mm for a length, degrees for an angle.
    pub number: f64,
    /// Whether it was written as an angle.
    pub angle: bool,
}

/// `[[opening]]`.
#[derive(Debug, Clone)]
pub struct OpeningSpec {
    /// Its name.
    pub name: Placed<String>,
    /// How it is given.
    pub given: OpeningGiven,
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
