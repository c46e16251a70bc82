//! Parts that pass through the panel, in the panel frame.

use super::panel_surface::passage;
use super::place::{Place, Placing};
use super::tied::{TiedPlace, tied};
use crate::base::fixed;
use crate::base::length::Told;
use crate::geometry::development::{
    FIT_TOLERANCE, Passage, Projection, Surface, SurfaceError, carried, cleared, mapped,
};
use crate::geometry::outline::{Corner, Outline, Side, outers, rounded};
use crate::input::families::Purpose;
use crate::input::{Measured, PartBody, PartPlace, PartSpec, Problem};
use crate::model::clearance::{Budget, EachWay, Term};
use crate::model::hardware::{Bolt, Fit};
use crate::solve::follow::contour;
use kurbo::{Point, Vec2};

/// A part, solved.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Its outline, panel frame, mm.
    pub outline: Outline,
    /// Where its origin stands, panel frame, mm.
    pub origin: Point,
    /// How far that is from the centreline, along the frame's x, mm.
    pub offset: f64,
    /// What shall remain round it alone, mm, where that was given.
    pub gap: Option<f64>,
    /// How far behind the panel's hidden face it begins, mm; none where it comes through.
    pub behind: Option<f64>,
    /// How its ties place it, where it was placed by them.
    pub tied: Option<TiedPlace>,
    /// How it comes through a panel that it does not meet squarely: none where its outline on the
    /// pattern is its own.
    pub through: Option<Through>,
    /// The hole of a bolt that panel and bracket are drilled together for.
    pub drilled: Option<Drilled>,
}

/// A hole drilled through panel and bracket at once: neither can be off the other, so that the hole's
/// fit is all the clearance there is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drilled {
    /// The bolt.
    pub bolt: &'static Bolt,
    /// How loosely the hole fits it.
    pub fit: Fit,
}

impl Drilled {
    /// Diameter of the hole, mm (ISO 273).
    pub fn hole(&self) -> f64 {
        self.bolt.hole(self.fit)
    }

    /// What the bolt keeps to each side, mm.
    pub fn clearance(&self) -> f64 {
        (self.hole() - self.bolt.diameter) / 2.0
    }
}

/// A part's way through a panel that leans, curves, or is not met squarely.
#[derive(Debug, Clone)]
pub struct Through {
    /// The panel's surface about it.
    pub surface: Surface,
    /// The way.
    pub passage: Passage,
    /// The part's outline in the plane square to its way, about the point where it meets the panel,
    /// mm.
    pub section: Outline,
    /// What its outline on the pattern would be if the panel were flat and square to the way.
    pub flat: Outline,
}

impl Part {
    /// Its name as the sheet tells it, with the hole that it is drilled together for.
    pub fn label(&self) -> String {
        match self.drilled {
            Some(drilled) => format!(
                "{}, {} drilled together Ø{}",
                self.name,
                drilled.bolt.name,
                fixed(drilled.hole(), 1)
            ),
            None => self.name.clone(),
        }
    }

    /// The clearance of its opening with the gap that this part asks for.
    pub(crate) fn budget(&self, budget: &Budget) -> Budget {
        let mut own = budget.clone();
        if let Some(gap) = self.gap {
            own.gap = Term::given(gap);
        }
        if let Some(tied) = &self.tied {
            own.position = tied.position(&own.position);
            own.centre = Term::worked_out(0.0, "placed by ties, not from the centreline".into());
        }
        own
    }

    /// What is added round it, mm: to a bolt that is drilled together with what it holds, its
    /// hole's fit.
    pub(super) fn clearance(&self, budget: &Budget) -> EachWay {
        self.drilled.map_or_else(
            || self.budget(budget).total(),
            |drilled| EachWay::even(drilled.clearance()),
        )
    }

    /// What the panel must be opened to, so that the part is `clearance` mm from the cut wall all
    /// through it.
    pub(super) fn grown(
        &self,
        clearance: f64,
        thickness: f64,
    ) -> Result<Vec<Outline>, SurfaceError> {
        let Some(way) = &self.through else {
            let grown = contour(&[(self.outline.clone(), clearance)]);
            return Ok(outers(grown));
        };
        if clearance > 0.0 {
            cleared(
                &way.surface,
                thickness,
                &way.passage,
                &way.section,
                clearance,
            )
        } else {
            carried(&way.surface, thickness, &way.passage, &way.section)
        }
    }
}

/// Most that the squares of the parts' corners may come to: what a part costs to work out grows so.
const MOST_CORNERS_SQUARED: usize = 200 * 200 * 200;

/// Refuses parts that together have so many corners that they would take minutes to work out.
///
/// # Errors
/// At the part that is one too many.
pub(super) fn within_bounds(parts: &[Part], specs: &[PartSpec]) -> Result<(), Vec<Problem>> {
    let mut squares = 0;
    for (part, spec) in parts.iter().zip(specs) {
        squares += part.outline.sides().count().pow(2);
        if squares > MOST_CORNERS_SQUARED {
            let message = "up to this part, the parts have more corners than can be worked out";
            let hint = "200 parts may have 200 corners each, or 32 parts 500: use simpler shapes";
            return Err(vec![spec.name.problem(message).hint(hint)]);
        }
    }
    Ok(())
}

/// A part at its place.
pub(super) fn part(spec: &PartSpec, placing: &Placing<'_>) -> Result<Part, Vec<Problem>> {
    let own = own_outline(spec, placing)?;
    let mut ties = None;
    let mut at = |measured| match &spec.place {
        PartPlace::Offset {
            centre_offset,
            from_datum,
        } => placing.at(centre_offset, from_datum, spec.square_to, measured),
        PartPlace::Ties(each) => {
            let turn = placing.turn(spec.square_to);
            let (place, tied) = tied(spec, each, &own, turn, placing)?;
            ties = Some(tied);
            Ok(place)
        }
    };
    let place = at(spec.measured)?;
    let straight = spec.way.slope.value == 0.0 && spec.way.yaw.value == 0.0;
    if spec.measured == Measured::SquareOn && !(straight && placing.surface.is_plain()) {
        let on_flat = at(Measured::OnPanel)?;
        let through = coming_through(spec, placing, &own, (place, on_flat));
        return through
            .map(|part| Part { tied: ties, ..part })
            .map_err(|error| {
                vec![
                    spec.name
                        .problem(format!(
                            "part `{}`: {}",
                            spec.name.value,
                            error.told(placing.units)
                        ))
                        .hint(LOOK_AT),
                ]
            });
    }
    Ok(Part {
        name: spec.name.value.clone(),
        outline: own.placed(place.turn, Vec2::new(place.origin.x, place.origin.y)),
        origin: place.origin,
        offset: place.offset,
        through: None,
        tied: ties,
        gap: spec.gap,
        behind: spec.behind,
        drilled: drilled(spec),
    })
}

pub(super) const LOOK_AT: &str = "look at `rake`, `slope`, `yaw` and the curve of the panel; the view that \
                       `draw --view` makes shows how they stand";

/// A part that was measured square to its way, on a panel that is not square to it.
fn coming_through(
    spec: &PartSpec,
    placing: &Placing<'_>,
    own: &Outline,
    (place, on_flat): (Place, Place),
) -> Result<Part, SurfaceError> {
    let (origin, surface) = placing.surface.develop(place.origin)?;
    let way = (spec.way.slope.value, spec.way.yaw.value);
    let passage = passage(&surface, origin, way, placing.orientation)?;
    let section = own.placed(place.turn, Vec2::ZERO);
    let near = Projection::new(&surface, &passage, 0.0)?;
    let outline = mapped(&section, |point| near.land(point), FIT_TOLERANCE)?;
    let flat = own.placed(on_flat.turn, on_flat.origin.to_vec2());
    Ok(Part {
        name: spec.name.value.clone(),
        outline,
        origin,
        offset: origin.x - placing.centreline.x_at(origin.y),
        through: Some(Through {
            surface,
            passage,
            section,
            flat,
        }),
        tied: None,
        gap: spec.gap,
        behind: spec.behind,
        drilled: drilled(spec),
    })
}

/// The hole of a bolt that is drilled together with what it holds.
fn drilled(spec: &PartSpec) -> Option<Drilled> {
    match spec.body {
        PartBody::Bolt { bolt, drilled } => drilled.map(|fit| Drilled { bolt, fit }),
        _ => None,
    }
}

/// The outline about the part's own origin.
fn own_outline(spec: &PartSpec, placing: &Placing<'_>) -> Result<Outline, Vec<Problem>> {
    match &spec.body {
        PartBody::Shape { shape, with } => {
            let family = placing.family(shape)?;
            if family.is_open() {
                return Err(vec![
                    shape
                        .problem(format!(
                            "shape `{}` is open, and a part is whole",
                            shape.value
                        ))
                        .hint("take a closed shape such as `window` or `round-hole`"),
                ]);
            }
            placing.outline(family, Purpose::Solid, with, shape)
        }
        PartBody::Bolt { bolt, .. } => square(bolt.diameter, bolt.diameter / 2.0, spec, placing),
        PartBody::Round { diameter, .. } => square(*diameter, diameter / 2.0, spec, placing),
        PartBody::Tube {
            outside,
            corner_radius,
            ..
        } => square(*outside, *corner_radius, spec, placing),
    }
}

/// A square of this side with round corners; a circle where the radius is half of it.
fn square(
    side: f64,
    radius: f64,
    spec: &PartSpec,
    placing: &Placing<'_>,
) -> Result<Outline, Vec<Problem>> {
    let half = side / 2.0;
    let corners =
        [(-half, -half), (half, -half), (half, half), (-half, half)].map(|(x, y)| Corner {
            point: Point::new(x, y),
            radius,
            side: Side::Cut,
        });
    rounded(&corners).map_err(|error| vec![spec.name.problem(error.told(placing.units))])
}
