//! How long drawing takes and how much memory: `cargo bench --bench speed`.
//!
//! Stages are timed in this process; whole runs are timed as a user runs them, by the binary. CPU
//! time and memory of the binary are read from `/proc`, so those columns need Linux.

mod kits;
mod many;
mod page;
mod process;
mod solving;
mod stages;

use std::path::Path;

/// The demo of one sheet of work.
const DEMO: &str = "shapes/demo/under-panel.toml";

fn main() {
    // `cargo test --benches` runs benchmarks to see that they work, with this flag unset.
    let brief = !std::env::args().any(|argument| argument == "--bench");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let demo = root.join(DEMO);
    println!("one pattern: {DEMO}\n");
    stages::report(&demo, if brief { 3 } else { 200 });
    process::report(&demo, if brief { 3 } else { 200 });
    println!("\nsolving 20 parts in 10 openings\n");
    solving::report(if brief { 3 } else { 200 });
    let counts: &[usize] = if brief { &[10] } else { &[100, 1000, 4000] };
    println!("\nmany different patterns in one call\n");
    many::report(counts);
    let counts: &[usize] = if brief { &[10] } else { &[1000, 10_000] };
    println!("\nkits of different patterns, and a revision with one of them changed\n");
    kits::report(counts);
    println!("\nthe page: a change, and its picture\n");
    page::report(&demo, if brief { 3 } else { 100 });
    let binary = std::fs::metadata(process::BINARY).map_or(0, |file| file.len());
    println!("\nbinary: {:.2} MB", binary as f64 / 1e6);
}
