//! Thick panels met aslant: what a part keeps is what is left all through the wall, which a blade
//! held square to the panel cuts; by formulas of this test's own, place by place.

use super::round_trip::{dot, from_window, rolled};
use super::{fascia, only_gap};
use crate::common::{shipped, solved};
use kurbo::Point;
use trimloft::geometry::outline::{Outline, Side};
use trimloft::input::{PatternSpec, Report, Source};
use trimloft::solve::{Pattern, solve};

/// A panel so little curved that it is flat within a thousandth of a millimetre where it is cut.
const FLAT: f64 = 1e8;

/// A window on its way through a panel.
struct Way {
    radius: f64,
    rake: f64,
    thickness: f64,
    slope: f64,
    yaw: f64,
    size: (f64, f64),
    corner: f64,
}

impl Way {
    fn part(&self) -> String {
        format!(
            "[[part]]\nname = \"tube\"\nshape = \"window\"\n\
             with = {{ width = {}, height = {}, corner_radius = {} }}\ncentre_offset = 0\n\
             from_datum = 220\nslope = \"{} deg\"\nyaw = \"{} deg\"\n",
            self.size.0, self.size.1, self.corner, self.slope, self.yaw
        )
    }

    fn toml(&self, tables: &str) -> String {
        let form = if self.radius == FLAT {
            String::new()
        } else {
            format!("\nradius = {}\nbulges = \"towards\"", self.radius)
        };
        let surface = format!("rake = \"{} deg\"{form}", self.rake);
        fascia(self.thickness, &surface, tables)
    }

    /// How far the wall at one place of the pattern and one depth is from the part, mm.
    fn off(&self, at: Point, behind: f64) -> f64 {
        let rad = f64::to_radians;
        let (rake, slope, yaw) = (rad(self.rake), rad(self.slope), rad(self.yaw));
        let axis = Point::new(0.0, 220.0 / rake.cos());
        let through = rolled(self.radius, rake, axis, 0.0);
        let there = rolled(self.radius, rake, at, behind);
        let from = [0, 1, 2].map(|k| there[k] - through[k]);
        let right = [yaw.cos(), 0.0, -yaw.sin()];
        let up = [
            -slope.sin() * yaw.sin(),
            slope.cos(),
            -slope.sin() * yaw.cos(),
        ];
        let seen = Point::new(dot(from, right), dot(from, up));
        from_window(seen, self.size.0, self.size.1, self.corner)
    }

    /// The least that is left along the cut line at any depth, and the most by which a place of
    /// the line stands off at its own nearest depth.
    fn least_and_most(&self, outline: &Outline) -> (f64, f64) {
        let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
        for side in outline.sides().filter(|side| side.side == Side::Cut) {
            let places = (side.length() / 0.2).ceil().max(4.0) as usize;
            for k in 0..=places {
                let at = side.at(k as f64 / places as f64);
                let depths = (0..=64).map(|k| self.thickness * f64::from(k) / 64.0);
                let nearest = depths
                    .map(|behind| self.off(at, behind))
                    .fold(f64::INFINITY, f64::min);
                least = least.min(nearest);
                most = most.max(nearest);
            }
        }
        (least, most)
    }
}

/// Numbers from -1 to 1, the same every time.
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as f64 / (1u64 << 30) as f64 - 1.0
    }

    fn way(&mut self, flat: bool) -> Way {
        Way {
            radius: if flat {
                FLAT
            } else {
                500.0 + 300.0 * self.roll()
            },
            rake: 25.0 * self.roll(),
            thickness: 5.0 + 4.0 * self.roll(),
            slope: 25.0 * self.roll(),
            yaw: 20.0 * self.roll(),
            size: (45.0 + 30.0 * self.roll(), 45.0 + 30.0 * self.roll()),
            corner: 2.5 + 2.5 * self.roll(),
        }
    }
}

fn worked_out(way: &Way, gap: f64) -> Pattern {
    let opening = "[[opening]]\nname = \"hole\"\naround = [\"tube\"]\nfollow = \"contour\"\n";
    solved(&way.toml(&format!("{}{}{opening}", way.part(), only_gap(gap))))
}

#[test]
fn a_sharp_window_through_a_thick_plate_keeps_its_gap_in_the_middle_of_the_wall() {
    let way = Way {
        radius: FLAT,
        rake: 0.0,
        thickness: 8.0,
        slope: 20.0,
        yaw: 20.0,
        size: (20.0, 50.0),
        corner: 0.0,
    };
    let pattern = worked_out(&way, 3.0);
    let (least, most) = way.least_and_most(&pattern.openings[0].outline);
    assert!((2.999..3.011).contains(&least), "{least}");
    // Nowhere more is cut than some depth of the wall asks for.
    assert!(most < 3.02, "{most}");
    assert!((pattern.spacings[0].now.distance - least).abs() < 0.01);
}

#[test]
fn worked_out_openings_clear_the_whole_wall_and_say_what_they_keep() {
    let mut dice = Dice(7);
    for case in 0..24 {
        let way = dice.way(case % 2 == 0);
        let gap = 6.0 + 4.0 * dice.roll();
        let pattern = worked_out(&way, gap);
        let (least, most) = way.least_and_most(&pattern.openings[0].outline);
        assert!(
            least > gap - 1e-3 && least < gap + 0.011,
            "case {case}: {least} for {gap}"
        );
        assert!(most < gap + 0.03, "case {case}: {most} for {gap}");
        let told = pattern.spacings[0].now.distance;
        assert!(
            (told - least).abs() < 0.01,
            "case {case}: told {told}, found {least}"
        );
    }
}

#[test]
fn what_is_told_of_an_opening_given_outright_is_what_the_wall_keeps() {
    let (mut dice, mut apart) = (Dice(11), 0);
    for case in 0..40 {
        let way = dice.way(case % 2 == 0);
        let (width, height) = (way.size.0 + 30.0, way.size.1 + 30.0);
        let at = 220.0 / way.rake.to_radians().cos();
        let opening = format!(
            "[[opening]]\nname = \"hole\"\nshape = \"window\"\n\
             with = {{ width = {width}, height = {height}, corner_radius = 5 }}\ncentre_offset = 0\n\
             from_datum = {at}\n",
        );
        let pattern = solved(&way.toml(&format!("{}{}{opening}", way.part(), only_gap(1.0))));
        let (least, _) = way.least_and_most(&pattern.openings[0].outline);
        let told = pattern.spacings[0].now.distance;
        if least > 0.05 {
            apart += 1;
            assert!(
                (told - least).abs() < 0.01,
                "case {case}: told {told}, found {least}"
            );
        } else {
            assert!(told < 0.06, "case {case}: told {told}, found {least}");
        }
    }
    assert!(apart >= 30, "only {apart} parts stood clear");
}

#[test]
fn an_opening_given_square_on_lets_its_shape_through_the_whole_wall() {
    let hole = "[[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 20 }\n\
                centre_offset = 0\nfrom_datum = 220\nmeasured = \"square-on\"\n";
    for (radius, rake) in [(FLAT, 30.0), (400.0, 30.0), (250.0, -20.0)] {
        let way = Way {
            radius,
            rake,
            thickness: 8.0,
            slope: 0.0,
            yaw: 0.0,
            size: (20.0, 20.0),
            corner: 10.0,
        };
        let outline = &solved(&way.toml(hole)).openings[0].outline;
        let (least, most) = way.least_and_most(outline);
        assert!(
            least > -0.006 && most < 0.012,
            "{radius} {rake}: {least} to {most}"
        );
    }
}

#[test]
fn what_cannot_be_measured_in_space_is_told_and_not_guessed() {
    // The cut line runs round to where the part's own way sees the panel from behind.
    let tables = "[[part]]\nname = \"bar\"\nshape = \"window\"\nwith = { width = 40, height = 120 }\n\
                  centre_offset = 0\nfrom_datum = 200\nyaw = \"60 deg\"\n[[opening]]\nname = \"hole\"\n\
                  shape = \"window\"\nwith = { width = 450, height = 100, corner_radius = 5 }\n\
                  centre_offset = 0\nfrom_datum = 200\n";
    let surface = "rake = \"0 deg\"\nradius = 300\nbulges = \"towards\"";
    let source = Source::new("p.toml", fascia(3.0, surface, tables));
    let spec = PatternSpec::read(&source).unwrap_or_else(|report| panic!("{report}"));
    let problems = solve(&spec, &shipped()).unwrap_err();
    let told = Report::new(&source, problems).to_string();
    assert!(
        told.contains("what part `bar` keeps in opening `hole` can't be measured"),
        "{told}"
    );
}
