//! Whole kits issued, issued again, and revised with one pattern changed.

use super::many::definitions;
use super::process::{BINARY, Took, run};
use std::fmt::Write;
use std::path::Path;
use std::process::Command;

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
        let full = issue(folder, &[]);
        print(count, "full", &full);
        print(count, "again", &issue(folder, &[]));
        write_kit(folder, "B", count);
        let changed = folder.join(format!("{:05}.toml", count / 2));
        let text = std::fs::read_to_string(&changed).expect("a definition");
        let text = text.replace("[panel]", "revision = \"B\"\n[panel]");
        std::fs::write(changed, text).expect("the folder can be written to");
        let revised = issue(folder, &["--from", "out/BIG-A"]);
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

fn issue(folder: &Path, more: &[&str]) -> Took {
    run(Command::new(BINARY)
        .args(["kit", "kit.toml"])
        .args(more)
        .current_dir(folder))
}
