//! What stays of the panel: each finding, and what may be accepted.

use super::{only_gap, panel, window};
use crate::common::{assert_close, shipped, solved};
use trimloft::input::{PatternSpec, Source};
use trimloft::jobs::produce::{Formats, produce};
use trimloft::layout::{Paper, Setup};
use trimloft::solve::{Finding, Severity, solve};

fn opening(name: &str, shape: &str, with: &str, offset: &str, from_datum: f64) -> String {
    format!(
        "[[opening]]\nname = \"{name}\"\nshape = \"{shape}\"\nwith = {{ {with} }}\n\
         centre_offset = {offset}\nfrom_datum = {from_datum}\n"
    )
}

pub(crate) fn hole(name: &str, diameter: f64, offset: &str, from_datum: f64) -> String {
    opening(
        name,
        "round-hole",
        &format!("diameter = {diameter}"),
        offset,
        from_datum,
    )
}

pub(crate) fn locator(name: &str, across: f64, from_datum: f64, diameter: f64) -> String {
    format!(
        "[[locator]]\nname = \"{name}\"\nacross = {across}\nfrom_datum = {from_datum}\n\
         diameter = {diameter}\n"
    )
}

pub(crate) fn accepted(finding: &str, value: &str) -> String {
    format!(
        "[[accepted]]\nfinding = \"{finding}\"\nvalue = {value}\nby = \"bay lead\"\n\
         because = \"a strap carries it\"\n"
    )
}

fn found(toml: &str, name: &str) -> Finding {
    let pattern = solved(toml);
    let names: Vec<_> = pattern
        .findings
        .iter()
        .map(|finding| finding.id.to_string())
        .collect();
    let mut findings = pattern.findings.into_iter();
    findings
        .find(|finding| finding.id.as_str() == name)
        .unwrap_or_else(|| panic!("{names:?}"))
}

pub(crate) fn is_drawn(toml: &str) -> bool {
    let spec = PatternSpec::read(&Source::new("p.toml", toml)).unwrap();
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let formats = Formats {
        pdf: false,
        svg: true,
        view: false,
        closed: false,
    };
    produce(&spec, &shipped(), &setup, formats).is_ok()
}

/// An error with its value, that stops until it is accepted, and again when it worsens.
#[track_caller]
fn stops_until_accepted(toml: &str, name: &str, value: f64, worse: f64) {
    let finding = found(toml, name);
    assert_eq!(finding.severity, Severity::Error);
    assert!(finding.acceptable && finding.at.is_some() && finding.whereabouts.is_some());
    assert_close(finding.measure.unwrap().value(), value, 1e-6, name);
    assert!(!is_drawn(toml), "drawn though not accepted");
    let with = |value: f64| format!("{toml}{}", accepted(name, &format!("{value:.4}")));
    let accepted = found(&with(value), name);
    assert_eq!(
        accepted.accepted.as_ref().map(|by| by.by.as_str()),
        Some("bay lead")
    );
    assert!(is_drawn(&with(value)), "accepted and not drawn");
    let void = found(&with(worse), name);
    assert!(
        void.stops() && void.message.contains("has worsened since"),
        "{void:?}"
    );
    assert!(!is_drawn(&with(worse)), "drawn though worse than accepted");
}

#[test]
fn a_ligament_to_an_edge() {
    // 8 mm between the hole's rim and the datum edge; the rule asks for 10 (a design value).
    let toml = panel(&hole("vent", 40.0, "0", 28.0));
    stops_until_accepted(&toml, "ligament: vent, rear edge", 8.0, 9.0);
    assert!(
        !solved(&panel(&hole("vent", 40.0, "0", 30.5)))
            .findings
            .iter()
            .any(Finding::stops)
    );
}

#[test]
fn a_ligament_in_a_thick_panel_is_four_thicknesses() {
    let toml = panel(&hole("vent", 40.0, "0", 33.0));
    let thick = |mm: f64| toml.replace("[panel]\n", &format!("[panel]\nthickness = {mm}\n"));
    // 13 mm stay: enough for 3 mm, not for 3.5.
    assert!(!solved(&thick(3.0)).findings.iter().any(Finding::stops));
    stops_until_accepted(&thick(3.5), "ligament: vent, rear edge", 13.0, 13.5);
}

#[test]
fn a_ligament_to_a_hole_of_the_panel_and_to_another_opening() {
    let tables = hole("vent", 40.0, "0", 100.0) + &locator("clip", 528.0, 100.0, 8.0);
    stops_until_accepted(&panel(&tables), "ligament: vent, hole clip", 4.0, 5.0);
    let tables = hole("vent", 40.0, "0", 100.0) + &hole("drain", 20.0, "\"36 mm left\"", 100.0);
    stops_until_accepted(&panel(&tables), "ligament: vent, opening drain", 6.0, 7.0);
}

#[test]
fn a_hole_in_sheet_metal_keeps_two_diameters() {
    // Fastener holes in aluminium sheet: middle to edge at least two diameters (FAA AC 43.13-1B
    // ch. 4, read second-hand). Diameter 10: 20 mm from its middle, 15 from its rim.
    let tables =
        |across: f64| hole("vent", 40.0, "0", 100.0) + &locator("stud", across, 100.0, 10.0);
    let metal = |toml: String| toml.replace("[panel]\n", "[panel]\nmaterial = \"aluminium\"\n");
    stops_until_accepted(
        &metal(panel(&tables(539.0))),
        "ligament: vent, hole stud",
        14.0,
        15.0,
    );
    assert!(
        !solved(&metal(panel(&tables(540.5))))
            .findings
            .iter()
            .any(Finding::stops)
    );
    assert!(
        !solved(&panel(&tables(539.0)))
            .findings
            .iter()
            .any(Finding::stops)
    );
}

#[test]
fn the_share_of_the_width_that_is_cut() {
    let tables = opening(
        "long",
        "window",
        "width = 600, height = 60, corner_radius = 15",
        "0",
        150.0,
    ) + &hole("under it", 50.0, "0", 300.0);
    let toml = panel(&tables);
    let finding = found(&toml, "share of the width");
    assert_close(finding.measure.unwrap().value(), 0.6, 1e-9, "share");
    assert!(finding.stops() && !is_drawn(&toml));
    assert!(is_drawn(
        &(toml.clone() + &accepted("share of the width", "\"60 %\""))
    ));
    assert!(!is_drawn(
        &(toml + &accepted("share of the width", "\"55 %\""))
    ));
}

#[test]
fn a_fixed_point_cut_off_and_a_locator_in_the_waste() {
    let pair = "[centreline]\n[[centreline.pair]]\nname = \"clips\"\nleft = 480\nright = 520\n\
                from_datum = 100\nfixed = true\n";
    let toml = panel(&(pair.to_owned() + &hole("vent", 80.0, "0", 100.0)));
    let finding = found(&toml, "fixed point: 'clips, left'");
    assert!(finding.stops() && !is_drawn(&toml));
    let toml = toml.replace("fixed = true\n", "");
    assert_eq!(
        found(&toml, "locator: 'clips, left'").severity,
        Severity::Warning
    );
    assert!(is_drawn(&toml));
}

fn keep_out(guards: &str) -> String {
    format!(
        "[[keep_out]]\nname = \"area\"\nguards = \"{guards}\"\nshape = \"round-hole\"\n\
         with = {{ diameter = 40 }}\ncentre_offset = \"100 mm left\"\nfrom_datum = 100\ndistance = 20\n"
    )
}

#[test]
fn a_keep_out_area_nearer_than_its_distance() {
    // Rims of two circles of 40 mm, 55 mm apart: 15 mm, where 20 are asked for.
    for guards in ["sensor", "wiring", "exhaust"] {
        let tables = hole("vent", 40.0, "\"45 mm left\"", 100.0) + &keep_out(guards);
        stops_until_accepted(&panel(&tables), "keep-out: area, vent", 15.0, 16.0);
    }
}

#[test]
fn a_keep_out_area_without_a_distance_gets_that_of_what_it_guards() {
    let mut distances = vec![];
    for (guards, distance) in [("wiring", 20.0), ("sensor", 30.0), ("exhaust", 50.0)] {
        let area = keep_out(guards).replace("distance = 20\n", "");
        // Rims of two circles of 40 mm, 1 mm nearer than that, then 1 mm farther.
        let vent = |gap: f64| hole("vent", 40.0, &format!("\"{} mm left\"", 60.0 - gap), 100.0);
        let near = panel(&(vent(distance - 1.0) + &area));
        let finding = found(&near, "keep-out: area, vent");
        let words = format!("{distance} mm, not given: design value");
        assert!(finding.message.contains(&words), "{}", finding.message);
        assert!(!is_drawn(&near));
        assert!(
            is_drawn(&panel(&(vent(distance + 1.0) + &area))),
            "{guards}"
        );
        distances.push(distance);
        // A given 0 is 0.
        let given = keep_out(guards).replace("distance = 20", "distance = 0");
        assert!(is_drawn(&panel(&(vent(1.0) + &given))), "{guards}");
    }
    assert_eq!(
        distances.iter().copied().fold(0.0, f64::max),
        50.0,
        "exhaust"
    );
}

#[test]
fn a_sensors_area_is_never_crossed() {
    for (guards, drawn) in [("sensor", false), ("wiring", true), ("exhaust", true)] {
        let tables = hole("vent", 40.0, "\"65 mm left\"", 100.0) + &keep_out(guards);
        let toml = panel(&tables);
        assert!(!is_drawn(&toml));
        assert_eq!(
            is_drawn(&(toml + &accepted("keep-out: area, vent", "0"))),
            drawn,
            "{guards}"
        );
    }
}

#[test]
fn a_part_keeps_its_gap_in_an_opening_given_outright() {
    let square = |side: f64| {
        let with = format!("width = {side}, height = {side}, corner_radius = 4");
        window("neck", 60.0, 60.0, "0", 150.0)
            + &only_gap(6.0)
            + &opening("square", "window", &with, "0", 150.0)
    };
    assert!(is_drawn(&panel(&square(72.0))));
    stops_until_accepted(&panel(&square(70.0)), "part: neck, square", 5.0, 5.5);
    let touching = panel(&square(58.0));
    let finding = found(&touching, "part: neck, square");
    assert!(
        !finding.acceptable && finding.message.contains("touches"),
        "{finding:?}"
    );
    assert!(!is_drawn(
        &(touching + &accepted("part: neck, square", "0"))
    ));
}

#[test]
fn two_pieces_and_a_loose_island_are_refused_whatever_is_accepted() {
    for (tables, words) in [
        (
            opening(
                "slit",
                "window",
                "width = 40, height = 420, corner_radius = 4",
                "0",
                200.0,
            ),
            "in 2 pieces",
        ),
        (
            opening(
                "a",
                "window",
                "width = 200, height = 30, corner_radius = 4",
                "0",
                100.0,
            ) + &opening(
                "b",
                "window",
                "width = 200, height = 30, corner_radius = 4",
                "0",
                200.0,
            ) + &opening(
                "c",
                "window",
                "width = 30, height = 130, corner_radius = 4",
                "\"85 mm left\"",
                150.0,
            ) + &opening(
                "d",
                "window",
                "width = 30, height = 130, corner_radius = 4",
                "\"85 mm right\"",
                150.0,
            ),
            "loose island",
        ),
    ] {
        let toml = panel(&tables) + &accepted("panel in two pieces", "0");
        let spec = PatternSpec::read(&Source::new("p.toml", toml)).unwrap();
        let problems = solve(&spec, &shipped()).unwrap_err();
        assert!(problems[0].message.contains(words), "{problems:?}");
    }
}

#[test]
fn a_heat_shield_is_cut_no_more_than_its_parts_ask_for() {
    let tables = "[[part]]\nname = \"socket\"\nsocket = 24\ncentre_offset = 0\nfrom_datum = 100\n"
        .to_owned()
        + &only_gap(4.0)
        + &super::around("hole", "\"socket\"", "follow = \"box\"");
    let metal = panel(&tables).replace("[panel]\n", "[panel]\nmaterial = \"aluminium\"\n");
    // A circle of 32 mm is asked for; the box round it has corners of at most 16 mm, and no tool
    // of the list is nearer to that than 31.8 mm, so both are nearly one: nothing to say.
    assert!(
        !solved(&metal)
            .findings
            .iter()
            .any(|finding| finding.id.as_str().starts_with("larger"))
    );
    // With corners of 3 mm the box holds 32^2 - (4 - pi) 3^2 = 1016 mm² where 804 are asked for.
    let sharp = metal.replace("follow = \"box\"", "follow = \"box\"\ncorner_radius = 3");
    let finding = found(&sharp, "larger than asked: hole");
    let pi = std::f64::consts::PI;
    let share = (1024.0 - (4.0 - pi) * 9.0) / (pi * 256.0) - 1.0;
    assert_close(finding.measure.unwrap().value(), share, 1e-6, "share");
    assert!(
        !solved(&sharp.replace("aluminium", "pp"))
            .findings
            .iter()
            .any(|one| one.id.as_str().starts_with("larger"))
    );
}

#[test]
fn a_centre_known_less_well_than_the_gap_is_told() {
    let tables = |reading: f64| {
        format!(
            "[centreline]\nreading = {reading}\n[[centreline.pair]]\nname = \"clips\"\nleft = 100\n\
             right = 900\nfrom_datum = 100\n{}[clearance]\ngap = 4\n{}",
            window("neck", 60.0, 60.0, "0", 120.0),
            super::around("hole", "\"neck\"", "follow = \"box\"")
        )
    };
    let finding = found(&panel(&tables(6.0)), "centre: hole");
    assert_eq!(finding.severity, Severity::Warning);
    assert!(
        finding.message.contains("a gap of 4 mm was asked for"),
        "{}",
        finding.message
    );
    let sure = solved(&panel(&tables(0.5)));
    assert!(
        !sure
            .findings
            .iter()
            .any(|one| one.id.as_str() == "centre: hole")
    );
}

#[test]
fn each_piece_of_an_opening_is_held_against_what_is_asked_there() {
    // The bow of the edge, 20 mm in at the middle, parts a low window of 800 x 10 mm in two, which
    // lies from 9 to 19 mm. The left piece is far larger than its bolt asks for, alone.
    let bolts = |sides: &[&str]| -> String {
        let one = |side: &&str| {
            format!(
                "[[part]]\nname = \"{side} bolt\"\nshape = \"round-hole\"\nwith = {{ diameter = 6 }}\n\
                 centre_offset = \"300 mm {side}\"\nfrom_datum = 1\n"
            )
        };
        sides.iter().map(one).collect()
    };
    let shares = |sides: &[&str]| -> Vec<f64> {
        let toml = panel(
            &(bolts(sides)
                + &only_gap(1.0)
                + "[[opening]]\nname = \"low\"\nshape = \"window\"\n\
                   with = { width = 800, height = 10, corner_radius = 0 }\ncentre_offset = 0\n\
                   from_datum = -6\n"),
        );
        let toml = toml.replace(
            "[panel]\n",
            "[panel]\nmaterial = \"aluminium\"\nedge = [[0, 0], [500, -20], [1000, 0]]\n",
        );
        let pattern = solved(&toml);
        assert_eq!(pattern.openings.len(), 2, "{:?}", pattern.openings);
        let excess = pattern
            .findings
            .iter()
            .filter(|finding| finding.message.contains("larger than its"));
        let share = |finding: &trimloft::solve::Finding| match finding.measure {
            Some(trimloft::solve::Measure::Most(share)) => share,
            ref other => panic!("{other:?}"),
        };
        excess.map(share).collect()
    };
    let (one, both) = (shares(&["left"]), shares(&["left", "right"]));
    assert_eq!((one.len(), both.len()), (1, 2), "{one:?} {both:?}");
    assert!((one[0] - both[0]).abs() < 1e-9, "{one:?} {both:?}");
}
