//! What still holds the panel: where the accessory presses it, which fasteners stay, and which way
//! it could slide. Told, not ruled: there is no published threshold.

use super::place::Placing;
use super::slide::slides;
use super::{Finding, FindingId, Locator, Opening, Panel, Part, Severity, Slide};
use crate::base::length::Units;
use crate::geometry::outline::{
    ON_EDGE, Outline, Region, Segment, Vertex, intersection, narrowest, without,
};
use crate::input::{FootSpec, Placed, Problem};
use crate::model::panel::Orientation;
use kurbo::Point;
use std::f64::consts::FRAC_PI_2;

/// What a round corner turns by at most, radians, of which the sharp one stands near by: 120 degrees. One
/// that turns further is the end of a tongue.
const SHARPEST: f64 = FRAC_PI_2 * 4.0 / 3.0;

/// A foot on less of the panel than this, mm^2, presses nothing.
const NOTHING: f64 = 1.0;

/// Where the accessory presses the panel, solved.
#[derive(Debug, Clone)]
pub struct Foot {
    /// Its name.
    pub name: String,
    /// Its outline, panel frame, mm.
    pub outline: Outline,
    /// What of the panel it presses once all is cut, mm^2.
    pub clamped: f64,
    /// The narrowest land of that beside a cut.
    pub land: Land,
}

/// The narrowest land of what a foot presses, beside a cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Land {
    /// No cut runs through the foot.
    Uncut,
    /// What is left beside the cuts runs out to points.
    ToPoints,
    /// This wide, mm, and where on the cut: to the next cut, the panel's edge or the rim of the foot,
    /// whose round corners are taken as sharp.
    Wide(f64, Point),
}

impl Land {
    /// How wide, mm, where that can be told.
    pub fn width(self) -> Option<f64> {
        match self {
            Self::Wide(width, _) => Some(width),
            Self::Uncut | Self::ToPoints => None,
        }
    }

    /// In words, for a table.
    pub fn told(self, units: Units) -> String {
        match self {
            Self::Uncut => "no cut in it".into(),
            Self::ToPoints => "runs out to a point".into(),
            Self::Wide(width, _) => units.length(width),
        }
    }
}

/// What holds the panel once all is cut.
#[derive(Debug, Clone, Default)]
pub struct Hold {
    /// Fixed points that stay.
    pub held_by: Vec<String>,
    /// Fixed points that fall into the waste: their fasteners are left out.
    pub left_out: Vec<String>,
    /// Straight ways that nothing but friction keeps the panel from sliding: no part is met. Ways that
    /// turn it are not sought.
    pub slides: Vec<Slide>,
    /// Whether they were sought: no fixed point stays, a foot presses, and a part passes through.
    pub was_sought: bool,
}

impl Foot {
    /// What it presses, in words.
    pub fn told(&self, units: Units) -> String {
        let land = match self.land {
            Land::Uncut => String::new(),
            land => format!(", narrowest land {}", land.told(units)),
        };
        format!(
            "{} of its {} clamp the panel{land}",
            units.area(self.clamped),
            units.area(self.outline.area())
        )
    }
}

impl Hold {
    /// All of it in words, a sentence each.
    pub fn told(&self, orientation: Orientation) -> Vec<String> {
        let mut told = vec![];
        if !self.held_by.is_empty() {
            let at = self.held_by.join(", ");
            told.push(format!("Fixed points that stay: {at}."));
        }
        if !self.left_out.is_empty() {
            let at = self.left_out.join(", ");
            told.push(format!("Leave out the fastener at {at}."));
        }
        told.extend(self.sliding(orientation).map(|words| words + "."));
        let sought = match (self.was_sought, self.slides.is_empty()) {
            (false, _) => None,
            (true, true) => Some(
                "Parts stand in every straight way that it could slide out. Ways that turn it were \
                 not sought: try it.",
            ),
            (true, false) => {
                Some("Straight ways alone were sought: it may come out others, turned.")
            }
        };
        told.extend(sought.map(str::to_owned));
        told
    }

    /// The ways that it could slide, in words; none where it can't, as far as was sought.
    pub fn sliding(&self, orientation: Orientation) -> Option<String> {
        let ways = self.slides.iter().map(|way| way.told(orientation));
        let ways: Vec<String> = ways.collect();
        (!ways.is_empty()).then(|| {
            let ways = ways.join(", and ");
            format!("Nothing but the clamping keeps the panel from sliding {ways}")
        })
    }
}

/// Feet at their places.
pub(super) fn foot(spec: &FootSpec, placing: &Placing<'_>) -> Result<Outline, Vec<Problem>> {
    let (offset, from_datum) = (&spec.centre_offset, &spec.from_datum);
    placing.solid(&spec.shape, &spec.with, offset, from_datum)
}

/// Refuses what lies wholly off the panel; of a panel whose size was not told only the datum edge is
/// known.
pub(super) fn on_panel(
    (what, name): (&str, &Placed<String>),
    own: &Outline,
    panel: &Panel,
) -> Result<(), Vec<Problem>> {
    let over_edge = own.bounds().y1 < panel.edge.lowest(own.bounds().x0, own.bounds().x1);
    let off = match panel.size {
        Some(_) => {
            let on = intersection(own, &panel.outline);
            on.iter().map(Outline::area).sum::<f64>() < NOTHING
        }
        None => over_edge,
    };
    if !off {
        return Ok(());
    }
    let message = format!("{what} `{}` lies wholly off the panel", name.value);
    let hint = "`centre_offset` counts from the centreline, `from_datum` from the datum edge; look at both, and at its size";
    Err(vec![name.problem(message).hint(hint)])
}

/// What each foot presses of what is left of the panel, which was `whole`.
pub(super) fn pressed(
    specs: &[FootSpec],
    outlines: Vec<Outline>,
    whole: &Outline,
    kept: &[Region],
) -> Vec<Foot> {
    let feet = specs.iter().zip(outlines);
    feet.map(|(spec, outline)| {
        let under = all_under(&outline, kept);
        Foot {
            name: spec.name.value.clone(),
            clamped: under.iter().map(Region::area).sum(),
            land: land(&squared(&outline), whole, kept),
            outline,
        }
    })
    .collect()
}

/// The narrowest land beside a cut under a foot, of a panel that was `whole`.
fn land(foot: &Outline, whole: &Outline, kept: &[Region]) -> Land {
    let under = all_under(foot, kept);
    let is_cut = |side: &Segment| {
        let middle = side.at(0.5);
        [foot, whole]
            .into_iter()
            .all(|rim| rim.distance(middle).0 > ON_EDGE)
    };
    let lands = under.iter().filter_map(|piece| narrowest(piece, is_cut));
    let mut rims = under
        .iter()
        .flat_map(|piece| [&piece.outer].into_iter().chain(&piece.holes));
    match lands.min_by(|a, b| a.0.total_cmp(&b.0)) {
        Some((width, on_cut, _)) => Land::Wide(width, on_cut),
        None if rims.any(|rim| rim.sides().any(|side| is_cut(&side))) => Land::ToPoints,
        None => Land::Uncut,
    }
}

/// A foot with its round corners sharp: land is measured to its sides, and a side that ends in a
/// round corner is no narrower there.
fn squared(foot: &Outline) -> Outline {
    let sides: Vec<Segment> = foot.sides().collect();
    let count = sides.len();
    let is_corner = |place: usize| {
        let side = &sides[place % count];
        let [before, after] = [count - 1, 1].map(|on| &sides[(place + on) % count]);
        side.is_arc()
            && (0.0..=SHARPEST).contains(&side.sweep())
            && !before.is_arc()
            && !after.is_arc()
    };
    let vertex = |(place, vertex): (usize, &Vertex)| match sides[place].radius() {
        _ if is_corner(place + count - 1) => None,
        Some(radius) if is_corner(place) => {
            let on = radius * libm::tan(sides[place].sweep() / 2.0);
            let point = vertex.point + sides[place].tangent(0.0) * on;
            Some(Vertex {
                point,
                bulge: 0.0,
                ..*vertex
            })
        }
        _ => Some(*vertex),
    };
    let vertices = foot.vertices().iter().enumerate().filter_map(vertex);
    Outline::new(vertices.collect()).unwrap_or_else(|_| foot.clone())
}

/// What an outline has in common with what is kept, but for slivers.
fn all_under(outline: &Outline, kept: &[Region]) -> Vec<Region> {
    let under = kept.iter().flat_map(|region| under(outline, region));
    under.filter(|piece| piece.area() >= NOTHING).collect()
}

/// What an outline has in common with a region.
fn under(outline: &Outline, region: &Region) -> Vec<Region> {
    let pieces = intersection(outline, &region.outer);
    let pieces = pieces
        .iter()
        .flat_map(|piece| without(piece, region.holes.iter()));
    pieces.collect()
}

/// Feet that press nothing.
pub(super) fn findings(feet: &[Foot]) -> Vec<Finding> {
    let idle = feet.iter().filter(|foot| foot.clamped < NOTHING);
    idle.map(|foot| {
        Finding::new(
            Severity::Warning,
            FindingId::of("foot").about(&foot.name),
            format!(
                "foot `{}` presses nothing of what is left of the panel",
                foot.name
            ),
            "look at its place and size, or hold the panel elsewhere",
        )
        .at(foot.outline.bounds().center())
    })
    .collect()
}

/// What is left of the panel, or of what stands on it.
pub(super) fn kept(whole: &Outline, openings: &[Opening]) -> Vec<Region> {
    without(whole, openings.iter().map(|opening| &opening.outline))
}

/// Whether an opening takes a hole, or breaks it open: neither holds a fastener any more.
fn breaks(opening: &Opening, hole: &Locator) -> bool {
    let radius = hole.diameter.unwrap_or(0.0) / 2.0;
    opening.outline.contains(hole.at) || opening.outline.distance(hole.at).0 < radius
}

/// What holds the panel once all is cut; which way it could slide only where something is left to
/// look at.
pub(super) fn hold(
    kept: &[Region],
    openings: &[Opening],
    locators: &[Locator],
    parts: &[Part],
) -> Hold {
    let (left_out, held_by): (Vec<&Locator>, Vec<&Locator>) = locators
        .iter()
        .filter(|locator| locator.fixed)
        .partition(|locator| openings.iter().any(|own| breaks(own, locator)));
    let names = |of: Vec<&Locator>| of.into_iter().map(|own| own.name.clone()).collect();
    let passes = parts.iter().any(|part| part.behind.is_none());
    let was_sought = held_by.is_empty() && !kept.is_empty() && passes;
    let slides = match was_sought {
        true => slides(kept, parts),
        false => vec![],
    };
    Hold {
        was_sought,
        held_by: names(held_by),
        left_out: names(left_out),
        slides,
    }
}
