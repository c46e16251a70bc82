//! Rough cuts: inside the line by what the cut may be off by, past the part, open at the mouth.

use super::{differing, found, panel, polygon};
use crate::common::{assert_close, drawn, produced, solved};
use geo::{Area, Buffer, MultiPolygon};
use std::f64::consts::PI;
use trimloft::geometry::outline::Outline;
use trimloft::solve::Pattern;

const ALLOWED: &str = "[clearance]\ngap = 6\nposition = 2\nmarking = 0.5\ncutting = 1.5\n\
                       print = 0\ncentre = 0\ncombine = \"worst-case\"\n";

/// The chance terms of `ALLOWED` put together, mm.
const MOVEMENT: f64 = 4.0;

fn notch(width: f64, clearance: &str) -> String {
    format!(
        "{clearance}[[opening]]\nname = \"neck\"\nshape = \"notch\"\n\
         with = {{ width = {width}, depth = 85, corner_radius = 12 }}\ncentre_offset = 0\n\
         from_datum = 0\nrough_cut = true\n"
    )
}

fn rough_area(pattern: &Pattern) -> f64 {
    let rough = pattern.openings.iter().flat_map(|opening| &opening.rough);
    let rough = rough.flat_map(|own| &own.lines);
    rough.map(|line| line.area()).sum()
}

fn lines(pattern: &Pattern) -> &[Outline] {
    let rough = pattern.openings[0].rough.as_ref();
    rough.map_or(&[], |own| &own.lines)
}

#[test]
fn a_mouth_stays_open_and_the_rest_is_inside_by_the_movement() {
    let pattern = solved(&panel(&notch(80.0, ALLOWED)));
    let (width, depth, radius) = (80.0 - 2.0 * MOVEMENT, 85.0 - MOVEMENT, 12.0 - MOVEMENT);
    let should = width * depth - 2.0 * (1.0 - PI / 4.0) * radius * radius;
    assert_close(rough_area(&pattern), should, 1e-6, "notch");
    let [line] = lines(&pattern) else {
        panic!("one line");
    };
    let cut = width + 2.0 * depth - 4.0 * radius + PI * radius;
    assert_close(line.cut_length(), cut, 1e-6, "its length");
    let record = format!("{:?}", drawn(&panel(&notch(80.0, ALLOWED))).record);
    let told = "neck: the rough cut lies 4 mm inside the line.";
    assert!(record.contains(told), "{record}");
    let words = format!("{:?}", produced(&panel(&notch(80.0, ALLOWED))).pages.len());
    assert!(words.parse::<usize>().unwrap() >= 2);
}

#[test]
fn a_closed_opening_shrinks_as_the_library_has_it_and_its_part_passes() {
    let tables = format!(
        "{ALLOWED}[[part]]\nname = \"tube\"\nsocket = 60\ncentre_offset = 0\nfrom_datum = 120\n\
         [[opening]]\nname = \"hole\"\naround = [\"tube\"]\nfollow = \"contour\"\nrough_cut = true\n"
    );
    let pattern = solved(&panel(&tables));
    let opening = &pattern.openings[0];
    let line = &opening.rough.as_ref().unwrap().lines[0];
    assert_close(line.area(), PI * 36.0 * 36.0, 1e-6, "30 + 6 + 4 less 4");
    let buffered: MultiPolygon = polygon(&opening.outline).buffer(-MOVEMENT);
    let is = MultiPolygon::from(polygon(line));
    assert!(differing(&buffered, &is) < 0.002 * is.unsigned_area());
}

#[test]
fn where_there_is_no_room_it_says_so() {
    let told = found(&solved(&panel(
        &notch(7.0, ALLOWED).replace("radius = 12", "radius = 2"),
    )));
    let words = "opening `neck` has no room for a rough cut 4 mm inside its line";
    assert!(told.iter().any(|told| told.contains(words)), "{told:?}");
    // Nothing may be off: nothing is left to be wrong by.
    let exact = ALLOWED
        .replace("= 2\n", "= 0\n")
        .replace("0.5", "0")
        .replace("1.5", "0");
    let pattern = solved(&panel(&notch(80.0, &exact)));
    assert!(pattern.openings[0].rough.is_none());
    // A part that is told keeps its way through: 40 in a notch of 80 less twice 39.5.
    let tight = notch(80.0, ALLOWED)
        + "[[part]]\nname = \"neck tube\"\nshape = \"window\"\nwith = { width = 75, height = 40 }\n\
           centre_offset = 0\nfrom_datum = 30\n";
    let pattern = solved(&panel(&tight));
    let line = &lines(&pattern)[0];
    assert_close(
        line.bounds().width(),
        80.0 - 2.0 * 2.0,
        1e-6,
        "2.5 mm of room, less 0.5",
    );
}
