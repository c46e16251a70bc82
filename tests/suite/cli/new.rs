//! `trimloft new`: answers in, a definition and its sheets out.

use std::path::Path;
use std::process::{Command, Output, Stdio};

fn new(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_trimloft"))
        .arg("new")
        .args(arguments)
        .current_dir(folder)
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

const NECK: [&str; 13] = [
    "neck.toml",
    "--answer",
    "seen-from=below",
    "--answer",
    "datum-edge=rear",
    "--answer",
    "width=980",
    "--answer",
    "part.1.size=60, 60, 4",
    "--answer",
    "part.1.at=0, 34",
    "--answer",
    "open-at-edge=yes",
];

#[test]
fn answers_make_a_definition_and_its_sheets() {
    let folder = tempfile::tempdir().unwrap();
    let output = new(folder.path(), &NECK);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let files = String::from_utf8(output.stdout).unwrap();
    assert_eq!(files, "out/neck.pdf\nout/neck.svg\n");
    let text = std::fs::read_to_string(folder.path().join("neck.toml")).unwrap();
    assert!(text.contains("width = 980  # "), "commented:\n{text}");
    // The sheets prove right against the definition that was written.
    let output = Command::new(env!("CARGO_BIN_EXE_trimloft"))
        .args([
            "verify",
            "out/neck.pdf",
            "out/neck.svg",
            "--against",
            "neck.toml",
        ])
        .current_dir(folder.path())
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", told(&output));
}

#[test]
fn what_must_be_answered_is_listed_and_nothing_written() {
    let folder = tempfile::tempdir().unwrap();
    let output = new(folder.path(), &["neck.toml"]);
    assert_eq!(output.status.code(), Some(2));
    let words = told(&output);
    for id in [
        "seen-from",
        "datum-edge",
        "width",
        "part.1.size",
        "part.1.at",
    ] {
        assert!(
            words.contains(&format!("--answer \"{id}=")),
            "{id}: {words}"
        );
    }
    assert!(std::fs::read_dir(folder.path()).unwrap().next().is_none());
}

#[test]
fn a_definition_is_changed_and_keeps_what_was_said_beside_it() {
    let folder = tempfile::tempdir().unwrap();
    let demo = crate::common::root().join("shapes/demo/under-panel.toml");
    let before = std::fs::read_to_string(demo).unwrap();
    let file = folder.path().join("mine.toml");
    std::fs::write(&file, &before).unwrap();
    let output = new(
        folder.path(),
        &["mine.toml", "--answer", "gap=8", "--only", "svg"],
    );
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let after = std::fs::read_to_string(&file).unwrap();
    assert_eq!(after, before.replace("gap = 6\n", "gap = 8\n"));
}

#[test]
fn wrong_answers_change_nothing() {
    let folder = tempfile::tempdir().unwrap();
    for (answer, words) in [
        ("width=wide", "not a length"),
        ("width", "names no question"),
        ("colour=red", "is not asked here"),
        ("part.1.at=4 mm, 30", "left"),
        ("zero=up", "is not asked here"),
    ] {
        let output = new(folder.path(), &["neck.toml", "--answer", answer]);
        assert_eq!(output.status.code(), Some(2), "{answer}: {}", told(&output));
        assert!(told(&output).contains(words), "{answer}: {}", told(&output));
    }
    // What the blanks take, and the panel does not.
    let beyond = ["--answer", "locators=2000, 50"];
    let output = new(folder.path(), &[&NECK[..], &beyond].concat());
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    assert!(told(&output).contains("off the panel"), "{}", told(&output));
    assert!(std::fs::read_dir(folder.path()).unwrap().next().is_none());
}

#[test]
fn questions_are_listed_with_what_stands() {
    let folder = tempfile::tempdir().unwrap();
    let output = new(
        folder.path(),
        &["neck.toml", "--questions", "--answer", "width=980"],
    );
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let list = String::from_utf8(output.stdout).unwrap();
    for words in [
        "The panel\n",
        "now: 980",
        "must be answered",
        "ASSUMED",
        "below|behind",
    ] {
        assert!(list.contains(words), "{words}: {list}");
    }
}

/// What can't be true together is told by the question that was answered so, and what nobody
/// answered by what it stands at.
#[test]
fn refusals_and_defaults_are_told_by_their_questions() {
    let folder = tempfile::tempdir().unwrap();
    let edge = ["--answer", "edge=0, 0; 1200, 4; 980, 0"];
    let output = new(folder.path(), &[&NECK[..], &edge].concat());
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let words = told(&output);
    assert!(
        words.contains("`edge`: Does the edge bow? the tape reading 980 mm"),
        "{words}"
    );
    assert!(std::fs::read_dir(folder.path()).unwrap().next().is_none());
    let output = new(folder.path(), &NECK);
    let words = told(&output);
    for line in [
        "neck.toml: not answered",
        "  pairs: none: the middle is ASSUMED at half the width",
    ] {
        assert!(words.contains(line), "{words}");
    }
}

#[test]
fn what_stops_a_pattern_is_answered_for_by_the_answer_that_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let demo = crate::common::root().join("shapes/demo/fascia-socket.toml");
    let whole = std::fs::read_to_string(demo).unwrap();
    let file = folder.path().join("mine.toml");
    std::fs::write(&file, whole.split("[[accepted]]").next().unwrap()).unwrap();
    let words = ["mine.toml", "--no-input", "--only", "svg"];
    let output = new(folder.path(), &words);
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    let said = told(&output);
    let answer = said
        .split("--answer '")
        .nth(1)
        .and_then(|rest| rest.split('\'').next());
    let answer = answer.unwrap_or_else(|| panic!("{said}"));
    let answer = answer
        .replace("WHO", "A. Fitter")
        .replace("WHY", "held behind, tried, sound");
    let output = new(
        folder.path(),
        &[&words[..], &["--answer", &answer]].concat(),
    );
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(
        text.contains("because = \"held behind, tried, sound\""),
        "{text}"
    );
}
