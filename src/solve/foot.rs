//! What still holds the panel: where the accessory presses it, which fasteners stay, and which way
//! it could slide. Told, not ruled: there is no published threshold.

use super::place::Placing;
use super::slide::slides;
use super::{Finding, FindingId, Locator, Opening, Panel, Part, Severity, Slide};
use crate::base::length::Units;
use crate::geometry::outline::{Outline, Region, Segment, Side, intersection, without};
use crate::input::{FootSpec, Placed, Problem};
use kurbo::{Line, Point, Vec2};

/// From one place to the next along a cut side at which the land beside it is measured, mm.
const APART: f64 = 1.0;

/// Fewest and most places of a side.
const LEAST_PLACES: f64 = 32.0;
const MOST_PLACES: f64 = 2000.0;

/// Halvings until the place where the foot begins on a side is found.
const HALVINGS: u32 = 40;

/// How far from where the foot begins on a side the land is measured, mm.
const INWARD: f64 = 0.02;

/// How closely curves are followed by what is measured, mm.
const FINE: f64 = 0.002;

/// A foot on less of the panel than this, mm^2, presses nothing.
const NOTHING: f64 = 1.0;

/// How far from the line a place is looked at, mm, so that it lies on its one side for certain.
const BESIDE: f64 = 0.01;

/// Where the accessory presses the panel, solved.
#[derive(Debug, Clone)]
pub struct Foot {
    /// Its name.
    pub name: String,
    /// Its outline, panel frame, mm.
    pub outline: Outline,
    /// What of the panel it presses once all is cut, mm^2.
    pub clamped: f64,
    /// The narrowest land of that beside a cut, square to the cut line, mm, and where on the line;
    /// none where no cut runs through the foot.
    pub land: Option<(f64, Point)>,
}

/// What holds the panel once all is cut.
#[derive(Debug, Clone, Default)]
pub struct Hold {
    /// Fixed points that stay.
    pub held_by: Vec<String>,
    /// Fixed points that fall into the waste: their fasteners are left out.
    pub left_out: Vec<String>,
    /// Ways that nothing but friction keeps the panel from sliding: no part is met.
    pub slides: Vec<Slide>,
}

impl Foot {
    /// What it presses, in words.
    pub fn told(&self, units: Units) -> String {
        let land = self.land.map_or_else(String::new, |(land, _)| {
            format!(", narrowest land {}", units.length(land))
        });
        format!(
            "{} of its {} clamp the panel{land}",
            units.area(self.clamped),
            units.area(self.outline.area())
        )
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

/// What each foot presses of what is left of the panel.
pub(super) fn pressed(
    specs: &[FootSpec],
    outlines: Vec<Outline>,
    kept: &[Region],
    openings: &[Opening],
) -> Vec<Foot> {
    let feet = specs.iter().zip(outlines);
    feet.map(|(spec, outline)| Foot {
        name: spec.name.value.clone(),
        clamped: kept.iter().map(|region| shared(&outline, region)).sum(),
        land: narrowest(&outline, kept, openings),
        outline,
    })
    .collect()
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
    let slides = match held_by.is_empty() {
        true => slides(kept, parts),
        false => vec![],
    };
    Hold {
        held_by: names(held_by),
        left_out: names(left_out),
        slides,
    }
}

/// The area that an outline has in common with a region, mm^2.
fn shared(outline: &Outline, region: &Region) -> f64 {
    let with =
        |other: &Outline| -> f64 { intersection(outline, other).iter().map(Outline::area).sum() };
    with(&region.outer) - region.holes.iter().map(with).sum::<f64>()
}

/// An outline as straight pieces, within so many mm.
pub(super) fn lines(outline: &Outline, within: f64) -> Vec<Line> {
    let mut points = vec![];
    kurbo::flatten(outline.closed_path(within), within, |element| {
        points.extend(element.end_point());
    });
    let closing = points.first().copied();
    points.extend(closing);
    points
        .windows(2)
        .map(|ends| Line::new(ends[0], ends[1]))
        .collect()
}

/// How far from a point on its way a line is met, mm.
fn met(start: Point, way: Vec2, line: Line) -> Option<f64> {
    let along = line.p1 - line.p0;
    let turned = way.cross(along);
    let to = line.p0 - start;
    let (far, on_line) = (to.cross(along) / turned, to.cross(way) / turned);
    (turned != 0.0 && far >= 0.0 && (0.0..=1.0).contains(&on_line)).then_some(far)
}

/// The least width of what a foot presses beside a cut, square to the cut line.
fn narrowest(foot: &Outline, kept: &[Region], openings: &[Opening]) -> Option<(f64, Point)> {
    let rims = kept
        .iter()
        .flat_map(|region| [&region.outer].into_iter().chain(&region.holes));
    let bounds: Vec<Line> = rims
        .chain([foot])
        .flat_map(|rim| lines(rim, FINE))
        .collect();
    let around = foot.bounds();
    let presses = |at: Point| {
        around.contains(at) && foot.contains(at) && kept.iter().any(|region| region.contains(at))
    };
    // The opening lies to the left of its line, what is kept to the right.
    let out = |side: &Segment, t: f64| {
        let along = side.tangent(t).normalize();
        Vec2::new(along.y, -along.x)
    };
    let pressed = |side: &Segment, t: f64| presses(side.at(t) + out(side, t) * BESIDE);
    let sides = openings.iter().flat_map(|opening| opening.outline.sides());
    let cut = sides.filter(|side| side.side == Side::Cut);
    let places = cut.flat_map(|side| {
        let count = (side.length() / APART)
            .clamp(LEAST_PLACES, MOST_PLACES)
            .ceil();
        // Not at its very ends, where what lies beside it is the next side's.
        let at = |place: f64| (place / count).clamp(1e-3, 1.0 - 1e-3);
        let looks = (0..=count as u32).map(|place| at(f64::from(place)));
        let looks: Vec<(f64, bool)> = looks.map(|t| (t, pressed(&side, t))).collect();
        let on_foot = looks.iter().filter(|(_, is_pressed)| *is_pressed);
        let mut places: Vec<(Segment, f64)> = on_foot.map(|(t, _)| (side, *t)).collect();
        // Where the foot begins or ends on it the land may taper to nothing.
        let ends = looks.windows(2).filter(|pair| pair[0].1 != pair[1].1);
        places.extend(ends.map(|pair| {
            let (from, to) = (pair[0].0, pair[1].0);
            let (mut inside, mut outside) = if pair[0].1 { (from, to) } else { (to, from) };
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(inside, outside);
                if pressed(&side, middle) {
                    inside = middle;
                } else {
                    outside = middle;
                }
            }
            // In by what its curves are followed to, or its chord would lie before the place.
            let back = (INWARD / side.length()).copysign(inside - outside);
            (side, inside + back)
        }));
        places
    });
    let lands = places.map(|(side, t)| {
        let (at, out) = (side.at(t), out(&side, t));
        let start = at + out * BESIDE;
        let land = bounds.iter().filter_map(|line| met(start, out, *line));
        (land.fold(f64::INFINITY, f64::min) + BESIDE, at)
    });
    lands.min_by(|a, b| a.0.total_cmp(&b.0))
}
