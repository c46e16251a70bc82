//! Panels curved both ways, and how badly paper lies on them.
//!
//! Two profiles at two heights that differ make a surface that no paper follows. Between them it
//! is taken to run straight, `n(u, r) = f0(u) + (f1(u) - f0(u)) (r - r0) / (r1 - r0)`. The
//! pattern is rolled out from the profile at the opening's own middle, which leaves two misfits:
//!
//! - Away from the middle the profile is longer or shorter than the paper, by the strain
//!   `sqrt(1 + n_u^2) / sqrt(1 + f_u^2) - 1`. Summed across the opening it is a gap or a pucker.
//! - The surface has a curvature of Gauss, `K = -n_ur^2 / (1 + n_u^2 + n_r^2)^2`, that bending
//!   cannot give to paper (Gauss, theorema egregium). A circle of radius `a` drawn on a surface is
//!   `2 pi a (1 - K a^2 / 6)` round (Bertrand and Puiseux, 1848; from memory), on paper `2 pi a`: so
//!   paper that keeps its radii is strained by `|K| a^2 / 6` at its rim, and slit to the middle it
//!   gapes or overlaps by `pi |K| a^3 / 3`.
//!
//! The larger of the two stands for both.

use super::{Along, Profile, SurfaceError, Whereabouts};
use crate::geometry::Spline;
use kurbo::{Point, Rect};
use std::f64::consts::PI;

/// Paper that would be strained more than this is refused: it tears, and no slit puts it right.
pub const MOST_STRAIN: f64 = 0.02;

/// Places looked at across an opening, and stations of a blended profile.
const LOOKS: usize = 48;

/// One panel with a profile at each of two heights.
#[derive(Debug, Clone, PartialEq)]
pub struct BothWays {
    low: (f64, Profile),
    high: (f64, Profile),
}

/// How badly a pattern lies on a panel curved both ways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misfit {
    /// The most that the paper would have to stretch or shrink, a part of its length, 0 or more.
    pub strain: f64,
    /// How far it gapes, mm, where over 0; how far it puckers, where under 0.
    pub gap: f64,
    /// Curvature of Gauss at the middle of the opening, 1/mm^2.
    pub gauss: f64,
    /// Where to slit the paper, so that it lies flat.
    pub slit: Slit,
}

impl Misfit {
    /// Whether the pattern is refused.
    pub fn refused(&self) -> bool {
        self.strain > MOST_STRAIN
    }
}

/// A slit in the paper, from its edge to the opening, square to the curved direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slit {
    /// Where it ends at the opening, mm on the pattern.
    pub to: Point,
    /// The side of the paper that it comes from.
    pub from: Whereabouts,
}

impl BothWays {
    /// A panel with the profile of each pair at the height of each, mm along the straight lines
    /// of the panel.
    ///
    /// # Errors
    /// Heights must be finite and apart.
    pub fn new(one: (f64, Profile), other: (f64, Profile)) -> Result<Self, SurfaceError> {
        let (low, high) = if one.0 <= other.0 {
            (one, other)
        } else {
            (other, one)
        };
        let apart = high.0 - low.0;
        if !(apart.is_finite() && apart > 0.0) {
            return Err(SurfaceError::SameHeight { height: low.0 });
        }
        Ok(Self { low, high })
    }

    /// The most that the two profiles differ where both were measured, mm. No more than the sum
    /// of their reading errors: the panel is curved one way, for all that was measured.
    pub fn differ_by(&self) -> f64 {
        let (from, to) = self.common_extent();
        steps(from, to)
            .map(|u| (self.high.1.jet(u).fall - self.low.1.jet(u).fall).abs())
            .fold(0.0, f64::max)
    }

    /// The profile at one height, between or beyond those given: what an opening there is
    /// developed with.
    pub fn at(&self, height: f64) -> Profile {
        let (low, high) = (&self.low.1, &self.high.1);
        if low == high {
            return low.clone();
        }
        let share = (height - self.low.0) / (self.high.0 - self.low.0);
        let (from, to) = self.common_extent();
        let stations: Vec<(f64, f64)> = steps(from, to)
            .map(|u| {
                let (below, above) = (low.jet(u).fall, high.jet(u).fall);
                (u, below + (above - below) * share)
            })
            .collect();
        Spline::through(&stations).map_or_else(|| low.clone(), Profile::curve)
    }

    /// How badly paper lies round an opening with these `bounds` on the pattern.
    pub fn misfit(&self, bounds: Rect, along: Along) -> Misfit {
        let (s, r) = match along {
            Along::Across => ((bounds.x0, bounds.x1), (bounds.y0, bounds.y1)),
            Along::EdgeToEdge => ((bounds.y0, bounds.y1), (bounds.x0, bounds.x1)),
        };
        let profile = self.at((r.0 + r.1) / 2.0);
        let ends = (profile.at_length(s.0), profile.at_length(s.1));
        let mut worst = (0.0, ends.0, r.1);
        let mut gap = 0.0_f64;
        for height in [r.1, r.0] {
            let mut sum = 0.0;
            for u in steps(ends.0, ends.1) {
                let paper = profile.jet(u).stretch();
                let slope = self.slope(u, height);
                let strain = (1.0 + slope * slope).sqrt() / paper - 1.0;
                sum += strain * paper * (ends.1 - ends.0) / LOOKS as f64;
                if strain.abs() > f64::abs(worst.0) {
                    worst = (strain, u, height);
                }
            }
            if sum.abs() > gap.abs() {
                gap = sum;
            }
        }
        let middle = (s.0 + s.1) / 2.0;
        let gauss = self.gauss(profile.at_length(middle), (r.0 + r.1) / 2.0);
        let radius = (bounds.width().powi(2) + bounds.height().powi(2)).sqrt() / 2.0;
        let rim = gauss.abs() * radius * radius / 6.0;
        // K is never over 0 on such a surface: its rim is longer than paper, which gapes.
        let rim_gap = 2.0 * PI * radius * rim;
        let place = (profile.length(worst.1), worst.2);
        let (to, from) = match along {
            Along::Across => (
                Point::new(place.0, place.1),
                side(place.1 == r.1, Whereabouts::Top, Whereabouts::Bottom),
            ),
            Along::EdgeToEdge => (
                Point::new(place.1, place.0),
                side(place.1 == r.1, Whereabouts::Right, Whereabouts::Left),
            ),
        };
        Misfit {
            strain: f64::max(f64::abs(worst.0), rim),
            gap: if rim_gap > gap.abs() { rim_gap } else { gap },
            gauss,
            slit: Slit { to, from },
        }
    }

    fn slope(&self, u: f64, height: f64) -> f64 {
        let (below, above) = (self.low.1.jet(u).slope, self.high.1.jet(u).slope);
        below + (above - below) * (height - self.low.0) / (self.high.0 - self.low.0)
    }

    fn gauss(&self, u: f64, height: f64) -> f64 {
        let apart = self.high.0 - self.low.0;
        let (below, above) = (self.low.1.jet(u), self.high.1.jet(u));
        let twist = (above.slope - below.slope) / apart;
        let up = (above.fall - below.fall) / apart;
        let across = self.slope(u, height);
        -(twist / (1.0 + across * across + up * up)).powi(2)
    }

    /// Where both were measured; where they have nothing in common, or nothing was measured, a
    /// metre either way.
    fn common_extent(&self) -> (f64, f64) {
        let wide = (-1000.0, 1000.0);
        let (a, b) = (
            self.low.1.extent().unwrap_or(wide),
            self.high.1.extent().unwrap_or(wide),
        );
        let common = (a.0.max(b.0), a.1.min(b.1));
        if common.0 < common.1 { common } else { wide }
    }
}

fn side(is: bool, yes: Whereabouts, no: Whereabouts) -> Whereabouts {
    if is { yes } else { no }
}

fn steps(from: f64, to: f64) -> impl Iterator<Item = f64> {
    (0..=LOOKS).map(move |step| from + (to - from) * step as f64 / LOOKS as f64)
}

#[cfg(test)]
mod tests {
    use super::super::{Bulge, Jet};
    use super::*;

    fn circle(radius: f64) -> Profile {
        Profile::circle(radius, Bulge::Towards, 0.0).unwrap()
    }

    #[track_caller]
    fn close(is: f64, should: f64, within: f64) {
        assert!((is - should).abs() <= within, "{is} should be {should}");
    }

    #[test]
    fn alike_profiles_are_curved_one_way() {
        let both = BothWays::new((20.0, circle(800.0)), (220.0, circle(800.0))).unwrap();
        assert_eq!(both.differ_by(), 0.0);
        let misfit = both.misfit(Rect::new(-200.0, 20.0, -100.0, 120.0), Along::Across);
        assert_eq!((misfit.strain, misfit.gap, misfit.gauss), (0.0, 0.0, 0.0));
        assert!(!misfit.refused());
    }

    // n = k x r: a hyperbolic paraboloid, K = -k^2 / (1 + k^2 (x^2 + r^2))^2.
    #[test]
    fn a_twisted_panel_has_the_curvature_of_its_closed_form() {
        let k = 4e-3;
        let line = |slope: f64| {
            let line = Spline::through(&[(-300.0, -300.0 * slope), (300.0, 300.0 * slope)]);
            Profile::curve(line.unwrap())
        };
        let both = BothWays::new((100.0, line(100.0 * k)), (-50.0, line(-50.0 * k))).unwrap();
        let misfit = both.misfit(Rect::new(-50.0, -40.0, 70.0, 60.0), Along::Across);
        // The pattern's 10 mm run along a line that slopes by 10 k.
        let (x, r) = (10.0 / (1.0 + (10.0 * k).powi(2)).sqrt(), 10.0_f64);
        close(
            misfit.gauss,
            -(k / (1.0 + k * k * (x * x + r * r))).powi(2),
            1e-12,
        );
        // At r = 60 the slope is 60 k, at the middle 10 k.
        let strain = ((1.0 + (60.0 * k).powi(2)) / (1.0 + (10.0 * k).powi(2))).sqrt() - 1.0;
        close(misfit.strain, strain, 1e-9);
        assert!(misfit.refused());
        assert_eq!(misfit.slit.from, Whereabouts::Top);
        close(misfit.slit.to.y, 60.0, 0.0);
    }

    #[test]
    fn a_taper_puckers_where_it_is_flatter_and_gapes_where_it_is_rounder() {
        let both = BothWays::new((0.0, circle(1500.0)), (300.0, circle(900.0))).unwrap();
        let bounds = Rect::new(200.0, 100.0, 280.0, 180.0);
        let misfit = both.misfit(bounds, Along::Across);
        let profile = both.at(140.0);
        let share = 140.0 / 300.0;
        let blended = |jet: [Jet; 2]| jet[0].fall + (jet[1].fall - jet[0].fall) * share;
        let mid = blended([circle(1500.0).jet(250.0), circle(900.0).jet(250.0)]);
        close(profile.jet(250.0).fall, mid, 1e-3);
        // Rounder above: the panel is longer there than paper from the middle's profile.
        let above = both.at(180.0);
        let (a, b) = (profile.at_length(200.0), profile.at_length(280.0));
        let longer = (above.length(b) - above.length(a)) - 80.0;
        close(misfit.gap.abs(), longer, longer * 0.05);
        assert!(misfit.strain > 1e-4 && !misfit.refused(), "{misfit:?}");
        assert!((misfit.slit.to.x - 280.0).abs() < 1e-6);
        let turned = both.misfit(
            Rect::new(bounds.y0, bounds.x0, bounds.y1, bounds.x1),
            Along::EdgeToEdge,
        );
        assert_eq!(turned.strain, misfit.strain);
        assert_eq!(turned.slit.from, Whereabouts::Right);
    }

    #[test]
    fn heights_must_be_apart() {
        let refused = |a, b| BothWays::new((a, circle(500.0)), (b, circle(400.0))).is_err();
        assert!(refused(10.0, 10.0) && refused(f64::NAN, 3.0) && refused(0.0, f64::INFINITY));
        assert!(!refused(10.0, 0.0));
    }
}
