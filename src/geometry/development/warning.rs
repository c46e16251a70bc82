//! What the user is to know of a surface and of an opening in it.

use super::{Along, Misfit, Passage, RoughReading, Smoothing, Surface};
use crate::base::fixed;
use crate::base::length::{Told, Units};
use crate::geometry::outline::Outline;
use kurbo::Point;
use std::fmt;

/// Angles above this are warned of, radians: the pattern is twice as long as what is seen, and
/// every error of the angle counts four times.
const STEEP: f64 = std::f64::consts::FRAC_PI_3;

/// Something that stands, but that the user must look at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SurfaceWarning {
    /// A reading that no smooth developable panel would give.
    RoughReading(RoughReading),
    /// The panel leans by more than 60 degrees.
    SteepRake {
        /// How much, radians.
        angle: f64,
    },
    /// The passage stands at more than 60 degrees to the reader's look.
    SteepPassage {
        /// How much, radians.
        angle: f64,
    },
    /// An outline reaches beyond where the profile was measured.
    BeyondProfile {
        /// Where the outline reaches farthest beyond, mm on the pattern.
        at: Point,
        /// By how much, mm along the panel.
        by: f64,
        /// From where to where it was measured, mm along the chord.
        measured: (f64, f64),
    },
    /// The panel is curved both ways.
    BothWays(Misfit),
}

/// What there is to say of a surface, of its readings, and of the passage and the outlines on the
/// pattern of one opening. Curvature both ways is told by [`super::BothWays`].
pub fn warnings(
    surface: &Surface,
    smoothing: Option<&Smoothing>,
    passage: &Passage,
    outlines: &[Outline],
) -> Vec<SurfaceWarning> {
    let mut found = Vec::new();
    if let Some(rough) = smoothing.and_then(|smoothing| smoothing.rough) {
        found.push(SurfaceWarning::RoughReading(rough));
    }
    if surface.rake().abs() > STEEP {
        found.push(SurfaceWarning::SteepRake {
            angle: surface.rake(),
        });
    }
    let angle = libm::acos(passage.along().depth.clamp(-1.0, 1.0));
    if angle > STEEP {
        found.push(SurfaceWarning::SteepPassage { angle });
    }
    let beyond = outlines
        .iter()
        .filter_map(|outline| beyond(surface, outline));
    found.extend(
        beyond
            .max_by(|one, other| one.0.total_cmp(&other.0))
            .map(|(by, at, measured)| SurfaceWarning::BeyondProfile { at, by, measured }),
    );
    found
}

/// How far an outline reaches beyond the measured profile, and where.
fn beyond(surface: &Surface, outline: &Outline) -> Option<(f64, Point, (f64, f64))> {
    let profile = surface.profile();
    let measured = profile.extent()?;
    let ends = (profile.length(measured.0), profile.length(measured.1));
    let (bounds, middle) = (outline.bounds(), outline.bounds().center());
    let sides = match surface.along() {
        Along::Across => [
            (ends.0 - bounds.x0, Point::new(bounds.x0, middle.y)),
            (bounds.x1 - ends.1, Point::new(bounds.x1, middle.y)),
        ],
        Along::EdgeToEdge => [
            (ends.0 - bounds.y0, Point::new(middle.x, bounds.y0)),
            (bounds.y1 - ends.1, Point::new(middle.x, bounds.y1)),
        ],
    };
    sides
        .into_iter()
        .filter(|side| side.0 > BEYOND)
        .max_by(|one, other| one.0.total_cmp(&other.0))
        .map(|(by, at)| (by, at, measured))
}

/// Reaching beyond by less is rounding, mm.
const BEYOND: f64 = 1e-6;

impl fmt::Display for SurfaceWarning {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.tell(out, Units::Mm)
    }
}

impl Told for SurfaceWarning {
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        let length = |mm: f64| units.length(mm);
        let degrees = |angle: f64| fixed(angle.to_degrees(), 1);
        match self {
            Self::RoughReading(rough) => write!(
                out,
                "reading {} of the profile, at {}, is `{}` where the others foretell {}: \
                 no smooth panel would give it; read it again",
                rough.reading + 1,
                length(rough.at),
                length(rough.read),
                length(rough.foretold)
            ),
            Self::SteepRake { angle } => write!(
                out,
                "the panel leans by {} deg, over 60 deg: an error of one degree moves the cut by \
                 more than 3 % of its height",
                degrees(*angle)
            ),
            Self::SteepPassage { angle } => write!(
                out,
                "the part comes through at {} deg to the reader's look, over 60 deg: measure \
                 slope and yaw again",
                degrees(*angle)
            ),
            Self::BeyondProfile { by, measured, .. } => write!(
                out,
                "the opening reaches {} beyond the measured profile, {} to {}, which is \
                 taken to go on; measure farther out",
                length(*by),
                length(measured.0),
                length(measured.1)
            ),
            Self::BothWays(misfit) => write!(
                out,
                "the panel is curved both ways: the paper {} by {} at the opening, strain \
                 {} %; slit it from the {} to x {}, y {}",
                if misfit.gap < 0.0 { "puckers" } else { "gapes" },
                units.close(misfit.gap.abs()),
                fixed(misfit.strain * 100.0, 2),
                misfit.slit.from,
                length(misfit.slit.to.x),
                length(misfit.slit.to.y)
            ),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Bulge, Profile, Space};
    use super::*;
    use crate::geometry::outline::{Corner, Side, rounded};

    fn square(x: f64, y: f64) -> Outline {
        let corners = [(-30.0, -30.0), (30.0, -30.0), (30.0, 30.0), (-30.0, 30.0)];
        let corners = corners.map(|(dx, dy)| Corner {
            point: Point::new(x + dx, y + dy),
            radius: 0.0,
            side: Side::Cut,
        });
        rounded(&corners).unwrap()
    }

    #[test]
    fn each_is_told_where_it_is_due_and_only_there() {
        let surface = |rake: f64, along| {
            let profile = Profile::chord_and_rise(600.0, 22.0, Bulge::Towards, 0.0).unwrap();
            Surface::new(rake, profile, along).unwrap()
        };
        let square_on = Passage::square_on();
        let plain = surface(0.2, Along::Across);
        assert_eq!(
            warnings(&plain, None, &square_on, &[square(0.0, 400.0)]),
            []
        );
        let steep = surface(-61_f64.to_radians(), Along::Across);
        let found = warnings(&steep, None, &square_on, &[]);
        assert!(matches!(found[..], [SurfaceWarning::SteepRake { angle }] if angle < -1.06));
        assert!(
            found[0]
                .to_string()
                .starts_with("the panel leans by -61 deg")
        );
        let aslant = Passage::new(Space::ORIGIN, 0.9, 0.9).unwrap();
        let found = warnings(&plain, None, &aslant, &[]);
        assert!(matches!(found[..], [SurfaceWarning::SteepPassage { .. }]));
        let end = plain.profile().length(300.0);
        let found = warnings(
            &plain,
            None,
            &square_on,
            &[square(0.0, 0.0), square(end, 40.0)],
        );
        let [SurfaceWarning::BeyondProfile { at, by, .. }] = found[..] else {
            panic!("{found:?}");
        };
        assert!((by - 30.0).abs() < 1e-9 && (at.x - end - 30.0).abs() < 1e-9 && at.y == 40.0);
        assert!(
            found[0]
                .to_string()
                .contains("30 mm beyond the measured profile, -300 mm to 300 mm")
        );
        let rolled = surface(0.0, Along::EdgeToEdge);
        let found = warnings(&rolled, None, &square_on, &[square(900.0, 0.0)]);
        assert_eq!(found, []);
        let found = warnings(&rolled, None, &square_on, &[square(0.0, -end)]);
        assert!(matches!(found[..], [SurfaceWarning::BeyondProfile { at, .. }] if at.y < -end));
    }
}
