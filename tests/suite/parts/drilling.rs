//! Holes at inner corners: whole tools, none in another.

use super::panel;
use crate::common::{drawn, solved};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use std::cell::Cell;
use trimloft::base::length::Units;
use trimloft::draw::ink::{Ink, Layer};
use trimloft::geometry::outline::Side;
use trimloft::model::hardware::{ToolKind, default_tools};
use trimloft::solve::{BETWEEN_HOLES, Opening};

fn opening(shape: &str, with: &str) -> String {
    panel(&format!(
        "[[opening]]\nname = \"cut\"\nshape = \"{shape}\"\nwith = {{ {with} }}\ncentre_offset = 0\n\
         from_datum = {}\n",
        if shape == "notch" { 0 } else { 200 }
    ))
}

/// Diameters of the tools, and how many corners each hole is for.
fn holes(toml: &str) -> Vec<(f64, usize)> {
    let opening = &solved(toml).openings[0];
    let told = |hole: &trimloft::solve::Relief| (hole.tool.diameter, hole.corners.len());
    opening.relief.iter().map(told).collect()
}

fn words(toml: &str) -> String {
    let drawing = drawn(toml);
    let steps = drawing.told();
    let labels = drawing.work.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) => Some(text.words.as_str()),
        _ => None,
    });
    steps.chain(labels).collect::<Vec<_>>().join("\n")
}

#[test]
fn two_holes_in_one_another_become_one() {
    // Middles 48 - 38.1 = 9.9 mm apart: what leaves metal between them is far too small for the corners.
    let toml = opening("notch", "width = 48, depth = 60, corner_radius = 19.05");
    assert_eq!(holes(&toml), [(38.1, 2)]);
    let middle = solved(&toml).openings[0].relief[0].at;
    assert!(
        middle.x.abs() < 1e-9 && (middle.y - 40.95).abs() < 1e-9,
        "{middle:?}"
    );
    let words = words(&toml);
    for told in [
        "1 × hole saw Ø38.1 between 2 corners, cut the rest",
        "2 × R19",
    ] {
        assert!(words.contains(told), "{told} is not in\n{words}");
    }
    let crosses = drawn(&toml);
    let crosses = crosses
        .work
        .iter()
        .filter(|mark| mark.layer == Layer::Relief);
    assert_eq!(crosses.count(), 2, "one circle and one cross");
}

#[test]
fn holes_of_which_each_has_a_pilot_but_none_has_its_rim_become_one() {
    // Two of 28.6 at 48 - 30 = 18 mm.
    let notch = opening("notch", "width = 48, depth = 60, corner_radius = 15");
    assert_eq!(holes(&notch), [(28.6, 2)]);
    // Four of 17.75 at 29.95 - 17.75 = 12.2 mm: a hole saw in the middle, of the 29.95 that have room.
    let square = opening(
        "window",
        "width = 29.95, height = 29.95, corner_radius = 8.875",
    );
    assert_eq!(holes(&square), [(28.6, 4)]);
    let words = words(&square);
    assert!(
        words.contains("1 × hole saw Ø28.6 between 4 corners, cut the rest"),
        "{words}"
    );
}

#[test]
fn two_holes_near_one_another_are_made_smaller() {
    // Middles 40.1 - 21 = 19.1 mm apart, of which 2 stay: 15.9 of the hole saws.
    let toml = opening("notch", "width = 40.1, depth = 70, corner_radius = 10.5");
    assert_eq!(holes(&toml), [(15.9, 1), (15.9, 1)]);
    assert!(
        words(&toml)
            .contains("2 × hole saw Ø15.9, the next hole is near: cut the rest to the line")
    );
    // With room for both nothing changes: 19.1 + 2 = 21.1 mm.
    let toml = opening("notch", "width = 42.1, depth = 70, corner_radius = 10.5");
    assert_eq!(holes(&toml), [(19.1, 1), (19.1, 1)]);
}

#[test]
fn corners_without_a_tool_are_sawn_and_get_no_cross() {
    let toml = opening("window", "width = 160, height = 150, corner_radius = 60");
    assert!(holes(&toml).is_empty());
    for material in ["pp", "aluminium"] {
        let words = words(&toml.replace(
            "[panel]\n",
            &format!("[panel]\nmaterial = \"{material}\"\n"),
        ));
        for told in [
            "no hole: along the line",
            "For the blade, drill a hole in the waste of cut.",
        ] {
            assert!(words.contains(told), "{told} is not in\n{words}");
        }
    }
    assert!(
        !drawn(&toml)
            .work
            .iter()
            .any(|mark| mark.layer == Layer::Relief)
    );
}

#[test]
fn sizes_told_are_tools_of_the_shop() {
    let toml = opening("window", "width = 120, height = 90, corner_radius = 17.65");
    let words = words(&toml);
    assert!(
        words.contains("4 × hole saw Ø34.9, file to the line"),
        "{words}"
    );
    assert!(!words.contains("Ø35.3"), "{words}");
}

#[test]
fn thin_sheet_metal_meets_no_hole_saw() {
    let toml = opening("window", "width = 160, height = 120, corner_radius = 15");
    let sheet = |keys: &str| {
        toml.replace(
            "[panel]\n",
            &format!("[panel]\nmaterial = \"aluminium\"\n{keys}"),
        )
    };
    for thin in ["thickness = 0.5\n", ""] {
        let told = words(&sheet(thin));
        assert!(told.contains("4 × step drill Ø30"), "{told}");
        assert!(
            told.contains("No hole saw: it snatches in thin sheet."),
            "{told}"
        );
    }
    // Nor a twist drill of more than 6 mm.
    let small = opening("window", "width = 160, height = 120, corner_radius = 5");
    let small = words(&small.replace("[panel]\n", "[panel]\nmaterial = \"aluminium\"\n"));
    assert!(small.contains("4 × step drill Ø10"), "{small}");
    let thick = words(&sheet("thickness = 1.5\n"));
    assert!(thick.contains("4 × hole saw Ø28.6"), "{thick}");
    // Where nobody told what the panel is, the step that names the saw says what else may be right.
    let may_be_thin = "Sheet metal under 1 mm: step drill, no hole saw.";
    for (panel, untold) in [
        ("", true),
        ("material = \"other\"\nexpansion = 12\n", false),
        ("thickness = 1.5\n", false),
        ("material = \"pp\"\n", false),
    ] {
        let told = words(&toml.replace("[panel]\n", &format!("[panel]\n{panel}")));
        assert_eq!(told.contains(may_be_thin), untold, "{panel}: {told}");
    }
    let drilled = words(&opening("round-hole", "diameter = 12"));
    assert!(!drilled.contains(may_be_thin), "{drilled}");
}

#[test]
fn a_round_hole_has_steps_of_its_own() {
    let round = |diameter: f64, panel: &str| {
        let toml = opening("round-hole", &format!("diameter = {diameter}"));
        words(&toml.replace("[panel]\n", &format!("[panel]\n{panel}")))
    };
    let (plastic, sheet) = ("material = \"pp\"\n", "material = \"aluminium\"\n");
    for (diameter, panel, told) in [
        (
            38.1,
            plastic,
            "cut is round: centre-mark its cross and use a hole saw Ø38.1, which makes the whole hole.",
        ),
        (
            14.0,
            plastic,
            "cut is round: centre-mark its cross and use a drill Ø13, then file to the line.",
        ),
        (
            20.0,
            sheet,
            "cut is round: centre-mark its cross and use a step drill Ø20, which makes the whole hole. \
             No hole saw",
        ),
        (
            40.0,
            sheet,
            "use a step drill Ø30, then cut with snips on the line's hatched side",
        ),
        (
            90.0,
            plastic,
            "cut is round: drill a hole in its waste for the blade, saw with a jigsaw, fine blade, on the line's hatched side",
        ),
    ] {
        let words = round(diameter, panel);
        assert!(words.contains(told), "{told} is not in\n{words}");
        for other in [
            "inner corners first",
            "Saw along",
            "fine blade along the line of",
        ] {
            assert!(!words.contains(other), "{other} is in\n{words}");
        }
    }
}

fn check(opening: &Opening) -> Result<(), TestCaseError> {
    for (at, hole) in opening.relief.iter().enumerate() {
        let size = hole.tool.diameter;
        let known = default_tools(Units::Mm).contains(&hole.tool);
        prop_assert!(known && hole.tool.kind != ToolKind::Own, "{:?}", hole);
        prop_assert!(opening.outline.contains(hole.at));
        // The mouth of an open shape is no limit.
        let cut = opening
            .outline
            .sides()
            .filter(|side| side.side == Side::Cut);
        let points = cut.flat_map(|side| (0..=100).map(move |at| side.at(f64::from(at) / 100.0)));
        let room = points
            .map(|point| point.distance(hole.at))
            .fold(f64::INFINITY, f64::min);
        prop_assert!(
            size / 2.0 <= room + 0.04,
            "{:?} where there is room for {}",
            hole,
            room
        );
        for other in &opening.relief[at + 1..] {
            let apart = hole.at.distance(other.at);
            let radii = (size + other.tool.diameter) / 2.0;
            prop_assert!(
                apart >= radii + BETWEEN_HOLES - 1e-6,
                "{:?} and {:?}",
                hole,
                other
            );
        }
    }
    Ok(())
}

#[test]
fn no_hole_stands_in_another() {
    let reached = Cell::new([0_usize; 2]);
    let config = Config {
        cases: 150,
        failure_persistence: None,
        ..Config::default()
    };
    let sizes = (
        prop::bool::ANY,
        20.0..130.0_f64,
        20.0..130.0_f64,
        0.05..1.0_f64,
    );
    let outcome = TestRunner::new(config).run(&sizes, |(open, width, depth, share)| {
        let most = if open {
            (width / 2.0).min(depth)
        } else {
            width.min(depth) / 2.0
        };
        let radius = (share * most).max(1.5);
        let toml = if open {
            opening(
                "notch",
                &format!("width = {width}, depth = {depth}, corner_radius = {radius}"),
            )
        } else {
            opening(
                "window",
                &format!("width = {width}, height = {depth}, corner_radius = {radius}"),
            )
        };
        let pattern = solved(&toml);
        check(&pattern.openings[0])?;
        let [all, shared] = reached.get();
        let between = pattern.openings[0].relief.iter().any(|hole| hole.crowded);
        reached.set([all + 1, shared + usize::from(between)]);
        Ok(())
    });
    outcome.unwrap();
    let [all, shared] = reached.get();
    assert!(
        all >= 150 && shared >= 15,
        "{shared} of {all} stood too near"
    );
}
