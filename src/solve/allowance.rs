//! The clearance of each opening: what is given, what stands in, what is worked out.

use super::laid::Laid;
use super::{Centreline, Locator, Opening};
use crate::base::length::Units;
use crate::input::ClearanceSpec;
use crate::model::clearance::{
    Budget, EachWay, PRINTER_ERROR, SCALE_ERROR, Term, centre_term, default_cutting, default_gap,
    default_marking, default_position, print_term, thermal_term,
};
use crate::model::hardware::Cutter;
use crate::model::material::Material;
use crate::model::panel::DatumEdge;
use kurbo::Rect;

/// What the clearance of an opening is worked out from.
pub(super) struct Allowances<'a> {
    pub(super) spec: &'a ClearanceSpec,
    pub(super) material: Option<&'a Material>,
    pub(super) cutter: Cutter,
    pub(super) centreline: &'a Centreline,
    pub(super) locators: &'a [Locator],
    pub(super) edge: &'a DatumEdge,
    /// That reasons are told in.
    pub(super) units: Units,
}

impl Allowances<'_> {
    /// The clearance of an opening whose cut reaches over the box `cut`: each term is that of the
    /// place in it where it is greatest.
    pub(super) fn budget(&self, cut: Rect) -> Budget {
        let given = |value: Option<f64>, stands_in: Term| value.map_or(stands_in, Term::given);
        Budget {
            gap: given(self.spec.gap, default_gap(self.material)),
            thermal: given(self.spec.thermal, self.thermal(cut)),
            position: EachWay::alike(given(self.spec.position, default_position())),
            centre: given(self.spec.centre, self.centre(cut)),
            marking: given(self.spec.marking, default_marking()),
            cutting: given(self.spec.cutting, default_cutting(self.cutter)),
            print: given(self.spec.print, self.print(cut)),
            combine: self.spec.combine,
        }
    }

    fn thermal(&self, cut: Rect) -> Term {
        let Some(material) = self.material else {
            return Term::default(0.0, "not counted: the material is not told");
        };
        let fixed = self.locators.iter().filter(|locator| locator.fixed);
        let fixed: Vec<Locator> = fixed.cloned().collect();
        if fixed.is_empty() {
            return Term::default(0.0, "not counted: no fixed point was told");
        }
        let held = Laid {
            locators: &fixed,
            ..self.laid()
        };
        let distance = held.reach_of_rim(cut).hypot();
        thermal_term(material, distance, self.spec.temperatures, self.units)
    }

    fn centre(&self, cut: Rect) -> Term {
        let known = |y: f64| Some((self.centreline.uncertainty_at(y)?, y));
        let worst = [cut.y0, cut.y1].into_iter().filter_map(known);
        match worst.max_by(|a, b| a.0.total_cmp(&b.0)) {
            Some((uncertainty, y)) => {
                let depth = y - self.edge.at(cut.center().x);
                centre_term(uncertainty, depth.max(0.0), self.units)
            }
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
