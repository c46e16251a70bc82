//! A profile at one place.

/// Fall, slope and second derivative of a profile at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jet {
    /// How far it falls away from the reader, mm.
    pub fall: f64,
    /// Its slope there.
    pub slope: f64,
    /// Its second derivative there, 1/mm.
    pub bend: f64,
}

impl Jet {
    /// Length along the profile for each mm of `u`, 1 or more.
    pub fn stretch(self) -> f64 {
        (1.0 + self.slope * self.slope).sqrt()
    }

    /// Curvature, 1/mm, positive where the middle of the curve lies away from the reader.
    pub fn curvature(self) -> f64 {
        self.bend / self.stretch().powi(3)
    }
}
