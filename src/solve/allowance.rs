//! The clearance of each opening: what is given, what stands in, what is worked out.

use super::laid::Laid;
use super::{Centreline, Locator, Opening};
use crate::base::length::Units;
use crate::input::ClearanceSpec;
use crate::model::clearance::{
    Budget, PRINTER_ERROR, SCALE_ERROR, Term, centre_term, default_cutting, default_gap,
    default_marking, default_position, print_term, thermal_term,
};
use crate::model::material::Material;
use crate::model::panel::DatumEdge;
use kurbo::{Point, Rect};

/// What the clearance of an opening is worked out from.
pub(super) struct Allowances<'a> {
    pub(super) spec: &'a ClearanceSpec,
    pub(super) material: Option<&'a Material>,
    pub(super) centreline: &'a Centreline,
    pub(super) locators: &'a [Locator],
    pub(super) edge: &'a DatumEdge,
    /// That reasons are told in.
    pub(super) units: Units,
}

impl Allowances<'_> {
    /// The clearance of an opening whose parts stand about `at`, and whose cut reaches over the box
    /// `cut`.
    pub(super) fn budget(&self, at: Point, cut: Rect) -> Budget {
        let given = |value: Option<f64>, stands_in: Term| value.map_or(stands_in, Term::given);
        Budget {
            gap: given(self.spec.gap, default_gap(self.material)),
            thermal: given(self.spec.thermal, self.thermal(at)),
            position: given(self.spec.position, default_position()),
            centre: given(self.spec.centre, self.centre(at)),
            marking: given(self.spec.marking, default_marking()),
            cutting: given(self.spec.cutting, default_cutting()),
            print: given(self.spec.print, self.print(cut)),
            combine: self.spec.combine,
        }
    }

    fn thermal(&self, at: Point) -> Term {
        let fixed = self.locators.iter().filter(|locator| locator.fixed);
        match (self.material, nearest(fixed, at)) {
            (Some(material), Some(distance)) => {
                thermal_term(material, distance, self.spec.temperatures, self.units)
            }
            (None, _) => Term::default(0.0, "not counted: the material is not told"),
            (_, None) => Term::default(0.0, "not counted: no fixed point was told"),
        }
    }

    fn centre(&self, at: Point) -> Term {
        match self.centreline.uncertainty_at(at.y) {
            Some(uncertainty) => centre_term(uncertainty, at.y - self.edge.at(at.x), self.units),
            None => Term::default(0.0, "not counted: nobody measured the centre"),
        }
    }

    fn print(&self, cut: Rect) -> Term {
        let laid_by = if self.locators.is_empty() {
            "centreline and datum edge"
        } else {
            "the nearest locator"
        };
        let distance = self.laid().reach_of_rim(cut).hypot();
        print_term(self.stated_scale_error(), distance, laid_by, self.units)
    }

    fn laid(&self) -> Laid<'_> {
        Laid {
            locators: self.locators,
            centreline: self.centreline,
            edge: self.edge,
        }
    }

    fn stated_scale_error(&self) -> f64 {
        self.spec.scale_error.unwrap_or(SCALE_ERROR)
    }

    /// The scale error that the clearances allow, a part of 1: the one that their print term was
    /// worked out from, or the given term over the farthest cut from what the pattern is laid by.
    pub(super) fn scale_error(&self, openings: &[Opening]) -> f64 {
        let Some(print) = self.spec.print else {
            return self.stated_scale_error();
        };
        let farthest = self.laid().reach_of_cut(openings).hypot();
        (print / farthest).min(PRINTER_ERROR)
    }
}

/// Distance to the nearest of some locators, mm.
fn nearest<'a>(locators: impl Iterator<Item = &'a Locator>, at: Point) -> Option<f64> {
    locators
        .map(|locator| locator.at.distance(at))
        .min_by(f64::total_cmp)
}
