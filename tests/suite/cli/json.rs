//! Results for programs.

use crate::common::bench::Bench;
use serde_json::json;

#[test]
fn draw_tells_files_pages_paper_and_findings() {
    let text = include_str!("heat-shield.toml");
    let bench = Bench::new().file(
        "p.toml",
        text.replace("\"28 mm front\"", "\"255 mm front\""),
    );
    let told = bench
        .run("draw p.toml --json --orientation portrait")
        .exits(0)
        .json();
    let one = &told.as_array().unwrap()[..][0];
    assert_eq!(one["pattern"], "p.toml");
    assert_eq!(
        one["files"],
        json!(["out/LV2-HS-03-A.pdf", "out/LV2-HS-03-A.svg"])
    );
    assert_eq!(one["paper"], "iso_a4_210x297mm");
    assert_eq!(one["page_size"], json!([210.0, 297.0]));
    let pages = lopdf::Document::load(bench.path("out/LV2-HS-03-A.pdf"))
        .unwrap()
        .get_pages()
        .len();
    assert_eq!(one["pages"], pages);
    assert_eq!(one["problems"], json!([]));
    let finding = &one["findings"][0];
    assert_eq!(finding["severity"], "warning");
    assert_eq!(finding["id"], "over the edge: bolt notch, front end");
    for key in ["message", "hint"] {
        assert!(
            finding[key].as_str().is_some_and(|words| !words.is_empty()),
            "{key}"
        );
    }
    assert_eq!(finding["at"].as_array().unwrap().len(), 2);
}

#[test]
fn bad_files_are_in_it_too_and_on_stderr() {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .file("bad.toml", "format = 1\n[pattern]\nnumbre = \"X\"\n");
    let outcome = bench
        .run("draw bad.toml under-panel.toml missing.toml --json")
        .exits(1);
    let told = outcome.json();
    let outcome = outcome.says(&[
        "bad.toml:3:1: error: ",
        "missing.toml: error: there is no such file",
        "error: 2 of 3 patterns are not drawn\n",
    ]);
    let names: Vec<_> = told
        .as_array()
        .unwrap()
        .iter()
        .map(|one| &one["pattern"])
        .collect();
    assert_eq!(
        names,
        ["bad.toml", "under-panel.toml", "missing.toml"],
        "{outcome:?}"
    );
    assert_eq!(told[0]["files"], json!([]));
    let problems = told[0]["problems"].as_array().unwrap();
    let misspelt = problems
        .iter()
        .find(|problem| problem["line"] == 3)
        .unwrap();
    assert_eq!(misspelt["column"], 1);
    assert_eq!(misspelt["message"], "unknown key `numbre` in `[pattern]`");
    assert_eq!(misspelt["hint"], "did you mean `number`?");
    assert_eq!(told[1]["problems"], json!([]));
    assert_eq!(told[2]["problems"][0]["line"], json!(null));
}

#[test]
fn check_tells_openings_in_mm() {
    let bench = Bench::new()
        .sample("heat-shield.toml")
        .file("bad.toml", "x");
    let outcome = bench.run("check heat-shield.toml bad.toml --json").exits(1);
    let told = outcome.json();
    let slot = &told[0]["openings"][1];
    assert_eq!(slot["name"], "rear bolt");
    // A slot of 26 by 14 round its centre, 46 to the rear and 34 deep: seen from below with the
    // left at the head, the rear lies at the right of the page; the datum edge lies at the head,
    // so the panel frame is turned half round.
    let number = |value: &serde_json::Value| value.as_f64().unwrap();
    let bounds: Vec<f64> = slot["bounds"]
        .as_array()
        .unwrap()
        .iter()
        .map(number)
        .collect();
    assert_eq!(bounds[2] - bounds[0], 26.0);
    assert_eq!((bounds[1], bounds[3]), (27.0, 41.0));
    // 12 of straight sides twice, and a circle of 7.
    let (length, area) = (
        24.0 + 14.0 * std::f64::consts::PI,
        12.0 * 14.0 + 49.0 * std::f64::consts::PI,
    );
    assert!(
        (number(&slot["cut_length"]) - length).abs() < 1e-6,
        "{slot}"
    );
    assert!((number(&slot["area"]) - area).abs() < 1e-6, "{slot}");
    // Its ends are 12 mm apart, and two holes of 14 would stand in one another: one between them.
    assert_eq!(slot["relief"], serde_json::json!([[-46.0, 34.0, 14.0]]));
    assert!(told[1]["problems"][0]["message"].is_string());
    assert_eq!(bench.files(), ["bad.toml", "heat-shield.toml"]);
}

#[test]
fn shapes_tell_their_parameters() {
    let bench = Bench::new();
    let all = bench.run("shapes --json").exits(0).says_nothing().json();
    assert_eq!(all.as_array().unwrap().len(), 8);
    let one = bench
        .run("shapes notch --json")
        .exits(0)
        .says_nothing()
        .json();
    assert_eq!(one, all[0]);
    assert_eq!(one["name"], "notch");
    assert_eq!(one["open"], true);
    let radius = &one["parameters"][2];
    assert_eq!(radius["name"], "corner_radius");
    assert_eq!(radius["default"], "10 mm");
    assert_eq!(radius["at_most"], "min(width / 2, depth)");
}

#[test]
#[cfg(target_os = "linux")]
fn a_name_that_is_not_utf8_does_not_spoil_it() {
    use std::os::unix::ffi::OsStrExt;
    let bench = Bench::new().sample("under-panel.toml");
    let odd = std::ffi::OsStr::from_bytes(b"p\xff.toml");
    std::fs::rename(bench.path("under-panel.toml"), bench.path("").join(odd)).unwrap();
    let words = [
        std::ffi::OsStr::new("check"),
        odd,
        std::ffi::OsStr::new("--json"),
    ];
    let told = bench.run_words(&words).exits(0).json();
    assert_eq!(told[0]["pattern"], "p\u{fffd}.toml");
}
