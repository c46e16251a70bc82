//! Outlines with closed forms.

use super::{fascia, only_gap};
use crate::common::{assert_close, solved};
use std::f64::consts::PI;

const HOLE: &str = "[[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 80 }\n\
                    centre_offset = 0\nfrom_datum = 200\nmeasured = \"square-on\"\n";

#[test]
fn a_circle_on_a_flat_raked_panel_is_an_ellipse_of_the_right_axes() {
    for rake in [10.0_f64, -25.0, 40.0] {
        let toml = fascia(0.1, &format!("rake = \"{rake} deg\""), HOLE);
        // Thin as a film, so that its two faces are one within the tolerance of this test.
        let pattern = solved(&toml);
        let outline = &pattern.openings[0].outline;
        let (a, b) = (40.0, 40.0 / rake.to_radians().cos());
        let shift = 0.1 * rake.to_radians().tan().abs();
        assert_close(outline.bounds().width(), 2.0 * a, 0.01, "across");
        assert_close(
            outline.bounds().height(),
            2.0 * b + shift,
            0.01,
            "up the panel",
        );
        let area = PI * a * b + 2.0 * a * shift;
        assert_close(outline.area(), area, 1e-4 * area + 0.5, "area");
        let middle = 200.0 / rake.to_radians().cos();
        assert_close(outline.bounds().center().y, middle, 0.1, "height");
    }
}

#[test]
fn what_was_measured_on_the_panel_is_left_as_it_is() {
    let toml = fascia(
        3.0,
        "rake = \"30 deg\"",
        &HOLE.replace("square-on", "on the panel"),
    );
    let outline = &solved(&toml).openings[0].outline;
    assert_close(outline.area(), PI * 1600.0, 1e-6, "area");
    assert_close(outline.bounds().center().y, 200.0, 1e-9, "height");
    // On a panel that is not told to lean, both ways are one.
    let flat = |measured: &str| {
        let toml = fascia(
            3.0,
            "rake = \"0 deg\"",
            &HOLE.replace("square-on", measured),
        );
        solved(&toml).openings[0].outline.clone()
    };
    assert_eq!(flat("square-on"), flat("on the panel"));
}

#[test]
fn a_part_that_slopes_through_a_flat_panel_needs_its_length_and_its_shift() {
    // A tube of 60 x 60 that rises by s through a plate of thickness t: height (60 + 2 g) / cos s,
    // and t tan s for the far face; width 60 + 2 g.
    let (gap, thickness) = (5.0, 4.0);
    for slope in [12.0_f64, -20.0] {
        let tables = format!(
            "[[part]]\nname = \"tube\"\nshape = \"window\"\nwith = {{ width = 60, height = 60, corner_radius = 4 }}\n\
             centre_offset = 0\nfrom_datum = 200\nslope = \"{slope} deg\"\n{}[[opening]]\nname = \"hole\"\n\
             around = [\"tube\"]\nfollow = \"contour\"\n",
            only_gap(gap)
        );
        let pattern = solved(&fascia(thickness, "rake = \"0 deg\"", &tables));
        let bounds = pattern.openings[0].outline.bounds();
        let lean = slope.to_radians();
        assert_close(bounds.width(), 70.0, 0.021, "across");
        let height = 70.0 / lean.cos() + thickness * lean.tan().abs();
        assert_close(bounds.height(), height, 0.025, "up");
        // Where the part goes up as it goes away from the reader, the far face is cut higher.
        let middle = 200.0 + thickness * lean.tan() / 2.0;
        assert_close(bounds.center().y, middle, 0.01, "middle");
    }
}

#[test]
fn rake_slope_and_yaw_are_the_pages_own_whichever_edge_is_the_datum() {
    // The same panel told twice: from its lower edge, and from its upper edge with the page the same
    // way up. 500 mm on the panel lie between the two edges.
    let tube = |from_datum: f64| {
        format!(
            "[[part]]\nname = \"tube\"\nshape = \"window\"\nwith = {{ width = 50, height = 50, corner_radius = 4 }}\n\
             centre_offset = 0\nfrom_datum = {from_datum}\nslope = \"10 deg\"\nyaw = \"15 deg\"\n{}[[opening]]\n\
             name = \"hole\"\naround = [\"tube\"]\nfollow = \"contour\"\n",
            only_gap(5.0)
        )
    };
    let (seen, rake) = (200.0, 20.0_f64);
    let low = solved(&fascia(3.0, "rake = \"20 deg\"", &tube(seen)));
    // Seen square-on the edges stand 500 cos(rake) apart.
    let from_top = 500.0 * rake.to_radians().cos() - seen;
    let high = fascia(3.0, "rake = \"20 deg\"", &tube(from_top))
        .replace("datum_edge = \"down\"", "datum_edge = \"up\"");
    let high = solved(&high);
    let (one, other) = (
        low.openings[0].outline.bounds(),
        high.openings[0].outline.bounds(),
    );
    // The frame of the second is turned half round.
    assert_close(other.x0, -one.x1, 0.01, "left");
    assert_close(other.x1, -one.x0, 0.01, "right");
    assert_close(other.y0, 500.0 - one.y1, 0.01, "foot");
    assert_close(other.y1, 500.0 - one.y0, 0.01, "head");
    // It turns to the right as it goes away, so that the far face is cut farther right.
    let straight = fascia(3.0, "rake = \"20 deg\"", &tube(seen)).replace("yaw = \"15 deg\"\n", "");
    let straight = solved(&straight).openings[0].outline.bounds();
    assert!(
        one.center().x > straight.center().x + 0.1,
        "{one:?} {straight:?}"
    );
}

#[test]
fn fitted_outlines_are_short_and_boxes_have_true_corners() {
    let tables = "[[part]]\nname = \"arm\"\nshape = \"window\"\nwith = { width = 90, height = 120, corner_radius = 6 }\n\
                  centre_offset = \"400 mm right\"\nfrom_datum = 150\nslope = \"8 deg\"\n[[part]]\nname = \"pin\"\n\
                  socket = 40\ncentre_offset = \"400 mm left\"\nfrom_datum = 150\nyaw = \"-12 deg\"\n[[opening]]\n\
                  name = \"arm hole\"\naround = [\"arm\"]\nfollow = \"contour\"\n[[opening]]\nname = \"pin hole\"\n\
                  around = [\"pin\"]\nfollow = \"box\"\n";
    let surface = "rake = \"18 deg\"\nradius = 900\nbulges = \"towards\"";
    let pattern = solved(&fascia(3.5, surface, tables));
    for opening in &pattern.openings {
        let sides = opening.outline.sides().count();
        assert!(sides < 60, "{}: {sides} segments", opening.name());
    }
    let pin = pattern
        .openings
        .iter()
        .find(|one| one.name() == "pin hole")
        .unwrap();
    assert!(!pin.fitted);
    // The corners at each side stand too near for a hole each: one hole between them serves both.
    let served: Vec<usize> = pin.relief.iter().map(|hole| hole.corners.len()).collect();
    assert_eq!(served, [2, 2], "{:?}", pin.relief);
    let arm = pattern
        .openings
        .iter()
        .find(|one| one.name() == "arm hole")
        .unwrap();
    assert!(arm.fitted);
    assert_eq!(arm.relief.len(), 4, "one hole a corner: {:?}", arm.relief);
    for hole in &arm.relief {
        let room = arm.outline.distance(hole.at).0;
        assert!(arm.outline.contains(hole.at));
        assert!(
            hole.diameter / 2.0 <= room + 0.02,
            "{hole:?} has room for {room}"
        );
    }
}

#[test]
fn a_notch_seen_square_on_opens_at_the_panels_own_edge() {
    let notch = "[[opening]]\nname = \"notch\"\nshape = \"notch\"\nwith = { width = 80, depth = 60, corner_radius = 10 }\n\
                 centre_offset = \"200 mm right\"\nfrom_datum = 0\nmeasured = \"square-on\"\n";
    let surface = "rake = \"25 deg\"\nchord = 600\nrise = 50\nbulges = \"towards\"";
    let opening = &solved(&fascia(2.0, surface, notch)).openings[0];
    assert!(opening.is_open());
    assert_close(
        opening.outline.bounds().y0,
        0.0,
        1e-9,
        "the mouth lies on the edge",
    );
    assert!(opening.relief.len() == 2, "{:?}", opening.relief);
    assert!(opening.outline.sides().count() < 60);
}
