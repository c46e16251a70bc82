//! Flags that say what sheets are made.

use crate::common::bench::{Bench, Told};

fn draw(flags: &str) -> (Bench, Told) {
    let bench = Bench::new().sample("under-panel.toml");
    let told = bench.run(&format!("draw under-panel.toml --only pdf {flags}"));
    (bench, told)
}

/// First page's size, mm, as the file says it in points.
fn page_size(bench: &Bench) -> (f64, f64) {
    let document = lopdf::Document::load(bench.path("out/LV2-UP-01-B.pdf")).unwrap();
    let page = *document.get_pages().values().next().unwrap();
    let boxed = document
        .get_dictionary(page)
        .unwrap()
        .get(b"MediaBox")
        .unwrap();
    let side = |i: usize| f64::from(boxed.as_array().unwrap()[i].as_float().unwrap()) * 25.4 / 72.0;
    (side(2), side(3))
}

#[track_caller]
fn gives(flags: &str, size: (f64, f64), told: &str) {
    let (bench, outcome) = draw(flags);
    outcome.exits(0).says(&[told]);
    let is = page_size(&bench);
    assert!(
        (is.0 - size.0).abs() < 0.01 && (is.1 - size.1).abs() < 0.01,
        "{flags}: {is:?}"
    );
}

#[test]
fn papers_have_their_sizes() {
    gives(
        "--paper a3 --orientation portrait",
        (297.0, 420.0),
        "a3 portrait",
    );
    gives(
        "--paper A3 --orientation landscape",
        (420.0, 297.0),
        "A3 landscape",
    );
    gives(
        "--paper letter --orientation portrait",
        (215.9, 279.4),
        "letter portrait",
    );
    gives(
        "--paper na_legal_8.5x14in --orientation landscape",
        (355.6, 215.9),
        "na_legal_8.5x14in landscape",
    );
    gives(
        "--paper 300x500mm --orientation portrait",
        (300.0, 500.0),
        "300x500mm portrait",
    );
    gives(
        "--paper \"500 x 300 mm\" --orientation landscape",
        (500.0, 300.0),
        "landscape",
    );
}

#[test]
fn a_roll_is_cut_as_long_as_the_work() {
    let (bench, told) = draw("--paper roll-610mm");
    told.exits(0).says(&["pages, roll-610mm cut to "]);
    let (width, height) = page_size(&bench);
    assert!(
        (width - 610.0).abs() < 0.01 || (height - 610.0).abs() < 0.01,
        "{width} x {height}"
    );
}

#[test]
fn only_writes_one_kind() {
    let bench = Bench::new().sample("under-panel.toml");
    bench
        .run("draw under-panel.toml --only svg")
        .exits(0)
        .results("out/LV2-UP-01-B.svg\n")
        .says_nothing();
    assert_eq!(bench.files(), ["out/LV2-UP-01-B.svg", "under-panel.toml"]);
    bench
        .run("draw under-panel.toml --only pdf")
        .exits(0)
        .results("out/LV2-UP-01-B.pdf\n");
}

#[test]
fn margin_and_overlap_are_lengths_as_people_write_them() {
    draw("--margin \"1/4 in\" --overlap 12").1.exits(0);
    draw("--margin 0 --overlap 5").1.exits(0);
    draw("--margin 50 --overlap \"0.5 in\" --paper a2")
        .1
        .exits(0);
}

#[test]
fn wrong_flags_are_wrong_usage_and_say_what_is_allowed() {
    for (flags, pieces) in [
        ("--only dxf", &["'dxf'", "pdf, svg"][..]),
        (
            "--orientation sideways",
            &["'sideways'", "portrait, landscape"],
        ),
        (
            "--paper lettre",
            &[
                "unknown paper `lettre`",
                "did you mean `letter`?",
                "known: a4, a3,",
                "ansi-e",
                "hint: ",
                "`roll-610mm`",
            ],
        ),
        ("--paper \"\"", &["unknown paper ``", "known: a4"]),
        (
            "--paper 0x10mm",
            &["`0x10mm`", "0 mm", "above 0 and at most 5080 mm"],
        ),
        ("--paper 6000x300mm", &["6000 mm", "at most 5080 mm"]),
        (
            "--paper 120x150mm",
            &[
                "`120 x 150 mm` is too small",
                "at least 189.4 x 155.2 mm",
                "hint: `a4` or `letter` would do",
            ],
        ),
        ("--paper roll-90mm", &["is too small", "hint: "]),
        (
            "--margin wide",
            &["`--margin wide`: `wide` is not a length; hint: a length is written `63.5 mm`"],
        ),
        (
            "--margin 51",
            &["margin `51 mm` is out of range; allowed: 0 to 50 mm"],
        ),
        (
            "--margin -1",
            &["margin `-1 mm` is out of range; allowed: 0 to 50 mm"],
        ),
        ("--margin nan", &["`nan` is not a finite number"]),
        (
            "--margin \"6 ft\"",
            &["`6 ft` is in `ft`", "`mm`, `cm`, `m` and `in`", "hint: "],
        ),
        (
            "--margin 6,35",
            &["`6,35` has a comma", "hint: write `6.35`"],
        ),
        (
            "--overlap 4.9",
            &["overlap `4.9 mm` is out of range; allowed: 5 mm, which a register mark needs"],
        ),
        (
            "--overlap 100",
            &[
                "overlap `100 mm` is out of range",
                "a quarter of the usable area; hint: use larger paper",
            ],
        ),
        ("--overlap \"\"", &["`--overlap `", "not a length"]),
        ("--color", &["'--color'"]),
    ] {
        let bench = Bench::new().sample("under-panel.toml");
        let told = bench
            .run(&format!("draw under-panel.toml {flags}"))
            .exits(2)
            .results("")
            .says(&["error: "])
            .says(pieces);
        assert_eq!(bench.files(), ["under-panel.toml"], "{flags}: {told:?}");
    }
}

#[test]
fn a_command_with_nothing_to_do_shows_how_it_is_used() {
    let bench = Bench::new();
    bench
        .run("")
        .exits(2)
        .results("")
        .says(&["Usage: trimloft", "draw", "check", "shapes"]);
    bench
        .run("draw")
        .exits(2)
        .results("")
        .says(&["<PATTERNS>", "Usage: "]);
    bench.run("check").exits(2).says(&["<PATTERNS>", "Usage: "]);
    bench
        .run("paint x.toml")
        .exits(2)
        .says(&["'paint'", "Usage: "]);
    let told = bench.run("--help").exits(0).says_nothing();
    assert!(told.stdout.contains("completions"));
    let told = bench.run("licences").exits(0).says_nothing();
    for words in [
        "Copyright (c) 2026 The Trimloft contributors",
        "Version 2.0, January 2004",
        "UBUNTU FONT LICENCE Version 1.0",
        "Copyright 2011 Canonical Ltd.",
    ] {
        assert!(told.stdout.contains(words), "{words}");
    }
    let told = bench.run("--version").exits(0).says_nothing();
    assert_eq!(
        told.stdout,
        format!("trimloft {}\n", env!("CARGO_PKG_VERSION"))
    );
}

#[test]
fn every_help_says_what_the_status_means() {
    let bench = Bench::new();
    let all = bench.run("--help").exits(0).stdout;
    let commands = all.split_once("Commands:\n").unwrap().1;
    let commands = commands.split_once("\n\n").unwrap().0;
    let names: Vec<&str> = commands
        .lines()
        .filter_map(|line| line.split_whitespace().next())
        .filter(|name| *name != "help")
        .collect();
    assert!(names.len() > 10, "{names:?}");
    for name in names {
        let told = bench.run(&format!("{name} --help")).exits(0).stdout;
        let status = told.split_once("Exit status:\n").expect(name).1;
        let each: Vec<&str> = status
            .lines()
            .map(|line| line.trim().split(' ').next().unwrap())
            .collect();
        assert_eq!(each, ["0", "1", "2"], "{name}");
    }
}
