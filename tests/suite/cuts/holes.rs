//! Holes that the panel has already: taken in, or kept away from.

use super::{differing, found, panel, polygon, refused};
use crate::common::random::{Came, hold};
use crate::common::{assert_close, drawn, produced, shipped, solved};
use geo::{BooleanOps, Coord, LineString, MultiPolygon, Polygon};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};
use trimloft::geometry::outline::Side;
use trimloft::input::{PatternSpec, Source};
use trimloft::solve::{Pattern, solve};

/// A window of 80 x 60 mm, its middle at 200 across and 150 mm in, beside a hole.
fn beside(across: f64, from_datum: f64, diameter: f64, take_in: &str) -> String {
    format!(
        "[[hole]]\nname = \"old hole\"\nacross = {across}\nfrom_datum = {from_datum}\n\
         diameter = {diameter}\n[[opening]]\nname = \"socket\"\nshape = \"window\"\n\
         with = {{ width = 80, height = 60, corner_radius = 10 }}\ncentre_offset = 0\n\
         from_datum = 150\n{take_in}"
    )
}

const TAKEN: &str = "take_in = [\"old hole\"]\n";

/// Area of the window: a rectangle less what its four round corners leave out.
const WINDOW: f64 = 80.0 * 60.0 - (4.0 - PI) * 100.0;

fn opened(across: f64, from_datum: f64, diameter: f64) -> Pattern {
    solved(&panel(&beside(across, from_datum, diameter, TAKEN)))
}

#[test]
fn the_wall_to_a_hole_goes_and_its_rim_is_no_cut() {
    // From 200 + 40 to the hole's middle are 9 mm: a strip of 9 x 12, and half a disc past it.
    let pattern = opened(249.0, 150.0, 12.0);
    let [opening] = pattern.openings.as_slice() else {
        panic!("one opening: {:?}", pattern.openings);
    };
    let outline = &opening.outline;
    assert_close(
        outline.area(),
        WINDOW + 9.0 * 12.0 + 18.0 * PI,
        1e-6,
        "area",
    );
    let window = 2.0 * (80.0 + 60.0) - (8.0 - TAU) * 10.0;
    assert_close(outline.cut_length(), window - 12.0 + 2.0 * 9.0, 1e-6, "cut");
    assert_close(
        outline.length() - outline.cut_length(),
        6.0 * PI,
        1e-6,
        "rim",
    );
    assert!(!found(&pattern).iter().any(|told| told.contains("ligament")));
    // The window's own size stands on the sheet, not that of both.
    assert_close(opening.bounds().width(), 80.0, 1e-9, "width");
    assert_close(opening.depth(&pattern.panel.edge), 60.0, 1e-9, "depth");
    let record = format!(
        "{:?}",
        drawn(&panel(&beside(249.0, 150.0, 12.0, TAKEN))).record
    );
    assert!(record.contains("socket takes in old hole:"), "{record}");
    // A blade comes in by the hole.
    let words = format!(
        "{:?}",
        produced(&panel(&beside(249.0, 150.0, 12.0, TAKEN))).pages
    );
    assert!(
        !words.contains("For the blade"),
        "a blade comes in by the hole"
    );
}

#[test]
fn what_stays_between_the_rim_and_another_cut_is_told_whichever_comes_first() {
    // The rim ends at 255; a window of 40 beside it begins at 258.
    let other = "[[opening]]\nname = \"lamp\"\nshape = \"window\"\n\
                 with = { width = 40, height = 40, corner_radius = 5 }\n\
                 centre_offset = \"78 mm right\"\nfrom_datum = 150\n";
    let taken = beside(249.0, 150.0, 12.0, TAKEN);
    for tables in [format!("{taken}{other}"), format!("{other}{taken}")] {
        let told = found(&solved(&panel(&tables)));
        let stays = told.iter().find(|told| told.starts_with("ligament"));
        let stays = stays.expect("3 mm stay");
        assert!(stays.contains(": 3 mm stay between"), "{stays}");
    }
}

#[test]
fn a_hole_that_is_not_taken_in_is_kept_away_from() {
    let near = solved(&panel(&beside(249.0, 150.0, 12.0, "")));
    let told = found(&near);
    let ligament = told.iter().find(|told| told.starts_with("ligament"));
    let ligament = ligament.expect("3 mm stay");
    assert!(
        ligament.contains("3 mm stay between opening `socket` and `old hole`"),
        "{ligament}"
    );
    let hint = near.findings.iter().map(|finding| finding.hint.as_str());
    assert!(
        hint.into_iter()
            .any(|hint| hint.contains("take_in = [\"old hole\"]"))
    );
    let within = solved(&panel(&beside(243.0, 150.0, 12.0, "")));
    let told = found(&within);
    let runs = "opening `socket` runs into hole `old hole`";
    assert!(told.iter().any(|told| told.contains(runs)), "{told:?}");
    let far = solved(&panel(&beside(290.0, 150.0, 12.0, "")));
    assert!(!found(&far).iter().any(|told| told.contains("ligament")));
}

#[test]
fn no_relief_hole_is_drilled_where_the_old_hole_rounds_the_corner() {
    // The upper right corner's arc has its middle at 230 across, 170 mm in.
    let open = opened(230.0, 170.0, 26.0);
    assert_eq!(open.openings[0].relief.len(), 3);
    let clear = opened(249.0, 150.0, 12.0);
    assert_eq!(clear.openings[0].relief.len(), 4);
}

#[test]
fn locators_that_are_holes_are_taken_in_too() {
    let tables = beside(249.0, 150.0, 12.0, TAKEN).replace("[[hole]]", "[[locator]]");
    let pattern = solved(&panel(&tables));
    assert_close(
        pattern.openings[0].outline.area(),
        WINDOW + 108.0 + 18.0 * PI,
        1e-6,
        "area",
    );
    // Worked-out openings take holes in as well.
    let part = "[[hole]]\nname = \"old hole\"\nacross = 230\nfrom_datum = 150\ndiameter = 12\n\
                [clearance]\ngap = 5\nposition = 0\nmarking = 0\ncutting = 0\nprint = 0\n\
                [[part]]\nname = \"tube\"\nsocket = 40\ncentre_offset = 0\nfrom_datum = 150\n\
                [[opening]]\nname = \"tube hole\"\naround = [\"tube\"]\nfollow = \"contour\"\n\
                take_in = [\"old hole\"]\n";
    let pattern = solved(&panel(part));
    let outline = &pattern.openings[0].outline;
    assert!(outline.area() > 625.0 * PI + 100.0, "{}", outline.area());
    assert!(outline.contains((200.0 - 235.5, 150.0).into()));
}

#[test]
fn what_cannot_be_taken_in_is_told_at_its_name() {
    let far = refused(&beside(270.0, 150.0, 12.0, TAKEN));
    let words =
        "hole `old hole` lies 24 mm from the opening: only one nearer than 10 mm is taken in";
    assert!(far.contains(words), "{far}");
    let unknown = refused(&beside(249.0, 150.0, 12.0, "take_in = [\"old hold\"]\n"));
    assert!(
        unknown.contains("hole `old hold` is not known"),
        "{unknown}"
    );
    assert!(unknown.contains("did you mean `old hole`?"), "{unknown}");
    let off = refused(&beside(420.0, 150.0, 12.0, ""));
    assert!(
        off.contains("hole `old hole` lies 420 mm across, off the panel"),
        "{off}"
    );
}

/// The union with a hole is that of `geo`, where the two meet, and never cuts the hole's rim; where
/// they do not, all that stays between them goes.
#[test]
fn openings_with_holes_are_as_the_library_unites_them() {
    let case = (225.0..262.0_f64, 115.0..195.0_f64, 4.0..30.0_f64);
    hold(500, 0.75, case, |(across, from_datum, diameter)| {
        let toml = panel(&beside(across, from_datum, diameter, TAKEN));
        let spec = PatternSpec::read(&Source::new("random.toml", toml.clone()))
            .map_err(|report| TestCaseError::fail(report.to_string()))?;
        let pattern = match solve(&spec, &shipped()) {
            Ok(pattern) => pattern,
            Err(problems) => {
                let far = |text: &str| text.contains("from the opening: only one nearer");
                prop_assert!(
                    problems.iter().all(|one| far(&one.message)),
                    "{problems:?}\n{toml}"
                );
                return Ok(Came::Refused);
            }
        };
        let [opening] = pattern.openings.as_slice() else {
            return Err(TestCaseError::fail(format!("one opening\n{toml}")));
        };
        let alone = solved(&toml.replace(TAKEN, ""));
        // The tape counts from the left end, which lies to the right of a reader below.
        let (x, y, radius) = (200.0 - across, from_datum, diameter / 2.0);
        let disc = (0..4000).map(|step| {
            let turn = TAU * f64::from(step) / 4000.0;
            Coord {
                x: x + radius * turn.cos(),
                y: y + radius * turn.sin(),
            }
        });
        let disc = Polygon::new(LineString::new(disc.collect()), vec![]);
        let window = polygon(&alone.openings[0].outline);
        let apart = geo::Distance::distance(&geo::Euclidean, &window, &disc);
        let united = polygon(&opening.outline);
        let both = window.union(&disc);
        if apart == 0.0 && geo::Area::unsigned_area(&window.intersection(&disc)) > radius {
            prop_assert!(differing(&united.into(), &both) < 0.02, "{toml}");
        } else {
            let lost = both.difference(&MultiPolygon::from(united));
            prop_assert!(geo::Area::unsigned_area(&lost) < 0.02, "{toml}");
        }
        for side in opening
            .outline
            .sides()
            .filter(|side| side.side == Side::Cut)
        {
            let middle = side.at(0.5);
            let from_rim = ((middle.x - x).hypot(middle.y - y) - radius).abs();
            prop_assert!(from_rim > 1e-4 || !side.is_arc(), "{toml}");
        }
        Ok(Came::Through)
    });
}
