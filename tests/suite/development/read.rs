//! `[panel.surface]` as people write it, and what is wrong with it.

use super::fascia;
use crate::common::{shipped, solved};
use trimloft::input::{PatternSpec, Source};
use trimloft::solve::{Finding, Severity, solve};

const HOLE: &str = "[[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 80 }\n\
                    centre_offset = 0\nfrom_datum = 200\nmeasured = \"square-on\"\n";

/// What is said of a file with this surface.
fn refused(surface: &str) -> String {
    let toml = fascia(3.0, surface, HOLE);
    let source = Source::new("p.toml", toml);
    match PatternSpec::read(&source) {
        Err(report) => report.to_string(),
        Ok(spec) => match solve(&spec, &shipped()) {
            Err(problems) => trimloft::input::Report::new(&source, problems).to_string(),
            Ok(_) => panic!("taken: {surface}"),
        },
    }
}

#[test]
fn what_does_not_go_together_is_told_at_its_place() {
    for (surface, words) in [
        ("chord = 600", "`rise` is missing"),
        ("chord = 600\nrise = 20", "`bulges` is missing"),
        (
            "chord = 600\nrise = 20\nradius = 900\nbulges = \"towards\"",
            "not by `chord` and `radius` at once",
        ),
        ("rise = 20", "p.toml:14:1: error: `rise` goes with `chord`"),
        (
            "radius = 900\nbulges = \"outwards\"",
            "`towards` or `away` is allowed",
        ),
        ("rake = 12", "`\"12 deg\"`"),
        ("rake = \"89 deg\"", "-84 to 84 deg is allowed"),
        (
            "chord = 100\nrise = 60\nbulges = \"away\"",
            "under half of the chord",
        ),
        (
            "radius = 900\nbulges = \"towards\"\nalong = \"edge\"",
            "`crown` is missing",
        ),
        (
            "profile = [[0, 1], [0, 2]]",
            "does not lie beyond the one before it",
        ),
        (
            "profile = [[-300, 20], [0, 0], [300, 21]]\nother_profile = [[-300, 20], [0, 0], [300, 21]]\nother_at = 300",
            "`at` is missing",
        ),
        ("profile = [[0, 1]]", "`profile` has 1 readings"),
        (
            "bulges = \"away\"\nprofile = [[-300, 20], [0, 0], [300, 21]]",
            "`bulges` goes with `chord`",
        ),
        ("curve = 3", "unknown key `curve`"),
    ] {
        let told = refused(surface);
        assert!(told.contains(words), "{surface}:\n{told}");
        assert!(told.starts_with("p.toml:1"), "no place:\n{told}");
    }
}

fn found(surface: &str, tables: &str) -> Vec<Finding> {
    let findings = solved(&fascia(3.0, surface, tables)).findings;
    findings
        .into_iter()
        .filter(|one| one.id.as_str().starts_with("surface: "))
        .collect()
}

#[test]
fn a_reading_that_does_not_go_with_the_rest_is_named() {
    let fall = |x: f64| x * x / 2000.0;
    let reading = |k: i32| {
        let x = f64::from(k) * 100.0;
        // The fifth, at 0, was misread by 12 mm.
        format!("[{x}, {:.2}]", fall(x) + if k == 0 { 12.0 } else { 0.0 })
    };
    let readings: Vec<String> = (-4..=4).map(reading).collect();
    let findings = found(&format!("profile = [{}]", readings.join(", ")), HOLE);
    assert_eq!(findings.len(), 1, "{findings:?}");
    assert_eq!(findings[0].id.as_str(), "surface: reading 5");
    assert_eq!(findings[0].severity, Severity::Warning);
}

#[test]
fn steep_panels_and_ways_are_warned_of() {
    let findings = found("rake = \"62 deg\"", HOLE);
    assert!(
        findings
            .iter()
            .any(|one| one.message.contains("over 60 deg")),
        "{findings:?}"
    );
    let part = "[[part]]\nname = \"rod\"\nsocket = 20\ncentre_offset = 0\nfrom_datum = 200\nslope = \"63 deg\"\n\
                [[opening]]\nname = \"hole\"\naround = [\"rod\"]\nfollow = \"contour\"\n";
    let findings = found("rake = \"0 deg\"", part);
    assert!(
        findings
            .iter()
            .any(|one| one.id.as_str() == "surface: steep way, rod"),
        "{findings:?}"
    );
}

#[test]
fn an_opening_beyond_the_readings_is_warned_of() {
    let findings = found(
        "profile = [[-100, 4], [0, 0], [100, 4]]",
        &HOLE.replace("centre_offset = 0", "centre_offset = \"120 mm right\""),
    );
    assert_eq!(findings.len(), 1, "{findings:?}");
    assert!(
        findings[0].id.as_str().contains("beyond the readings") && findings[0].at.is_some(),
        "{findings:?}"
    );
}

#[test]
fn a_panel_curved_both_ways_is_measured_warned_of_and_refused() {
    let two = |other: f64| {
        format!(
            "profile = [[-300, 45], [-150, 11], [0, 0], [150, 11], [300, 45]]\nat = 50\n\
             other_profile = [[-300, {0}], [-150, {1}], [0, 0], [150, {1}], [300, {0}]]\nother_at = 350",
            45.0 + other,
            11.0 + other / 4.0
        )
    };
    // Within what the readings are known to, it is curved one way.
    assert!(found(&two(0.6), HOLE).is_empty());
    let findings = found(&two(12.0), HOLE);
    assert_eq!(findings.len(), 1, "{findings:?}");
    for words in ["curved both ways", "mm at the opening", "slit it from the"] {
        assert!(
            findings[0].message.contains(words),
            "{}",
            findings[0].message
        );
    }
    let wide = HOLE.replace("round-hole", "window").replace(
        "diameter = 80",
        "width = 560, height = 200, corner_radius = 20",
    );
    let toml = fascia(3.0, &two(160.0), &wide);
    let spec = PatternSpec::read(&Source::new("p.toml", toml)).unwrap();
    let problems = solve(&spec, &shipped()).unwrap_err();
    assert!(
        problems[0].message.contains("at most 2 % is allowed"),
        "{problems:?}"
    );
}

#[test]
fn slope_and_yaw_need_a_part_measured_square_on() {
    let part = "[[part]]\nname = \"rod\"\nsocket = 20\ncentre_offset = 0\nfrom_datum = 200\nslope = \"10 deg\"\n\
                measured = \"on the panel\"\n[[opening]]\nname = \"hole\"\naround = [\"rod\"]\n";
    let report = PatternSpec::read(&Source::new(
        "p.toml",
        fascia(3.0, "rake = \"5 deg\"", part),
    ))
    .unwrap_err()
    .to_string();
    assert!(
        report.contains("error: `slope` needs a part that was measured square to its way"),
        "{report}"
    );
}
