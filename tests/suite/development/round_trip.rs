//! The flat outline rolled back on the panel and seen along the part's own way, by formulas of this
//! test's own: nowhere in the wall nearer to the part than its gap, and at the governing depth hardly farther.

use super::{fascia, only_gap};
use crate::common::{shipped, solved};
use kurbo::{Point, Vec2};
use proptest::prelude::*;
use trimloft::geometry::outline::Outline;
use trimloft::input::{PatternSpec, Source};
use trimloft::solve::{Pattern, solve};

pub(crate) type Triple = [f64; 3];

pub(crate) fn dot(a: Triple, b: Triple) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// A cylinder of radius `r` that bulges towards the reader, curved across, leaning by `rake`: the
/// point at arc length `s` and `v` up it, `behind` mm behind its face. x, z up, depth away.
pub(crate) fn rolled(r: f64, rake: f64, at: Point, behind: f64) -> Triple {
    let turn = at.x / r;
    let (x, fall) = ((r - behind) * turn.sin(), r - (r - behind) * turn.cos());
    [
        x,
        at.y * rake.cos() - fall * rake.sin(),
        at.y * rake.sin() + fall * rake.cos(),
    ]
}

/// Distance of a point of the plane from a window about the origin; below 0 inside.
pub(crate) fn from_window(at: Point, width: f64, height: f64, radius: f64) -> f64 {
    let core = Vec2::new(
        at.x.abs() - (width / 2.0 - radius),
        at.y.abs() - (height / 2.0 - radius),
    );
    let outside = Vec2::new(core.x.max(0.0), core.y.max(0.0)).hypot();
    outside + core.x.max(core.y).min(0.0) - radius
}

/// Depths that are looked at through the wall.
const DEPTHS: usize = 12;

fn along(outline: &Outline) -> Vec<Point> {
    let places = |k: usize| k as f64 / 40.0;
    outline
        .sides()
        .flat_map(|side| (0..40).map(move |k| side.at(places(k))))
        .collect()
}

struct Case {
    radius: f64,
    rake: f64,
    thickness: f64,
    slope: f64,
    yaw: f64,
    size: (f64, f64),
    gap: f64,
    x: f64,
}

impl Case {
    fn toml(&self) -> String {
        let side = if self.x < 0.0 { "left" } else { "right" };
        let tables = format!(
            "[[part]]\nname = \"tube\"\nshape = \"window\"\nwith = {{ width = {}, height = {}, corner_radius = 5 }}\n\
             centre_offset = \"{} mm {side}\"\nfrom_datum = 220\nslope = \"{} deg\"\nyaw = \"{} deg\"\n{}\
             [[opening]]\nname = \"hole\"\naround = [\"tube\"]\nfollow = \"contour\"\n",
            self.size.0,
            self.size.1,
            self.x.abs(),
            self.slope,
            self.yaw,
            only_gap(self.gap)
        );
        let surface = format!(
            "rake = \"{} deg\"\nradius = {}\nbulges = \"towards\"",
            self.rake, self.radius
        );
        fascia(self.thickness, &surface, &tables)
    }

    /// The least gap all through the wall.
    fn least_gap(&self, pattern: &Pattern) -> f64 {
        let rad = f64::to_radians;
        let (rake, slope, yaw) = (rad(self.rake), rad(self.slope), rad(self.yaw));
        // Where the part's axis meets the panel, from its place as seen square-on: the tape is hooked
        // over the edge there, which is seen as much lower as the panel falls away.
        let turn = (self.x / self.radius).asin();
        let v = 220.0 / rake.cos();
        let through = rolled(self.radius, rake, Point::new(self.radius * turn, v), 0.0);
        let right = [yaw.cos(), 0.0, -yaw.sin()];
        let way = [
            yaw.sin() * slope.cos(),
            slope.sin(),
            yaw.cos() * slope.cos(),
        ];
        // up = way x right, in axes where x, z, depth are left-handed as seen by the reader.
        let up = [
            -slope.sin() * yaw.sin(),
            slope.cos(),
            -slope.sin() * yaw.cos(),
        ];
        assert!(
            dot(way, right).abs() < 1e-12
                && dot(way, up).abs() < 1e-12
                && dot(right, up).abs() < 1e-12
        );
        let outline = &pattern.openings[0].outline;
        let depths = (0..=DEPTHS).map(|k| self.thickness * k as f64 / DEPTHS as f64);
        depths
            .flat_map(|behind| along(outline).into_iter().map(move |at| (at, behind)))
            .map(|(at, behind)| {
                let there = rolled(self.radius, rake, at, behind);
                let from = [
                    there[0] - through[0],
                    there[1] - through[1],
                    there[2] - through[2],
                ];
                let seen = Point::new(dot(from, right), dot(from, up));
                from_window(seen, self.size.0, self.size.1, 5.0)
            })
            .fold(f64::INFINITY, f64::min)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn the_cut_wall_clears_the_part_and_no_more(
        radius in 400.0..3000.0_f64,
        rake in -35.0..35.0_f64,
        thickness in 0.5..6.0_f64,
        slope in -25.0..25.0_f64,
        yaw in -20.0..20.0_f64,
        size in (25.0..90.0_f64, 25.0..90.0_f64),
        gap in 2.0..12.0_f64,
        x in -120.0..120.0_f64,
    ) {
        let case = Case { radius, rake, thickness, slope, yaw, size, gap, x };
        let toml = case.toml();
        let spec = PatternSpec::read(&Source::new("random.toml", toml.clone())).map_err(|report| TestCaseError::fail(report.to_string()))?;
        let pattern = solve(&spec, &shipped()).map_err(|problems| TestCaseError::fail(format!("{problems:?}\n{toml}")))?;
        let least = case.least_gap(&pattern);
        prop_assert!(least >= gap - 1e-3, "{least} where {gap} is asked for\n{toml}");
        prop_assert!(least <= gap + 0.01, "{least} where {gap} is asked for\n{toml}");
        // What the pattern says of itself is what is found here.
        let told = pattern.spacings[0].now.distance;
        prop_assert!((told - least).abs() < 0.01, "told {told}, found {least}\n{toml}");
    }
}

#[test]
fn a_profile_of_a_circle_gives_the_circles_pattern() {
    // R 500 over a chord of 600, read every 100 mm.
    let fall = |x: f64| 500.0 - (500.0 * 500.0 - x * x).sqrt();
    let readings: Vec<String> = (-3..=3)
        .map(|k| f64::from(k) * 100.0)
        .map(|x| format!("[{x}, {:.4}]", fall(x)))
        .collect();
    let hole = "[[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 40 }\n\
                centre_offset = \"250 mm right\"\nfrom_datum = 200\nmeasured = \"square-on\"\n";
    let by_readings = format!("profile = [{}]\nerror = 0", readings.join(", "));
    let by_radius = "radius = 500\nbulges = \"towards\"";
    let bounds = |surface: &str| {
        solved(&fascia(0.1, surface, hole)).openings[0]
            .outline
            .bounds()
    };
    let (one, other) = (bounds(&by_readings), bounds(by_radius));
    for (is, should) in [
        (one.x0, other.x0),
        (one.x1, other.x1),
        (one.y0, other.y0),
        (one.y1, other.y1),
    ] {
        assert!((is - should).abs() < 0.15, "{one:?} {other:?}");
    }
}
