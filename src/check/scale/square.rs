//! Squareness from a figure's two diagonals.

use super::error::ScaleError;
use super::{Measured, Scales};
use kurbo::Size;

/// How many times its expanded uncertainty the sum of the diagonals may be off before they don't
/// belong to the figure.
const FOREIGN: f64 = 3.0;

/// Largest skew that is measured, as its sine: some 17 degrees, far beyond any feed.
const LARGEST: f64 = 0.3;

/// The two diagonals of a printed figure with square corners.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Squareness {
    /// The figure as drawn: across and down, mm.
    pub figure: Size,
    /// Diagonal from lower left to upper right, mm.
    pub rising: f64,
    /// Diagonal from upper left to lower right, mm.
    pub falling: f64,
    /// Graduation of the rule, mm.
    pub graduation: f64,
}

impl Squareness {
    /// The skew angle, degrees: positive where the rising diagonal is the longer one, so that the
    /// head of the sheet stands too far to the right.
    ///
    /// For a parallelogram with sides a and b, `sin(skew) = (r^2 - f^2) / (4 a b)`. Sides are
    /// taken at `scales` where those are known, else as drawn.
    ///
    /// # Errors
    /// [`ScaleError`] for lengths that are none, and for diagonals whose squares don't add up to
    /// what the sides ask, `r^2 + f^2 = 2 (a^2 + b^2)`.
    pub fn skew(&self, scales: &Scales) -> Result<Measured, ScaleError> {
        for side in [self.figure.width, self.figure.height] {
            if !(side.is_finite() && side > 0.0) {
                return Err(ScaleError::Nominal(side));
            }
        }
        let at_most = self.figure.min_side() / 4.0;
        if !(self.graduation > 0.0 && self.graduation <= at_most) {
            return Err(ScaleError::Graduation {
                given: self.graduation,
                at_most,
            });
        }
        let known = |scale: Option<Measured>| {
            // An unread direction may be off by as much as any print dialog makes it.
            scale.unwrap_or(Measured {
                value: 1.0,
                uncertainty: 0.1,
            })
        };
        let (across, down) = (known(scales.across), known(scales.down));
        let a = self.figure.width * across.value;
        let b = self.figure.height * down.value;
        let (rising, falling) = (self.rising, self.falling);
        let expected = a.hypot(b);
        let foreign = ScaleError::Diagonals {
            rising,
            falling,
            expected,
        };
        if !(rising > 0.0 && falling > 0.0 && rising.is_finite() && falling.is_finite()) {
            return Err(foreign);
        }
        let u = self.graduation / 2.0 * (2.0_f64 / 3.0).sqrt();
        let mean = ((rising * rising + falling * falling) / 2.0).sqrt();
        let of_sides = (a * a * across.uncertainty / across.value)
            .hypot(b * b * down.uncertainty / down.value)
            / expected;
        let doubt = (2.0 * u / 2.0_f64.sqrt()).hypot(of_sides);
        let sine = (rising * rising - falling * falling) / (4.0 * a * b);
        if (mean - expected).abs() > FOREIGN * doubt || sine.abs() > LARGEST {
            return Err(foreign);
        }
        let cosine = (1.0 - sine * sine).sqrt();
        let of_diagonals = (2.0 * rising * u).hypot(2.0 * falling * u) / (4.0 * a * b);
        let of_sides =
            sine * (across.uncertainty / across.value).hypot(down.uncertainty / down.value) / 2.0;
        Ok(Measured {
            value: libm::asin(sine).to_degrees(),
            uncertainty: (2.0 * of_diagonals.hypot(of_sides) / cosine).to_degrees(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn diagonals(figure: Size, scale: (f64, f64), skew: f64) -> (f64, f64) {
        // Corners of the parallelogram with its foot along x.
        let (a, b) = (figure.width * scale.0, figure.height * scale.1);
        let (sine, cosine) = skew.to_radians().sin_cos();
        let rising = (a + b * sine).hypot(b * cosine);
        let falling = (a - b * sine).hypot(b * cosine);
        (rising, falling)
    }

    #[test]
    fn the_skew_of_a_sheared_figure_is_found() {
        let figure = Size::new(160.0, 230.0);
        let exact = |value| {
            Some(Measured {
                value,
                uncertainty: 0.001,
            })
        };
        for skew in [-2.0, -0.3, 0.0, 0.05, 1.0, 5.0] {
            for scale in [(1.0, 1.0), (0.97, 1.02), (1.05, 0.96)] {
                let (rising, falling) = diagonals(figure, scale, skew);
                let read = Squareness {
                    figure,
                    rising,
                    falling,
                    graduation: 0.5,
                };
                let scales = Scales {
                    across: exact(scale.0),
                    down: exact(scale.1),
                    skew: None,
                };
                let found = read.skew(&scales).unwrap();
                assert!((found.value - skew).abs() < 1e-9, "{found:?} for {skew}");
                let unscaled = read.skew(&Scales::default()).unwrap();
                assert!(unscaled.allows(skew), "{unscaled:?} for {skew}");
            }
        }
    }

    #[test]
    fn the_uncertainty_is_that_of_both_diagonals() {
        // Square of side 100: sin = (r^2 - f^2) / 40000, r = f = 141.42, u(r) = 0.204124, so
        // u(sin) = sqrt(2) 2 (141.42) (0.204124) / 40000 = 0.00204124, U = 0.2339 deg.
        let read = Squareness {
            figure: Size::new(100.0, 100.0),
            rising: 141.421_356,
            falling: 141.421_356,
            graduation: 0.5,
        };
        let found = read.skew(&Scales::default()).unwrap();
        assert!((found.uncertainty - 0.2339).abs() < 1e-4, "{found:?}");
    }

    #[test]
    fn diagonals_of_another_figure_are_refused() {
        let mut read = Squareness {
            figure: Size::new(160.0, 230.0),
            rising: 480.0,
            falling: 480.0,
            graduation: 1.0,
        };
        assert!(matches!(
            read.skew(&Scales::default()),
            Err(ScaleError::Diagonals { .. })
        ));
        read.rising = f64::NAN;
        assert!(matches!(
            read.skew(&Scales::default()),
            Err(ScaleError::Diagonals { .. })
        ));
        read.figure.width = 0.0;
        assert!(matches!(
            read.skew(&Scales::default()),
            Err(ScaleError::Nominal(_))
        ));
    }
}
