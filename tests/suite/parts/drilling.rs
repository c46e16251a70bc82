//! Holes at inner corners: whole tools, each with metal for its pilot drill.

use super::panel;
use crate::common::{drawn, solved};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use std::cell::Cell;
use trimloft::draw::ink::{Block, Ink, Layer};
use trimloft::geometry::outline::Side;
use trimloft::model::hardware::{ToolKind, default_tools};
use trimloft::solve::{Opening, PILOT};

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
    let steps = drawing.instructions.iter().flat_map(Block::words);
    let labels = drawing.work.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) => Some(text.words.as_str()),
        _ => None,
    });
    steps.chain(labels).collect::<Vec<_>>().join("\n")
}

#[test]
fn two_holes_in_one_another_become_one() {
    // Middles 48 - 38.1 = 9.9 mm apart: a cutter of 38.1 takes the metal of the second pilot, and a
    // tool that would leave it is less than half of the hole.
    let toml = opening("notch", "width = 48, depth = 60, corner_radius = 19.05");
    assert_eq!(holes(&toml), [(38.1, 2)]);
    let middle = solved(&toml).openings[0].relief[0].at;
    assert!(
        middle.x.abs() < 1e-9 && (middle.y - 40.95).abs() < 1e-9,
        "{middle:?}"
    );
    let words = words(&toml);
    for told in [
        "1 × hole cutter Ø38.1 between 2 corners, saw the rest",
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
fn two_holes_near_one_another_are_made_smaller() {
    // Middles 22 mm apart: radius at most 22 - 6.35 / 2 = 18.8, so 34.9 of the cutters.
    let toml = opening("notch", "width = 60.1, depth = 70, corner_radius = 19.05");
    assert_eq!(holes(&toml), [(34.9, 1), (34.9, 1)]);
    assert!(
        words(&toml).contains("2 × hole cutter Ø34.9, the next hole is near: file to the line")
    );
    // With room for both pilots nothing changes: 38.1 / 2 + 6.35 / 2 = 22.2.
    let toml = opening("notch", "width = 60.4, depth = 70, corner_radius = 19.05");
    assert_eq!(holes(&toml), [(38.1, 1), (38.1, 1)]);
}

#[test]
fn corners_without_a_tool_are_sawn_and_get_no_cross() {
    let toml = opening("window", "width = 160, height = 150, corner_radius = 60");
    assert!(holes(&toml).is_empty());
    let words = words(&toml);
    assert!(words.contains("saw only"), "{words}");
    assert!(
        words.contains("Drill a hole in the waste of cut for the blade."),
        "{words}"
    );
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
        words.contains("4 × hole cutter Ø34.9, file to the line"),
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
    let thick = words(&sheet("thickness = 1.5\n"));
    assert!(thick.contains("4 × hole cutter Ø28.6"), "{thick}");
}

fn check(opening: &Opening) -> Result<(), TestCaseError> {
    for (at, hole) in opening.relief.iter().enumerate() {
        let size = hole.tool.diameter;
        let known = default_tools().contains(&hole.tool);
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
            let larger = size.max(other.tool.diameter);
            prop_assert!(
                apart >= (larger + PILOT) / 2.0 - 1e-9,
                "{:?} and {:?}",
                hole,
                other
            );
        }
    }
    Ok(())
}

#[test]
fn every_pilot_drill_finds_metal() {
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
