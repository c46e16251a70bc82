//! What findings are called: no two alike, and accepted by that alone.

use super::findings::{accepted, hole, is_drawn, locator};
use super::{around, only_gap, panel, window};
use crate::common::{shipped, solved};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use std::cell::Cell;
use std::collections::BTreeSet;
use trimloft::input::{PatternSpec, Report, Source};
use trimloft::solve::{Finding, solve};

fn ids(findings: &[Finding]) -> Vec<&str> {
    findings.iter().map(|one| one.id.as_str()).collect()
}

/// Two arms far apart, each with its own piece of one opening, 8 mm from the datum edge.
fn two_pieces() -> String {
    let arm = |name: &str, offset: &str| window(name, 40.0, 40.0, offset, 30.0);
    let tables = arm("one arm", "\"200 mm left\"")
        + &arm("other arm", "\"200 mm right\"")
        + &only_gap(2.0)
        + &around("arms", "\"one arm\", \"other arm\"", "follow = \"contour\"");
    panel(&tables)
}

#[test]
fn two_alike_are_told_apart_and_each_is_accepted() {
    let toml = two_pieces();
    let pattern = solved(&toml);
    let found = ids(&pattern.findings);
    let pieces = [1, 2].map(|piece| format!("ligament: arms, piece {piece} of 2, rear edge"));
    for piece in &pieces {
        assert!(
            found.contains(&piece.as_str()),
            "{piece} is not in {found:?}"
        );
    }
    assert!(!is_drawn(&toml));
    let one = toml + &accepted(&pieces[0], "8");
    assert!(!is_drawn(&one), "one of two is accepted, and both stand");
    assert!(is_drawn(&(one + &accepted(&pieces[1], "8"))));
}

#[test]
fn a_hole_and_an_opening_of_one_name_are_told_apart() {
    let tables = hole("vent", 40.0, "0", 100.0)
        + &hole("drain", 20.0, "\"36 mm left\"", 100.0)
        + &locator("drain", 528.0, 100.0, 8.0);
    let toml = panel(&tables);
    let pattern = solved(&toml);
    let found = ids(&pattern.findings);
    let both = [
        "ligament: vent, opening drain",
        "ligament: vent, hole drain",
    ];
    for id in both {
        assert!(found.contains(&id), "{id} is not in {found:?}");
    }
    let all = both.map(|id| accepted(id, "4")).concat();
    assert!(is_drawn(&(toml + &all)));
}

#[test]
fn an_opening_over_two_edges_is_told_of_each() {
    let pattern = solved(&panel(&hole("vent", 60.0, "\"500 mm left\"", 390.0)));
    let found = ids(&pattern.findings);
    let over: Vec<_> = found
        .iter()
        .filter(|id| id.starts_with("over the edge: "))
        .collect();
    assert_eq!(
        over,
        [
            &"over the edge: vent, left end",
            &"over the edge: vent, front edge"
        ]
    );
}

#[test]
fn what_is_accepted_and_not_found_is_an_error_with_the_nearest_ids() {
    let toml = panel(&hole("vent", 40.0, "0", 28.0)) + &accepted("ligament: vent, raer edge", "8");
    let source = Source::new("p.toml", toml);
    let spec = PatternSpec::read(&source).unwrap();
    let problems = solve(&spec, &shipped()).unwrap_err();
    let told = Report::new(&source, problems).to_string();
    for words in [
        ":11: error: `ligament: vent, raer edge` is no finding of this pattern\n",
        "hint: take it out of `[[accepted]]`, or name what is found: `ligament: vent, rear edge`",
    ] {
        assert!(told.contains(words), "{words} is not in:\n{told}");
    }
}

/// Names that might be taken for something else in an id.
const NAMES: [&str; 12] = [
    "a",
    "a, b",
    "b",
    "'a'",
    "a + b",
    "rear edge",
    "hole a",
    "opening a",
    "piece 1 of 2",
    "a, piece 1 of 2",
    "too few",
    "it's",
];

/// A pattern whose openings, locators and keep-out areas bear such names and stand close together.
fn crowded() -> impl Strategy<Value = String> {
    let name = 0..NAMES.len();
    let placed = |most: usize| {
        let one = (name.clone(), -480_i32..480, 20_i32..380, 10_i32..80);
        prop::collection::vec(one, 0..most)
    };
    let strategy = (placed(6), placed(5), placed(4), 60_i32..400);
    strategy.prop_map(|(openings, locators, areas, apart)| {
        let offset = |x: i32| match x {
            0 => "0".to_owned(),
            x if x < 0 => format!("\"{} mm left\"", -x),
            x => format!("\"{x} mm right\""),
        };
        let mut tables = String::new();
        let mut taken: BTreeSet<(char, usize)> = [('o', 4)].into();
        for (name, x, y, size) in openings {
            if taken.insert(('o', name)) {
                tables += &hole(NAMES[name], f64::from(size), &offset(x), f64::from(y));
            }
        }
        for (name, x, y, size) in locators {
            if taken.insert(('l', name)) {
                tables += &locator(NAMES[name], f64::from(x + 500), f64::from(y), f64::from(size.min(30)));
            }
        }
        for (name, x, y, size) in areas {
            if taken.insert(('k', name)) {
                tables += &format!(
                    "[[keep_out]]\nname = \"{}\"\nguards = \"wiring\"\nshape = \"round-hole\"\n\
                     with = {{ diameter = {size} }}\ncentre_offset = {}\nfrom_datum = {y}\ndistance = 40\n",
                    NAMES[name],
                    offset(x)
                );
            }
        }
        let arm = |name: &str, x: i32| window(name, 30.0, 30.0, &offset(x), 22.0);
        tables += &(arm("one arm", -apart) + &arm("other arm", apart) + &only_gap(2.0));
        tables += &around(NAMES[4], "\"one arm\", \"other arm\"", "follow = \"contour\"");
        panel(&tables)
    })
}

#[test]
fn ids_are_unique_in_random_patterns() {
    let solved = Cell::new([0_usize; 2]);
    let config = Config {
        cases: 200,
        failure_persistence: None,
        ..Config::default()
    };
    let outcome = TestRunner::new(config).run(&crowded(), |toml| {
        let spec = PatternSpec::read(&Source::new("p.toml", toml.clone())).unwrap();
        let Ok(pattern) = solve(&spec, &shipped()) else {
            return Ok(());
        };
        let found = ids(&pattern.findings);
        let different: BTreeSet<_> = found.iter().collect();
        prop_assert_eq!(different.len(), found.len(), "{:?}", found);
        let [count, findings] = solved.get();
        solved.set([count + 1, findings + found.len()]);
        Ok(())
    });
    outcome.unwrap();
    let [count, findings] = solved.get();
    assert!(
        count >= 80 && findings >= 4 * count,
        "{count} patterns, {findings} findings"
    );
}
