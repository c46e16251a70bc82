//! `scale`, printer files, and sheets drawn for a printer or on one page.

use crate::common::bench::Bench;
use crate::common::read_pdf;
use hayro_syntax::Pdf;

const PRINTER: &str = "format = 1\n\n[printer]\nname = \"front desk\"\nmeasured = 2026-03-02\nacross = 0.994\ndown = 0.997\npaper = \"iso_a4_210x297mm\"\nmargin = 6.35\n";

#[test]
fn a_good_print_is_good_to_cut() {
    let bench = Bench::new().sample("under-panel.toml");
    let told = bench
        .run("scale --across 99.9@0.2 --down 100.1@0.2 --across-4in \"4 in@1/64 in\" --pattern under-panel.toml")
        .exits(0)
        .says_nothing();
    for piece in [
        "across: 100 mm reads",
        "down: 100 mm reads 100.1 mm",
        "good to cut\n",
    ] {
        assert!(told.stdout.contains(piece), "{piece}: {told:#?}");
    }
    // Half a millimetre either way on a bank card says too little over 400 mm.
    bench
        .run("scale --card 85.6,54@1 --farthest 300,400 --print 1")
        .exits(1)
        .says(&["not proven"]);
}

#[test]
fn half_millimetres_are_enough_and_the_general_range_is_stated() {
    let bench = Bench::new().sample("under-panel.toml");
    let told = bench
        .run("scale --across 100 --down 100 --pattern under-panel.toml")
        .exits(0);
    assert!(
        told.stdout.contains("100 mm must read 99.7 to 100.3 mm"),
        "{told:#?}"
    );
    assert!(told.stdout.contains("moves no limit"), "{told:#?}");
    let told = bench.run("scale --across 100 --down 100.3").exits(0);
    let general = "no pattern was named: held to 0.3 %, as sheets are whose clearances say nothing \
                   else: 100 mm must read 99.7 to 100.3 mm; hint: ";
    assert!(told.stdout.contains(general), "{told:#?}");
    let told = bench.run("scale --across 100 --down 100.5").exits(1);
    let reads = "the 100 mm ruler reads 100.5 mm down, it must read 99.7 to 100.3 mm";
    assert!(told.stdout.contains(reads), "{told:#?}");
    // One direction shows half, and whole millimetres show nothing.
    bench
        .run("scale --across 100")
        .exits(1)
        .says(&["not proven"]);
    bench
        .run("scale --across 100@1 --down 100@1")
        .exits(1)
        .says(&["not proven"]);
}

#[test]
fn a_fault_of_the_dialog_is_named_with_what_to_choose() {
    let bench = Bench::new();
    let told = bench
        .run("scale --across 97.3@0.25 --down 97.25@0.25 --paper letter --tray a4")
        .exits(1)
        .says(&["do not cut"]);
    for piece in [
        "Letter page fitted to the whole of A4 paper",
        "hint: put Letter in the tray",
    ] {
        assert!(told.stdout.contains(piece), "{piece}: {told:#?}");
    }
    let told = bench
        .run("scale --across 95.97 --down 95.97 --json")
        .exits(1);
    let json = told.json();
    assert_eq!(json["judgement"], "do not cut");
    assert!(!json["faults"].as_array().unwrap().is_empty());
    let refused = bench
        .run("scale --across 97.3 --down 97.25 --save front.toml")
        .exits(1);
    refused.says(&["no printer's own error, so nothing is kept"]);
    assert!(bench.files().is_empty());
}

#[test]
fn readings_that_can_not_be_are_refused() {
    let bench = Bench::new();
    bench.run("scale").exits(2).says(&["nothing was read"]);
    bench
        .run("scale --across 9.96")
        .exits(1)
        .says(&["9.96", "allowed: 30 to 300 mm"]);
    bench.run("scale --across ten").exits(2).says(&["--across"]);
    bench
        .run("scale --card 85.6")
        .exits(2)
        .says(&["holds 1 lengths; allowed: 2"]);
    bench
        .run("scale --across 100 --across 95")
        .exits(1)
        .says(&["contradict each other"]);
    bench
        .run("scale --scan none.png --dpi 300")
        .exits(1)
        .says(&["none.png"]);
    bench.run("scale --scan none.png").exits(2);
}

#[test]
fn diagonals_find_a_skewed_feed() {
    let bench = Bench::new();
    // The frame of A4 at the usual margin: 175.8 x 262.8 mm. Sheared by 0.5 degrees its diagonals
    // are sqrt((w + h sin)^2 + (h cos)^2) and the same with a minus.
    let told = bench
        .run("scale --across 100@0.25 --down 100@0.25 --diagonals 317.5,314.9@0.5 --json")
        .exits(1);
    let json = told.json();
    let skew = json["skew_degrees"]["value"].as_f64().unwrap();
    assert!((skew - 0.5).abs() < 0.05, "{skew}");
    assert_eq!(json["judgement"], "do not cut");
    // Within what such readings tell from square.
    bench
        .run("scale --across 100@0.25 --down 100@0.25 --diagonals 316.7,315.7@0.5")
        .exits(0);
}

#[test]
fn a_printer_is_kept_and_sheets_are_drawn_for_it() {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .sample("heat-shield.toml");
    bench
        .run("scale --across 99.4 --down 99.7 --save front-desk.toml --name \"front desk\" --measured 2026-03-02")
        .exits(0)
        .says(&["wrote front-desk.toml, front desk on iso_a4_210x297mm: as read on portrait sheets; hint: ", "`--orientation landscape`\n"]);
    assert_eq!(
        String::from_utf8(bench.read("front-desk.toml")).unwrap(),
        PRINTER
    );
    bench
        .run("draw under-panel.toml heat-shield.toml --printer front-desk.toml")
        .exits(0);
    for (file, pattern) in [
        ("LV2-UP-01-B", "under-panel"),
        ("LV2-HS-03-A", "heat-shield"),
    ] {
        bench
            .run(&format!(
                "verify out/{file}.pdf --printer front-desk.toml --against {pattern}.toml"
            ))
            .exits(0);
        // Held to be uncorrected, they are too large.
        let told = bench.run(&format!("verify out/{file}.pdf")).exits(1);
        assert!(told.stdout.contains("scaled to 100."), "{told:#?}");
        bench
            .run(&format!("verify out/{file}.svg --against {pattern}.toml"))
            .exits(0);
    }
}

#[test]
fn mistakes_in_a_printer_file_are_told_at_their_place() {
    let wrong = PRINTER
        .replace("0.994", "0.9")
        .replace("iso_a4_210x297mm", "a44")
        .replace("margin", "margins");
    let bench = Bench::new()
        .sample("under-panel.toml")
        .file("p.toml", wrong);
    bench
        .run("draw under-panel.toml --printer p.toml")
        .exits(1)
        .says(&[
            "p.toml",
            "6:10: error: `across = 0.9` is out of range: 0.97 to 1.03 is allowed",
            "9:1: error: unknown key `margins`",
        ]);
    let bench = bench.file("q.toml", PRINTER.replace("iso_a4_210x297mm", "a44"));
    bench
        .run("draw under-panel.toml --printer q.toml")
        .exits(1)
        .says(&["q.toml:8:9: error", "a44"]);
    assert!(!bench.files().iter().any(|file| file.ends_with(".pdf")));
}

#[test]
fn one_page_holds_title_block_and_pattern() {
    let bench = Bench::new()
        .sample("under-panel.toml")
        .sample("heat-shield.toml");
    bench
        .run("draw under-panel.toml --one-page")
        .exits(0)
        .says(&["under-panel.toml: 1 page, a4 portrait"]);
    bench
        .run("verify out/LV2-UP-01-B.pdf --against under-panel.toml")
        .exits(0);
    bench
        .run("draw under-panel.toml --one-page --paper 200x205mm --out b")
        .exits(0);
    let words = read_pdf::read(&Pdf::new(bench.read("b/LV2-UP-01-B.pdf")).unwrap());
    let words: Vec<&str> = words[0]
        .texts
        .iter()
        .map(|text| text.words.as_str())
        .collect();
    assert!(words.join(" ").contains("Left out to fit: "), "{words:?}");
    bench
        .run("draw under-panel.toml --one-page --paper 194x156mm --out c")
        .exits(1)
        .says(&["beside the title block", "leave `--one-page` out"]);
}
