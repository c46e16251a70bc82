//! What several test files share.

pub mod bench;
pub mod laid_out;
pub mod random;
pub mod read_pdf;
pub mod read_svg;
pub mod simulated;

use proptest::prelude::*;
use std::path::{Path, PathBuf};
use std::process::Command;
use trimloft::draw::draw;
use trimloft::draw::ink::Drawing;
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Source};
use trimloft::jobs::produce::{Formats, Product, produce};
use trimloft::layout::{Paper, Setup};
use trimloft::solve::{Pattern, solve};

/// The folder of the checkout.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The demo kit, beside the demo patterns.
pub const DEMO_KIT: &str = "tarn-lv2-kit.toml";

/// The demo patterns, in order of their names.
pub fn demos() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = std::fs::read_dir(root().join("shapes/demo"))
        .expect("the demo folder is there")
        .map(|entry| entry.expect("the demo folder can be read").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .filter(|path| !path.ends_with(DEMO_KIT))
        .collect();
    files.sort();
    files
}

/// The shipped families.
pub fn shipped() -> Library {
    Library::shipped()
}

/// Solves a definition given as text.
pub fn solved(toml: &str) -> Pattern {
    let source = Source {
        name: "test.toml".into(),
        text: toml.into(),
    };
    let spec = PatternSpec::read(&source).unwrap_or_else(|report| panic!("{report}"));
    solve(&spec, &shipped()).unwrap_or_else(|problems| panic!("{problems:#?}\n{toml}"))
}

/// Solves a random definition; none where its cuts would leave a loose island or take the panel
/// apart, which alone is a right refusal.
///
/// # Errors
/// A definition that can't be read, or is refused for something else.
pub fn solved_unless_in_pieces(toml: &str) -> Result<Option<Pattern>, TestCaseError> {
    let spec = PatternSpec::read(&Source::new("random.toml", toml))
        .map_err(|report| TestCaseError::fail(report.to_string()))?;
    match solve(&spec, &shipped()) {
        Ok(pattern) => Ok(Some(pattern)),
        Err(problems) => {
            let in_pieces =
                |message: &str| message.contains("a loose island") || message.contains("pieces");
            prop_assert!(
                problems.iter().all(|one| in_pieces(&one.message)),
                "{problems:?}\n{toml}"
            );
            Ok(None)
        }
    }
}

/// Draws a definition given as text.
pub fn drawn(toml: &str) -> Drawing {
    draw(&solved(toml)).unwrap_or_else(|error| panic!("{error}"))
}

/// Everything that a definition gives on the usual paper, given as text; a view where the panel is
/// not flat.
pub fn produced(toml: &str) -> Product {
    let spec = PatternSpec::read(&Source::new("test.toml", toml))
        .unwrap_or_else(|report| panic!("{report}"));
    produced_on(&spec, &Setup::new(Paper::parse("a4").unwrap()))
}

/// Both files of a definition on such sheets.
#[track_caller]
pub fn produced_on(spec: &PatternSpec, setup: &Setup) -> Product {
    produce(
        spec,
        &shipped(),
        setup,
        Formats {
            pdf: true,
            svg: true,
            view: spec.panel.surface.is_some(),
            closed: false,
        },
    )
    .unwrap_or_else(|error| panic!("{error}"))
}

/// A pattern file for a panel seen from below, with these tables added.
pub fn under_panel(width: f64, height: f64, tables: &str) -> String {
    format!(
        "format = 1\n[pattern]\nnumber = \"T-1\"\ntitle = \"Test\"\n[panel]\nname = \"Panel\"\n\
         width = {width}\nheight = {height}\ndatum_edge = \"rear\"\nseen_from = \"below\"\n\
         page_up = \"front\"\n{tables}"
    )
}

/// Whether a line of a PDF's content begins a marked piece: such pieces lie in one another.
pub fn begins_marked(line: &str) -> bool {
    line.ends_with("BDC") || line.ends_with("BMC")
}

/// Two figures that must agree within `within`.
#[track_caller]
pub fn assert_close(is: f64, should: f64, within: f64, what: &str) {
    assert!(
        (is - should).abs() <= within,
        "{what}: {is}, should be {should} within {within}"
    );
}

/// Whether this process runs one test alone. If not, the test of this path is run in a process of
/// its own and must pass there.
pub fn alone(test: &str) -> bool {
    const ALONE: &str = "TRIMLOFT_TEST_ALONE";
    if std::env::var_os(ALONE).is_some() {
        return true;
    }
    let output = Command::new(std::env::current_exe().expect("the path of this binary"))
        .args(["--exact", test, "--nocapture"])
        .env(ALONE, "1")
        .output()
        .expect("this binary can be run");
    let told = [output.stdout, output.stderr].concat();
    let told = String::from_utf8_lossy(&told);
    print!("{told}");
    assert!(output.status.success(), "{test} failed on its own");
    // A path that names no test would pass without a trace.
    assert!(told.contains("1 passed"), "no test is named {test}");
    false
}
