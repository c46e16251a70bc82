//! `draw` of one file, of several, and of bad ones among them.

use crate::common::bench::Bench;

const PDF: &str = "out/LV2-UP-01-B.pdf";
const SVG: &str = "out/LV2-UP-01-B.svg";

/// A definition with a misspelt key in line 9, and a shape that is not known in line 22.
fn misspelt() -> String {
    let text = include_str!("fascia-socket.toml");
    text.replace("accessory", "acessory")
        .replace("\"window\"", "\"windwo\"")
}

#[test]
fn a_file_becomes_a_pdf_and_an_svg() {
    let bench = Bench::new().sample("under-panel.toml");
    bench
        .run("draw under-panel.toml")
        .exits(0)
        .results(&format!("{PDF}\n{SVG}\n"))
        .says(&[
            "under-panel.toml: 2 pages, a4 portrait: page 1 front page, page 2 work sheet; record \
             with `--record`\n",
            "  print it with: lp -o print-scaling=none -o media=A4 out/LV2-UP-01-B.pdf\n",
        ]);
    bench
        .run("draw under-panel.toml --record --only pdf")
        .exits(0)
        .says(&["page 2 work sheet, pages 3 to 4 record\n"]);
    assert_eq!(bench.files(), [PDF, SVG, "under-panel.toml"]);
    assert!(bench.read(PDF).starts_with(b"%PDF-1.7"));
    assert!(bench.read(SVG).starts_with(b"<"));
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let bench = Bench::new().sample("under-panel.toml");
    bench.run("draw under-panel.toml --out a").exits(0);
    bench.run("draw under-panel.toml --out b").exits(0);
    for ending in ["pdf", "svg"] {
        let name = |folder| format!("{folder}/LV2-UP-01-B.{ending}");
        assert!(bench.read(&name("a")) == bench.read(&name("b")), "{ending}");
    }
}

#[test]
fn files_are_told_in_the_order_they_were_named() {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .sample("heat-shield.toml");
    bench
        .run("draw under-panel.toml heat-shield.toml --only svg")
        .exits(0)
        .results(&format!("{SVG}\nout/LV2-HS-03-A.svg\n"))
        .says_nothing();
}

#[test]
fn one_bad_file_among_good_ones_is_told_and_the_good_are_written() {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .sample("heat-shield.toml")
        .file("bad.toml", misspelt());
    bench
        .run("draw under-panel.toml bad.toml heat-shield.toml --only pdf")
        .exits(1)
        .results(&format!("{PDF}\nout/LV2-HS-03-A.pdf\n"))
        .says(&[
            "bad.toml:13:1: error: unknown key `acessory` in `[pattern]`\n",
            " 13 | acessory = \"Fixed bracket, 60 mm neck\"\n",
            "    | ^^^^^^^^\n",
            "hint: did you mean `accessory`?\n",
            "error: 1 of 3 patterns are not drawn\n",
        ]);
    let mut expected = vec!["bad.toml", "heat-shield.toml"];
    expected.extend(["out/LV2-HS-03-A.pdf", PDF, "under-panel.toml"]);
    assert_eq!(bench.files(), expected);
}

#[test]
fn a_bad_file_leaves_what_was_there_untouched() {
    let bench = Bench::new()
        .file(
            "bad.toml",
            include_str!("under-panel.toml").replace("width = 76", "width = 76000"),
        )
        .file(PDF, "an older pattern")
        .file(SVG, [0, 1, 2, 255]);
    bench.run("draw bad.toml").exits(1).results("").says(&[
        "bad.toml:42:18: error: ",
        "`76000`",
        "at most 5 m",
        "error: nothing is drawn\n",
    ]);
    assert_eq!(bench.read(PDF), b"an older pattern");
    assert_eq!(bench.read(SVG), [0, 1, 2, 255]);
    assert_eq!(bench.files(), ["bad.toml", PDF, SVG]);
}

#[test]
fn a_problem_that_shows_only_when_solved_is_told_at_its_place() {
    let text = include_str!("under-panel.toml");
    let bench = Bench::new().file(
        "p.toml",
        text.replace("corner_radius = 10", "corner_radius = 50"),
    );
    bench.run("draw p.toml").exits(1).results("").says(&[
        "p.toml:42:50: ",
        "error: `corner_radius` is `50 mm`; it must be from 1.5 mm to 38 mm\n",
        "^^",
        "hint: the limit here is `min(width / 2, depth)`\n",
    ]);
    assert_eq!(bench.files(), ["p.toml"]);
}

#[test]
fn two_patterns_of_one_number_and_revision_write_nothing() {
    let text = include_str!("under-panel.toml");
    let bench = Bench::new()
        .file("one.toml", text)
        .file("other.toml", text.replace("LV2-UP-01", "lv2-up-01"))
        .file("bad.toml", "format = 2\n")
        .sample("heat-shield.toml");
    bench
        .run("draw one.toml heat-shield.toml bad.toml other.toml")
        .exits(1)
        .results("")
        .says(&[
            "bad.toml:1:10: error: ",
            "`one.toml` and `other.toml` would both be written as",
            "hint: give them different numbers or revisions\n",
        ]);
    bench
        .run("draw one.toml one.toml")
        .exits(1)
        .says(&["`one.toml` is named twice"]);
    assert_eq!(
        bench.files(),
        ["bad.toml", "heat-shield.toml", "one.toml", "other.toml"]
    );
    // Another revision is another pattern.
    let bench = bench.file(
        "next.toml",
        text.replace("revision = \"B\"", "revision = \"C\""),
    );
    bench.run("draw one.toml next.toml --only svg").exits(0);
}

#[test]
fn out_names_the_folder_and_makes_it() {
    let bench = Bench::new().sample("under-panel.toml");
    bench
        .run("draw under-panel.toml --only svg --out deep/er")
        .exits(0)
        .results("deep/er/LV2-UP-01-B.svg\n");
}

#[test]
fn findings_stand_on_stderr_and_stop_nothing() {
    let text = include_str!("heat-shield.toml");
    let bench = Bench::new().file(
        "p.toml",
        text.replace("\"28 mm front\"", "\"255 mm front\""),
    );
    bench
        .run("draw p.toml --only svg")
        .exits(0)
        .results("out/LV2-HS-03-A.svg\n")
        .says(&[
            "p.toml: warning: opening `bolt notch` runs 17 mm over the panel's front end",
            "hint: ",
        ]);
}
