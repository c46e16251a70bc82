//! The clearance of each opening: what is given, what stands in, what is worked out.

use super::{Centreline, Locator};
use crate::clearance::{
    Budget, SCALE_ERROR, Term, centre_term, default_cutting, default_gap, default_marking,
    default_position, print_term, thermal_term,
};
use crate::material::{self, Material};
use crate::panel::DatumEdge;
use crate::spec::ClearanceSpec;
use kurbo::Point;

/// What the clearance of an opening is worked out from.
pub(super) struct Allowances<'a> {
    pub(super) spec: &'a ClearanceSpec,
    pub(super) material: Option<&'static Material>,
    pub(super) centreline: &'a Centreline,
    pub(super) locators: &'a [Locator],
    pub(super) edge: &'a DatumEdge,
}

/// The material of that name, where it is one of the table's.
pub(super) fn known_material(name: &str) -> Option<&'static Material> {
    material::find(name).ok()
}

impl Allowances<'_> {
    /// The clearance of an opening whose parts stand about `at`.
    pub(super) fn budget(&self, at: Point) -> Budget {
        let given = |value: Option<f64>, stands_in: Term| value.map_or(stands_in, Term::given);
        Budget {
            gap: given(self.spec.gap, default_gap(self.material)),
            thermal: given(self.spec.thermal, self.thermal(at)),
            position: given(self.spec.position, default_position()),
            centre: given(self.spec.centre, self.centre(at)),
            marking: given(self.spec.marking, default_marking()),
            cutting: given(self.spec.cutting, default_cutting()),
            print: given(self.spec.print, self.print(at)),
            combine: self.spec.combine,
        }
    }

    fn thermal(&self, at: Point) -> Term {
        let fixed = self.locators.iter().filter(|locator| locator.fixed);
        match (self.material, nearest(fixed, at)) {
            (Some(material), Some(distance)) => {
                thermal_term(material, distance, self.spec.temperatures)
            }
            (None, _) => Term::default(0.0, "not counted: material not in the table"),
            (_, None) => Term::default(0.0, "not counted: no fixed point was told"),
        }
    }

    fn centre(&self, at: Point) -> Term {
        match self.centreline.uncertainty_at(at.y) {
            Some(uncertainty) => centre_term(uncertainty, at.y - self.edge.at(at.x)),
            None => Term::default(0.0, "not counted: nobody measured the centre"),
        }
    }

    fn print(&self, at: Point) -> Term {
        let scale_error = self.spec.scale_error.unwrap_or(SCALE_ERROR);
        // With no locator the pattern is laid by the centreline at the datum edge.
        let distance =
            nearest(self.locators.iter(), at).unwrap_or_else(|| at.distance(Point::ZERO));
        print_term(scale_error, distance)
    }
}

/// Distance to the nearest of some locators, mm.
fn nearest<'a>(locators: impl Iterator<Item = &'a Locator>, at: Point) -> Option<f64> {
    locators
        .map(|locator| locator.at.distance(at))
        .min_by(f64::total_cmp)
}
