//! How the panel stands and curves, and where that puts things on the flat pattern.

use crate::base::length::{Told, Units};
use crate::geometry::development::{
    Along, BothWays, Misfit, Passage, Profile, Smoothing, Surface, SurfaceError,
    profile_of_readings,
};
use crate::input::{CircleSize, FormSpec, PanelSpec, Problem, ProfileSpec, SurfaceSpec};
use crate::model::panel::{DatumEdge, Orientation};
use kurbo::{Point, Rect};

/// The surface that the pattern is taped to.
#[derive(Debug, Clone)]
pub struct PanelSurface {
    /// The surface; for a panel curved both ways, with the first of its profiles.
    pub surface: Surface,
    /// What smoothing did to the readings of each profile.
    pub smoothings: Vec<Smoothing>,
    /// How its curve was told, where it was.
    pub form: Option<FormSpec>,
    both_ways: Option<BothWays>,
    thickness: f64,
}

impl PanelSurface {
    /// The surface of a definition's panel; a flat one where nothing was told.
    pub(super) fn of(
        panel: &PanelSpec,
        orientation: Orientation,
        units: Units,
    ) -> Result<Self, Vec<Problem>> {
        let made = match &panel.surface {
            None => flat(),
            Some(spec) => curved(spec, orientation),
        };
        made.map(|surface| Self {
            thickness: panel.thickness.unwrap_or(0.0),
            ..surface
        })
        .map_err(|error| vec![problem(error.told(units), panel)])
    }

    /// Whether paper lies on it as on a table that is seen square-on.
    pub fn is_plain(&self) -> bool {
        self.surface.rake() == 0.0 && self.surface.profile().is_flat() && self.both_ways.is_none()
    }

    /// The panel's thickness, mm; 0 where it was not told.
    pub fn thickness(&self) -> f64 {
        self.thickness
    }

    /// The surface as it is about a place of the pattern.
    pub(super) fn about(&self, place: Point) -> Result<Surface, SurfaceError> {
        let Some(both) = &self.both_ways else {
            return Ok(self.surface.clone());
        };
        let along = self.surface.along();
        let height = match along {
            Along::Across => place.y,
            Along::EdgeToEdge => place.x,
        };
        Surface::new(self.surface.rake(), both.at(height), along)
    }

    /// Where a point that is seen square-on lies on the pattern, and the surface about it.
    pub(super) fn develop(&self, seen: Point) -> Result<(Point, Surface), SurfaceError> {
        let surface = self.about(seen)?;
        let place = surface.develop(seen)?;
        let surface = self.about(place)?;
        Ok((surface.develop(seen)?, surface))
    }

    /// How high the datum edge is seen at `x`, looking square-on: where a panel curves across and
    /// leans, its edge is not seen straight.
    pub(super) fn edge_seen(&self, x: f64, edge: &DatumEdge) -> Result<f64, SurfaceError> {
        let along = match self.surface.along() {
            Along::Across => self.develop(Point::new(x, 0.0))?.0.x,
            Along::EdgeToEdge => x,
        };
        let on_pattern = Point::new(along, edge.at(along));
        Ok(self.about(on_pattern)?.seen(on_pattern).y)
    }

    /// How badly paper lies about an opening of a panel that is curved both ways.
    pub(super) fn misfit(&self, opening: Rect) -> Option<Misfit> {
        let both = self.both_ways.as_ref()?;
        Some(both.misfit(opening, self.surface.along()))
    }
}

/// A direction that is told for the page, in the frame, which has the datum edge at its foot.
pub(super) fn in_frame(page_angle: f64, orientation: Orientation) -> f64 {
    if orientation.datum_at_head() {
        -page_angle
    } else {
        page_angle
    }
}

fn flat() -> Result<PanelSurface, SurfaceError> {
    Ok(PanelSurface {
        surface: Surface::new(0.0, Profile::flat(), Along::Across)?,
        smoothings: vec![],
        form: None,
        both_ways: None,
        thickness: 0.0,
    })
}

fn curved(spec: &SurfaceSpec, orientation: Orientation) -> Result<PanelSurface, SurfaceError> {
    let rake = in_frame(spec.rake.value.to_radians(), orientation);
    let (profile, both_ways, smoothings) = match &spec.form {
        FormSpec::Flat => (Profile::flat(), None, vec![]),
        FormSpec::Circle {
            size,
            bulges,
            crown,
        } => {
            let circle = match *size {
                CircleSize::Chord { chord, rise } => {
                    Profile::chord_and_rise(chord, rise, *bulges, *crown)?
                }
                CircleSize::Radius(radius) => Profile::circle(radius, *bulges, *crown)?,
            };
            (circle, None, vec![])
        }
        FormSpec::Profile { one, other, error } => read(one, other.as_ref(), *error)?,
    };
    Ok(PanelSurface {
        surface: Surface::new(rake, profile, spec.along)?,
        smoothings,
        form: Some(spec.form.clone()),
        both_ways,
        thickness: 0.0,
    })
}

type Read = (Profile, Option<BothWays>, Vec<Smoothing>);

fn read(one: &ProfileSpec, other: Option<&ProfileSpec>, error: f64) -> Result<Read, SurfaceError> {
    let (profile, smoothing) = profile_of_readings(&one.readings.value, error)?;
    let Some(other) = other else {
        return Ok((profile, None, vec![smoothing]));
    };
    let (second, second_smoothing) = profile_of_readings(&other.readings.value, error)?;
    let both = BothWays::new((one.at, profile.clone()), (other.at, second))?;
    // Profiles that differ by no more than they are known show a panel that is curved one way.
    let differ = both.differ_by() > 2.0 * error;
    let smoothings = vec![smoothing, second_smoothing];
    Ok((profile, differ.then_some(both), smoothings))
}

/// Trouble with the surface itself, at its table.
fn problem(message: String, panel: &PanelSpec) -> Problem {
    let mut problem = Problem::new(message);
    problem.span = panel.surface.as_ref().and_then(|spec| spec.span.clone());
    problem
}

/// Where a way through goes, from its slope and yaw in degrees as told for the page.
pub(super) fn passage(
    surface: &Surface,
    at: Point,
    (slope, yaw): (f64, f64),
    orientation: Orientation,
) -> Result<Passage, SurfaceError> {
    let radians = |degrees: f64| in_frame(degrees.to_radians(), orientation);
    Passage::new(surface.on_face(at, 0.0), radians(slope), radians(yaw))
}
