//! Openings: placed on the panel, united, and cut at its edge.

use super::Locator;
use super::check_points::check_points;
use super::drilling::{Relief, drilled};
use super::finding_id::Piece;
use super::locator::is_open_there;
use super::panel::outline_of;
use super::place::Place;
use super::relief::{corners, corners_of_fitted};
use super::rough::RoughCut;
use crate::geometry::outline::{
    ON_EDGE, Outline, OutlineError, Side, Vertex, intersection, mark_open, union_by_members,
    without,
};
use crate::input::Problem;
use crate::model::hardware::Tool;
use crate::model::panel::DatumEdge;
use kurbo::{Point, Rect};
use std::ops::Range;

/// How far the mouth of an open shape is carried past the panel's edge before it is cut there, mm.
pub(super) const PAST_EDGE: f64 = 5.0;

/// An opening as its definition names it.
#[derive(Debug, Clone, PartialEq)]
pub struct Declared {
    /// Its name.
    pub name: String,
    /// Its shape family.
    pub shape: String,
    /// The shape's origin in the panel frame, mm.
    pub origin: Point,
    /// How far the origin stands from the centreline, along the frame's x, mm.
    pub offset: f64,
    /// The box that it takes on the panel, mm.
    pub bounds: Rect,
    /// What falls away at an edge of the panel is a trim: the points of the line that it is trimmed
    /// off along, panel frame, mm; none where a shape says what falls away.
    pub trimmed: Option<Vec<Point>>,
}

/// What is removed from the panel at one place.
#[derive(Debug, Clone)]
pub struct Opening {
    /// The openings of the definition that are united here.
    pub declared: Vec<Declared>,
    /// Which piece it is, where the same openings are cut at several places.
    pub piece: Piece,
    /// What is removed, within the panel; sides on the panel's edge are open.
    pub outline: Outline,
    /// Whether curves were fitted to it: its arcs are then no corners of their own.
    pub fitted: bool,
    /// Whether it is a bolt's hole that panel and bracket are drilled together for.
    pub drilled_together: bool,
    /// Whether some of it lies on the datum edge: it is then not cut there.
    pub on_datum_edge: bool,
    /// Holes of the panel that it takes in.
    pub holes: Vec<Locator>,
    /// What is cut first, where a rough cut was asked for and has room.
    pub rough: Option<RoughCut>,
    /// Holes to drill before sawing.
    pub relief: Vec<Relief>,
    /// Up to four points that a tape can be laid to, counter-clockwise from the lower left.
    pub check_points: Vec<Point>,
}

impl Declared {
    /// `opening` or `trim`.
    pub(super) fn kind(&self) -> &'static str {
        if self.trimmed.is_some() {
            "trim"
        } else {
            "opening"
        }
    }

    /// The line that it is trimmed off along; none where it is given by a shape.
    pub fn trim_line(&self) -> Option<&[Point]> {
        self.trimmed.as_deref().filter(|line| !line.is_empty())
    }
}

impl Opening {
    /// What it is, with its name, as messages have it: "opening `neck`", "trim `rear lip`".
    pub(super) fn called(&self) -> String {
        let what = if self.is_trim() { "trim" } else { "opening" };
        format!("{what} `{}`", self.name())
    }

    /// Whether all of it falls away at an edge of the panel.
    pub fn is_trim(&self) -> bool {
        self.declared.iter().all(|own| own.trimmed.is_some())
    }

    /// Whether some of it falls away at an edge of the panel.
    pub fn has_trim(&self) -> bool {
        self.declared.iter().any(|own| own.trimmed.is_some())
    }

    /// Its name: those of all that are united here.
    pub fn name(&self) -> String {
        self.names().join(" + ")
    }

    /// The name without what is trimmed off; none where that is all of it.
    pub fn name_but_for_trims(&self) -> Option<String> {
        let names = self.names_where(|own| own.trimmed.is_none());
        (!names.is_empty()).then(|| names.join(" + "))
    }

    /// Names of all that are united here, each once.
    pub(super) fn names(&self) -> Vec<&str> {
        self.names_where(|_| true)
    }

    fn names_where(&self, wanted: impl Fn(&Declared) -> bool) -> Vec<&str> {
        let mut names: Vec<&str> = vec![];
        for declared in self.declared.iter().filter(|own| wanted(own)) {
            if !names.contains(&declared.name.as_str()) {
                names.push(&declared.name);
            }
        }
        names
    }

    /// The box that it takes on the panel, less what holes add that it takes in, mm.
    pub fn bounds(&self) -> Rect {
        let own = self.declared.iter().map(|declared| declared.bounds);
        match own.reduce(|all, one| all.union(one)) {
            Some(own) if !self.holes.is_empty() => own,
            _ => self.outline.bounds(),
        }
    }

    /// Where along the datum edge a tape is hooked to read its depths, frame x, mm: at its shape's
    /// origin, and half way along where several are united.
    pub fn tape_at(&self) -> f64 {
        match self.declared.as_slice() {
            [one] => one.origin.x,
            _ => self.outline.bounds().center().x,
        }
    }

    /// How deep it is, mm: from the datum edge where it is open there, as a tape reads it that is
    /// hooked over the edge, else from side to side.
    pub fn depth(&self, edge: &DatumEdge) -> f64 {
        let bounds = self.bounds();
        if self.is_open() {
            bounds.y1 - edge.at(self.tape_at())
        } else {
            bounds.height()
        }
    }

    /// Whether the opening of that name in the definition is part of it.
    pub(super) fn includes(&self, name: &str) -> bool {
        self.declared.iter().any(|declared| declared.name == name)
    }

    /// Whether a hole of the panel is part of it.
    pub(super) fn takes_in(&self, hole: &Locator) -> bool {
        self.holes.iter().any(|taken| taken.name == hole.name)
    }

    /// Whether it is one full circle.
    pub fn is_round_hole(&self) -> bool {
        let mut sides = self.outline.sides();
        let first = sides.next().and_then(|side| side.centre());
        first.is_some_and(|centre| {
            sides.all(|side| {
                side.centre()
                    .is_some_and(|other| other.distance(centre) < ON_EDGE)
            })
        })
    }

    /// Whether some of it lies on the datum edge.
    pub fn is_open(&self) -> bool {
        self.on_datum_edge
    }

    /// Whether a blade comes in without a hole drilled for it: at the panel's edge, or in a hole that
    /// it takes in.
    pub fn lets_blade_in(&self) -> bool {
        let vertices = self.outline.vertices();
        vertices.iter().any(|vertex| vertex.side == Side::Open)
    }
}

/// An opening before it is united with others.
#[derive(Debug, Clone)]
pub(super) struct Placed {
    pub(super) declared: Declared,
    pub(super) outline: Outline,
    /// Whether its arcs were fitted to a curve.
    pub(super) fitted: bool,
    /// Whether it is a bolt's hole that panel and bracket are drilled together for.
    pub(super) drilled_together: bool,
    /// Holes of the panel that are part of its outline.
    pub(super) holes: Vec<Locator>,
    pub(super) span: Option<Range<usize>>,
}

impl Placed {
    /// As it is declared, its box drawn in to the panel.
    fn within(&self, panel: &Outline) -> Declared {
        Declared {
            bounds: self.declared.bounds.intersect(panel.bounds()),
            ..self.declared.clone()
        }
    }
}

/// A height past the panel's edge under all of `place`, mm.
pub(super) fn edge_below(edge: &DatumEdge, place: Rect) -> f64 {
    edge.lowest(place.x0, place.x1).min(place.y0) - PAST_EDGE
}

/// Carries the open sides of a shape, which lie along its own y = 0, out past the panel's edge, so
/// that cutting it at the edge leaves the mouth exactly there, however the edge bows.
///
/// `bounds` is the box that the shape takes on the panel.
pub(super) fn carried_past(
    outline: &Outline,
    edge: &DatumEdge,
    bounds: Rect,
    place: Place,
) -> Result<Outline, OutlineError> {
    // As seen from the shape's own axes, which are turned a little.
    let (sine, cosine) = libm::sincos(place.turn);
    let half = outline.bounds().width() / 2.0 + outline.bounds().center().x.abs();
    let past = (edge_below(edge, bounds) - place.origin.y - half * sine.abs()) / cosine;
    let vertices = outline.vertices();
    let mut carried: Vec<Vertex> = Vec::with_capacity(vertices.len() + 2);
    for (i, vertex) in vertices.iter().enumerate() {
        carried.push(*vertex);
        if vertex.side == Side::Open {
            let next = vertices[(i + 1) % vertices.len()].point;
            for x in [vertex.point.x, next.x] {
                carried.push(Vertex {
                    point: Point::new(x, past),
                    bulge: 0.0,
                    side: Side::Open,
                });
            }
        }
    }
    Outline::new(carried)
}

/// Unites the openings, cuts them at the panel's edge and judges what stays.
///
/// # Errors
/// An opening off the panel, a loose island inside united openings, and a panel left in pieces.
pub(super) fn cut_out(
    placed: &[Placed],
    edge: &DatumEdge,
    size: Option<Rect>,
    tools: &[Tool],
) -> Result<(Outline, Vec<Opening>), Vec<Problem>> {
    let whole = placed
        .iter()
        .map(|one| one.outline.bounds())
        .reduce(|a, b| a.union(b));
    let panel = outline_of(edge, size, whole.unwrap_or_default()).map_err(|error| {
        vec![problem(
            &None,
            format!("the panel has no outline: {error}"),
            "look at `width`, `height` and `edge`",
        )]
    })?;
    let mut problems = vec![];
    for one in placed {
        if intersection(&one.outline, &panel).is_empty() {
            problems.push(problem(
                &one.span,
                format!("{} `{}` lies off the panel", one.declared.kind(), one.declared.name),
                "look at its `centre_offset` and `from_datum`, and at the panel's `width` and `height`",
            ));
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let outlines: Vec<Outline> = placed.iter().map(|one| one.outline.clone()).collect();
    let regions = union_by_members(&outlines);
    let mut openings = vec![];
    for (region, members) in &regions {
        let members: Vec<&Placed> = members.iter().map(|place| &placed[*place]).collect();
        if !region.holes.is_empty() {
            problems.push(problem(
                &members.last().and_then(|one| one.span.clone()),
                format!(
                    "openings {} leave a loose island between them",
                    quoted(&members)
                ),
                "move them apart, or make them one opening",
            ));
        }
        for piece in intersection(&region.outer, &panel) {
            let holes: Vec<&Locator> = members.iter().flat_map(|one| &one.holes).collect();
            let rims = holes.iter().filter_map(|hole| hole.rim());
            let outline = rims.fold(mark_open(&piece, &panel, ON_EDGE), |outline, rim| {
                mark_open(&outline, &rim, ON_EDGE)
            });
            let fitted = members.iter().any(|one| one.fitted);
            let mut corners = if fitted {
                corners_of_fitted(&outline)
            } else {
                corners(&outline)
            };
            corners.retain(|corner| !is_open_there(corner.at, corner.diameter, &holes));
            let drilled_together = members.iter().all(|one| one.drilled_together);
            let relief = if drilled_together {
                corners
                    .iter()
                    .map(|corner| Relief::exactly(*corner))
                    .collect()
            } else {
                drilled(&outline, &corners, tools)
            };
            openings.push(Opening {
                on_datum_edge: lies_on(&outline, edge),
                drilled_together,
                declared: members.iter().map(|one| one.within(&panel)).collect(),
                piece: Piece::WHOLE,
                rough: None,
                holes: holes.into_iter().cloned().collect(),
                check_points: check_points(&outline, &relief),
                relief,
                outline,
                fitted,
            });
        }
    }
    let named = |one: &Opening| (one.name(), one.outline.bounds());
    let pieces = Piece::count(&openings.iter().map(named).collect::<Vec<_>>());
    for (opening, piece) in openings.iter_mut().zip(pieces) {
        opening.piece = piece;
    }
    let kept = without(&panel, regions.iter().map(|(region, _)| &region.outer)).len();
    if kept != 1 && problems.is_empty() {
        let all: Vec<&Placed> = placed.iter().collect();
        let leave = if all.len() == 1 { "leaves" } else { "leave" };
        let message = if kept == 0 {
            format!("{} {leave} nothing of the panel", quoted(&all))
        } else {
            format!("{} {leave} the panel in {kept} pieces", quoted(&all))
        };
        let span = placed.last().and_then(|one| one.span.clone());
        problems.push(problem(
            &span,
            message,
            "make them smaller, or look at where they stand",
        ));
    }
    if problems.is_empty() {
        Ok((panel, openings))
    } else {
        Err(problems)
    }
}

/// Whether an open side of an outline runs along the datum edge.
fn lies_on(outline: &Outline, edge: &DatumEdge) -> bool {
    let open = outline.sides().filter(|side| side.side == Side::Open);
    open.map(|side| side.at(0.5))
        .any(|middle| (middle.y - edge.at(middle.x)).abs() <= 2.0 * ON_EDGE)
}

fn quoted(placed: &[&Placed]) -> String {
    let names: Vec<String> = placed
        .iter()
        .map(|one| format!("`{}`", one.declared.name))
        .collect();
    names.join(", ")
}

fn problem(span: &Option<Range<usize>>, message: String, hint: &str) -> Problem {
    Problem {
        message,
        hint: Some(hint.into()),
        span: span.clone(),
    }
}
