//! Time of each stage on the way from a definition to its files.

use std::path::Path;
use std::time::{Duration, Instant};
use trimloft::draw::draw;
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Source};
use trimloft::layout::sheets_of;
use trimloft::layout::{Paper, Setup, plate};
use trimloft::output::{pdf, svg};
use trimloft::solve::solve;

const STAGES: [&str; 7] = ["read", "solve", "draw", "sheets", "pdf", "plate", "svg"];

/// Prints the median of `runs` for each stage, and its share.
pub fn report(demo: &Path, runs: usize) {
    let text = std::fs::read_to_string(demo).expect("the demo can be read");
    let mut times: [Vec<Duration>; 7] = Default::default();
    for _ in 0..runs {
        for (all, time) in times.iter_mut().zip(once(&text)) {
            all.push(time);
        }
    }
    let medians = times.map(|mut all| {
        all.sort();
        all[all.len() / 2].as_secs_f64() * 1e3
    });
    let whole: f64 = medians.iter().sum();
    println!("{:<8} {:>9} {:>7}", "stage", "median ms", "share");
    for (stage, median) in STAGES.iter().zip(medians) {
        println!("{stage:<8} {median:>9.3} {:>6.1}%", 100.0 * median / whole);
    }
    println!("{:<8} {whole:>9.3}", "all");
}

fn once(text: &str) -> [Duration; 7] {
    let mut begun = Instant::now();
    let mut times = [Duration::ZERO; 7];
    let mut lap = |stage: usize| {
        times[stage] = begun.elapsed();
        begun = Instant::now();
    };
    // A library of its own for each run: reading the families belongs to a whole process.
    let shapes = Library::shipped();
    let spec = PatternSpec::read(&Source::new("demo.toml", text)).expect("the demo is sound");
    lap(0);
    let pattern = solve(&spec, &shapes).expect("the demo is sound");
    lap(1);
    let drawing = draw(&pattern).expect("the demo is sound");
    lap(2);
    let setup = Setup::new(Paper::parse("a4").expect("a4 is known"));
    let set = sheets_of(&pattern, &setup).expect("the demo fits");
    lap(3);
    std::hint::black_box(pdf(&set).expect("the demo can be written"));
    lap(4);
    let whole = plate(&drawing).expect("the demo fits");
    lap(5);
    std::hint::black_box(svg(&whole).expect("the demo can be written"));
    lap(6);
    times
}
