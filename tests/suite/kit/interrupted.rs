//! Runs that are killed, that find no room, that meet each other.

use super::bench::{files, kit, names, pattern};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A folder in memory where there is one: what is tried here is the order of steps, not the disk.
fn folder() -> TempDir {
    let memory = Path::new("/dev/shm");
    let folder = if memory.is_dir() {
        tempfile::tempdir_in(memory)
    } else {
        tempfile::tempdir()
    };
    folder.unwrap()
}

fn program(folder: &Path, words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_trimloft"));
    command.args(words).current_dir(folder).stdin(Stdio::null());
    command.stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

fn run(folder: &Path, words: &[&str]) -> Output {
    program(folder, words).output().unwrap()
}

#[track_caller]
fn succeeds(folder: &Path, words: &[&str]) {
    let done = run(folder, words);
    assert!(done.status.success(), "{done:?}");
}

/// Two contents of one revision, and what each is issued as.
struct Two {
    folder: TempDir,
    issues: [BTreeMap<String, Vec<u8>>; 2],
}

const REPLACE: [&str; 5] = ["kit", "kit.toml", "--replace", "--because", "draft"];

impl Two {
    fn new() -> Self {
        let folder = folder();
        std::fs::write(folder.path().join("kit.toml"), kit("A", 1)).unwrap();
        let mut two = Self {
            folder,
            issues: Default::default(),
        };
        for which in [1, 0] {
            two.write(which);
            succeeds(two.path(), &REPLACE);
            two.issues[which] = files(&two.issue());
        }
        assert!(two.issues[0] != two.issues[1]);
        two
    }

    fn path(&self) -> &Path {
        self.folder.path()
    }

    fn issue(&self) -> PathBuf {
        self.path().join("out/K-1-A")
    }

    /// What stands in the folder of all issues, but for what tells why drafts were replaced.
    fn issued(&self) -> Vec<String> {
        let mut names = names(&self.path().join("out"));
        names.retain(|name| name != trimloft::jobs::papers::REPLACED);
        names
    }

    fn write(&self, which: usize) {
        let text = pattern("P-000", 40.0 + 5.0 * which as f64);
        std::fs::write(self.path().join("p0.toml"), text).unwrap();
    }

    /// Which of the two is there, whole.
    #[track_caller]
    fn which(&self) -> usize {
        let there = files(&self.issue());
        let which = self.issues.iter().position(|issue| *issue == there);
        which.unwrap_or_else(|| panic!("neither: {:?}", there.keys().collect::<Vec<_>>()))
    }
}

/// Xorshift (Marsaglia, 2003): the same moments in every run of the test.
struct Dice(u64);

impl Dice {
    fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn kill(mut child: Child) -> bool {
    let finished = child.try_wait().unwrap().is_some();
    child.kill().unwrap();
    child.wait().unwrap();
    finished
}

#[test]
fn two_hundred_runs_killed_at_random_leave_a_whole_issue_each() {
    let two = Two::new();
    let begun = Instant::now();
    two.write(1);
    succeeds(two.path(), &REPLACE);
    let mut whole = begun.elapsed();
    let mut dice = Dice(0x2545_f491_4f6c_dd1d);
    let mut seen = [0, 0];
    let mut left = 0;
    for turn in 0..200 {
        two.write(turn % 2);
        let child = program(two.path(), &REPLACE).spawn().unwrap();
        std::thread::sleep(whole.mul_f64(1.3 * dice.share()));
        // How long a run takes hangs on what else the machine does: about half of them come to their end.
        whole = whole.mul_f64(if kill(child) { 0.97 } else { 1.03 });
        seen[two.which()] += 1;
        left += usize::from(two.issued().len() > 1);
    }
    assert!(seen[0] > 10 && seen[1] > 10, "{seen:?}");
    assert!(left > 10, "{left} runs left something behind");
    two.write(0);
    succeeds(two.path(), &REPLACE);
    assert_eq!(two.which(), 0);
    assert_eq!(two.issued(), ["K-1-A"]);
}

#[test]
fn first_issues_killed_leave_all_or_nothing() {
    let two = Two::new();
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    for _ in 0..20 {
        let _ = std::fs::remove_dir_all(two.issue());
        let child = program(two.path(), &REPLACE).spawn().unwrap();
        std::thread::sleep(Duration::from_millis((40.0 * dice.share()) as u64));
        kill(child);
        if two.issue().exists() {
            two.which();
        }
    }
    succeeds(two.path(), &REPLACE);
    assert_eq!(two.issued(), ["K-1-A"]);
}

#[test]
fn runs_at_once_take_turns() {
    let two = Two::new();
    for which in [1, 0] {
        two.write(which);
        let children: Vec<Child> = (0..6)
            .map(|_| program(two.path(), &REPLACE).spawn().unwrap())
            .collect();
        for child in children {
            let done = child.wait_with_output().unwrap();
            assert!(done.status.success(), "{done:?}");
        }
        assert_eq!(two.which(), which);
        assert_eq!(two.issued(), ["K-1-A"]);
    }
}

/// A limit on the length of files stands for a disk that is full: writing fails half way.
#[test]
#[cfg(unix)]
fn with_no_room_the_old_issue_stays() {
    let two = Two::new();
    two.write(1);
    for blocks in ["1", "40", "300"] {
        let script = format!(
            "trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" kit kit.toml --replace --because draft"
        );
        let done = Command::new("sh")
            .args(["-c", &script, env!("CARGO_BIN_EXE_trimloft")])
            .current_dir(two.path())
            .output()
            .unwrap();
        assert_eq!(done.status.code(), Some(1), "{done:?}");
        let told = String::from_utf8(done.stderr).unwrap();
        assert!(
            told.contains("can't be written") && told.contains("hint: "),
            "{told}"
        );
        assert_eq!(two.which(), 0);
        assert_eq!(two.issued(), ["K-1-A"]);
    }
}

#[test]
fn a_folder_that_cant_be_written_to_is_named() {
    let two = Two::new();
    std::fs::write(two.path().join("taken"), "a file").unwrap();
    let done = run(two.path(), &["kit", "kit.toml", "--out", "taken/below"]);
    let told = String::from_utf8(done.stderr).unwrap();
    assert_eq!(done.status.code(), Some(1));
    assert!(told.contains("taken") && told.contains("--out"), "{told}");

    let out = two.path().join("out");
    let mut mode = std::fs::metadata(&out).unwrap().permissions();
    mode.set_readonly(true);
    std::fs::set_permissions(&out, mode.clone()).unwrap();
    // Who may write to read-only folders all the same (root) gets the new issue, others keep the old.
    let may_write = std::fs::write(out.join("try"), "").is_ok();
    if may_write {
        std::fs::remove_file(out.join("try")).unwrap();
    }
    two.write(1);
    let done = run(two.path(), &REPLACE);
    assert_eq!(done.status.code(), Some(i32::from(!may_write)), "{done:?}");
    assert_eq!(two.which(), usize::from(may_write));
    #[allow(clippy::permissions_set_readonly_false)]
    mode.set_readonly(false);
    std::fs::set_permissions(&out, mode).unwrap();
}

#[test]
fn an_issue_that_stood_aside_goes_back() {
    let two = Two::new();
    let aside = two.path().join("out/.trimloft-kit-K-1-A.old");
    std::fs::rename(two.issue(), &aside).unwrap();
    // Left by another revision, and by nobody that is known here.
    let out = two.path().join("out");
    std::fs::create_dir_all(out.join(".trimloft-kit-K-1-B.part/patterns")).unwrap();
    std::fs::write(out.join(".trimloft-kit-K-2-A.lock"), "").unwrap();
    std::fs::create_dir(two.path().join("out/.trimloft-kit-K-1-A.part")).unwrap();
    succeeds(two.path(), &["kit", "kit.toml"]);
    assert_eq!(two.which(), 0);
    assert_eq!(two.issued(), ["K-1-A"]);
}
