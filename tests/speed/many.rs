//! Many different patterns in one call: time, and memory that must not grow with their number.

use super::process::{BINARY, Took, run};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Prints time and memory for each count of patterns.
pub fn report(counts: &[usize]) {
    println!(
        "{:>8} {:>8} {:>8} {:>13} {:>9}",
        "patterns", "wall s", "CPU s", "ms of CPU each", "memory MB"
    );
    for &count in counts {
        let folder = tempfile::tempdir().expect("a folder for files");
        let patterns = definitions(folder.path(), count);
        let Took { wall, cpu, memory } = run(Command::new(BINARY)
            .arg("draw")
            .args(&patterns)
            .arg("--out")
            .arg(folder.path().join("out")));
        println!(
            "{count:>8} {wall:>8.2} {cpu:>8.2} {:>14.2} {memory:>9.1}",
            1e3 * cpu / count as f64
        );
    }
}

/// Definitions that differ in number, shape, size and place.
pub fn definitions(folder: &Path, count: usize) -> Vec<PathBuf> {
    (0..count)
        .map(|index| {
            let path = folder.join(format!("{index:05}.toml"));
            std::fs::write(&path, definition(index)).expect("the folder can be written to");
            path
        })
        .collect()
}

fn definition(index: usize) -> String {
    // Steps that share no factor with the ranges, so that no two patterns are alike.
    let size = 50.0 + (index * 37 % 101) as f64 * 0.6;
    let offset = (index * 53 % 97) as f64;
    let (shape, with, from) = match index % 4 {
        0 => (
            "notch",
            format!("width = {size}, depth = {}, corner_radius = 9", size * 0.9),
            0.0,
        ),
        1 => (
            "window",
            format!("width = {size}, height = {}, corner_radius = 8", size * 0.8),
            110.0,
        ),
        2 => (
            "slot",
            format!("length = {size}, width = {}", size * 0.45),
            90.0,
        ),
        _ => (
            "flared-notch",
            format!(
                "width = {size}, depth = {size}, mouth_width = {}, flare_depth = 14",
                size + 20.0
            ),
            0.0,
        ),
    };
    // Either side of the opening, as the demos have them.
    let middle = 490.0 + offset;
    let (first, second) = (middle - 90.0, middle + 92.0);
    let mut text = String::new();
    write!(
        text,
        "format = 1\n[pattern]\nnumber = \"LV2-{index:05}\"\ntitle = \"Pattern {index}\"\nissued = 2026-03-02\n\
         [panel]\nname = \"Rear under-panel\"\nwidth = 980\nheight = 310\ndatum_edge = \"rear\"\n\
         seen_from = \"below\"\npage_up = \"front\"\n[[locator]]\nname = \"drain hole\"\n\
         across = {first}\nfrom_datum = 40\ndiameter = 10\n[[locator]]\nname = \"clip hole\"\n\
         across = {second}\nfrom_datum = 84\ndiameter = 8\n[[opening]]\nname = \"opening {index}\"\n\
         shape = \"{shape}\"\nwith = {{ {with} }}\ncentre_offset = \"{offset} mm right\"\nfrom_datum = {from}\n"
    )
    .expect("text can be written to");
    text
}
