//! A new revision takes over what did not change.

use super::bench::{bench, files, kit, pattern};

#[test]
fn a_revision_made_from_the_one_before_is_as_if_made_anew() {
    let bench = bench(6);
    bench.run("kit kit.toml").exits(0);
    // One changed, one more before it, so that every page after it moves.
    let added = kit("B", 6).replacen(
        "[[pattern]]",
        "[[pattern]]\nfile = \"new.toml\"\n[[pattern]]",
        1,
    );
    let bench = bench
        .file("kit.toml", added)
        .file("new.toml", pattern("P-new", 52.0))
        .file("p3.toml", pattern("P-003", 60.0).replace("\"A\"", "\"B\""));
    bench
        .run("kit kit.toml --from out/K-1-A")
        .exits(0)
        .says(&["7 patterns, issued, 5 taken over"]);
    bench.run("kit kit.toml --out anew").exits(0);
    assert!(files(&bench.path("out/K-1-B")) == files(&bench.path("anew/K-1-B")));
    bench.run("kit kit.toml --check").exits(0);
}

#[test]
fn what_is_damaged_is_drawn_again() {
    let bench = bench(3);
    bench.run("kit kit.toml").exits(0);
    std::fs::write(bench.path("out/K-1-A/patterns/P-001-A.svg"), "cut").unwrap();
    let bench = bench.file("kit.toml", kit("B", 3));
    bench
        .run("kit kit.toml --from out/K-1-A")
        .exits(0)
        .says(&["3 patterns, issued, 2 taken over"]);
    bench.run("kit kit.toml --check").exits(0);
    std::fs::write(bench.path("out/K-1-A/K-1-A.pdf"), "cut").unwrap();
    bench
        .run("kit kit.toml --replace --because draft --out again --from out/K-1-A")
        .exits(0)
        .says(&["0 taken over"]);
    bench
        .run("kit kit.toml --from nowhere")
        .exits(1)
        .says(&["error: `nowhere` is no issue of a kit", "manifest.json"]);
}

#[test]
fn a_pattern_that_kept_its_revision_and_not_its_shape_is_an_error_that_says_what_differs() {
    let bench = bench(2);
    bench.run("kit kit.toml").exits(0);
    let bench = bench
        .file("kit.toml", kit("B", 2))
        .file("p1.toml", pattern("P-001", 70.0));
    for more in ["", " --from out/K-1-A"] {
        bench.run(&format!("kit kit.toml{more}")).exits(1).says(&[
            "P-001 rev A is ",
            "in `out/K-1-A/patterns/P-001-A.svg` already, and this is ",
            "opening neck: 40.5 x 30 from (-20.25 0)",
            "now 70 x 30 from (-35 0)",
            "hint: raise the revision",
        ]);
        assert!(!bench.path("out/K-1-B").exists());
    }
    bench
        .run("kit kit.toml --replace --because trial")
        .exits(0)
        .says(&["2 patterns, issued"]);
    let kept = std::fs::read_to_string(bench.path("out/replaced.jsonl")).unwrap();
    let kept: serde_json::Value = serde_json::from_str(&kept).unwrap();
    assert_eq!(kept["paper"], "P-001 rev A");
    assert_eq!(kept["because"], "trial");
}

#[test]
fn other_sheets_take_nothing_over() {
    let bench = bench(2);
    bench.run("kit kit.toml").exits(0);
    let bench = bench.file("kit.toml", kit("B", 2));
    bench
        .run("kit kit.toml --paper a3 --from out/K-1-A")
        .exits(0)
        .says(&["0 taken over"]);
}

#[test]
fn patterns_move_from_volume_to_volume() {
    let bench = bench(251);
    bench.run("kit kit.toml").exits(0);
    let issued = files(&bench.path("out/K-1-A"));
    assert!(issued.contains_key("K-1-A-volume-1.pdf"));
    assert!(issued.contains_key("K-1-A-volume-2.pdf"));
    assert!(!issued.contains_key("K-1-A.pdf"));
    // One more at the head: the last of the first volume becomes the first of the second.
    let added = kit("B", 251).replacen(
        "[[pattern]]",
        "[[pattern]]\nfile = \"new.toml\"\n[[pattern]]",
        1,
    );
    let bench = bench
        .file("kit.toml", added)
        .file("new.toml", pattern("P-new", 52.0));
    bench
        .run("kit kit.toml --from out/K-1-A")
        .exits(0)
        .says(&["252 patterns, issued, 251 taken over"]);
    bench.run("kit kit.toml --check").exits(0);
    let manifest = &files(&bench.path("out/K-1-B"))["manifest.json"];
    let manifest: serde_json::Value = serde_json::from_slice(manifest).unwrap();
    let volume = |at: usize| {
        manifest["patterns"][at]["volume"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert_eq!(volume(249), "K-1-B-volume-1.pdf");
    assert_eq!(volume(250), "K-1-B-volume-2.pdf");
}
