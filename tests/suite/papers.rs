//! One number and revision is one paper.

use crate::common::bench::Bench;
use crate::common::read_pdf;
use hayro_syntax::Pdf;
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Source};
use trimloft::solve::{Content, solve};

/// The codes of the demos: the same geometry and words have the same code in every version of the
/// program. A line changes only where a demo does. The codes are this program's own: no outside
/// source.
const GOLDEN: &str = include_str!("papers.txt");

#[test]
fn the_demos_keep_their_codes() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/shapes/demo");
    let mut found = vec![];
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let source = Source::open(&path, &path).unwrap();
        let Ok(spec) = PatternSpec::read(&source) else {
            continue;
        };
        let code = Content::of(&solve(&spec, &Library::shipped()).unwrap()).code();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        found.push(format!("{name} {code}\n"));
    }
    found.sort();
    if std::env::var_os("TRIMLOFT_RENEW_CODES").is_some() {
        let golden = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/suite/papers.txt");
        std::fs::write(golden, found.concat()).unwrap();
        return;
    }
    assert!(found.len() >= 6, "{found:?}");
    assert_eq!(found.concat(), GOLDEN);
}

const DEMO: &str = include_str!("../../shapes/demo/under-panel.toml");

fn bench() -> Bench {
    let bench = Bench::new().file("p.toml", DEMO);
    bench.run("draw p.toml").exits(0);
    bench
}

#[test]
fn another_paper_under_the_same_revision_is_not_drawn_over_it() {
    let bench = bench().file(
        "p.toml",
        DEMO.replace("from_datum = 118", "from_datum = 119"),
    );
    let first = std::fs::read(bench.path("out/LV2-UP-01-B.svg")).unwrap();
    bench.run("draw p.toml").exits(1).results("").says(&[
        "LV2-UP-01 rev B is ",
        "in `out/LV2-UP-01-B.svg` already, and this is ",
        "locator drain hole: ",
        "hint: raise the revision",
    ]);
    // The sheets alone tell as much.
    std::fs::remove_file(bench.path("out/LV2-UP-01-B.svg")).unwrap();
    bench
        .run("draw p.toml")
        .exits(1)
        .says(&["in `out/LV2-UP-01-B.pdf` already", "locator drain hole: "]);
    std::fs::write(bench.path("out/LV2-UP-01-B.svg"), &first).unwrap();
    // A reason goes with it, and all of the paper.
    bench.run("draw p.toml --replace").exits(2);
    bench.run("draw p.toml --because trial").exits(2);
    bench
        .run("draw p.toml --only svg --replace --because trial")
        .exits(1)
        .says(&["`out/LV2-UP-01-B.pdf` would stay as the other paper"]);
    assert_eq!(
        std::fs::read(bench.path("out/LV2-UP-01-B.svg")).unwrap(),
        first
    );
    bench.run("draw p.toml --replace --because trial").exits(0);
    let kept = std::fs::read_to_string(bench.path("out/replaced.jsonl")).unwrap();
    let kept: serde_json::Value = serde_json::from_str(&kept).unwrap();
    assert_eq!(kept["because"], "trial");
    bench.run("draw p.toml").exits(0);
}

#[test]
fn the_same_paper_is_drawn_again_on_other_sheets() {
    let bench = bench().file("p.toml", format!("# said\n{DEMO}"));
    bench.run("draw p.toml --paper letter --record").exits(0);
}

#[test]
fn a_draft_without_a_revision_may_change() {
    let draft = |depth: &str| {
        DEMO.replace("revision = \"B\"", "")
            .replace("from_datum = 118", depth)
    };
    let bench = Bench::new().file("p.toml", draft("from_datum = 118"));
    bench.run("draw p.toml").exits(0);
    let bench = bench.file("p.toml", draft("from_datum = 119"));
    bench.run("draw p.toml").exits(0);
}

#[test]
fn a_folder_with_two_papers_under_one_name_does_not_pass() {
    let bench = Bench::new()
        .file("folder/a.toml", DEMO)
        .file("folder/b.toml", format!("# said\n{DEMO}"));
    bench.run("check folder").exits(0);
    let bench = bench.file(
        "folder/b.toml",
        DEMO.replace("from_datum = 118", "from_datum = 119"),
    );
    bench.run("check folder").exits(1).says(&[
        "LV2-UP-01 rev B is ",
        "in `folder/a.toml` already",
        "locator drain hole: ",
    ]);
}

#[test]
fn every_sheet_says_its_code() {
    let bench = bench();
    let svg = std::fs::read(bench.path("out/LV2-UP-01-B.svg")).unwrap();
    let code = Content::in_file(&svg).unwrap().code();
    bench
        .run("verify out/LV2-UP-01-B.pdf out/LV2-UP-01-B.svg --against p.toml")
        .exits(0);
    let pdf = std::fs::read(bench.path("out/LV2-UP-01-B.pdf")).unwrap();
    assert_eq!(Content::in_file(&pdf).unwrap().code(), code);
    let pages = read_pdf::read(&Pdf::new(pdf).unwrap());
    assert!(!pages.is_empty());
    for page in pages {
        assert!(page.texts.iter().any(|shown| shown.words.contains(&code)));
    }
}
