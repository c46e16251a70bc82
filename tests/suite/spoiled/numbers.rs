//! A pattern that was solved wrongly is found by the second path, which does not share the fault.

use crate::common::{demos, produced, shipped, solved};
use trimloft::check::verify::{Against, Finding, Outcome, Reference, Topic, verify};
use trimloft::draw::draw;
use trimloft::input::{ParameterKind, PatternSpec, Source};
use trimloft::layout::{Paper, Setup, plate, sheets_of};
use trimloft::output::{pdf, svg};
use trimloft::solve::Pattern;

fn read(toml: &str) -> PatternSpec {
    PatternSpec::read(&Source::new("test.toml", toml)).unwrap_or_else(|report| panic!("{report}"))
}

/// Both files of a pattern, held against itself and the numbers of a definition.
fn held(pattern: &Pattern, numbers: &str) -> Vec<Finding> {
    let drawing = draw(pattern).unwrap();
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let files = [
        pdf(&sheets_of(pattern, &setup).unwrap()).unwrap(),
        svg(&plate(&drawing).unwrap()).unwrap().into_bytes(),
    ];
    let reference = Reference::of(pattern).by_numbers(&read(numbers), &shipped());
    let against = Against {
        reference: Some(&reference),
        scales: None,
    };
    let reports = files.map(|bytes| verify(bytes, against).unwrap().findings);
    reports.into_iter().flatten().collect()
}

fn bad(findings: &[Finding]) -> Vec<&Finding> {
    let is_bad = |finding: &&Finding| finding.outcome > Outcome::Sound;
    findings.iter().filter(is_bad).collect()
}

/// Every face with a datum edge and a head of the page that go with it, and the vehicle's side to
/// the reader's right.
fn faces() -> Vec<(&'static str, &'static str, &'static str, [&'static str; 2])> {
    vec![
        ("behind", "down", "up", ["left", "right"]),
        ("behind", "up", "up", ["left", "right"]),
        ("front", "down", "up", ["left", "right"]),
        ("front", "up", "up", ["left", "right"]),
        ("below", "rear", "front", ["left", "right"]),
        ("below", "front", "front", ["left", "right"]),
        ("below", "rear", "rear", ["left", "right"]),
        ("above", "rear", "front", ["left", "right"]),
        ("above", "front", "rear", ["left", "right"]),
        ("left", "down", "up", ["front", "rear"]),
        ("right", "up", "up", ["front", "rear"]),
    ]
}

fn definition(face: (&str, &str, &str, [&str; 2]), opening: &str) -> String {
    let (seen_from, datum, head, _) = face;
    format!(
        "format = 1\n[pattern]\nnumber = \"T-1\"\ntitle = \"Test\"\n[panel]\nname = \"Panel\"\n\
         width = 900\nheight = 400\ndatum_edge = \"{datum}\"\nseen_from = \"{seen_from}\"\n\
         page_up = \"{head}\"\n[[opening]]\nname = \"odd one\"\n{opening}"
    )
}

/// An opening of a lopsided family: its place and its turn can't be mistaken.
fn opening(side: &str, offset: f64, from_datum: f64) -> String {
    format!(
        "shape = \"t-opening\"\n\
         with = {{ stem_width = 40, stem_depth = 40, bar_width = 120, bar_depth = 40 }}\n\
         centre_offset = \"{offset} mm {side}\"\nfrom_datum = {from_datum}\n"
    )
}

/// A closed window.
fn window(side: &str, offset: f64, from_datum: f64, width: f64) -> String {
    format!(
        "shape = \"window\"\nwith = {{ width = {width}, height = 50, corner_radius = 8 }}\n\
         centre_offset = \"{offset} mm {side}\"\nfrom_datum = {from_datum}\n"
    )
}

#[test]
fn openings_stand_where_their_numbers_say_on_every_face() {
    for face in faces() {
        for side in face.3 {
            for opening in [opening(side, 61.0, 0.0), window(side, 61.0, 120.0, 70.0)] {
                let toml = definition(face, &opening);
                let found = held(&solved(&toml), &toml);
                assert!(bad(&found).is_empty(), "{face:?}: {:#?}", bad(&found));
                let judged = found.iter().filter(|finding| {
                    finding.topic == Topic::Numbers && finding.words.ends_with("odd one")
                });
                assert_eq!(judged.count(), 2, "{face:?}: {found:#?}");
            }
        }
    }
}

#[test]
fn a_planted_fault_of_solving_is_found() {
    // What solving would have made of the definition with such a fault in it.
    let face = ("below", "rear", "front", ["left", "right"]);
    let right = definition(face, &window("left", 61.0, 120.0, 70.0));
    let wrong = [
        ("sign of the offset", window("right", 61.0, 120.0, 70.0)),
        ("offset", window("left", 61.1, 120.0, 70.0)),
        ("depth", window("left", 61.0, 119.9, 70.0)),
        ("size", window("left", 61.0, 120.0, 70.1)),
        (
            "radius",
            window("left", 61.0, 120.0, 70.0).replace("radius = 8", "radius = 8.2"),
        ),
    ];
    for (what, opening) in wrong {
        let found = held(&solved(&definition(face, &opening)), &right);
        let bad = bad(&found);
        assert_eq!(bad.len(), 2, "{what}: {bad:#?}");
        for finding in bad {
            assert_eq!(finding.topic, Topic::Numbers, "{what}: {finding:?}");
            assert!(
                finding
                    .words
                    .starts_with("odd one: by the definition's own numbers")
            );
        }
    }
    // A face mistaken for its opposite turns left to right.
    let mirrored = definition(
        ("above", "rear", "front", ["left", "right"]),
        &window("left", 61.0, 120.0, 70.0),
    );
    let found = held(&solved(&mirrored), &right);
    assert!(!bad(&found).is_empty());
}

#[test]
fn every_family_is_rounded_alike_by_both_paths() {
    let face = ("behind", "down", "up", ["left", "right"]);
    let library = shipped();
    let mut judged = 0;
    for family in library.families() {
        let depth = if family.is_open() { 0 } else { 150 };
        // Radii are left out: both paths take the family's own.
        let sizes: Vec<String> = family
            .parameters()
            .iter()
            .filter(|parameter| parameter.kind == ParameterKind::Size)
            .map(|size| format!("{} = {}", size.name, size.default.number))
            .collect();
        let opening = format!(
            "shape = \"{}\"\nwith = {{ {} }}\ncentre_offset = \"33 mm right\"\n\
             from_datum = {depth}\n",
            family.name(),
            sizes.join(", ")
        );
        let toml = definition(face, &opening);
        let found = held(&solved(&toml), &toml);
        assert!(
            bad(&found).is_empty(),
            "{}: {:#?}",
            family.name(),
            bad(&found)
        );
        judged += found
            .iter()
            .filter(|finding| finding.words.ends_with("odd one"))
            .count();
    }
    assert!(judged >= 16, "{judged}");
}

#[test]
fn what_is_not_judged_is_named() {
    for demo in demos() {
        let toml = std::fs::read_to_string(&demo).unwrap();
        let spec = read(&toml);
        let reference = Reference::of(&solved(&toml)).by_numbers(&spec, &shipped());
        let against = Against {
            reference: Some(&reference),
            scales: None,
        };
        let report = verify(produced(&toml).pdf.unwrap(), against).unwrap();
        let told: Vec<&str> = report
            .findings
            .iter()
            .filter(|finding| finding.topic == Topic::Numbers)
            .map(|finding| finding.words.as_str())
            .collect();
        for opening in &spec.openings {
            let named = told.iter().any(|words| words.contains(&opening.name.value));
            assert!(named, "{}: {told:?}", opening.name.value);
        }
    }
}
