//! `verify`: what is sound, what is not, and what can't be judged.

use crate::common::bench::{Bench, Told};

fn drawn() -> Bench {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .sample("heat-shield.toml");
    bench.run("draw under-panel.toml").exits(0);
    bench
}

#[track_caller]
fn assert_results(told: &Told, pieces: &[&str]) {
    let mut rest = told.stdout.as_str();
    for piece in pieces {
        let Some((_, after)) = rest.split_once(piece) else {
            panic!("`{piece}` is not told: {told:#?}");
        };
        rest = after;
    }
}

#[test]
fn what_was_drawn_is_sound_and_every_ruler_is_told() {
    let bench = drawn();
    let told = bench
        .run("verify out/LV2-UP-01-B.pdf out/LV2-UP-01-B.svg --against under-panel.toml")
        .exits(0)
        .says_nothing();
    assert_results(
        &told,
        &[
            "out/LV2-UP-01-B.pdf: sound\n",
            "page 1: 100.000, 101.600, 100.000, 101.600 mm, off by 0.000 mm at most\n",
            "page 2: 100.000",
            "2 pages of 210 x 297 mm, a4\n",
            "asks not to be scaled",
            "full size, 100 % across and 100 % down\n",
            "complete and equal to the definition",
            "out/LV2-UP-01-B.svg: sound\n",
            "complete and equal to the definition",
        ],
    );
}

#[test]
fn the_gravest_comes_first_and_the_rest_is_told_too() {
    let bench = drawn();
    let svg = String::from_utf8(bench.read("out/LV2-UP-01-B.svg")).unwrap();
    let at = svg.find("<g ").unwrap();
    let scaled = format!("{}<g transform=\"scale(0.97)\">{}", &svg[..at], &svg[at..]);
    let scaled = scaled.replace("</svg>", "</g></svg>");
    let bench = bench.file("scaled.svg", scaled).file("no.pdf", "nonsense");
    let told = bench
        .run("verify scaled.svg no.pdf out/LV2-UP-01-B.pdf")
        .exits(1)
        .says(&["2 of 3 files are not proven"]);
    assert_results(
        &told,
        &[
            "scaled.svg: NOT SOUND\n  fault: check ruler: page 1: 100 mm ruler across: 97.000 mm, error -3.000 mm\n",
            "scaled to 97 % across and 97 % down",
            "no.pdf: cannot judge: this is neither a PDF nor an SVG\n",
            "out/LV2-UP-01-B.pdf: sound\n",
        ],
    );
}

#[test]
fn another_pattern_a_missing_file_and_json() {
    let bench = drawn();
    let told = bench
        .run("verify out/LV2-UP-01-B.pdf --against heat-shield.toml --json")
        .exits(1);
    let json = told.json();
    assert_eq!(json[0]["outcome"], "fault");
    assert_eq!(json[0]["pages"], 2);
    let findings = json[0]["findings"].as_array().unwrap();
    let ruler = findings
        .iter()
        .find(|one| one["topic"] == "check-ruler")
        .unwrap();
    assert!(ruler["error"].as_f64().unwrap().abs() < 0.001, "{ruler}");
    assert!(
        findings
            .iter()
            .any(|one| one["topic"] == "cut-line" && one["outcome"] == "fault")
    );
    let told = bench.run("verify none.pdf").exits(1);
    assert_results(&told, &["none.pdf: cannot judge: ", "can't be read"]);
    bench.run("verify").exits(2);
    bench
        .run("verify out/LV2-UP-01-B.pdf --against out/LV2-UP-01-B.svg")
        .exits(1)
        .says(&["nothing can be held against it"]);
}
