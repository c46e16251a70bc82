//! `compare` of two patterns and of two kits.

use crate::common::bench::Bench;
use kurbo::Shape;

const PATTERN: &str = include_str!("under-panel.toml");

fn changed() -> String {
    PATTERN
        .replace("revision = \"B\"", "revision = \"C\"")
        .replace("width = 76", "width = 79")
}

#[test]
fn numbers_and_an_overlay_of_two_patterns() {
    let bench = Bench::new()
        .file("old.toml", PATTERN)
        .file("new.toml", changed());
    let told = bench.run("compare old.toml new.toml").exits(0).stdout;
    let lines: Vec<&str> = told.lines().collect();
    assert_eq!(lines[0], "LV2-UP-01-B -> LV2-UP-01-C");
    assert_eq!(lines[1], "  pattern revision: B -> C");
    assert_eq!(lines[2], "  opening `neck opening` width: 76 -> 79");
    assert!(
        lines[3].starts_with("  cut line of `neck opening` moved by up to 1.5 mm, most at "),
        "{told}"
    );
    let file = "out/LV2-UP-01-B-to-LV2-UP-01-C.svg";
    assert_eq!(lines[4], format!("  drawn over each other: {file}"));
    // The new cut line is drawn thick in its layer, the old one dashed among the findings.
    let svg = String::from_utf8(bench.read(file)).unwrap();
    let layer = |id: &str| {
        let (_, rest) = svg.split_once(&format!("id=\"{id}\"")).unwrap();
        rest.split_once("</g>").unwrap().0.to_owned()
    };
    let width = |group: &str| {
        let (_, data) = group.split_once(" d=\"").unwrap();
        let path = kurbo::BezPath::from_svg(data.split_once('"').unwrap().0).unwrap();
        path.bounding_box().width()
    };
    assert!((width(&layer("cut")) - 79.0).abs() < 0.01);
    let findings = layer("findings");
    assert!(findings.contains("stroke-dasharray"));
    assert!((width(&findings) - 76.0).abs() < 0.01);
    assert!(findings.contains("aria-label=\"1.5 mm\""));
    assert!(svg.contains("NOT FOR CUTTING"));
}

#[test]
fn the_same_pattern_differs_in_nothing() {
    let bench = Bench::new()
        .file("old.toml", PATTERN)
        .file("new.toml", PATTERN);
    let told = "LV2-UP-01-B -> LV2-UP-01-B\n  nothing differs\n";
    bench
        .run("compare old.toml new.toml")
        .exits(0)
        .results(told);
    assert_eq!(bench.files(), ["new.toml", "old.toml"]);
}

#[test]
fn patterns_of_other_faces_are_told_in_numbers_only() {
    let bench = Bench::new().file("old.toml", PATTERN).file(
        "new.toml",
        PATTERN.replace("seen_from = \"below\"", "seen_from = \"above\""),
    );
    bench
        .run("compare old.toml new.toml")
        .exits(0)
        .says(&["seen from other faces"])
        .results("LV2-UP-01-B -> LV2-UP-01-B\n  panel seen_from: below -> above\n");
}

fn kit(revision: &str, files: &[&str]) -> String {
    let mut text = format!(
        "format = 1\n[kit]\nnumber = \"K\"\nrevision = \"{revision}\"\ntitle = \"Kit\"\n\
         issued = 2026-03-02\n"
    );
    for file in files {
        text += &format!("[[pattern]]\nfile = \"{file}\"\n");
    }
    text + "[[bolt]]\nposition = \"rail\"\nsize = \"M12\"\ntorque = \"86 N m\"\n"
}

#[test]
fn two_kits_are_compared_pattern_by_pattern() {
    let bench = Bench::new()
        .file("old.toml", kit("A", &["p.toml", "h.toml"]))
        .file(
            "new.toml",
            kit("B", &["q.toml", "f.toml", "h.toml"]).replace("86 N m", "90 N m"),
        )
        .file("p.toml", PATTERN)
        .file("q.toml", changed())
        .file("h.toml", include_str!("heat-shield.toml"))
        .file("f.toml", include_str!("fascia-socket.toml"));
    let told = bench.run("compare old.toml new.toml").exits(0).stdout;
    for line in [
        "K-A -> K-B\n",
        "  kit revision: A -> B\n",
        "  bolt `rail` torque: 86 N m -> 90 N m\n",
        "  pattern LV2-FA-02 added\n",
        "  LV2-UP-01-B -> LV2-UP-01-C\n",
        "    opening `neck opening` width: 76 -> 79\n",
        "  1 pattern is the same\n",
    ] {
        assert!(told.contains(line), "{line}{told}");
    }
    let json = bench
        .run("compare old.toml new.toml --json")
        .exits(0)
        .stdout;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let by = json["changed"][0]["moved"][0]["by"].as_f64().unwrap();
    assert!((by - 1.5).abs() < 0.01, "{by}");
    bench
        .run("compare old.toml p.toml")
        .exits(2)
        .says(&["a pattern can't be compared with a kit"]);
    bench.run("compare none.toml p.toml").exits(1).says(&[
        "none.toml: error: there is no such file",
        "error: nothing is compared",
    ]);
}

const SHIELD: &str = include_str!("../../../shapes/demo/heat-shield-rear.toml");

/// What compare tells of the shield and of another.
fn told_of(new: &str) -> String {
    let bench = Bench::new().file("old.toml", SHIELD).file("new.toml", new);
    let told = bench.run("compare old.toml new.toml --no-overlay").exits(0);
    told.stdout
}

#[test]
fn what_holds_and_what_is_met_is_told_where_it_becomes_otherwise() {
    // The bead across the arm's far end, which stands at 92, its near side at 106; the foot 12 mm
    // nearer to the edge.
    let moved = SHIELD
        .replace("\"54 mm left\"", "0")
        .replace("from_datum = 70", "from_datum = 110")
        .replace("from_datum = 120", "from_datum = 108");
    let told = told_of(&moved);
    for line in [
        "  feature `stiffening bead` centre_offset: 54 mm left -> 0\n",
        "  `stiffening bead` beside `arm`: 7.8 mm -> 14 mm\n",
        "  foot `bracket foot`: 62.8 cm² of its 65 cm² clamp the panel, narrowest land 34.5 mm -> ",
    ] {
        assert!(told.contains(line), "{line}: {told}");
    }
    assert!(!told.contains("straight ways to slide out"), "{told}");
    let loose = SHIELD.replace("fixed = true", "fixed = false");
    let told = told_of(&loose);
    for line in [
        "  fixed points that stay: stud holes, left, stud holes, right -> none\n",
        "  straight ways to slide out: not sought -> to the front",
    ] {
        assert!(told.contains(line), "{line}: {told}");
    }
}

#[test]
fn what_falls_away_is_taken_in_or_is_cut_first_is_told_where_it_becomes_otherwise() {
    let old = SHIELD.replace("[[trim]]", "[[trim]]\n# The lip.");
    let told = told_of(&old);
    assert!(told.ends_with("nothing differs\n"), "{told}");
    let new = SHIELD
        .replace("take_in = [\"old rivet hole\"]\n", "")
        .replace("rough_cut = true\n", "")
        .replace("[60, 16], [300, 16]", "[60, 18], [300, 18]");
    let told = told_of(&new);
    for line in [
        "  `arm notch + rear lip` falls away: 81.4 cm² -> ",
        "  `arm notch + rear lip` takes in gone: old rivet hole\n",
        "  `arm notch + rear lip` rough cut gone: ",
        "  cut line of `arm notch + rear lip` moved by up to ",
    ] {
        assert!(told.contains(line), "{line}: {told}");
    }
}
