//! From what is seen square-on to the flat pattern, and back on to the panel.
//!
//! In the leaning panel's own axes, `w` up it and `n` square to it and away from the reader, the
//! near face is `n = f(x)` or `n = f(w)`. Seen square-on a point of it stands at
//! `z = w cos(rake) - n sin(rake)`. Curved across, the pattern is
//!
//! ```text
//! s = arc length of f from 0 to x        v = w = z / cos(rake) + f(x) tan(rake)
//! ```
//!
//! and curved from edge to edge `x` stays and `v` is the arc length to `w`. Both keep every
//! length and angle of the surface: it is a cylinder in the wide sense, rolled out.

use super::{Jet, Passage, Profile, Projection, Space, SurfaceError};
use kurbo::Point;

/// Angles of rake, slope and yaw stay within this, radians: 85 degrees.
pub(super) const STEEPEST: f64 = 85.0 * std::f64::consts::PI / 180.0;

/// Which way a panel is curved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Along {
    /// Across the vehicle: the profile runs along x, straight lines run up the panel.
    Across,
    /// From the datum edge to the other, as a rolled edge is: straight lines run along x.
    EdgeToEdge,
}

impl Along {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Across, Self::EdgeToEdge];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Across => "across",
            Self::EdgeToEdge => "edge",
        }
    }
}

/// A panel's near face.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    profile: Profile,
    along: Along,
    rake: f64,
    sine: f64,
    cosine: f64,
}

impl Surface {
    /// A panel that leans by `rake` radians, positive where its top leans away from the reader,
    /// and is curved to `profile`.
    ///
    /// # Errors
    /// Refuses a rake of 85 degrees or more, either way.
    pub fn new(rake: f64, profile: Profile, along: Along) -> Result<Self, SurfaceError> {
        within_steepest("rake", rake)?;
        let (sine, cosine) = libm::sincos(rake);
        Ok(Self {
            profile,
            along,
            rake,
            sine,
            cosine,
        })
    }

    /// Its cross-section.
    pub fn profile(&self) -> &Profile {
        &self.profile
    }

    /// Which way it is curved.
    pub fn along(&self) -> Along {
        self.along
    }

    /// How far it leans, radians.
    pub fn rake(&self) -> f64 {
        self.rake
    }

    /// Where a point that is seen square-on at `seen` (x, z) lies on the pattern, within 1e-9 mm.
    ///
    /// # Errors
    /// [`SurfaceError::Hidden`] where the panel is seen edge-on or from behind, as a rolled edge
    /// is where `f'(w) tan(rake) >= 1`.
    pub fn develop(&self, seen: Point) -> Result<Point, SurfaceError> {
        let landing = Projection::new(self, &Passage::square_on(), 0.0)?.land(seen)?;
        Ok(landing.point)
    }

    /// Where a point of the pattern is seen square-on, (x, z).
    pub fn seen(&self, pattern: Point) -> Point {
        let space = self.on_face(pattern, 0.0);
        Point::new(space.x, space.z)
    }

    /// Where a point of the pattern lies in space, `behind` mm behind the near face, square to
    /// the panel.
    pub fn on_face(&self, pattern: Point, behind: f64) -> Space {
        let (u, ruling) = self.place(pattern);
        let jet = self.profile.jet(u);
        let [p, n] = offset_point(u, jet, behind);
        self.to_space([p, ruling, n])
    }

    /// The direction square to the panel and away from the reader at a point of the pattern.
    pub fn normal(&self, pattern: Point) -> Space {
        let jet = self.profile.jet(self.place(pattern).0);
        let stretch = jet.stretch();
        self.to_space([-jet.slope / stretch, 0.0, 1.0 / stretch])
    }

    /// Place along the profile and along the straight lines, from a point of the pattern.
    pub(super) fn place(&self, pattern: Point) -> (f64, f64) {
        let (s, ruling) = match self.along {
            Along::Across => (pattern.x, pattern.y),
            Along::EdgeToEdge => (pattern.y, pattern.x),
        };
        (self.profile.at_length(s), ruling)
    }

    /// Two numbers along the profile and along the straight lines, as the pattern's x and y.
    pub(super) fn on_pattern(&self, along_profile: f64, ruling: f64) -> (f64, f64) {
        match self.along {
            Along::Across => (along_profile, ruling),
            Along::EdgeToEdge => (ruling, along_profile),
        }
    }

    /// A direction or point in the panel's axes: along the profile, along the straight lines,
    /// square to both and away from the reader.
    pub(super) fn to_panel(&self, space: Space) -> [f64; 3] {
        let up = space.z * self.cosine + space.depth * self.sine;
        let square = space.depth * self.cosine - space.z * self.sine;
        match self.along {
            Along::Across => [space.x, up, square],
            Along::EdgeToEdge => [up, space.x, square],
        }
    }

    fn to_space(&self, [profile, ruling, square]: [f64; 3]) -> Space {
        let (x, up) = match self.along {
            Along::Across => (profile, ruling),
            Along::EdgeToEdge => (ruling, profile),
        };
        Space::new(
            x,
            up * self.cosine - square * self.sine,
            up * self.sine + square * self.cosine,
        )
    }
}

/// The point `behind` mm behind the profile at `u`: along it and square to the panel.
pub(super) fn offset_point(u: f64, jet: Jet, behind: f64) -> [f64; 2] {
    let stretch = jet.stretch();
    [
        u - behind * jet.slope / stretch,
        jet.fall + behind / stretch,
    ]
}

pub(super) fn within_steepest(what: &'static str, angle: f64) -> Result<(), SurfaceError> {
    if angle.is_finite() && angle.abs() < STEEPEST {
        Ok(())
    } else {
        Err(SurfaceError::Steep { what, angle })
    }
}
