//! What is left of a panel round its openings.
//!
//! Stress factors are for an elastic flat plate: they explain a warning and predict nothing.

use crate::drawing::fixed;
use std::fmt;

/// Stress factor of a round hole in a wide plate under tension (Kirsch; any handbook).
pub const ROUND_HOLE: f64 = 3.0;

/// Why the published fit says nothing about an opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NotValid {
    /// Corner radius over half the length along the pull lies outside 0.2 to 1.
    Radius {
        /// The ratio that was asked for.
        ratio: f64,
    },
    /// Half the length along the pull over half the width across it lies outside 0.3 to 1.
    Proportion {
        /// The ratio that was asked for.
        ratio: f64,
    },
    /// A size is not a number over 0.
    Size,
}

impl fmt::Display for NotValid {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Radius { ratio } => write!(
                out,
                "no stress factor: radius over half the length along the pull is {}, and the published fit holds from 0.2 to 1",
                fixed(*ratio, 2)
            ),
            Self::Proportion { ratio } => write!(
                out,
                "no stress factor: length along the pull over width across it is {}, and the published fit holds from 0.3 to 1",
                fixed(*ratio, 2)
            ),
            Self::Size => out.write_str("no stress factor: sizes must be over 0 mm"),
        }
    }
}

impl std::error::Error for NotValid {}

/// Slack at the limits of the fit, so that rounding does not shut out a full radius.
const AT_LIMIT: f64 = 1e-9;

/// Stress factor at the corner of a closed rectangular opening in a wide plate under tension.
///
/// `across` and `along` are the opening's full size across the pull and along it, `radius` that
/// of its corners, mm. Never for an opening that is open at an edge.
///
/// # Errors
/// Outside 0.2 <= r/b <= 1 or 0.3 <= b/a <= 1 (2a across, 2b along) the fit holds nothing.
///
/// Source: Peterson, as fitted on amesweb.info; its C3 prints 38.662 where 38.622 gives a round
/// hole its 3.
pub fn rectangular_opening(across: f64, along: f64, radius: f64) -> Result<f64, NotValid> {
    if ![across, along, radius]
        .into_iter()
        .all(|size| size.is_finite() && size > 0.0)
    {
        return Err(NotValid::Size);
    }
    let (a, b) = (across / 2.0, along / 2.0);
    let (sharpness, q) = (radius / b, b / a);
    let within = |ratio: f64, low: f64| (low - AT_LIMIT..=1.0 + AT_LIMIT).contains(&ratio);
    if !within(q, 0.3) {
        return Err(NotValid::Proportion { ratio: q });
    }
    if !within(sharpness, 0.2) {
        return Err(NotValid::Radius { ratio: sharpness });
    }
    let s = sharpness.sqrt();
    let c1 = 14.815 - 15.774 * s + 8.149 * sharpness;
    let c2 = -11.201 - 9.750 * s + 9.600 * sharpness;
    let c3 = 0.202 + 38.622 * s - 27.374 * sharpness;
    let c4 = 3.232 - 23.002 * s + 15.482 * sharpness;
    Ok(c1 + q * (c2 + q * (c3 + q * c4)))
}

/// The least ligament to leave, mm: the larger of 10 mm and 4 thicknesses. A design value, no
/// source.
pub fn ligament_rule(thickness: f64) -> f64 {
    (4.0 * thickness).max(10.0)
}

/// Least distance from the centre of a fastener hole of `diameter` to the edge of aluminium
/// sheet, mm: 2 diameters (FAA AC 43.13-1B ch. 4, read second-hand).
pub fn sheet_edge_distance(diameter: f64) -> f64 {
    2.0 * diameter
}

/// Least distance between the centres of fastener holes of `diameter` in aluminium sheet, mm:
/// 3 diameters (FAA AC 43.13-1B ch. 4, read second-hand).
pub fn sheet_pitch(diameter: f64) -> f64 {
    3.0 * diameter
}

/// Diameter of the hole that stops a crack at its end in aluminium sheet, mm: 1/8 in
/// (FAA AC 43.13-1B 3-40).
pub const STOP_HOLE: f64 = 3.175;

#[cfg(test)]
mod tests {
    use super::*;

    // Worked out by hand from the published fit.
    #[test]
    fn stress_factors_are_those_of_the_table() {
        let proportions = [0.3, 0.5, 0.75, 1.0];
        for (sharpness, row) in [
            (0.2, [6.271, 5.075, 4.239, 3.790]),
            (0.5, [4.848, 3.883, 3.308, 2.973]),
            (1.0, [4.699, 3.841, 3.308, 3.001]),
        ] {
            for (q, should) in proportions.into_iter().zip(row) {
                let across = 80.0;
                let along = across * q;
                let is = rectangular_opening(across, along, sharpness * along / 2.0).unwrap();
                assert!(
                    (is - should).abs() <= 0.001,
                    "{sharpness} {q}: {is} {should}"
                );
            }
        }
    }

    #[test]
    fn a_round_hole_gives_three() {
        let is = rectangular_opening(40.0, 40.0, 20.0).unwrap();
        assert!((is - ROUND_HOLE).abs() < 0.002, "{is}");
    }

    #[test]
    fn outside_its_limits_the_fit_says_so() {
        let sharp = rectangular_opening(100.0, 80.0, 5.0).unwrap_err();
        assert_eq!(sharp, NotValid::Radius { ratio: 0.125 });
        assert!(sharp.to_string().contains("0.13") || sharp.to_string().contains("0.12"));
        let long = rectangular_opening(60.0, 80.0, 20.0).unwrap_err();
        assert!(matches!(long, NotValid::Proportion { .. }));
        assert!(matches!(
            rectangular_opening(100.0, 20.0, 8.0),
            Err(NotValid::Proportion { .. })
        ));
        for sizes in [(0.0, 1.0, 1.0), (f64::NAN, 1.0, 1.0), (1.0, 1.0, -1.0)] {
            assert_eq!(
                rectangular_opening(sizes.0, sizes.1, sizes.2),
                Err(NotValid::Size)
            );
        }
    }

    // FAA AC 43.13-1B: an M6 bolt in sheet needs 12 mm to the edge and 18 mm to the next.
    #[test]
    fn ligaments_and_edges() {
        assert_eq!(ligament_rule(2.5), 10.0);
        assert_eq!(ligament_rule(3.5), 14.0);
        assert_eq!(sheet_edge_distance(6.0), 12.0);
        assert_eq!(sheet_pitch(6.0), 18.0);
    }
}
