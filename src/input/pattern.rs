//! A pattern file as written.

use super::centreline::CentrelineSpec;
use super::check_panel::{check_edge, check_orientation};
use super::check_parts::{check_around, check_passage};
use super::clearance::ClearanceSpec;
use super::field::{choice, choices, keys};
use super::foot::{FeatureSpec, FootSpec};
use super::got::{Field, Got, Taken};
use super::judging::{AcceptedSpec, KeepOutSpec, LineSpec};
use super::keys::{EXPANSION, Kind, Known, List, Pair};
use super::locator::{HoleSpec, LocatorSpec};
use super::opening::OpeningSpec;
use super::part::PartSpec;
use super::problem::{Placed, Problem};
use super::reading::Reading;
use super::shop::{TOOLS, sorted};
use super::surface::SurfaceSpec;
use super::trim::TrimSpec;
use super::value::NOTES;
use crate::base::Direction;
use crate::base::length::{LONGEST, Units};
use crate::model::material::{self, MATERIALS, Material, OTHER};
use crate::model::panel::{DatumEdge, Face, Orientation, OrientationError};
use std::collections::HashSet;

/// Widths and heights of panels.
const PANEL_SIZE: Kind = Kind::Length(1.0, LONGEST);

static EDGE: List = List {
    of: "readings",
    kind: Kind::Pair(&Pair {
        each: "a tape reading and a rise",
        first: (0.0, LONGEST),
        // More is no datum.
        second: (-1000.0, 1000.0),
        example: EDGE_EXAMPLE,
    }),
    least: 3,
    most: 500,
    example: EDGE_EXAMPLE,
    wrong_count: Some("leave `edge` out where it is straight"),
};

const EDGE_EXAMPLE: &str = "write `[[0, 0], [250, 4], [500, 0]]`: tape reading, rise";

static MATERIAL: Known = Known {
    names: || {
        MATERIALS
            .iter()
            .map(|material| material.name)
            .chain([OTHER])
            .collect()
    },
    find: |name| match find_material(name) {
        Ok(_) => Ok(()),
        Err(unknown) => Err((unknown.to_string(), unknown.hint())),
    },
};

/// A material by its name; one that brings its own expansion has none yet.
fn find_material(name: &str) -> Result<Material, material::UnknownMaterial> {
    if name.trim().eq_ignore_ascii_case(OTHER) {
        return Ok(material::other(0.0));
    }
    material::find(name).copied()
}

/// The material, with the expansion of one that the table does not hold.
fn with_expansion(
    named: Option<Material>,
    table: &Taken,
    reading: &Reading<'_>,
) -> Option<Material> {
    let is_other = named.is_some_and(|material| material.name == OTHER);
    match table.written("expansion") {
        Some(_) if is_other => table.get("expansion", reading).map(material::other),
        None if is_other => {
            let hint = "write millionths per K, from its maker's data sheet";
            table.missing("expansion", Some(hint), reading)
        }
        // Where the name itself is wrong, that is said already.
        Some(written) if named.is_some() || table.written("material").is_none() => {
            let message = format!("`expansion` goes with `material = \"{OTHER}\"` only");
            reading.report(written.problem(message));
            None
        }
        _ => named,
    }
}

impl Field for Material {
    fn of(got: &Placed<Got>, _: &Reading<'_>) -> Option<Self> {
        match &got.value {
            Got::Text(name) => find_material(name).ok(),
            _ => None,
        }
    }
}

keys! {
/// A pattern file: one printable template for one panel.
#[derive(Debug, Clone)]
pub struct PatternSpec file {
    /// Units of bare numbers, and of the dimensions on the sheet.
    units: Units = choice!(Units), or(Units::Mm);
    /// What identifies the pattern.
    identity("pattern"): Identity = Kind::Table(&Identity::KEYS), required;
    /// The panel.
    panel: PanelSpec = Kind::Table(&PanelSpec::KEYS), required;
    /// Readings that the middle is found from; half the width, and ASSUMED, without them.
    centreline: Option<CentrelineSpec> = Kind::Table(&CentrelineSpec::KEYS);
    /// Features that the pattern is laid over.
    locators("locator"): Vec<LocatorSpec> = Kind::Tables(&LocatorSpec::KEYS, 0, 1000);
    /// Things that must pass through.
    parts("part"): Vec<PartSpec> = Kind::Tables(&PartSpec::KEYS, 0, 200);
    /// What part and edge may be off.
    clearance: ClearanceSpec = Kind::Table(&ClearanceSpec::KEYS), usual(ClearanceSpec::default());
    /// Holes that the panel has already.
    holes("hole"): Vec<HoleSpec> = Kind::Tables(&HoleSpec::KEYS, 0, 200);
    /// What is cut.
    openings("opening"): Vec<OpeningSpec> = Kind::Tables(&OpeningSpec::KEYS, 1, 200);
    /// What falls away at an edge, a lip or a corner.
    trims("trim"): Vec<TrimSpec> = Kind::Tables(&TrimSpec::KEYS, 0, 50);
    /// Areas that no cut may come near.
    keep_outs("keep_out"): Vec<KeepOutSpec> = Kind::Tables(&KeepOutSpec::KEYS, 0, 200);
    /// Where the accessory presses the panel against the frame.
    feet("foot"): Vec<FootSpec> = Kind::Tables(&FootSpec::KEYS, 0, 50);
    /// What stands on the panel's hidden side.
    features("feature"): Vec<FeatureSpec> = Kind::Tables(&FeatureSpec::KEYS, 0, 200);
    /// Lines to fold along.
    lines("line"): Vec<LineSpec> = Kind::Tables(&LineSpec::KEYS, 0, 200);
    /// Findings that stand, and who answers for them.
    accepted: Vec<AcceptedSpec> = Kind::Tables(&AcceptedSpec::KEYS, 0, 200);
    /// Diameters of the shop's drills and hole saws, mm; the published series unless given.
    tools: Option<Vec<f64>> = Kind::List(&TOOLS);
}
check(table, reading) {
    let all = openings.as_deref().unwrap_or_default();
    if table.written("opening").is_none() && table.written("trim").is_none() {
        let message = "`[[opening]]` is missing: at least 1 must be there";
        reading.report_missing(Problem::new(message));
    }
    // A part that is wrong is known by its name.
    let named = table.tables("part").filter_map(|part| part.get("name", reading));
    let problems = reading.problem_count();
    let mut named: Vec<String> = named.collect();
    let mut seen = HashSet::new();
    named.retain(|name| seen.insert(name.clone()));
    check_around(all, &named, reading);
    if reading.problem_count() == problems {
        let trims = trims.as_deref().unwrap_or_default();
        check_passage(parts.as_deref().unwrap_or_default(), all, trims, reading);
    }
    let tools = tools.map(|tools| tools.map(sorted));
}
}

keys! {
/// `[pattern]`: what identifies it.
#[derive(Debug, Clone)]
pub struct Identity {
    /// Letters, digits, `-`, `_` and `.`; names the files written.
    number: Placed<String> = Kind::HeadWord, required;
    /// Title.
    title: String = Kind::FilledText, required;
    /// Revision, of the same letters as `number`; may be empty.
    revision: String = Kind::Word;
    /// Date of issue as `YYYY-MM-DD`; may be empty.
    issued: String = Kind::Date;
    /// Legal owner; may be empty.
    owner: String = Kind::Text;
    /// Creator; may be empty.
    drawn_by: String = Kind::Text;
    /// Approval person; may be empty.
    approved_by: String = Kind::Text;
    /// Vehicle; may be empty.
    vehicle: String = Kind::Text;
    /// Accessory; may be empty.
    accessory: String = Kind::Text;
    /// Notes for the instruction sheet.
    notes: Vec<String> = Kind::List(&NOTES);
}
}

/// How much of the panel is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Extent {
    /// The openings and the nearest locators.
    Work,
    /// The whole panel.
    Panel,
}

keys! {
/// `[panel]`: the panel, and how you stand to it.
#[derive(Debug, Clone)]
pub struct PanelSpec {
    /// Its name; may be empty.
    name: String = Kind::Text;
    /// What it is made of: one of the table's, or `other`.
    material: Option<Material> = Kind::Known(&MATERIAL);
    /// Thickness, mm.
    thickness: Option<f64> = Kind::Length(0.1, 50.0);
    /// End to end along the datum edge, mm.
    width: Option<f64> = PANEL_SIZE, required;
    /// Away from the datum edge, mm.
    height: Option<f64> = PANEL_SIZE, required;
    /// The edge that depths are measured from.
    datum_edge: Placed<Direction> = choice!(Direction, Direction::hint), required;
    /// Where you stand: the face that the pattern is taped to.
    seen_from: Placed<Face> = choice!(Face, Face::hint), required;
    /// What lies at the head of the page.
    page_up: Placed<Direction> = choice!(Direction, Direction::hint), required;
    /// The datum edge where it bows: tape reading from the zero end, and how far the edge stands
    /// out past the straight line through its ends (negative where it is hollow), mm.
    edge: Vec<Placed<(f64, f64)>> = Kind::List(&EDGE);
    /// How much is printed: the openings with the nearest locators, or the whole panel.
    extent: Extent = choice!(Extent), or(Extent::Work);
    /// How it leans and curves, where it does.
    surface: Option<SurfaceSpec> = Kind::Table(&SurfaceSpec::KEYS);
}
beside {
    /// Linear expansion of a material that is `other`, millionths per K, from its maker's data sheet.
    expansion = Kind::Number(&EXPANSION, 1.0, 300.0);
}
check(table, reading) {
    if let (Some(from), Some(datum), Some(up)) = (&seen_from, &datum_edge, &page_up) {
        check_orientation(from, datum, up, reading);
    }
    if let (Some(edge), Some(Some(width))) = (&edge, width) {
        check_edge(edge, width, reading);
    }
    let material = material.map(|named| with_expansion(named, table, reading));
}
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

choices!(Units, Direction, Face, Extent);
