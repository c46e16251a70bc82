//! The panel's cross-section, parametrised by its arc length.
//!
//! `f(u)` is how far the panel falls away from the reader, measured square to the leaning
//! panel, at `u` along the direction it is curved in: 0 at `u = 0`, negative where it bulges
//! away. Circles are closed forms, readings a cubic whose arc length is summed by Gauss's rule.

use super::SurfaceError;
use super::arc_length::ArcLength;
use super::jet::Jet;
use crate::geometry::Spline;

/// A circle ends this far from its crown, in radii: there it stands at 84 degrees, and goes on
/// straight. No opening can be looked through there, and every formula stays finite.
const CIRCLE_ENDS: f64 = 0.995;

/// Which way a curved panel bulges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bulge {
    /// Its middle is nearest to the reader.
    Towards,
    /// Its middle is farthest from the reader.
    Away,
}

impl Bulge {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Towards, Self::Away];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Towards => "towards",
            Self::Away => "away",
        }
    }
}

/// The cross-section of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    form: Form,
    /// What the form falls at `u = 0`, and its arc length to there, mm.
    zero: (f64, f64),
    extent: Option<(f64, f64)>,
}

#[derive(Debug, Clone, PartialEq)]
enum Form {
    Flat,
    Circle { radius: f64, sign: f64, crown: f64 },
    Curve(ArcLength),
}

impl Profile {
    /// A flat panel.
    pub fn flat() -> Self {
        Self {
            form: Form::Flat,
            zero: (0.0, 0.0),
            extent: None,
        }
    }

    /// A circle of `radius` mm whose crown stands at `crown` mm along the panel.
    ///
    /// # Errors
    /// The radius must be finite and over 0, and the crown nearer than it.
    pub fn circle(radius: f64, bulges: Bulge, crown: f64) -> Result<Self, SurfaceError> {
        let fits = radius.is_finite() && radius > 0.0 && crown.abs() < CIRCLE_ENDS * radius;
        if !fits {
            return Err(SurfaceError::Radius { radius, crown });
        }
        let sign = match bulges {
            Bulge::Towards => 1.0,
            Bulge::Away => -1.0,
        };
        let reach = CIRCLE_ENDS * radius;
        Ok(Self::with_form(
            Form::Circle {
                radius,
                sign,
                crown,
            },
            Some((crown - reach, crown + reach)),
        ))
    }

    /// The circle that rises `rise` mm over a chord of `chord` mm, which is centred on `crown`:
    /// `R = (c^2 + 4 h^2) / (8 h)`. What was measured reaches from end to end of the chord.
    ///
    /// # Errors
    /// The rise must be over 0 and under half of the chord; else as [`Profile::circle`].
    pub fn chord_and_rise(
        chord: f64,
        rise: f64,
        bulges: Bulge,
        crown: f64,
    ) -> Result<Self, SurfaceError> {
        if !(chord.is_finite() && rise > 0.0 && rise < chord / 2.0) {
            return Err(SurfaceError::ChordRise { chord, rise });
        }
        let radius = radius_of(chord, rise);
        let circle = Self::circle(radius, bulges, crown)?;
        Ok(Self {
            extent: Some((crown - chord / 2.0, crown + chord / 2.0)),
            ..circle
        })
    }

    /// The curve of a spline, moved to fall 0 at `u = 0`; measured from its first to its last
    /// reading.
    pub(crate) fn curve(spline: Spline) -> Self {
        let knots = spline.knots();
        let extent = Some((knots[0], knots[knots.len() - 1]));
        Self::with_form(Form::Curve(ArcLength::of(spline)), extent)
    }

    fn with_form(form: Form, extent: Option<(f64, f64)>) -> Self {
        let zero = (form.jet(0.0).fall, form.length(0.0));
        Self { form, zero, extent }
    }

    /// From where to where it was measured, mm along the panel; none for a flat one. A circle
    /// given by its radius reaches as far as it can be seen.
    pub fn extent(&self) -> Option<(f64, f64)> {
        self.extent
    }

    /// Whether it is flat.
    pub fn is_flat(&self) -> bool {
        matches!(self.form, Form::Flat)
    }

    /// Fall, slope and second derivative at `u` mm. Beyond its readings, and beyond 84 degrees
    /// of a circle, it goes on straight.
    pub fn jet(&self, u: f64) -> Jet {
        let jet = self.form.jet(u);
        Jet {
            fall: jet.fall - self.zero.0,
            ..jet
        }
    }

    /// Arc length from 0 to `u`, mm, negative for negative `u`; within 1e-9 mm.
    pub fn length(&self, u: f64) -> f64 {
        self.form.length(u) - self.zero.1
    }

    /// The `u` that arc length `s` leads to; within 1e-9 mm, the inverse of [`Profile::length`].
    pub fn at_length(&self, s: f64) -> f64 {
        self.form.at_length(s + self.zero.1)
    }
}

/// Radius of the circle that rises `rise` over `chord`, mm; both over 0.
pub fn radius_of(chord: f64, rise: f64) -> f64 {
    (chord * chord + 4.0 * rise * rise) / (8.0 * rise)
}

impl Form {
    fn jet(&self, u: f64) -> Jet {
        match self {
            Self::Flat => Jet {
                fall: 0.0,
                slope: 0.0,
                bend: 0.0,
            },
            Self::Curve(curve) => curve.jet(u),
            &Self::Circle {
                radius,
                sign,
                crown,
            } => {
                let reach = CIRCLE_ENDS * radius;
                let from_crown = u - crown;
                let x = from_crown.clamp(-reach, reach);
                let height = (radius * radius - x * x).sqrt();
                let slope = x / height;
                // x^2 / (R + height) is R - height, and keeps its digits for large circles.
                let fall = x * x / (radius + height) + slope * (from_crown - x);
                let bend = radius * radius / (height * height * height);
                Jet {
                    fall: sign * fall,
                    slope: sign * slope,
                    bend: if x == from_crown { sign * bend } else { 0.0 },
                }
            }
        }
    }

    fn length(&self, u: f64) -> f64 {
        match self {
            Self::Flat => u,
            Self::Curve(curve) => curve.length(u),
            &Self::Circle { radius, crown, .. } => {
                let reach = CIRCLE_ENDS * radius;
                let x = (u - crown).clamp(-reach, reach);
                radius * libm::asin(x / radius) + (u - crown - x) * straight_stretch()
            }
        }
    }

    fn at_length(&self, s: f64) -> f64 {
        match self {
            Self::Flat => s,
            Self::Curve(curve) => curve.at_length(s),
            &Self::Circle { radius, crown, .. } => {
                let reach = radius * libm::asin(CIRCLE_ENDS);
                let on_arc = s.clamp(-reach, reach);
                crown + radius * libm::sin(on_arc / radius) + (s - on_arc) / straight_stretch()
            }
        }
    }
}

/// Length of the straight beyond a circle's end, for each mm of `u`.
fn straight_stretch() -> f64 {
    1.0 / (1.0 - CIRCLE_ENDS * CIRCLE_ENDS).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn close(is: f64, should: f64, within: f64) {
        assert!((is - should).abs() <= within, "{is} should be {should}");
    }

    fn arc(chord: f64, rise: f64) -> (f64, f64) {
        let profile = Profile::chord_and_rise(chord, rise, Bulge::Towards, 0.0).unwrap();
        close(profile.jet(chord / 2.0).fall, rise, 1e-9);
        let whole = profile.length(chord / 2.0) - profile.length(-chord / 2.0);
        (radius_of(chord, rise), whole)
    }

    // Machinery's Handbook 31, p. 79 and p. 50 (rounds midway); help.matheass.eu for the last.
    #[test]
    fn segments_have_their_published_sizes() {
        close(arc(16.0, 6.0).0, 25.0 / 3.0, 1e-12);
        let first = Profile::circle(60.0, Bulge::Away, 0.0).unwrap();
        close(first.jet(59.86 / 2.0).fall, -8.0, 0.005);
        let second = arc(13.27, 2.0);
        close(second.0, 12.0, 0.02);
        close(second.1, 14.06, 0.02);
        let third = arc(21.0, 6.0);
        close(third.0, 12.1875, 1e-12);
        close(third.1, 25.308373, 1e-6);
    }

    // 2 R asin(c / 2R) and R - sqrt(R^2 - c^2 / 4), as tabled to the last place shown.
    #[test]
    fn arcs_and_rises_of_two_panels() {
        for (radius, chord, length, rise) in [
            (500.0, 100.0, 100.167, 2.506),
            (500.0, 300.0, 304.693, 23.030),
            (500.0, 600.0, 643.501, 100.000),
            (1500.0, 100.0, 100.019, 0.834),
            (1500.0, 300.0, 300.502, 7.519),
            (1500.0, 600.0, 604.074, 30.306),
        ] {
            let profile = Profile::circle(radius, Bulge::Away, 0.0).unwrap();
            close(2.0 * profile.length(chord / 2.0), length, 0.0005);
            close(-profile.jet(chord / 2.0).fall, rise, 0.0005);
        }
    }

    #[test]
    fn length_and_its_inverse_agree_also_beyond_the_ends() {
        for profile in [
            Profile::flat(),
            Profile::circle(400.0, Bulge::Towards, 30.0).unwrap(),
            Profile::circle(90.0, Bulge::Away, -20.0).unwrap(),
        ] {
            close(profile.length(0.0), 0.0, 0.0);
            close(profile.jet(0.0).fall, 0.0, 0.0);
            for step in -40..=40 {
                let u = f64::from(step) * 11.3;
                close(profile.at_length(profile.length(u)), u, 1e-9);
                let h = 1e-4;
                let (before, here, after) =
                    (profile.jet(u - h), profile.jet(u), profile.jet(u + h));
                close((after.fall - before.fall) / (2.0 * h), here.slope, 1e-6);
                let stretch = (profile.length(u + h) - profile.length(u - h)) / (2.0 * h);
                close(stretch, here.stretch(), 1e-6);
            }
        }
        let circle = Profile::circle(400.0, Bulge::Towards, 0.0).unwrap();
        close(circle.jet(150.0).curvature(), 1.0 / 400.0, 1e-12);
    }

    #[test]
    fn impossible_circles_are_refused() {
        let refused =
            |chord, rise| Profile::chord_and_rise(chord, rise, Bulge::Towards, 0.0).is_err();
        assert!(refused(100.0, 50.0) && refused(100.0, 0.0) && refused(f64::NAN, 1.0));
        assert!(refused(f64::INFINITY, 1.0) && refused(100.0, f64::NAN));
        assert!(!refused(100.0, 49.0));
        assert!(Profile::circle(0.0, Bulge::Away, 0.0).is_err());
        assert!(Profile::circle(100.0, Bulge::Away, 100.0).is_err());
        assert!(Profile::circle(100.0, Bulge::Away, f64::NAN).is_err());
    }
}
