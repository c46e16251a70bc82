//! The simplest straight-sided opening that holds its parts.

use super::OpeningError;
use super::corner::{Disc, discs_in_corner, largest_radius};
use crate::geometry::outline::{Corner, Outline, Side, rounded};
use crate::model::clearance::EachWay;
use kurbo::{Insets, Point, Rect, Vec2};

/// Where a box's corner radius comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Radius<'a> {
    /// That of the largest tool that clears; diameters in mm.
    Tools(&'a [f64]),
    /// Given, mm.
    Given(f64),
}

/// What a box shall hold.
#[derive(Debug, Clone, Copy)]
pub struct BoxRequest<'a> {
    /// The parts, each with its clearance.
    pub parts: &'a [(Outline, EachWay)],
    /// Its corners.
    pub radius: Radius<'a>,
    /// How much farther out single sides stand than the parts' clearances put them, mm, 0 or more.
    pub wider: Insets,
    /// Open towards smaller y: cut down to this height, and only the two upper corners round.
    pub open_to: Option<f64>,
}

/// A box, and how it came about.
#[derive(Debug, Clone, PartialEq)]
pub struct BoxedOpening {
    /// Its line; the foot of an open one is open.
    pub outline: Outline,
    /// Its sides, before an open one is cut at its edge.
    pub bounds: Rect,
    /// Radius of its corners, mm.
    pub radius: f64,
    /// Diameter of the tool chosen, mm; none where the radius was given.
    pub tool: Option<f64>,
    /// How far each side was moved out so that the smallest tool clears, mm; mostly 0.
    pub grown_by: f64,
    /// The largest radius that would clear these sides, mm.
    pub largest_radius: f64,
}

/// Slack for a radius to clear, mm: far below what is cut, far above rounding.
const SLACK: f64 = 1e-6;

/// The box round all parts, sides along the axes, with the largest corner radius that clears.
///
/// Its sides stand each part's own clearance off, sideways and depthways. A corner clears a part
/// where the part grown by its clearance, the slot-shaped area of [`EachWay`], lies inside the
/// box; exact for lines and arcs, within 1e-6 mm. Where no tool is small enough, every side
/// moves out by as little as lets the smallest one clear.
///
/// # Errors
/// A given radius that does not clear, with the largest that does; no parts, no tools; numbers
/// below 0 or not finite; parts that lie wholly past the edge the box is open to.
pub fn boxed(request: &BoxRequest) -> Result<BoxedOpening, OpeningError> {
    check(request)?;
    let bounds = sides(request.parts).ok_or(OpeningError::NoParts)? + request.wider;
    if request.open_to.is_some_and(|edge| bounds.y1 <= edge) {
        return Err(OpeningError::PastEdge);
    }
    let inside = Inside {
        discs: discs(request, bounds),
        bounds,
        open_to: request.open_to,
    };
    let largest = inside.largest_radius(0.0);
    let (radius, tool, grown_by) = match request.radius {
        Radius::Given(radius) if radius > largest + SLACK => {
            return Err(OpeningError::RadiusTooLarge { radius, largest });
        }
        Radius::Given(radius) => (radius, None, 0.0),
        Radius::Tools(tools) => {
            let clearing = tools
                .iter()
                .copied()
                .filter(|tool| tool / 2.0 <= largest + SLACK);
            match clearing.reduce(f64::max) {
                Some(tool) => (tool / 2.0, Some(tool), 0.0),
                None => {
                    let smallest = tools.iter().copied().reduce(f64::min);
                    let tool = smallest.ok_or(OpeningError::NoTools)?;
                    (tool / 2.0, Some(tool), inside.growth_for(tool / 2.0))
                }
            }
        }
    };
    let bounds = bounds.inflate(grown_by, grown_by);
    Ok(BoxedOpening {
        outline: drawn(bounds, radius, request.open_to)?,
        bounds,
        radius,
        tool,
        grown_by,
        largest_radius: inside.largest_radius(grown_by),
    })
}

fn check(request: &BoxRequest) -> Result<(), OpeningError> {
    let sound = |number: f64| number.is_finite() && number >= 0.0;
    let clearances = request
        .parts
        .iter()
        .flat_map(|(_, clearance)| [clearance.sideways, clearance.depthways]);
    let radii: &[f64] = match &request.radius {
        Radius::Given(radius) => std::slice::from_ref(radius),
        Radius::Tools(tools) => tools,
    };
    let edge_is_finite = request.open_to.is_none_or(f64::is_finite);
    if edge_is_finite && clearances.chain(radii.iter().copied()).all(sound) {
        Ok(())
    } else {
        Err(OpeningError::BadNumber)
    }
}

fn sides(parts: &[(Outline, EachWay)]) -> Option<Rect> {
    parts
        .iter()
        .map(|(part, clearance)| {
            part.bounds()
                .inflate(clearance.sideways, clearance.depthways)
        })
        .reduce(|all, next| all.union(next))
}

fn discs(request: &BoxRequest, bounds: Rect) -> Vec<Disc> {
    let corners = [(-1.0, 1.0), (1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)];
    let round = if request.open_to.is_some() { 2 } else { 4 };
    corners[..round]
        .iter()
        .flat_map(|&towards| {
            request.parts.iter().flat_map(move |(part, clearance)| {
                discs_in_corner(part, *clearance, bounds, Vec2::from(towards))
            })
        })
        .collect()
}

/// What a box holds, and its sides.
struct Inside {
    discs: Vec<Disc>,
    bounds: Rect,
    open_to: Option<f64>,
}

impl Inside {
    /// The largest radius that clears and fits, the box grown by `grown` mm.
    fn largest_radius(&self, grown: f64) -> f64 {
        let width = self.bounds.width() / 2.0 + grown;
        let height = match self.open_to {
            Some(edge) => self.bounds.y1 + grown - edge,
            None => self.bounds.height() / 2.0 + grown,
        };
        largest_radius(&self.discs, grown).min(width).min(height)
    }

    /// How far the sides must move out, mm, for a radius that does not clear as they are.
    fn growth_for(&self, radius: f64) -> f64 {
        // Moved out by the radius itself, what is inside leaves the corner altogether.
        let (mut short, mut enough) = (0.0, radius);
        while enough - short > SLACK / 4.0 {
            let middle = f64::midpoint(short, enough);
            if self.largest_radius(middle) >= radius {
                enough = middle;
            } else {
                short = middle;
            }
        }
        enough
    }
}

fn drawn(bounds: Rect, radius: f64, open_to: Option<f64>) -> Result<Outline, OpeningError> {
    let foot = open_to.unwrap_or(bounds.y0);
    let (foot_side, foot_radius) = match open_to {
        Some(_) => (Side::Open, 0.0),
        None => (Side::Cut, radius),
    };
    // A radius that fits within the slack fits exactly.
    let height = bounds.y1 - foot;
    let room = if open_to.is_some() {
        height
    } else {
        height / 2.0
    };
    let fitting = |radius: f64| radius.min(bounds.width() / 2.0).min(room);
    let corner = |x, y, radius, side| Corner {
        point: Point::new(x, y),
        radius: fitting(radius),
        side,
    };
    Ok(rounded(&[
        corner(bounds.x0, foot, foot_radius, foot_side),
        corner(bounds.x1, foot, foot_radius, Side::Cut),
        corner(bounds.x1, bounds.y1, radius, Side::Cut),
        corner(bounds.x0, bounds.y1, radius, Side::Cut),
    ])?)
}
