//! No file, however odd, makes the program fall over: through to the sheets and their bytes it
//! gives a pattern or says what is wrong, within a bounded time and memory.
//!
//! `TRIMLOFT_CASES` sets the number of cases, `TRIMLOFT_SEED` another seed; a failure names its case
//! and shows its file. A case that does not end is shown and ends the run.

pub mod dice;
mod made;
mod many;
pub mod mutated;

use crate::common::{alone, demos, root, shipped};
use dice::Dice;
use made::{made_family, made_pattern, random_bytes, random_toml};
use mutated::mutated;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::thread;
use std::time::{Duration, Instant};
use trimloft::check::verify::{Against, Outcome, Reference, prove};
use trimloft::draw::draw;
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Source};
use trimloft::jobs::produce::ProduceError;
use trimloft::layout::sheets_of;
use trimloft::layout::{PageOrientation, Paper, Setup, plate};
use trimloft::output::{pdf, svg};
use trimloft::solve::{Finding, solve};

/// Longest time for one case. A test build is some times slower, and shares its machine.
const LONGEST: Duration = Duration::from_secs(if cfg!(debug_assertions) { 10 } else { 2 });

/// A case that takes so much longer does not end.
const NEVER_ENDS: u32 = 12;

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

impl Case {
    fn shown(&self) -> String {
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        let family = self.family.as_deref().map_or_else(String::new, text);
        format!("{:?}\n{}\n{family}", self.setup, text(&self.pattern))
    }
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
            2..=17 => {
                let text: &String = dice.pick(&self.demos);
                (mutated(text, &self.demos, dice), None)
            }
            18..=22 => {
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
                    Some(mutated(&renamed, &self.families, dice)),
                )
            }
            23..=25 => (
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
    setup.orientation = *dice.pick(&[
        PageOrientation::Portrait,
        PageOrientation::Landscape,
        PageOrientation::Either,
    ]);
    if dice.one_in(10) {
        setup.margin = *dice.pick(&[0.0, 50.0, -1.0, f64::NAN, f64::INFINITY]);
        setup.overlap = *dice.pick(&[5.0, 40.0, 1e9, -1.0, f64::NAN]);
    }
    setup
}

/// How far a case came.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Came {
    /// No further than to words of what is wrong.
    Refused,
    /// To a solved pattern: a letter or the paper stopped it.
    Solved,
    /// To the bytes of sheets and drawing: a finding says that they must not be cut by.
    Drawn,
    /// To bytes that prove right when they are read back.
    Proven,
}

/// The whole way through. What it says is no matter here, only that it says something.
fn run(case: &Case, folder: &Path) -> Came {
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
            Came::Refused
        }
    }
}

fn drawn(source: &Source, library: &Library, setup: &Setup) -> Came {
    let spec = match PatternSpec::read(source) {
        Ok(spec) => spec,
        Err(report) => {
            assert!(!report.problems.is_empty() && !report.to_string().is_empty());
            return Came::Refused;
        }
    };
    let pattern = match solve(&spec, library) {
        Ok(pattern) => pattern,
        Err(problems) => {
            assert!(!problems.is_empty(), "refused, and nothing said");
            let report = trimloft::input::Report::new(source, problems);
            assert!(!report.to_string().is_empty());
            return Came::Refused;
        }
    };
    let drawing = match draw(&pattern) {
        Ok(drawing) => drawing,
        Err(letter) => {
            assert!(!letter.to_string().is_empty());
            return Came::Solved;
        }
    };
    let plate = plate(&drawing).map_err(ProduceError::Sheets);
    let both = plate.and_then(|plate| Ok((plate, sheets_of(&pattern, setup)?)));
    let (plate, set) = match both {
        Ok(both) => both,
        Err(paper) => {
            assert!(!paper.to_string().is_empty());
            return Came::Solved;
        }
    };
    let (picture, sheets) = (svg(&plate).unwrap(), pdf(&set).unwrap());
    if pattern.findings.iter().any(Finding::stops) {
        return Came::Drawn;
    }
    let reference = Reference::of(&pattern).on_plate(plate).on_sheets(set);
    assert_sound(picture.into_bytes(), &reference);
    assert_sound(sheets, &reference);
    Came::Proven
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

/// Cases under way, with when they began.
type UnderWay = Mutex<BTreeMap<u64, Instant>>;

/// Ends the run when a case does not end by itself.
fn watch(under_way: &UnderWay, seed: u64, stock: &Stock) {
    loop {
        thread::sleep(Duration::from_millis(200));
        let cases = under_way.lock().unwrap();
        if cases.contains_key(&END) {
            return;
        }
        let stuck = cases
            .iter()
            .find(|(_, start)| start.elapsed() > LONGEST * NEVER_ENDS);
        if let Some((number, _)) = stuck {
            let case = stock.case(&mut Dice::of(seed, *number));
            eprintln!(
                "case {number} of seed {seed} does not end: {}",
                case.shown()
            );
            std::process::exit(101);
        }
    }
}

/// Stands among the cases under way when there are no more.
const END: u64 = u64::MAX;

/// What a case came to, how long it took, and what was wrong with it.
fn judged(case: &Case, folder: &Path) -> (Came, Duration, Option<String>) {
    let start = Instant::now();
    let outcome = catch_unwind(AssertUnwindSafe(|| run(case, folder)));
    let took = start.elapsed();
    let trouble = match outcome {
        Err(_) => Some("panics".to_owned()),
        Ok(_) if took > LONGEST => Some(format!("takes {took:?}")),
        Ok(_) => None,
    };
    (outcome.unwrap_or(Came::Refused), took, trouble)
}

#[test]
fn nothing_makes_it_fall_over() {
    // The peak of memory is the whole process's.
    if !alone("odd_input::nothing_makes_it_fall_over") {
        return;
    }
    let cases = number_from("TRIMLOFT_CASES", 2_000);
    let seed = number_from("TRIMLOFT_SEED", 1);
    let stock = Stock::read();
    let under_way = UnderWay::default();
    let one = |folder: &mut tempfile::TempDir, number: u64| {
        let case = stock.case(&mut Dice::of(seed, number));
        under_way.lock().unwrap().insert(number, Instant::now());
        let (came, took, trouble) = judged(&case, folder.path());
        under_way.lock().unwrap().remove(&number);
        let trouble = trouble.map(|trouble| {
            let told = format!("case {number} of seed {seed} {trouble}: {}", case.shown());
            eprintln!("{told}");
            told
        });
        (came, took, trouble)
    };
    let outcomes: Vec<(Came, Duration, Option<String>)> = thread::scope(|scope| {
        scope.spawn(|| watch(&under_way, seed, &stock));
        let all = (0..cases).into_par_iter();
        let outcomes = all.map_init(|| tempfile::tempdir().unwrap(), one).collect();
        under_way.lock().unwrap().insert(END, Instant::now());
        outcomes
    });
    let came = |least: Came| outcomes.iter().filter(|(came, ..)| *came >= least).count() as u64;
    let (solved, drawn, proven) = (came(Came::Solved), came(Came::Drawn), came(Came::Proven));
    let troubles: Vec<&String> = outcomes
        .iter()
        .filter_map(|(.., trouble)| trouble.as_ref())
        .collect();
    eprintln!(
        "{cases} cases: {solved} solved, {drawn} drawn, {proven} proven, {} in trouble; the slowest \
         {:?}, {:?} kB at most",
        troubles.len(),
        outcomes
            .iter()
            .map(|(_, took, _)| *took)
            .max()
            .unwrap_or_default(),
        peak_memory()
    );
    assert!(
        troubles.is_empty(),
        "{} of {cases} cases: {}",
        troubles.len(),
        troubles[0]
    );
    // Cases that all fail at the door would prove nothing of what lies behind it.
    assert!(solved * 6 > cases, "only {solved} of {cases} were solved");
    assert!(drawn * 7 > cases, "only {drawn} of {cases} were drawn");
    assert!(proven * 8 > cases, "only {proven} of {cases} were proven");
    assert!(
        peak_memory().is_none_or(|most| most < MOST_MEMORY),
        "{:?} kB",
        peak_memory()
    );
}
