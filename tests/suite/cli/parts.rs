//! Parts, the shop's tools, and findings that stop a pattern, as a user meets them.

use crate::common::bench::Bench;

const PATTERN: &str = r#"format = 1
[pattern]
number = "T-1"
title = "Test"
[panel]
name = "Panel"
width = 800
height = 300
datum_edge = "rear"
seen_from = "below"
page_up = "front"
[[locator]]
name = "clip"
across = 450
from_datum = 100
diameter = 8
[[part]]
name = "neck"
shape = "window"
with = { width = 60, height = 60, corner_radius = 4 }
centre_offset = 0
from_datum = 100
[clearance]
gap = 6
position = 0
marking = 0
cutting = 0
print = 0
[[opening]]
name = "hole"
around = ["neck"]
follow = "box"
"#;

const ACCEPTED: &str = r#"[[accepted]]
finding = "ligament: hole, hole clip"
value = 9
by = "bay lead"
because = "a strap carries it"
"#;

#[test]
fn a_finding_that_stops_tells_how_to_accept_it() {
    let near = PATTERN.replace("across = 450", "across = 449");
    let bench = Bench::new().file("p.toml", near.clone());
    bench.run("draw p.toml").exits(1).results("").says(&[
        "p.toml: error: 9 mm stay between opening `hole` and `clip`; at least 10 mm shall stay to a hole\n",
        "accept it by its id: `[[accepted]]`, `finding = \"ligament: hole, hole clip\"`, `value = 9`, `by`, `because`\n",
        "error: nothing is drawn\n",
    ]);
    assert_eq!(bench.files(), ["p.toml"]);
    let told = bench.run("check p.toml").exits(1);
    assert!(told.stdout.contains("p.toml: error: 9 mm stay"), "{told:?}");
    assert!(told.stdout.contains("can't be drawn until"), "{told:?}");
    let accepted = Bench::new().file("p.toml", near + ACCEPTED);
    accepted.run("check p.toml").exits(0);
    let told = accepted.run("draw p.toml").exits(0);
    assert!(
        told.stderr
            .contains("\n  by bay lead: a strap carries it\n"),
        "{told:?}"
    );
    assert!(
        told.stderr
            .contains("accepted: 9 mm stay between opening `hole` and `clip`; at least 10 mm shall stay to a hole; "),
        "{told:?}"
    );
}

#[test]
fn the_shops_own_tools_come_from_a_file() {
    let bench = Bench::new().file("p.toml", PATTERN).file(
        "shop.toml",
        "format = 1\nname = \"Tarn fitting bay\"\ntools = [8, 16, 18.5, 32]\n",
    );
    let told = bench.run("check p.toml --shop shop.toml --json").exits(0);
    let read: serde_json::Value = serde_json::from_str(&told.stdout).unwrap();
    let holes = read[0]["openings"][0]["relief"].as_array().unwrap();
    assert_eq!(holes.len(), 4);
    for hole in holes {
        assert!((hole[2].as_f64().unwrap() - 18.5).abs() < 1e-9, "{hole}");
    }
    bench.run("draw p.toml --shop shop.toml").exits(0);
}

#[test]
fn a_bad_shop_file_is_told_at_its_line() {
    let bench = Bench::new()
        .file("p.toml", PATTERN)
        .file("shop.toml", "format = 1\nname = \"Bay\"\ntools = [8, -3]\n");
    bench
        .run("draw p.toml --shop shop.toml")
        .exits(1)
        .results("")
        .says(&[
            "shop.toml:3:13: error: ",
            "error: the tools of `shop.toml` can't be used\n",
        ]);
    bench
        .run("draw p.toml --shop missing.toml")
        .exits(1)
        .says(&["missing.toml: error: there is no such file\n"]);
    assert_eq!(bench.files(), ["p.toml", "shop.toml"]);
}
