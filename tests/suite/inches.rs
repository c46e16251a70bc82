//! A definition in inches speaks inches: sheets, findings, kits and commands.
//!
//! Rulers, paper, the bank card and standard sizes keep their millimetres.

use crate::common::bench::Bench;
use crate::common::random::{Came, hold};
use crate::common::{drawn, produced, read_pdf};
use hayro_syntax::Pdf;
use proptest::prelude::*;
use trimloft::base::length::{Units, parse_length};
use trimloft::draw::ink::{Drawing, Ink};

/// Every length has its unit, so that the same panel can be told in millimetres.
const JOB: &str = r#"
format = 1
units = "in"
tools = ["1/4 in", "5/16 in", '3/8"', "1-1/8 in"]

[pattern]
number = "IN-1"
title = "Under-panel"
revision = "A"
issued = 2026-03-02

[panel]
name = "Rear under-panel"
material = "pp"
thickness = "3/32 in"
width = "38 1/2 in"
height = '12½″'
datum_edge = "rear"
seen_from = "below"
page_up = "front"

[[centreline.pair]]
name = "clips"
left = "8 5/16 in"
right = "30 3/16 in"
from_datum = "2 in"
diameter = "5/16 in"
fixed = true

[[centreline.pair]]
name = "screws"
left = "6 1/4 in"
right = "32 9/32 in"
from_datum = "6 in"
diameter = "1/4 in"

[[locator]]
name = "drain hole"
across = "15 3/8 in"
from_datum = "4 7/8 in"
diameter = "3/8 in"

[[part]]
name = "neck"
shape = "window"
with = { width = "2 1/2 in", height = "2 in", corner_radius = "1/4 in" }
centre_offset = "0"
from_datum = "1 1/4 in"

[clearance]
gap = "1/4 in"

[[opening]]
name = "neck opening"
around = ["neck"]
follow = "box"
open_at_edge = true

[[opening]]
name = "socket window"
shape = "window"
with = { width = "WIDE", height = "1 3/4 in", corner_radius = "9/16 in" }
centre_offset = "5 1/2 in right"
from_datum = "2 1/8 in"

[[keep_out]]
name = "loom"
guards = "wiring"
shape = "window"
with = { width = "2 in", height = "1 in", corner_radius = "1/8 in" }
centre_offset = "5 1/2 in right"
from_datum = "5 3/8 in"
"#;

fn job(wide: &str) -> String {
    JOB.replace("WIDE", wide)
}

/// What is told besides the numbers that keep their millimetres: `100 mm`, what it may read, the
/// bank card, frames of sheets, ISO sizes.
fn millimetres(words: &str) -> Vec<String> {
    let words: Vec<&str> = words.split_whitespace().collect();
    let mut found = vec![];
    for (at, word) in words.iter().enumerate() {
        let word = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let Some(number) = word.strip_suffix("mm") else {
            continue;
        };
        let number = if number.is_empty() {
            words[at.saturating_sub(1)]
        } else {
            number
        };
        let Ok(number) = number.trim_start_matches(['(', 'Ø']).parse::<f64>() else {
            continue;
        };
        let before = words[at.saturating_sub(12)..at].join(" ");
        let of_paper = ["Frame", "corner to corner", "ISO", "margin", "overlap"];
        let is_ruler = (97.0..=103.0).contains(&number) || number == 53.98;
        if !is_ruler && !of_paper.iter().any(|words| before.contains(words)) {
            found.push(format!("{before} {word}"));
        }
    }
    found
}

#[track_caller]
fn assert_speaks_inches(what: &str, words: &str) {
    assert_eq!(millimetres(words), [""; 0], "{what}");
    let marks = words.as_bytes().windows(2);
    let odd = marks.filter(|two| two[0].is_ascii_digit() && two[1] == b'"');
    assert_eq!(
        odd.count(),
        0,
        "{what} has an inch mark of its own: {words}"
    );
    assert!(words.contains(" in"), "{what}: {words}");
}

/// Every line of lettering of the work, and everything that is told beside it.
fn told(drawing: &Drawing) -> (Vec<String>, Vec<String>) {
    let work = drawing.work.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) => Some(text.words.clone()),
        _ => None,
    });
    let beside = drawing.told().map(str::to_owned);
    (work.collect(), beside.collect())
}

fn pages(bytes: &[u8]) -> String {
    let file = Pdf::new(bytes.to_vec()).expect("a PDF");
    let pages = read_pdf::read(&file);
    let texts = pages.iter().flat_map(|page| &page.texts);
    let words: Vec<&str> = texts.map(|text| text.words.as_str()).collect();
    words.join(" ")
}

#[test]
fn sheets_speak_inches_and_fractions() {
    let (work, beside) = told(&drawn(&job("3 5/16 in")));
    assert_speaks_inches("the work", &work.join("\n"));
    assert_speaks_inches("the text", &beside.join("\n"));
    for figure in ["3-5/16 in", "5-1/2 in"] {
        assert!(
            work.iter().any(|words| words == figure),
            "{figure}: {work:?}"
        );
    }
    let all = [work, beside].concat().join("\n");
    for words in ["Ø5/16 in", "Ø1-1/8 in", "3/32 in thick", "1/4"] {
        assert!(all.contains(words), "{words}: {all}");
    }
    let product = produced(&job("3 5/16 in"));
    assert_speaks_inches("the PDF", &pages(product.pdf.as_deref().expect("a PDF")));
}

#[test]
fn a_panel_that_leans_and_curves_speaks_inches_too() {
    let curved = |form: &str| {
        let surface =
            format!("\n[panel.surface]\nrake = \"12 deg\"\n{form}\n\n[[centreline.pair]]");
        job("3 5/16 in").replacen("\n[[centreline.pair]]", &surface, 1)
    };
    for (form, told_of_it) in [
        (
            "radius = \"60 in\"\nbulges = \"towards\"",
            "to a radius of 60 in",
        ),
        (
            "profile = [[\"-16 in\", 2], [\"-8 in\", 0.5], [0, 0], [\"8 in\", 0.5], [\"16 in\", 2]]",
            "each known to 0.02 in",
        ),
    ] {
        let text = curved(form);
        let (work, beside) = told(&drawn(&text));
        let all = [work, beside].concat().join("\n");
        assert_speaks_inches(form, &all);
        assert!(all.contains(told_of_it), "{told_of_it}: {all}");
        assert!(all.contains("A flat pattern would have "), "{all}");
    }
    // No arc of a chord of 4 in rises by 3 in.
    let off = curved("chord = 4\nrise = 3\nbulges = \"away\"");
    let bench = Bench::new().file("off.toml", off);
    bench.run("check off.toml").exits(1).says(&[
        "`rise` is `3 in` over a `chord` of `4 in`; it must be over 0 and under half of the chord, 2 in",
    ]);
}

/// Lengths with `unit` after them, in their order, mm; not diameters, which bear none in mm.
fn lengths(texts: &[String], unit: &str) -> Vec<(String, f64)> {
    let mut found = vec![];
    for text in texts {
        let words: Vec<&str> = text.split([' ', '(', ')', ';', ',', ':', '\n']).collect();
        for pair in words.windows(2) {
            let unit_here = pair[1].trim_end_matches('.');
            if unit_here == unit
                && pair[0].starts_with(|sign: char| sign.is_ascii_digit() || sign == '-')
                && let Ok(mm) = parse_length(&format!("{} {unit}", pair[0]), Units::Mm)
            {
                found.push((format!("{} {unit} in `{text}`", pair[0]), mm));
            }
        }
    }
    found
}

/// Figures of the work, in the order of size, mm.
fn figures(work: &[String], units: Units) -> Vec<f64> {
    let of = |words: &String| {
        let words = words.trim_start_matches(['Ø', 'R']);
        match units {
            Units::Mm => words.parse().ok(),
            Units::In => parse_length(words.strip_suffix(" in")?, Units::In).ok(),
        }
    };
    let mut found: Vec<f64> = work.iter().filter_map(of).collect();
    found.sort_by(f64::total_cmp);
    found
}

/// The same panel told in millimetres, to a tenth, and in inches, to 0.1 mm or a thousandth.
#[test]
fn every_figure_is_within_its_rounding_of_what_it_is_in_millimetres() {
    hold(24, 0.8, 40_000..90_000_u32, |wide| {
        let inches = job(&format!("{} mm", f64::from(wide) / 1000.0));
        let mm = inches.replace("units = \"in\"", "units = \"mm\"");
        let (work, beside) = told(&drawn(&inches));
        let (mm_work, mm_beside) = told(&drawn(&mm));
        let (told, should) = (lengths(&beside, "in"), lengths(&mm_beside, "mm"));
        // What keeps its millimetres is told in both; what a ruler of 4 in reads too.
        let own = |(words, _): &&(String, f64)| !words.contains(" must read ");
        let told: Vec<_> = told.iter().filter(own).collect();
        let should: Vec<_> = should.iter().filter(own).collect();
        prop_assert!(should.len() > 30, "{} lengths", should.len());
        prop_assert_eq!(told.len(), should.len(), "{:?}\n{:?}", told, should);
        for ((words, is), (mm_words, should)) in told.iter().zip(&should) {
            let near = (is - should).abs() <= 0.1 + 0.05 + 1e-9;
            let rough = mm_words.contains("nearest") || mm_words.contains("known at");
            prop_assert!(
                near || rough && (is - should).abs() <= 0.6,
                "{words}, {mm_words}"
            );
        }
        let (is, should) = (figures(&work, Units::In), figures(&mm_work, Units::Mm));
        if is.len() != should.len() {
            // Longer words may stand elsewhere, or in the list beside the drawing.
            return Ok(Came::Refused);
        }
        for (is, should) in is.iter().zip(&should) {
            prop_assert!((is - should).abs() <= 0.15 + 1e-9, "{is} for {should}");
        }
        Ok(Came::Through)
    });
}

#[test]
fn findings_and_problems_speak_inches() {
    let near = job("3 5/16 in").replace("\"5 3/8 in\"", "\"4 1/8 in\"");
    let bench = Bench::new()
        .file("good.toml", job("3 5/16 in"))
        .file("near.toml", &near)
        .file(
            "off.toml",
            job("3 5/16 in").replace("\"15 3/8 in\"", "\"40 in\""),
        )
        .file("wide.toml", job("300 in"))
        .file(
            "round.toml",
            job("3 5/16 in").replace("\"9/16 in\"", "\"2 in\""),
        );
    let good = bench.run("check good.toml").exits(0);
    assert_speaks_inches("check", &good.stdout);
    assert!(
        good.stdout
            .contains("socket window: 3-5/16 in x 1-3/4 in, "),
        "{good:?}"
    );
    assert!(good.stdout.contains("1/4 in asked for"), "{good:?}");
    let near = bench.run("check near.toml").exits(1);
    assert_speaks_inches("a finding", &near.stdout);
    assert!(
        near.stdout.contains("comes within 5/8 in of `loom`"),
        "{near:?}"
    );
    // What it says to write is read.
    let value = near
        .stdout
        .split("`value = ")
        .nth(1)
        .expect("how to accept it");
    let value = value.split('`').next().expect("a value");
    assert_eq!(value, "\"5/8 in\"");
    let (_, of_error) = near.stdout.split_once("error: ").expect("an error");
    let (_, id) = of_error.split_once("  id: ").expect("its id");
    let id = id.lines().next().expect("its id");
    let accepted = format!(
        "{}\n[[accepted]]\nfinding = \"{id}\"\nvalue = {value}\nby = \"lead\"\nbecause = \"guarded\"\n",
        job("3 5/16 in").replace("\"5 3/8 in\"", "\"4 1/8 in\""),
    );
    let bench = bench.file("accepted.toml", accepted);
    bench.run("check accepted.toml").exits(0);
    for (file, says) in [
        (
            "off.toml",
            "lies 40 in across, off the panel: 0 in to 38-1/2 in is allowed",
        ),
        ("wide.toml", "`300 in` is too long"),
        ("round.toml", "`2 in`; it must be "),
    ] {
        let told = bench.run(&format!("check {file}")).exits(1).says(&[says]);
        assert_eq!(millimetres(&told.stderr), [""; 0], "{file}");
    }
}

#[test]
fn commands_speak_inches_where_they_are_asked_to() {
    let bench = Bench::new()
        .file("old.toml", job("3 5/16 in"))
        .file("new.toml", job("3 1/2 in"));
    let told = bench.run("compare old.toml new.toml --no-overlay").exits(0);
    assert_speaks_inches("compare", &told.stdout);
    assert!(
        told.stdout.contains("moved by up to 3/32 in, most at "),
        "{told:?}"
    );
    let pairs = "centre --units in --width \"64 1/2\" --pair \"clips=8 5/16,56 3/16@2\" \
                 --pair \"screws=6 1/4,58 9/32@6 in\" --pair \"low=7,57 1/4@1\" --at 12";
    let told = bench.run(pairs).exits(0);
    assert_speaks_inches("centre", &told.stdout);
    assert!(
        told.stdout.contains("\n12 in from the datum edge: 32."),
        "{told:?}"
    );
    let off = bench
        .run("centre --units in --width 20 --pair 8,21")
        .exits(1);
    off.says(&[
        "`right` of pair `pair 1` is 21 in, off the panel: allowed is 0 to its width of 20 in",
    ]);
    let told = bench.run("scale --across 99.9 --down 99.9 --pattern old.toml");
    assert!(told.stdout.contains("\noff there by 0."), "{told:?}");
    assert_speaks_inches("scale", &told.stdout);
    let told = bench.run("scale --across 99.9 --down 99.9 --farthest 10,5 --print 1/16 --units in");
    assert!(
        told.stdout
            .contains("farthest cut: 10 in across, 5 in down"),
        "{told:?}"
    );
    let words = [
        "draw",
        "--shape",
        "window",
        "--units",
        "in",
        "--set",
        "width=12 1/2",
        "--set",
        "height=2-1/2\"",
        "--set",
        "corner_radius=½",
        "--offset",
        "1 1/4 left",
        "--from-datum",
        "2",
        "--seen-from",
        "below",
        "--page-up",
        "front",
    ];
    bench.run_words(&words).exits(0);
    let text = pages(&bench.read("out/window.pdf"));
    assert_speaks_inches("draw --shape", &text);
    for figure in ["12-1/2 in", "2-1/2 in", "1-1/4 in"] {
        assert!(text.contains(figure), "{figure}: {text}");
    }
    let told = bench
        .run("draw --shape window --seen-from below --page-up back")
        .exits(2);
    told.says(&["`--page-up back` is not known", "hint: write `rear`"]);
}

#[test]
fn a_kit_in_inches_speaks_inches_and_both_systems_of_torque_and_mass() {
    let kit = "format = 1\nunits = \"in\"\n[kit]\nnumber = \"K\"\nrevision = \"A\"\ntitle = \"Kit\"\n\
               issued = 2026-03-02\n[[pattern]]\nfile = \"p.toml\"\n[[bolt]]\nposition = \"rail\"\n\
               count = \"2 ×\"\nsize = \"1/2-13 x 1-1/2\"\ntorque = \"63 lbf ft\"\n[[bolt]]\n\
               position = \"plate\"\nsize = \"M12\"\ntorque = \"86 N·m\"\n[handover]\n\
               pin_hole_to_bumper = \"3 in\"\nground_to_receiver = 14.25\n[handover.bracket]\n\
               towed = \"3500 lb\"\ntongue = \"350 lb\"\n[handover.vehicle]\ntowed = \"2000 kg\"\n\
               tongue = \"80 kg\"\n";
    let bench = Bench::new()
        .file("kit.toml", kit)
        .file("p.toml", job("3 5/16 in"));
    bench.run("kit kit.toml").exits(0);
    let files = bench.files();
    let volumes = files.iter().filter(|name| name.ends_with(".pdf"));
    let texts: Vec<String> = volumes.map(|name| pages(&bench.read(name))).collect();
    let text = texts.join(" ");
    assert_speaks_inches("the volumes", &text);
    for words in [
        "63 lbf ft (85 N m)",
        // 86 / 1.355 818 (NIST SP 811, appendix B.8).
        "86 N·m (63 lbf ft)",
        "14-1/4 in",
        // 3500 lb are 1587.6 kg, 80 kg are 176.4 lb.
        "1587.6 kg (3500 lb)",
        "80 kg (176.4 lb)",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let index = String::from_utf8(bench.read("out/K-A/index.html")).unwrap();
    let told: Vec<&str> = index
        .lines()
        .filter(|line| line.starts_with("<p>"))
        .collect();
    let told = told.join("\n").replace("\">", ">").replace(['<', '>'], " ");
    assert_speaks_inches("the index", &told);
    assert!(
        index.contains("<p>socket window: 3-5/16 in × 1-3/4 in</p>"),
        "{index}"
    );
}
