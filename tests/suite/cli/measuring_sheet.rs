//! `trimloft measuring-sheet`: one page with the questions' own words.

use std::process::{Command, Output};
use trimloft::ask::{Standing, measuring_sheet};
use trimloft::base::length::Units;
use trimloft::draw::ink::{Ink, lettering, mark_bounds};
use trimloft::layout::{Paper, Stock};
use trimloft::model::panel::Face;

fn run(arguments: &[&str]) -> (Output, tempfile::TempDir) {
    let folder = tempfile::tempdir().unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_trimloft"))
        .arg("measuring-sheet")
        .args(arguments)
        .current_dir(folder.path())
        .output()
        .unwrap();
    (output, folder)
}

#[test]
fn one_page_is_written() {
    let (output, folder) = run(&[
        "--seen-from",
        "below",
        "--datum",
        "rear",
        "--paper",
        "letter",
    ]);
    assert!(output.status.success());
    assert_eq!(output.stdout, b"out/measuring-sheet.pdf\n");
    let bytes = std::fs::read(folder.path().join("out/measuring-sheet.pdf")).unwrap();
    let pdf = hayro::hayro_syntax::Pdf::new(bytes).unwrap();
    assert_eq!(pdf.pages().len(), 1);
    for wrong in [
        ["--seen-from", "below", "--datum", "up"],
        ["--paper", "a5", "--units", "mm"],
        ["--paper", "roll-610mm", "--units", "mm"],
    ] {
        let (output, _) = run(&wrong);
        assert_eq!(output.status.code(), Some(2), "{wrong:?}");
    }
}

/// Nothing runs off the page or over other words, and all of it can be read at arm's length.
#[test]
fn nothing_is_small_cut_off_or_over_another() {
    for paper in ["a4", "letter", "a3"] {
        let Stock::Sheet(page) = Paper::parse(paper).unwrap().stock() else {
            panic!("{paper}")
        };
        for face in Face::ALL.map(Some).into_iter().chain([None]) {
            let standing = Standing {
                seen_from: face,
                datum_edge: None,
            };
            for units in Units::ALL {
                let set = measuring_sheet(standing, units, page).unwrap();
                let room = page.to_rect().inset(-7.0);
                let mut texts = vec![];
                for mark in &set.pages[0].furniture {
                    let bounds = mark_bounds(mark);
                    assert_eq!(bounds.union(room), room, "{paper}: {bounds:?} runs off");
                    if let Ink::Text(text) = &mark.ink {
                        assert!(text.height >= 3.5, "{}", text.words);
                        texts.push((lettering::bounds(text), text.words.clone()));
                    }
                }
                for (index, (one, words)) in texts.iter().enumerate() {
                    for (other, over) in &texts[index + 1..] {
                        let shared = one.intersect(*other);
                        assert!(
                            shared.width() <= 0.0 || shared.height() <= 0.0,
                            "{paper}: `{words}` over `{over}`"
                        );
                    }
                }
            }
        }
    }
}
