//! Whole runs of the binary: wall time, CPU time, greatest memory.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// The binary as built for this benchmark.
pub const BINARY: &str = env!("CARGO_BIN_EXE_trimloft");

/// Prints the mean CPU time and the median wall time of `runs`.
pub fn report(demo: &Path, runs: u32) {
    let folder = tempfile::tempdir().expect("a folder for files");
    let mut walls = vec![];
    let before = cpu_of_children();
    for _ in 0..runs {
        let begun = Instant::now();
        let done = Command::new(BINARY)
            .arg("draw")
            .arg(demo)
            .arg("--out")
            .arg(folder.path())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status();
        assert!(done.expect("the binary runs").success());
        walls.push(begun.elapsed());
    }
    walls.sort();
    let wall = walls[walls.len() / 2].as_secs_f64() * 1e3;
    match (before, cpu_of_children()) {
        (Some(before), Some(after)) => {
            let [user, system] = [after.0 - before.0, after.1 - before.1]
                .map(|spent| spent.as_secs_f64() * 1e3 / f64::from(runs));
            println!(
                "process  {:>9.3} ms of CPU (user {user:.3}, system {system:.3}), {wall:.1} ms on the wall",
                user + system
            );
        }
        _ => println!("process  {wall:>9.1} ms on the wall"),
    }
}

/// What one whole run took.
pub struct Took {
    /// s.
    pub wall: f64,
    /// s; NaN where the system does not tell.
    pub cpu: f64,
    /// The most that it held at once, MB; 0 where the system does not tell.
    pub memory: f64,
}

/// Runs a command quietly to its end, which must be a good one.
pub fn run(command: &mut Command) -> Took {
    let before = cpu_of_children();
    let begun = Instant::now();
    let mut child = command
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

/// User and system time of all processes that this one started and waited for: `cutime` and
/// `cstime` of `/proc/self/stat`, in ticks of which Linux shows 100 a second to programs.
fn cpu_of_children() -> Option<(Duration, Duration)> {
    let stat = std::fs::read_to_string("/proc/self/stat").ok()?;
    // The second field holds the program's name, which may hold anything but ends in a bracket.
    let (_, rest) = stat.rsplit_once(')')?;
    let ticks = |field: usize| -> Option<Duration> {
        let ticks: u64 = rest.split_whitespace().nth(field - 3)?.parse().ok()?;
        Some(Duration::from_millis(ticks * 10))
    };
    Some((ticks(16)?, ticks(17)?))
}

/// Greatest memory that a running process has used so far, MB.
fn greatest_memory(process: u32) -> Option<f64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kilobytes: f64 = line.trim().strip_suffix("kB")?.trim().parse().ok()?;
    Some(kilobytes * 1024.0 / 1e6)
}
