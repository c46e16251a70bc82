//! What still holds the panel: closed forms, and `geo` for random feet.

use super::{found, panel, polygon, refused};
use crate::common::random::{Came, hold};
use crate::common::{assert_close, drawn, solved};
use geo::{Area, BooleanOps, Intersects, MultiPolygon, Polygon, Simplify, Translate};
use proptest::prelude::*;
use std::f64::consts::PI;
use trimloft::geometry::outline::Outline;
use trimloft::solve::{Land, Pattern};

fn foot(width: f64, height: f64, offset: &str, from_datum: f64) -> String {
    format!(
        "[[foot]]\nname = \"plate\"\nshape = \"window\"\n\
         with = {{ width = {width}, height = {height}, corner_radius = 0 }}\n\
         centre_offset = {offset}\nfrom_datum = {from_datum}\n"
    )
}

fn notch(width: f64, depth: f64) -> String {
    format!(
        "[[opening]]\nname = \"neck\"\nshape = \"notch\"\n\
         with = {{ width = {width}, depth = {depth}, corner_radius = 5 }}\ncentre_offset = 0\n\
         from_datum = 0\n"
    )
}

fn pressed(tables: &str) -> (f64, Option<f64>) {
    let pattern = solved(&panel(tables));
    let foot = &pattern.feet[0];
    (foot.clamped, foot.land.width())
}

#[test]
fn a_rectangle_less_a_slot_has_two_lands() {
    // A slot of 40 right through a foot of 100 x 60: two lands of 30.
    let (clamped, land) = pressed(&(foot(100.0, 60.0, "0", 80.0) + &notch(40.0, 200.0)));
    assert_close(clamped, 100.0 * 60.0 - 40.0 * 60.0, 1e-6, "two lands");
    assert_close(land.unwrap(), 30.0, 1e-6, "each");
    // Off the middle by 12 mm: 18 and 42.
    let (clamped, land) =
        pressed(&(foot(100.0, 60.0, "\"12 mm left\"", 80.0) + &notch(40.0, 200.0)));
    assert_close(clamped, 60.0 * 60.0, 1e-6, "as much");
    assert_close(land.unwrap(), 18.0, 1e-6, "the narrower");
    // No cut in it: all of it, and no land; half of it off the panel: half.
    let (clamped, land) =
        pressed(&(foot(50.0, 40.0, "\"120 mm left\"", 150.0) + &notch(40.0, 60.0)));
    assert_close(clamped, 2000.0, 1e-6, "whole");
    assert_eq!(land, None);
    let (clamped, _) = pressed(&(foot(50.0, 40.0, "\"120 mm left\"", 0.0) + &notch(40.0, 60.0)));
    assert_close(clamped, 1000.0, 1e-6, "half");
    // A disc less the half plane of a trim: half of it.
    let disc = "[[foot]]\nname = \"disc\"\nshape = \"round-hole\"\nwith = { diameter = 60 }\n\
                centre_offset = 0\nfrom_datum = 100\n[[trim]]\nname = \"lip\"\n\
                points = [[0, 100], [400, 100]]\nfalls_away = \"rear\"\n";
    let (clamped, land) = pressed(disc);
    assert_close(clamped, PI * 450.0, 1e-6, "half a disc");
    // What is left runs out to a point at both ends: no land that could be told.
    assert_eq!(land, None);
    let crossed = "[[foot]]\nname = \"disc\"\nshape = \"round-hole\"\nwith = { diameter = 60 }\n\
                   centre_offset = 0\nfrom_datum = 100\n";
    for depth in [150.0, 199.0] {
        let (_, land) = pressed(&(crossed.to_owned() + &notch(20.0, depth)));
        assert_eq!(land, None);
    }
    // A notch that ends in it: its round corners, R 5 about (5, 15), come nearest to the rim.
    let (_, land) = pressed(&(crossed.to_owned() + &notch(20.0, 120.0)));
    let corner = 5.0_f64.hypot(15.0) + 5.0;
    assert_close(land.unwrap(), 30.0 - corner, 1e-6, "before its corners");
}

#[test]
fn the_rim_of_a_hole_that_was_taken_in_bounds_the_land_and_its_horns_do_not() {
    // A notch 40 wide and 60 deep, a hole of 20 at its end taken in: the hole ends at 70, the foot
    // reaches from 50 to 90. Left of the notch stand 30, before its end 30, before the hole 20.
    let hole = "[[hole]]\nname = \"old hole\"\nacross = 200\nfrom_datum = 60\ndiameter = 20\n";
    let taken = notch(40.0, 60.0) + "take_in = [\"old hole\"]\n";
    let (_, land) = pressed(&(foot(100.0, 40.0, "0", 70.0) + hole + &taken));
    assert_close(land.unwrap(), 20.0, 1e-6, "before the hole");
    // At the notch's corner, hole and notch leave a horn between them that runs out to a point.
    let aside = hole
        .replace("across = 200", "across = 222")
        .replace("60\n", "50\n");
    let (_, land) = pressed(&(foot(100.0, 40.0, "0", 70.0) + &aside + &taken));
    // The hole's rim, at 222 + 10, is nearer to the foot's end at 250 than anything else.
    assert_close(land.unwrap(), 18.0, 1e-6, "beside the hole");
}

#[test]
fn the_land_beside_a_channel_that_runs_in_aslant_is_where_it_comes_nearest() {
    let tube = "[[part]]\nname = \"tube\"\nsocket = 10\ncentre_offset = 0\nfrom_datum = 90\n";
    let land = |foot: String| {
        let pattern = solved(&panel(&(foot + tube + &trimmed(ASLANT))));
        let Land::Wide(width, at) = pattern.feet[0].land else {
            panic!("there is land");
        };
        (width, at)
    };
    // The foot reaches from 140 to 260 across and from 80 to 140 deep; the channel's far corner, at
    // (250, 120), is 10 from its end.
    let (width, at) = land(foot(120.0, 60.0, "0", 110.0));
    assert_close(width, 10.0, 1e-6, "at the corner");
    assert_close(at.y, 120.0, 1e-6, "there");
    // A foot from 40 to 70 deep ends before the channel does: its other side stands at 170 where the
    // foot begins, 30 from the foot's end.
    let (width, at) = land(foot(120.0, 30.0, "0", 55.0));
    assert_close(width, 30.0, 1e-6, "where the foot begins");
    assert_close(at.y, 40.0, 1e-6, "there");
    // A round hole over the foot's corner: from where its rim leaves the foot, at 120 + root of
    // (35^2 - 21^2), along the foot's end to its far corner.
    let hole = "[[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 70 }\n\
                centre_offset = \"81 mm left\"\nfrom_datum = 120\n";
    let (_, land) = pressed(&(foot(120.0, 100.0, "0", 150.0) + hole));
    let left = 200.0 - 120.0 - (35.0_f64.powi(2) - 21.0_f64.powi(2)).sqrt();
    assert_close(land.unwrap(), left, 1e-6, "along the foot's end");
}

#[test]
fn the_land_at_the_rim_of_a_foot_counts_and_its_round_corners_do_not() {
    // A trim that rises by 60 over the panel's 400, from 20 deep at its right end to 80 at its left:
    // at the foot's left end, 110 left of the middle, it stands at 20 + 310 * 60 / 400.
    let aslant = "[[trim]]\nname = \"lip\"\npoints = [[0, 80], [400, 20]]\nfalls_away = \"rear\"\n";
    let (_, land) = pressed(&(foot(140.0, 70.0, "\"40 mm left\"", 70.0) + aslant));
    assert_close(land.unwrap(), 105.0 - 66.5, 1e-6, "along the rim");
    // A slot 20 wide that runs out over the foot's side, whose corners are round.
    let round = foot(120.0, 100.0, "0", 100.0).replace("corner_radius = 0", "corner_radius = 8");
    let slot = "[[opening]]\nname = \"slot\"\nshape = \"slot\"\nwith = { length = 64, width = 20 }\n\
                centre_offset = \"38 mm left\"\nfrom_datum = 112\n";
    let (_, land) = pressed(&(round.clone() + slot));
    assert_close(land.unwrap(), 150.0 - 122.0, 1e-6, "above it");
    // A notch right through it, 20 to one side, leaves 10 and 50 beside it.
    let beside = notch(60.0, 200.0).replace("centre_offset = 0", "centre_offset = \"20 mm left\"");
    let (clamped, land) = pressed(&(round + &beside));
    assert_close(land.unwrap(), 10.0, 1e-6, "beside it");
    let corners = (4.0 - PI) * 64.0;
    assert_close(clamped, 60.0 * 100.0 - corners, 1e-6, "less its corners");
}

#[test]
fn a_foot_that_presses_nothing_is_told() {
    let told = found(&solved(&panel(
        &(foot(20.0, 20.0, "0", 40.0) + &notch(60.0, 100.0)),
    )));
    let words = "foot `plate` presses nothing of what is left of the panel";
    assert!(told.iter().any(|told| told.contains(words)), "{told:?}");
}

#[test]
fn what_lies_wholly_off_the_panel_is_refused_at_its_line() {
    let window = notch(60.0, 100.0);
    let off = refused(&(foot(20.0, 20.0, "0", -30.0) + &window));
    assert!(
        off.contains("foot `plate` lies wholly off the panel"),
        "{off}"
    );
    let beside = refused(&(foot(20.0, 20.0, "\"215 mm left\"", 40.0) + &window));
    let at_line = "name = \"plate\"";
    assert!(
        beside.contains("wholly off the panel") && beside.contains(at_line),
        "{beside}"
    );
    let as_feature =
        foot(20.0, 20.0, "0", 330.0).replace("[[foot]]", "[[feature]]\nkind = \"peg\"\nheight = 5");
    let off = refused(&(as_feature + &window));
    assert!(
        off.contains("feature `plate` lies wholly off the panel"),
        "{off}"
    );
    // Half on it, it presses with that.
    assert!(pressed(&(foot(20.0, 20.0, "\"120 mm left\"", 0.0) + &window)).0 > 199.0);
}

/// A tube of 30 in a notch or in a window.
fn with_tube(opening: &str, more: &str) -> Pattern {
    let tube = "[[part]]\nname = \"tube\"\nsocket = 30\ncentre_offset = 0\nfrom_datum = 60\n";
    solved(&panel(
        &(foot(120.0, 60.0, "0", 110.0) + tube + opening + more),
    ))
}

/// Its slides, as they are told.
fn ways(pattern: &Pattern) -> Vec<String> {
    let slides = pattern.hold.slides.iter();
    slides.map(|way| way.told(pattern.orientation)).collect()
}

/// What falls away along a line, and a box round the tube.
fn trimmed(points: &str) -> String {
    format!(
        "[[trim]]\nname = \"channel\"\npoints = [{points}]\nfalls_away = \"rear\"\n\
         [[opening]]\nname = \"round it\"\naround = [\"tube\"]\n"
    )
}

/// A channel that runs in aslant, to the front by 2 for each 1 to the vehicle's right: the tape counts
/// from the left end.
const ASLANT: &str = "[150, 0], [210, 120], [250, 120], [190, 0]";

#[test]
fn the_panel_slides_along_a_channel_that_runs_in_aslant() {
    let pattern = with_tube(&trimmed(ASLANT), "");
    let [slide] = pattern.hold.slides.as_slice() else {
        panic!("{:?}", pattern.hold.slides);
    };
    // The panel leaves up the channel's own way and not straight to the front. From below the reader's
    // right is the vehicle's left.
    assert!(slide.contains(2.0_f64.atan2(-1.0)), "{slide:?}");
    assert!(!slide.contains(std::f64::consts::FRAC_PI_2), "{slide:?}");
    let told = ways(&pattern);
    assert!(
        told[0].contains(" degrees from the front to the right, 3 degrees either way"),
        "{told:?}"
    );
}

/// An outline as `geo` has it, within 0.02 mm.
fn coarse(outline: &Outline) -> Polygon {
    polygon(outline).simplify(0.02)
}

/// The panel is moved by small steps each way, and `geo` tells whether it meets the part.
#[test]
fn every_way_out_is_the_one_that_stepping_finds() {
    let wide = "[0, 90], [230, 90], [230, 0]";
    for opening in [
        notch(50.0, 90.0),
        notch(120.0, 90.0),
        trimmed(ASLANT),
        trimmed(wide),
    ] {
        let pattern = with_tube(&opening, "");
        let part = coarse(&pattern.parts[0].outline);
        let mut left = MultiPolygon::from(coarse(&pattern.panel.outline));
        for opening in &pattern.openings {
            left = left.difference(&coarse(&opening.outline));
        }
        let (mut free, mut shut) = (0, 0);
        for degrees in (0..360).step_by(2) {
            let way = f64::from(degrees).to_radians();
            let has = |off: f64| {
                let way = way + off.to_radians();
                pattern.hold.slides.iter().any(|slide| slide.contains(way))
            };
            // Within half a degree of a limit the 0.1 mm of play may count.
            if has(-0.5) != has(0.5) {
                continue;
            }
            let meets = (0..140).any(|step| {
                let far = 4.0 * f64::from(step);
                left.translate(far * way.cos(), far * way.sin())
                    .intersects(&part)
            });
            assert_eq!(meets, !has(0.0), "{degrees} {opening}");
            *if meets { &mut shut } else { &mut free } += 1;
        }
        assert!(free > 1 && shut > 1, "{free} {shut} {opening}");
    }
}

#[test]
fn a_fixed_hole_that_is_broken_open_holds_no_more() {
    let stud = |across: f64| {
        format!(
            "[[locator]]\nname = \"stud\"\nacross = {across}\nfrom_datum = 60\n\
             diameter = 8\nfixed = true\n"
        )
    };
    // The notch ends 25 mm from the middle: a hole of 8 is broken open from 29 mm on.
    let broken = with_tube(&notch(50.0, 90.0), &stud(200.0 + 28.0));
    assert_eq!(broken.hold.left_out, ["stud"]);
    assert!(broken.hold.held_by.is_empty() && broken.hold.slides.len() == 1);
    let whole = with_tube(&notch(50.0, 90.0), &stud(200.0 + 45.0));
    assert_eq!(whole.hold.held_by, ["stud"]);
    assert!(whole.hold.left_out.is_empty() && whole.hold.slides.is_empty());
}

#[test]
fn an_open_mouth_lets_the_panel_slide_away_from_it_unless_something_is_fixed() {
    let open = notch(50.0, 90.0);
    // The tube leaves by the mouth at the rear: the panel goes to the front.
    // From a corner of the mouth, 25 aside and 60 below the tube's middle, past its 15:
    // atan(25 / 60) less asin(15 / 65) is 9.3.
    assert_eq!(
        ways(&with_tube(&open, "")),
        ["to the front, 9 degrees either way"]
    );
    let window = "[[opening]]\nname = \"window\"\nshape = \"window\"\n\
                  with = { width = 50, height = 50, corner_radius = 5 }\ncentre_offset = 0\n\
                  from_datum = 60\n";
    assert!(with_tube(window, "").hold.slides.is_empty());
    let stud = |across: f64, from_datum: f64| {
        format!(
            "[[locator]]\nname = \"stud\"\nacross = {across}\nfrom_datum = {from_datum}\n\
             diameter = 8\nfixed = true\n"
        )
    };
    let held = with_tube(&open, &stud(60.0, 60.0));
    assert_eq!(
        (held.hold.slides.len(), held.hold.held_by.as_slice()),
        (0, ["stud".to_owned()].as_slice())
    );
    let lost = with_tube(&open, &stud(200.0, 40.0));
    assert_eq!(lost.hold.left_out, ["stud"]);
    assert_eq!(lost.hold.slides.len(), 1);
    let tables = foot(120.0, 60.0, "0", 110.0)
        + "[[part]]\nname = \"tube\"\nsocket = 30\ncentre_offset = 0\nfrom_datum = 60\n"
        + &open;
    let words = format!("{:?}", drawn(&panel(&tables)));
    let closed = tables.replace(&open, &format!("{window}[clearance]\ngap = 5\n"));
    let closed_words = format!("{:?}", drawn(&panel(&closed)));
    let told = "Parts stand in every straight way that it could slide out.";
    assert!(closed_words.contains(told), "{told}");
    for told in [
        "Straight ways alone were sought",
        "presses here: plate",
        "Nothing but the clamping keeps the panel from sliding to the front, ",
        "What holds the panel",
        "Clamps the panel",
        "the accessory presses the panel here",
    ] {
        assert!(words.contains(told), "{told}");
    }
}

#[test]
fn random_feet_press_what_the_library_says() {
    let case = (
        20.0..160.0_f64,
        20.0..120.0_f64,
        -150.0..150.0_f64,
        0.0..280.0_f64,
        20.0..120.0_f64,
        40.0..200.0_f64,
    );
    hold(
        500,
        0.99,
        case,
        |(width, height, offset, depth, across, deep)| {
            let side = if offset < 0.0 { "right" } else { "left" };
            let place = format!("\"{:.3} mm {side}\"", offset.abs());
            let window = "[[opening]]\nname = \"far\"\nshape = \"window\"\n\
                      with = { width = 40, height = 30, corner_radius = 4 }\n\
                      centre_offset = \"130 mm left\"\nfrom_datum = 220\n";
            let tables = foot(width, height, &place, depth) + &notch(across, deep) + window;
            let pattern = solved(&panel(&tables));
            let mut left = MultiPolygon::from(polygon(&pattern.panel.outline));
            for opening in &pattern.openings {
                left = left.difference(&polygon(&opening.outline));
            }
            let should = left
                .intersection(&polygon(&pattern.feet[0].outline))
                .unsigned_area();
            let is = pattern.feet[0].clamped;
            prop_assert!((is - should).abs() < 0.05, "{is} {should} {tables}");
            Ok(Came::Through)
        },
    );
}

#[test]
fn the_narrowest_land_between_random_holes_is_that_of_circles() {
    // Discs that lie within a foot of 200 x 120 and apart: from each to the foot's edges, and between
    // each two, closed forms. The least of all has nothing in its way.
    let disc = (110.0..290.0_f64, 100.0..200.0_f64, 5.0..25.0_f64);
    hold(300, 0.3, prop::collection::vec(disc, 1..5), |discs| {
        let mut least = f64::INFINITY;
        for (place, (x, y, radius)) in discs.iter().enumerate() {
            for edge in [x - 100.0, 300.0 - x, y - 90.0, 210.0 - y] {
                least = least.min(edge - radius);
            }
            for (ox, oy, other) in &discs[place + 1..] {
                least = least.min((x - ox).hypot(y - oy) - radius - other);
            }
        }
        if least < 0.5 {
            return Ok(Came::Refused);
        }
        let holes: String = (discs.iter().enumerate())
            .map(|(place, (x, y, radius))| {
                let offset = x - 200.0;
                let side = if offset < 0.0 { "right" } else { "left" };
                format!(
                    "[[opening]]\nname = \"hole {place}\"\nshape = \"round-hole\"\n\
                     with = {{ diameter = {} }}\ncentre_offset = \"{} mm {side}\"\nfrom_datum = {y}\n",
                    2.0 * radius,
                    offset.abs(),
                )
            })
            .collect();
        let pattern = solved(&panel(&(foot(200.0, 120.0, "0", 150.0) + &holes)));
        let land = pattern.feet[0].land.width().expect("there is land");
        prop_assert!((land - least).abs() < 1e-4, "{land} {least} {discs:?}");
        Ok(Came::Through)
    });
}
