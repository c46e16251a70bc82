//! Whole kits issued, issued again, and revised with one pattern changed.

use super::many::definitions;
use super::process::{BINARY, cpu_of_children, greatest_memory};
use std::fmt::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What one run took.
struct Took {
    wall: f64,
    cpu: f64,
    memory: f64,
}

/// Prints time and memory for kits of so many patterns.
pub fn report(counts: &[usize]) {
    println!(
        "{:>8} {:>10} {:>8} {:>8} {:>14} {:>9}",
        "patterns", "run", "wall s", "CPU s", "ms of CPU each", "memory MB"
    );
    for &count in counts {
        let folder = tempfile::tempdir().expect("a folder for files");
        let folder = folder.path();
        definitions(folder, count);
        write_kit(folder, "A", count);
        let full = run(folder, &[]);
        print(count, "full", &full);
        print(count, "again", &run(folder, &[]));
        write_kit(folder, "B", count);
        let changed = folder.join(format!("{:05}.toml", count / 2));
        let text = std::fs::read_to_string(&changed).expect("a definition");
        let text = text.replace("[panel]", "revision = \"B\"\n[panel]");
        std::fs::write(changed, text).expect("the folder can be written to");
        let revised = run(folder, &["--from", "out/BIG-A"]);
        print(count, "revision", &revised);
        println!(
            "{:>8} a revision takes {:.2} of the wall time of a full issue, {:.2} of the CPU",
            "",
            revised.wall / full.wall,
            revised.cpu / full.cpu
        );
    }
}

fn print(count: usize, what: &str, took: &Took) {
    println!(
        "{count:>8} {what:>10} {:>8.2} {:>8.2} {:>14.2} {:>9.1}",
        took.wall,
        took.cpu,
        1e3 * took.cpu / count as f64,
        took.memory
    );
}

fn write_kit(folder: &Path, revision: &str, count: usize) {
    let mut text = format!(
        "format = 1\n[kit]\nnumber = \"BIG\"\nrevision = \"{revision}\"\ntitle = \"Kit\"\n\
         issued = 2026-03-02\n"
    );
    for index in 0..count {
        writeln!(text, "[[pattern]]\nfile = \"{index:05}.toml\"").expect("text can be written to");
    }
    std::fs::write(folder.join("kit.toml"), text).expect("the folder can be written to");
}

fn run(folder: &Path, more: &[&str]) -> Took {
    let before = cpu_of_children();
    let begun = Instant::now();
    let mut child = Command::new(BINARY)
        .args(["kit", "kit.toml"])
        .args(more)
        .current_dir(folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the binary runs");
    let mut memory = 0.0_f64;
    let status = loop {
        memory = memory.max(greatest_memory(child.id()).unwrap_or(0.0));
        match child.try_wait().expect("the binary can be waited for") {
            Some(status) => break status,
            None => std::thread::sleep(Duration::from_millis(5)),
        }
    };
    assert!(status.success());
    let wall = begun.elapsed().as_secs_f64();
    let cpu = before
        .zip(cpu_of_children())
        .map_or(f64::NAN, |(before, after)| {
            (after.0 + after.1 - before.0 - before.1).as_secs_f64()
        });
    Took { wall, cpu, memory }
}
