//! Solving alone, on a panel with many parts and openings.

use std::fmt::Write;
use std::time::Instant;
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Source};
use trimloft::solve::solve;

const PARTS: usize = 20;
const OPENINGS: usize = 10;

/// A fascia that leans and bulges.
const CURVED: &str = "[panel.surface]\nrake = \"12 deg\"\nradius = 2500\nbulges = \"towards\"\n";

/// Prints the median of `runs` for a panel with 20 parts in 10 worked-out openings, flat and curved.
pub fn report(runs: usize) {
    for (name, surface) in [("flat", ""), ("curved", CURVED)] {
        time(name, surface, runs);
    }
}

fn time(name: &str, surface: &str, runs: usize) {
    let shapes = Library::shipped();
    let spec = PatternSpec::read(&Source::new("many.toml", definition(surface)))
        .expect("the definition is sound");
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let begun = Instant::now();
            let pattern = solve(&spec, &shapes).expect("the definition is sound");
            let took = begun.elapsed().as_secs_f64() * 1e3;
            assert_eq!(
                (pattern.parts.len(), pattern.openings.len()),
                (PARTS, OPENINGS)
            );
            took
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!(
        "{name:<8} median {:.2} ms, least {:.2} ms",
        times[runs / 2],
        times[0]
    );
}

fn definition(surface: &str) -> String {
    let mut text = "format = 1\n[pattern]\nnumber = \"T-1\"\ntitle = \"Many\"\n[panel]\nname = \"Panel\"\n\
                    material = \"pp\"\nthickness = 2.5\nwidth = 2000\nheight = 500\ndatum_edge = \"rear\"\n\
                    seen_from = \"below\"\npage_up = \"front\"
"
        .to_owned()
        + surface
        + "[centreline]
";
    for (i, left) in [100, 250, 400].into_iter().enumerate() {
        writeln!(
            text,
            "[[centreline.pair]]\nname = \"clips {i}\"\nleft = {left}\nright = {}\nfrom_datum = {}\n\
             diameter = 8\nfixed = true",
            2000 - left,
            380 + 20 * i
        )
        .expect("text can be written");
    }
    for i in 0..OPENINGS {
        let x = 180.0 * i as f64 - 810.0;
        let (side, off) = if x < 0.0 { ("left", -x) } else { ("right", x) };
        let follow = if i % 2 == 0 { "contour" } else { "box" };
        write!(
            text,
            "[[part]]\nname = \"arm {i}\"\nshape = \"window\"\nwith = {{ width = 60, height = 70, corner_radius = 5 }}\n\
             centre_offset = \"{off} mm {side}\"\nfrom_datum = 60\n\
             [[part]]\nname = \"socket {i}\"\nsocket = 30\ncentre_offset = \"{} mm {side}\"\nfrom_datum = 110\n\
             [[opening]]\nname = \"opening {i}\"\naround = [\"arm {i}\", \"socket {i}\"]\nfollow = \"{follow}\"\n\
             open_at_edge = {}\n",
            off + 10.0,
            i % 3 == 0
        )
        .expect("text can be written");
    }
    text
}
