//! As much as files may hold: many openings of many corners, solved in a time that grows with them.

use crate::common::{shipped, under_panel};
use std::fmt::Write;
use std::io::Read;
use std::process::{Command, Stdio};
use std::time::Duration;
use trimloft::input::{PatternSpec, Source};
use trimloft::jobs::produce::{Formats, produce};
use trimloft::layout::{Paper, Setup};
use trimloft::solve::solve;

/// A family of so many corners, near a circle and nowhere round.
fn family(corners: usize) -> String {
    let mut text = String::from(
        "format = 1\nname = \"many\"\ntitle = \"Many corners\"\n[parameters.r]\nabout = \"half its \
         width\"\ndefault = 12\n",
    );
    for corner in 0..corners {
        let angle = 360.0 * corner as f64 / corners as f64;
        let share = if corner % 2 == 0 { 1.0 } else { 0.95 };
        write!(
            text,
            "[[corner]]\nx = \"{share} * r * cos({angle:.3})\"\ny = \"{share} * r * sin({angle:.3})\"\n"
        )
        .unwrap();
    }
    text
}

/// Two hundred openings in rows, so far apart.
fn openings(apart: f64) -> String {
    let mut text = String::new();
    for opening in 0..200 {
        let x = (f64::from(opening % 20) - 9.5) * apart;
        let side = if x < 0.0 { "left" } else { "right" };
        write!(
            text,
            "[[opening]]\nname = \"o{opening}\"\nshape = \"many\"\nwith = {{ r = 12 }}\n\
             centre_offset = \"{} mm {side}\"\nfrom_datum = {}\n",
            x.abs(),
            60.0 + f64::from(opening / 20) * apart
        )
        .unwrap();
    }
    under_panel(2400.0, 1500.0, &text)
}

/// What this thread has worked so far, s: how busy the machine is does not count.
fn worked() -> f64 {
    worked_by("thread-self").1
}

/// The state of a process or thread, `Z` once it has ended, and what it has worked so far, s.
fn worked_by(whose: &str) -> (char, f64) {
    let stat = std::fs::read_to_string(format!("/proc/{whose}/stat")).expect("Linux tells");
    let (_, rest) = stat.rsplit_once(") ").expect("a name in brackets");
    let state = rest.chars().next().expect("a state");
    let ticks: f64 = rest
        .split(' ')
        .skip(11)
        .take(2)
        .map(|ticks| ticks.parse::<f64>().expect("a number"))
        .sum();
    // `getconf CLK_TCK` is 100 wherever Linux runs today.
    (state, ticks / 100.0)
}

/// Reading, solving and telling, the whole command: under 2 s.
#[test]
#[cfg(target_os = "linux")]
fn two_hundred_openings_of_two_hundred_corners_are_checked_in_two_seconds() {
    let folder = tempfile::tempdir().unwrap();
    let shapes = folder.path().join("shapes");
    std::fs::create_dir(&shapes).unwrap();
    std::fs::write(shapes.join("many.toml"), family(200)).unwrap();
    std::fs::write(folder.path().join("p.toml"), openings(50.0)).unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_trimloft"))
        .args(["check", "p.toml", "--shapes", "shapes"])
        .current_dir(folder.path())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut told = String::new();
    child
        .stdout
        .take()
        .unwrap()
        .read_to_string(&mut told)
        .unwrap();
    let took = loop {
        let (state, took) = worked_by(&child.id().to_string());
        if state == 'Z' {
            break took;
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    assert!(child.wait().unwrap().success(), "{told}");
    assert_eq!(told.matches(" to cut, ").count(), 200);
    let slower = if cfg!(debug_assertions) { 4.0 } else { 1.0 };
    assert!(took < 2.0 * slower, "{took} s");
}

#[test]
#[cfg(target_os = "linux")]
fn two_hundred_openings_of_many_corners_take_little_time() {
    let folder = tempfile::tempdir().unwrap();
    // An unoptimised build is some times slower.
    let slower = if cfg!(debug_assertions) { 5.0 } else { 1.0 };
    for (corners, apart, most, count) in [
        (200, 50.0, 1.0, 200),
        (500, 50.0, 2.0, 200),
        (200, 22.0, 2.0, 0),
    ] {
        std::fs::write(folder.path().join("many.toml"), family(corners)).unwrap();
        let shapes = shipped().with_folder(folder.path()).unwrap();
        let spec = PatternSpec::read(&Source::new("many.toml", openings(apart))).unwrap();
        let before = worked();
        let solved = solve(&spec, &shapes);
        let took = worked() - before;
        // Where they overlap they leave islands.
        let found = solved.map_or(0, |pattern| pattern.openings.len());
        assert_eq!(found, count, "{corners} corners");
        assert!(
            took < most * slower,
            "{corners} corners {apart} mm apart: {took} s"
        );
    }
}

#[test]
#[cfg(target_os = "linux")]
fn two_hundred_openings_are_drawn_on_a_plate_about_as_wide_as_they_stand() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("many.toml"), family(60)).unwrap();
    let shapes = shipped().with_folder(folder.path()).unwrap();
    let spec = PatternSpec::read(&Source::new("many.toml", openings(50.0))).unwrap();
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let formats = Formats {
        pdf: true,
        svg: true,
        view: false,
        closed: false,
    };
    let before = worked();
    let product = produce(&spec, &shapes, &setup, formats).unwrap();
    let took = worked() - before;
    let svg = product.svg.unwrap();
    let (_, width) = svg.split_once("width=\"").unwrap();
    let (width, _) = width.split_once("mm\"").unwrap();
    let width: f64 = width.parse().unwrap();
    assert!((1000.0..1500.0).contains(&width), "{width} mm");
    // Each opening held against all the others takes four times as long.
    assert!(
        took < if cfg!(debug_assertions) { 20.0 } else { 3.5 },
        "{took} s"
    );
}

/// What a part costs to work out grows with the square of its corners: refused before it takes minutes.
#[test]
fn parts_of_too_many_corners_are_refused_at_the_first_too_many() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("many.toml"), family(500)).unwrap();
    let shapes = shipped().with_folder(folder.path()).unwrap();
    let mut tables = String::new();
    for part in 0..33 {
        write!(
            tables,
            "[[part]]\nname = \"p{part}\"\nshape = \"many\"\nwith = {{ r = 12 }}\n\
             centre_offset = \"{} mm left\"\nfrom_datum = 60\n",
            part * 40
        )
        .unwrap();
    }
    let names: Vec<String> = (0..33).map(|part| format!("\"p{part}\"")).collect();
    write!(
        tables,
        "[[opening]]\nname = \"o\"\naround = [{}]\nfollow = \"box\"\n",
        names.join(", ")
    )
    .unwrap();
    let toml = under_panel(2800.0, 400.0, &tables);
    let spec = PatternSpec::read(&Source::new("many.toml", toml))
        .unwrap_or_else(|report| panic!("{report}"));
    let problems = solve(&spec, &shapes).unwrap_err();
    let told: Vec<String> = problems
        .iter()
        .map(|problem| problem.message.clone())
        .collect();
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(
        told[0].contains("more corners than can be worked out"),
        "{told:?}"
    );
    let span = problems[0].span.clone().unwrap();
    let toml = under_panel(2800.0, 400.0, &tables);
    assert_eq!(&toml[span], "\"p32\"");
}
