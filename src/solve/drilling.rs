//! With which tool each inner corner is drilled, and where holes stand too near one another for that.

use crate::geometry::outline::Outline;
use crate::model::hardware::{Tool, ToolKind, largest_tool_at_most};
use kurbo::{Point, Vec2};

/// What stays between the rims of two holes, mm, so that the second bit does not wander into the
/// first: a design value, no source.
pub const BETWEEN_HOLES: f64 = 2.0;

/// A tool smaller than this share of its hole is no help in making it: a design value, no source.
const HELPFUL: f64 = 0.5;

/// A hole made smaller for the next one's sake is worth drilling from this share on: a design value,
/// no source.
const WORTH_DRILLING: f64 = 0.75;

/// What rounding may take from a distance, mm.
const ROUNDING: f64 = 1e-9;

/// A tool within this of a hole's diameter, mm, is of its size: cutters are named in rounded sizes.
const SAME_SIZE: f64 = 0.06;

/// An inner corner, and the largest hole that stays inside the line there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Corner {
    /// Centre of that hole, panel frame, mm.
    pub(super) at: Point,
    /// Its diameter, mm.
    pub(super) diameter: f64,
}

/// A hole to drill before sawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Relief {
    /// Its centre, panel frame, mm.
    pub at: Point,
    /// Diameter of the largest hole that stays inside the line there, mm.
    pub diameter: f64,
    /// What it is drilled with, of the shop's: the largest that stays inside the line.
    pub tool: Tool,
    /// Centres of the corners that it is drilled for: its own, or those that it lies between.
    pub corners: Vec<Point>,
    /// Whether a larger tool was passed over because the next hole stands so near.
    pub crowded: bool,
}

impl Relief {
    /// Whether its tool leaves nothing to be filed off.
    pub fn is_finished_by_tool(&self) -> bool {
        self.corners.len() == 1 && self.tool.diameter > self.diameter - SAME_SIZE
    }

    fn at(corner: Corner, tools: &[Tool]) -> Option<Self> {
        let largest = largest_tool_at_most(tools, (corner.diameter + SAME_SIZE) / 2.0)?;
        let own = Self {
            at: corner.at,
            diameter: corner.diameter,
            tool: largest,
            corners: vec![corner.at],
            crowded: false,
        };
        own.is_helpful().then_some(own)
    }

    /// By the drill of exactly its size, which goes through the bracket too.
    pub(super) fn exactly(corner: Corner) -> Self {
        Self {
            at: corner.at,
            diameter: corner.diameter,
            tool: Tool {
                diameter: corner.diameter,
                kind: ToolKind::Drill,
            },
            corners: vec![corner.at],
            crowded: false,
        }
    }

    fn is_helpful(&self) -> bool {
        self.tool.diameter >= HELPFUL * self.diameter
    }

    /// Whether too little would stay between the two.
    fn crowds(&self, other: &Self) -> bool {
        let radii = (self.tool.diameter + other.tool.diameter) / 2.0;
        self.at.distance(other.at) < radii + BETWEEN_HOLES - ROUNDING
    }
}

/// The holes that corners are drilled with. A corner that no tool is near the size of has none: it
/// is sawn. Of holes that would stand too near one another, or in one another, all are made a little
/// smaller; where that leaves too much to file, one hole between them takes their place; and where
/// that finds no room, they are sawn.
pub(super) fn drilled(outline: &Outline, corners: &[Corner], tools: &[Tool]) -> Vec<Relief> {
    let own = corners
        .iter()
        .filter_map(|corner| Relief::at(*corner, tools));
    let mut groups: Vec<Vec<Relief>> = vec![];
    for hole in own {
        let crowded = |group: &Vec<Relief>| group.iter().any(|other| hole.crowds(other));
        let (joined, mut apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(crowded);
        apart.push(joined.into_iter().flatten().chain([hole]).collect());
        groups = apart;
    }
    let (mut holes, mut crowds): (Vec<Relief>, Vec<_>) = (vec![], vec![]);
    for group in groups {
        match smaller(&group, tools) {
            Some(apart) => holes.extend(apart),
            None => crowds.push(group),
        }
    }
    for crowd in crowds {
        let between = between(outline, &crowd, tools);
        holes.extend(between.filter(|one| !holes.iter().any(|other| one.crowds(other))));
    }
    let place = |hole: &Relief| {
        corners
            .iter()
            .position(|corner| corner.at == hole.corners[0])
    };
    holes.sort_by_key(place);
    holes
}

/// The same holes with tools that leave metal between them; one alone as it is.
fn smaller(group: &[Relief], tools: &[Tool]) -> Option<Vec<Relief>> {
    let pairs = group.iter().enumerate().flat_map(|(i, one)| {
        let others = group[i + 1..].iter();
        others.map(|other| one.at.distance(other.at))
    });
    let Some(nearest) = pairs.min_by(f64::total_cmp) else {
        return Some(group.to_vec());
    };
    let at_most = largest_tool_at_most(tools, (nearest - BETWEEN_HOLES) / 2.0)?;
    let made_smaller = group.iter().map(|hole| {
        if hole.tool.diameter <= at_most.diameter {
            return Some(hole.clone());
        }
        let hole = Relief {
            tool: at_most,
            crowded: true,
            ..hole.clone()
        };
        (hole.tool.diameter >= WORTH_DRILLING * hole.diameter).then_some(hole)
    });
    made_smaller.collect()
}

/// One hole in the middle of some corners.
fn between(outline: &Outline, crowd: &[Relief], tools: &[Tool]) -> Option<Relief> {
    let all: Vec2 = crowd.iter().map(|hole| hole.at.to_vec2()).sum();
    let at = (all / crowd.len() as f64).to_point();
    if !outline.contains(at) {
        return None;
    }
    let corner = Corner {
        at,
        diameter: 2.0 * outline.distance(at).0,
    };
    let hole = Relief {
        corners: crowd.iter().map(|hole| hole.at).collect(),
        crowded: true,
        ..Relief::at(corner, tools)?
    };
    let smallest = crowd
        .iter()
        .map(|hole| hole.diameter)
        .fold(f64::INFINITY, f64::min);
    (hole.tool.diameter >= HELPFUL * smallest).then_some(hole)
}
