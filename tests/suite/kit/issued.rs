//! What is issued, and what is said when it is issued again.

use super::bench::{bench, files, kit, names, pattern};

#[test]
fn an_issue_is_a_folder_of_its_own() {
    let bench = bench(2);
    let told = bench.run("kit kit.toml").exits(0).results("out/K-1-A\n");
    // No progress is drawn where stderr is no terminal.
    assert_eq!(
        told.stderr,
        "out/K-1-A: 2 patterns, issued, 2 with findings\n"
    );
    let inside: Vec<String> = files(&bench.path("out/K-1-A")).into_keys().collect();
    assert_eq!(
        inside,
        [
            "K-1-A-record.pdf",
            "K-1-A.pdf",
            "index.html",
            "manifest.json",
            "patterns/P-000-A.svg",
            "patterns/P-001-A.svg"
        ]
    );
    assert_eq!(names(&bench.path("out")), ["K-1-A"]);
}

#[test]
fn one_thread_or_many_give_the_same_bytes() {
    let bench = bench(5);
    let run = |threads: &str| {
        let done = std::process::Command::new(env!("CARGO_BIN_EXE_trimloft"))
            .args(["kit", "kit.toml", "--out", threads])
            .current_dir(bench.path(""))
            .env("RAYON_NUM_THREADS", threads)
            .env("TZ", "Pacific/Kiritimati")
            .output()
            .unwrap();
        assert!(done.status.success());
        files(&bench.path(threads))
    };
    assert!(run("1") == run("4"));
}

#[test]
fn the_same_again_is_nothing_to_do_and_other_content_an_error() {
    let bench = bench(2);
    bench.run("kit kit.toml").exits(0);
    let first = files(&bench.path("out"));
    let nothing = ["2 patterns, issued already, nothing to do"];
    bench
        .run("kit kit.toml")
        .exits(0)
        .results("out/K-1-A\n")
        .says(&nothing);
    // A comment draws nothing else.
    let bench = bench.file("p0.toml", format!("# said\n{}", pattern("P-000", 40.0)));
    bench.run("kit kit.toml").exits(0).says(&nothing);
    let bench = bench.file("p0.toml", pattern("P-000", 44.0));
    bench.run("kit kit.toml").exits(1).results("").says(&[
        "error: `out/K-1-A` is issued already and holds something else: changed ",
        "`patterns/P-000-A.svg`",
        "P-000 rev A, opening neck: 40 x 30 from (-20 0)",
        "hint: raise the revision in the kit file",
        "--replace",
    ]);
    assert!(files(&bench.path("out")) == first, "nothing changed");
    assert_eq!(names(&bench.path("out")), ["K-1-A"]);
    bench
        .run("kit kit.toml --replace --because draft")
        .exits(0)
        .says(&["2 patterns, replaced"]);
    assert!(files(&bench.path("out")) != first);
    assert_eq!(names(&bench.path("out")), ["K-1-A", "replaced.jsonl"]);
}

#[test]
fn a_damaged_issue_is_told_and_mended_only_when_asked() {
    let bench = bench(2);
    bench.run("kit kit.toml").exits(0);
    let first = files(&bench.path("out/K-1-A"));
    bench
        .run("kit kit.toml --check")
        .exits(0)
        .results("out/K-1-A: ok\n");
    std::fs::write(bench.path("out/K-1-A/patterns/P-001-A.svg"), "cut").unwrap();
    std::fs::remove_file(bench.path("out/K-1-A/index.html")).unwrap();
    std::fs::write(bench.path("out/K-1-A/note.txt"), "mine").unwrap();
    let told = "changed: patterns/P-001-A.svg\nmissing: index.html\nadded: note.txt\n";
    bench.run("kit kit.toml --check").exits(1).results(told).says(&[
        "error: `out/K-1-A` is not what `kit.toml` would issue today: 1 changed, 1 missing, 1 added",
    ]);
    bench
        .run("kit kit.toml")
        .exits(1)
        .says(&["changed `patterns/P-001-A.svg`; missing `index.html`; added `note.txt`"]);
    bench.run("kit kit.toml --replace --because draft").exits(0);
    assert!(files(&bench.path("out/K-1-A")) == first);
    let json = bench.run("kit kit.toml --check --json").exits(0).stdout;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["same"], true);
}

#[test]
fn a_folder_that_is_no_issue_is_left_alone() {
    let bench = bench(1).file("out/K-1-A/letter.txt", "mine");
    for command in ["kit kit.toml", "kit kit.toml --replace --because draft"] {
        bench.run(command).exits(1).says(&[
            "error: `out/K-1-A` is there already and is no issue of a kit",
            "hint: move it away",
        ]);
    }
    assert_eq!(names(&bench.path("out/K-1-A")), ["letter.txt"]);
    bench
        .run("kit kit.toml --check --out none")
        .exits(1)
        .says(&["is no issue of a kit"]);
}

#[test]
fn everything_that_is_wrong_is_told_at_once_and_nothing_is_issued() {
    let bench = bench(4)
        .file(
            "p1.toml",
            pattern("P-001", 40.0).replace("width = 600", "widht = 300"),
        )
        .file("p2.toml", pattern("P-002", 4.0));
    bench
        .run("kit kit.toml")
        .exits(1)
        .results("")
        .says(&["p1.toml:8:1: error: unknown key `widht` in `[panel]`"]);
    let bench = bench.file("p1.toml", pattern("P-001", 4.5));
    bench.run("kit kit.toml").exits(1).says(&[
        "p1.toml:16:18: error: `width` is `4.5 mm`",
        "p2.toml:16:18: error: `width` is `4 mm`",
        "error: the kit is not issued: 2 files fall short",
    ]);
    assert!(!bench.path("out").join("K-1-A").exists());
    let bench = bench.file(
        "kit.toml",
        kit("A", 1) + "[[pattern]]\nfile = \"none.toml\"\n",
    );
    bench.run("kit kit.toml").exits(1).says(&[
        "kit.toml:10:8: error: there is no such file",
        " 10 | file = \"none.toml\"",
    ]);
    let bench = bench
        .file("kit.toml", kit("A", 2))
        .file("p1.toml", pattern("p-000", 41.0));
    bench.run("kit kit.toml").exits(1).says(&[
        "kit.toml:10:8: error: this pattern and `p0.toml` would both be issued as `p-000-A`",
    ]);
    bench
        .run("kit kit.toml --paper roll-610mm")
        .exits(1)
        .says(&["not on a roll"]);
}

#[test]
fn a_circle_of_overlaps_is_named_at_its_place() {
    let panels = "[[panel]]\nname = \"a\"\noverlaps = [\"b\"]\n[[panel]]\nname = \"b\"\n\
                  overlaps = [\"a\"]\n";
    let bench = bench(1).file("kit.toml", kit("A", 1) + panels);
    bench.run("kit kit.toml").exits(1).says(&[
        "kit.toml:14:13: error: panels overlap in a circle",
        "`a` overlaps `b` overlaps `a`",
    ]);
}

#[test]
fn a_panel_that_no_pattern_is_for_is_told_at_its_place() {
    let panels = "[[panel]]\nname = \"Panel\"\n[[panel]]\nname = \"Panle\"\n";
    let bench = bench(1).file("kit.toml", kit("A", 1) + panels);
    bench.run("kit kit.toml").exits(1).results("").says(&[
        "kit.toml:12:8: error: no pattern of this kit is for a panel called `Panle`",
        "hint: did you mean `Panel`?",
    ]);
    assert!(!bench.path("out").exists());
}

#[test]
fn what_is_no_other_content_is_no_error() {
    let bench = bench(2);
    bench.run("kit kit.toml").exits(0);
    let code = |bench: &crate::common::bench::Bench| {
        let manifest = &files(&bench.path("out/K-1-A"))["manifest.json"];
        let manifest: serde_json::Value = serde_json::from_slice(manifest).unwrap();
        manifest["code"].as_str().unwrap().to_owned()
    };
    let first = code(&bench);
    // A comment, in a pattern and in the kit file: `--check` and `kit` say the same.
    let bench = bench
        .file("p0.toml", format!("# said\n{}", pattern("P-000", 40.0)))
        .file("kit.toml", format!("# said\n{}", kit("A", 2)));
    bench.run("kit kit.toml --check").exits(0);
    bench
        .run("kit kit.toml")
        .exits(0)
        .says(&["issued already, nothing to do"]);
    // Other paper.
    bench.run("kit kit.toml --check --paper letter").exits(0);
    bench
        .run("kit kit.toml --paper letter")
        .exits(0)
        .says(&["2 patterns, drawn again"]);
    bench.run("kit kit.toml --check").exits(0);
    assert_eq!(code(&bench), first);
    // A file that somebody changed is told, whatever the paper.
    std::fs::write(bench.path("out/K-1-A/index.html"), "mine").unwrap();
    for command in ["kit kit.toml --check", "kit kit.toml"] {
        bench.run(command).exits(1).says(&["changed"]);
    }
    // A card that says something else is another kit.
    let bench = bench.file("kit.toml", kit("A", 2).replace("\"Kit\"", "\"Kit two\""));
    bench
        .run("kit kit.toml")
        .exits(1)
        .says(&["title: Kit; now Kit two"]);
}

#[test]
fn a_shops_tools_cut_and_enter_the_codes() {
    let bench = bench(1);
    let window = pattern("P-000", 40.0)
        .replace("shape = \"notch\"", "shape = \"window\"")
        .replace("depth = 30", "height = 30, corner_radius = 4")
        .replace("from_datum = 0", "from_datum = 60");
    let bench = bench
        .file("p0.toml", window)
        .file("bay.toml", "format = 1\nname = \"Tarn bay\"\ntools = [7]\n")
        .file(
            "other.toml",
            "format = 1\nname = \"Tarn bay\"\ntools = [6]\n",
        );
    bench.run("kit kit.toml --shop bay.toml").exits(0);
    let manifest = &files(&bench.path("out/K-1-A"))["manifest.json"];
    let manifest: serde_json::Value = serde_json::from_slice(manifest).unwrap();
    let facts = manifest["facts"].as_array().unwrap();
    assert!(
        facts.contains(&"for the tools of: Tarn bay".into()),
        "{facts:?}"
    );
    let tools = manifest["patterns"][0]["tools"].to_string();
    assert!(tools.contains('7'), "{tools}");
    bench.run("kit kit.toml --shop bay.toml --check").exits(0);
    // Another drill makes another hole, and so another paper.
    bench
        .run("kit kit.toml --shop other.toml")
        .exits(1)
        .says(&["P-000 rev A, opening neck: ", "hint: raise the revision"]);
    bench.run("kit kit.toml --check").exits(1);
}

#[test]
fn what_was_accepted_is_shown_as_accepted() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/out/LV2-KIT-01-A/index.html");
    let page = std::fs::read_to_string(file).unwrap();
    assert!(page.contains(", accepted by "), "{page}");
}
