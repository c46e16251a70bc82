//! No file, however odd, makes the program fall over: through to the sheets and their bytes it
//! gives a pattern or says what is wrong, within a bounded time and memory.
//!
//! `TRIMLOFT_ODD_CASES` sets the number of cases, `TRIMLOFT_ODD_SEED` another seed; a failure
//! names its case and shows its file.

mod dice;
mod made;
mod mutated;

use crate::common::{alone, demos, root, shipped};
use dice::Dice;
use made::{made_family, made_pattern, random_bytes, random_toml};
use mutated::mutated;
use rayon::prelude::*;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use trimloft::draft::draw;
use trimloft::pattern::{Finding, solve};
use trimloft::shape::Library;
use trimloft::sheet::{PageTurn, Paper, Setup, plate, sheets};
use trimloft::spec::{PatternSpec, Source};
use trimloft::verify::{Against, Outcome, Reference, prove};
use trimloft::write::{pdf, svg};

/// Longest time for one case. A test build is some times slower, and shares its machine.
const LONGEST: Duration = Duration::from_secs(if cfg!(debug_assertions) { 10 } else { 2 });

/// Most memory for the whole run, kB: the largest pattern that a file can ask for, on each core.
const MOST_MEMORY: u64 = 2_000_000;

fn number_from(variable: &str, otherwise: u64) -> u64 {
    match std::env::var(variable) {
        Ok(text) => text.parse().expect("a whole number"),
        Err(_) => otherwise,
    }
}

/// A pattern file, and a family of the user's own that it may use.
struct Case {
    pattern: Vec<u8>,
    family: Option<Vec<u8>>,
    setup: Setup,
}

/// Sound files to start from.
struct Stock {
    demos: Vec<String>,
    families: Vec<String>,
}

impl Stock {
    fn read() -> Self {
        let texts = |files: Vec<PathBuf>| {
            files
                .iter()
                .map(|file| std::fs::read_to_string(file).unwrap())
                .collect()
        };
        let mut families: Vec<PathBuf> = std::fs::read_dir(root().join("shapes"))
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
            .collect();
        families.sort();
        Self {
            demos: texts(demos()),
            families: texts(families),
        }
    }

    fn case(&self, dice: &mut Dice) -> Case {
        let setup = setup(dice);
        let (pattern, family) = match dice.below(40) {
            0 => (random_bytes(dice), None),
            1 => (random_toml(dice), None),
            2..=12 => {
                let text: &String = dice.pick(&self.demos);
                (mutated(text, dice), None)
            }
            13..=18 => {
                let text: &String = dice.pick(&self.families);
                let renamed: String = text
                    .lines()
                    .map(|line| {
                        if line.starts_with("name = ") {
                            "name = \"own\"\n".into()
                        } else {
                            format!("{line}\n")
                        }
                    })
                    .collect();
                (
                    made_pattern(Some("own"), dice),
                    Some(mutated(&renamed, dice)),
                )
            }
            19..=21 => (
                made_pattern(Some("own"), dice),
                Some(made_family("own", dice)),
            ),
            _ => (made_pattern(None, dice), None),
        };
        Case {
            pattern,
            family,
            setup,
        }
    }
}

fn setup(dice: &mut Dice) -> Setup {
    let paper = *dice.pick(&["a4", "letter", "a3", "a0", "a0", "roll-610mm", "194x156mm"]);
    let mut setup = Setup::new(Paper::parse(paper).unwrap());
    setup.turn = *dice.pick(&[PageTurn::Upright, PageTurn::Lying, PageTurn::Either]);
    if dice.one_in(10) {
        setup.margin = *dice.pick(&[0.0, 50.0, -1.0, f64::NAN, f64::INFINITY]);
        setup.overlap = *dice.pick(&[5.0, 40.0, 1e9, -1.0, f64::NAN]);
    }
    setup
}

/// The whole way through. What it says is no matter here, only that it says something.
fn run(case: &Case, folder: &Path) -> Option<usize> {
    let library = match &case.family {
        None => shipped(),
        Some(family) => {
            std::fs::write(folder.join("own.toml"), family).unwrap();
            match shipped().with_folder(folder) {
                Ok(library) => library,
                Err(errors) => {
                    assert!(errors.iter().all(|error| !error.to_string().is_empty()));
                    shipped()
                }
            }
        }
    };
    match Source::from_bytes("odd.toml", case.pattern.clone()) {
        Ok(source) => drawn(&source, &library, &case.setup),
        Err(report) => {
            assert!(!report.to_string().is_empty());
            None
        }
    }
}

/// Bytes that a definition gave; `None` where something is wrong with it.
fn drawn(source: &Source, library: &Library, setup: &Setup) -> Option<usize> {
    let spec = match PatternSpec::read(source) {
        Ok(spec) => spec,
        Err(report) => {
            assert!(!report.problems.is_empty() && !report.to_string().is_empty());
            return None;
        }
    };
    let pattern = match solve(&spec, library) {
        Ok(pattern) => pattern,
        Err(problems) => {
            assert!(!problems.is_empty(), "refused, and nothing said");
            let report = trimloft::spec::Report::new(source, problems);
            assert!(!report.to_string().is_empty());
            return None;
        }
    };
    let drawing = draw(&pattern).ok()?;
    let picture = svg(&plate(&drawing).ok()?).unwrap();
    let set = sheets(&drawing, setup).ok()?;
    let sheets = pdf(&set).unwrap();
    let length = picture.len() + sheets.len();
    if !pattern.findings.iter().any(Finding::stops) {
        let reference = Reference::of(&pattern);
        assert_sound(picture.into_bytes(), &reference);
        assert_sound(sheets, &reference);
    }
    Some(length)
}

/// What may be drawn proves right when it is read back.
fn assert_sound(bytes: Vec<u8>, reference: &Reference) {
    let against = Against {
        reference: Some(reference),
        scales: None,
    };
    let report = prove(bytes, against).unwrap_or_else(|error| panic!("{error}"));
    let worst = report.outcome();
    let told: Vec<String> = report.of(worst).map(ToString::to_string).collect();
    assert_eq!(worst, Outcome::Sound, "{told:?}");
}

/// Most memory that this process has held so far, kB, where the system tells.
fn peak_memory() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

#[test]
fn nothing_makes_it_fall_over() {
    // The peak of memory is the whole process's.
    if !alone("odd_input::nothing_makes_it_fall_over") {
        return;
    }
    let cases = number_from("TRIMLOFT_ODD_CASES", 2_000);
    let seed = number_from("TRIMLOFT_ODD_SEED", 1);
    let stock = Stock::read();
    let outcomes: Vec<(bool, Option<String>)> = (0..cases)
        .into_par_iter()
        .map_init(
            || tempfile::tempdir().unwrap(),
            |folder, number| {
                let case = stock.case(&mut Dice::of(seed, number));
                let start = Instant::now();
                let outcome = catch_unwind(AssertUnwindSafe(|| run(&case, folder.path())));
                let took = start.elapsed();
                let trouble = match outcome {
                    Err(_) => Some("panics".to_owned()),
                    Ok(_) if took > LONGEST => Some(format!("takes {took:?}")),
                    Ok(_) => None,
                };
                let told = trouble.map(|trouble| {
                    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
                    let family = case.family.as_deref().map_or_else(String::new, text);
                    format!(
                        "case {number} of seed {seed} {trouble}: {:?}\n{}\n{family}",
                        case.setup,
                        text(&case.pattern)
                    )
                });
                if let Some(told) = &told {
                    eprintln!("{told}");
                }
                (matches!(outcome, Ok(Some(_))), told)
            },
        )
        .collect();
    let drawn = outcomes.iter().filter(|(drawn, _)| *drawn).count();
    let troubles: Vec<&String> = outcomes
        .iter()
        .filter_map(|(_, trouble)| trouble.as_ref())
        .collect();
    eprintln!(
        "{drawn} of {cases} drawn, {} in trouble, {:?} kB",
        troubles.len(),
        peak_memory()
    );
    assert!(
        troubles.is_empty(),
        "{} of {cases} cases: {}",
        troubles.len(),
        troubles[0]
    );
    // Cases that all fail at the door would prove nothing of what lies behind it.
    assert!(
        drawn as u64 * 10 > cases,
        "only {drawn} of {cases} were drawn"
    );
    assert!(
        peak_memory().is_none_or(|most| most < MOST_MEMORY),
        "{:?} kB",
        peak_memory()
    );
}
