//! The way a part comes through a panel.
//!
//! A part is a prism: its outline in the plane square to its passage, swept along it. A ray of
//! the prism through `Q` with direction `D` meets the face that lies `t` behind the near one
//! where, with `P(u) = (p, n)` that face's profile,
//!
//! ```text
//! h(u) = Dn (p(u) - Qp) - Dp (n(u) - Qn) = 0      h'(u) = (1 - t k) (Dn - f' Dp)
//! ```
//!
//! in the panel's axes, `k` the profile's curvature: one equation whatever slope and yaw are.
//! Walls are square to the panel, so a point of the far face belongs to the same place of the
//! pattern as the point of the near face that it lies behind.

use super::develop::{offset_point, within_steepest};
use super::{Space, Surface, SurfaceError};
use kurbo::{Point, Vec2};

/// Sine of the least angle at which a part may meet the panel: some 6 degrees, where an opening
/// is ten times as long as the part is high. A circle seen square-on ends there too.
const LEAST_FACING: f64 = 0.1;

/// The most that a panel's inside may shrink where it is bent: a twentieth of the near face is
/// left, and nothing that is bent sharper holds together.
const LEAST_SWELL: f64 = 0.05;

/// Newton's steps, and how near they must come, mm.
const STEPS: usize = 60;
const NEAR: f64 = 1e-11;

/// The way a part comes through: its axis, and the plane square to it.
///
/// The plane's x lies level, to the reader's right; its y is square to x and to the axis, up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passage {
    through: Space,
    along: Space,
    right: Space,
    up: Space,
}

impl Passage {
    /// Along the reader's look, with the plane's origin at the frame's: plane points are points
    /// as seen square-on.
    pub const fn square_on() -> Self {
        Self {
            through: Space::ORIGIN,
            along: Space::new(0.0, 0.0, 1.0),
            right: Space::new(1.0, 0.0, 0.0),
            up: Space::new(0.0, 1.0, 0.0),
        }
    }

    /// Through the point `through`, which is the plane's origin, in a direction that rises by
    /// `slope` as it goes away from the reader and turns by `yaw` to the reader's right, radians.
    ///
    /// # Errors
    /// Refuses angles of 85 degrees or more, either way.
    pub fn new(through: Space, slope: f64, yaw: f64) -> Result<Self, SurfaceError> {
        within_steepest("slope", slope)?;
        within_steepest("yaw", yaw)?;
        let (rise, level) = libm::sincos(slope);
        let (aside, ahead) = libm::sincos(yaw);
        Ok(Self {
            through,
            along: Space::new(aside * level, rise, ahead * level),
            right: Space::new(ahead, 0.0, -aside),
            up: Space::new(-rise * aside, level, -rise * ahead),
        })
    }

    /// The direction it goes in, away from the reader; length 1.
    pub fn along(&self) -> Space {
        self.along
    }

    /// A point of the plane square to it, in space.
    pub fn in_space(&self, plane: Point) -> Space {
        self.through + self.right * plane.x + self.up * plane.y
    }

    /// Where in the plane square to it a point in space is seen, looking along the passage.
    pub fn in_plane(&self, space: Space) -> Point {
        let from = space - self.through;
        Point::new(from.dot(self.right), from.dot(self.up))
    }
}

/// A plane square to a passage, thrown along it on to one face of a panel.
#[derive(Debug, Clone)]
pub struct Projection<'a> {
    surface: &'a Surface,
    passage: Passage,
    behind: f64,
    origin: [f64; 3],
    along: [f64; 3],
    right: [f64; 3],
    up: [f64; 3],
}

/// Where a point of the plane meets the face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Landing {
    /// On the pattern, mm.
    pub point: Point,
    /// How the point moves for each mm of the plane's x.
    pub by_x: Vec2,
    /// How the point moves for each mm of the plane's y.
    pub by_y: Vec2,
    /// The cut wall as it is seen in the plane, for each mm that it goes away from the near face.
    pub wall: Vec2,
    /// Cosine between the passage and the normal of the panel; 1 where it comes through square.
    pub facing: f64,
    /// Length on this face along the profile for each mm of the near face.
    pub swell: f64,
}

impl<'a> Projection<'a> {
    /// On to the face that lies `behind` mm behind the near one: 0 for the near face.
    ///
    /// # Errors
    /// `behind` must be finite and 0 or more.
    pub fn new(surface: &'a Surface, passage: &Passage, behind: f64) -> Result<Self, SurfaceError> {
        if !(behind.is_finite() && behind >= 0.0) {
            return Err(SurfaceError::Length {
                what: "thickness",
                length: behind,
            });
        }
        Ok(Self {
            surface,
            passage: *passage,
            behind,
            origin: surface.to_panel(passage.through),
            along: surface.to_panel(passage.along),
            right: surface.to_panel(passage.right),
            up: surface.to_panel(passage.up),
        })
    }

    /// Where a point of the plane lands, within 1e-9 mm on the pattern.
    ///
    /// # Errors
    /// [`SurfaceError::Hidden`] where the ray meets the panel edge-on, from behind or not at all;
    /// [`SurfaceError::TooThick`] where the panel is bent sharper than it is thick.
    pub fn land(&self, plane: Point) -> Result<Landing, SurfaceError> {
        let [qp, qr, qn]: [f64; 3] = std::array::from_fn(|axis| {
            self.origin[axis] + plane.x * self.right[axis] + plane.y * self.up[axis]
        });
        let [dp, dr, dn] = self.along;
        let hidden = SurfaceError::Hidden { at: plane };
        let square = dp * dp + dn * dn;
        if square < LEAST_FACING * LEAST_FACING {
            return Err(hidden);
        }
        let profile = self.surface.profile();
        let mut u = if dn > 0.1 {
            qp + dp * (self.behind - qn) / dn
        } else {
            qp
        };
        let mut found = None;
        for _ in 0..STEPS {
            let jet = profile.jet(u);
            let swell = 1.0 - self.behind * jet.curvature();
            if swell < LEAST_SWELL {
                return Err(SurfaceError::TooThick {
                    thickness: self.behind,
                    radius: 1.0 / jet.curvature(),
                });
            }
            let [p, n] = offset_point(u, jet, self.behind);
            let rise = swell * (dn - jet.slope * dp);
            let step = (dn * (p - qp) - dp * (n - qn)) / rise.max(LEAST_FACING);
            if step.abs() < NEAR * (1.0 + u.abs() / 100.0) {
                found = Some((jet, swell, rise, p, n));
                break;
            }
            u -= step;
        }
        let (jet, swell, rise, p, n) = found.ok_or(hidden)?;
        let facing = (dn - jet.slope * dp) / jet.stretch();
        if facing < LEAST_FACING {
            return Err(hidden);
        }
        let ruling = qr + dr * ((p - qp) * dp + (n - qn) * dn) / square;
        let moved = |by: [f64; 3]| -> Vec2 {
            let du = (dn * by[0] - dp * by[2]) / rise;
            let (p_moved, n_moved) = (swell * du - by[0], swell * jet.slope * du - by[2]);
            let ruling = by[1] + dr * (p_moved * dp + n_moved * dn) / square;
            self.surface.on_pattern(jet.stretch() * du, ruling).into()
        };
        let seen = |axis: [f64; 3]| (axis[2] - jet.slope * axis[0]) / jet.stretch();
        Ok(Landing {
            point: self.surface.on_pattern(profile.length(u), ruling).into(),
            by_x: moved(self.right),
            by_y: moved(self.up),
            wall: Vec2::new(seen(self.right), seen(self.up)),
            facing,
            swell,
        })
    }

    /// Where a point of this face, given by its place on the pattern, is seen in the plane: the
    /// inverse of [`Projection::land`].
    pub fn back(&self, pattern: Point) -> Point {
        self.passage
            .in_plane(self.surface.on_face(pattern, self.behind))
    }
}
