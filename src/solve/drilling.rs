//! With which tool each inner corner is drilled, and where holes stand too near one another for that.

use crate::geometry::outline::Outline;
use crate::model::hardware::{Tool, largest_tool_at_most};
use kurbo::{Point, Vec2};

/// Diameter of a hole saw's pilot drill, mm: 1/4 in (common practice, no source). It needs metal all
/// round, so the middle of a hole keeps half of it from the rim of every other.
pub const PILOT: f64 = 6.35;

/// A tool smaller than this share of its hole is no help in making it: a design value, no source.
const HELPFUL: f64 = 0.5;

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

    fn is_helpful(&self) -> bool {
        self.tool.diameter >= HELPFUL * self.diameter
    }

    /// Whether one of the two would take away the metal that the other's pilot drill needs.
    fn crowds(&self, other: &Self) -> bool {
        let larger = self.tool.diameter.max(other.tool.diameter);
        self.at.distance(other.at) < (larger + PILOT) / 2.0
    }
}

/// The holes that corners are drilled with. A corner that no tool is near the size of has none: it
/// is sawn. Of holes that stand too near one another all are made smaller; where no tool helps then,
/// one hole between them takes their place; and where that finds no room, they are sawn.
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
    let (crowds, alone): (Vec<_>, Vec<_>) = groups.into_iter().partition(|group| group.len() > 1);
    let mut holes: Vec<Relief> = alone.into_iter().flatten().collect();
    for crowd in crowds {
        let Some(smaller) = smaller(&crowd, tools) else {
            let between = between(outline, &crowd, tools);
            holes.extend(between.filter(|one| !holes.iter().any(|other| one.crowds(other))));
            continue;
        };
        holes.extend(smaller);
    }
    let place = |hole: &Relief| {
        corners
            .iter()
            .position(|corner| corner.at == hole.corners[0])
    };
    holes.sort_by_key(place);
    holes
}

/// The same holes with tools that leave one another's pilot drill its metal.
fn smaller(crowd: &[Relief], tools: &[Tool]) -> Option<Vec<Relief>> {
    let pairs = crowd.iter().enumerate().flat_map(|(i, one)| {
        let others = crowd[i + 1..].iter();
        others.map(|other| one.at.distance(other.at))
    });
    let nearest = pairs.fold(f64::INFINITY, f64::min);
    let at_most = largest_tool_at_most(tools, nearest - PILOT / 2.0)?;
    let made_smaller = crowd.iter().map(|hole| {
        let passed_over = hole.tool.diameter > at_most.diameter;
        let hole = Relief {
            tool: if passed_over { at_most } else { hole.tool },
            crowded: passed_over,
            ..hole.clone()
        };
        hole.is_helpful().then_some(hole)
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
