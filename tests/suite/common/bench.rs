//! The binary as a user runs it: in a folder of its own, judged by what it tells and leaves.

use super::root;
use std::ffi::OsStr;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use tempfile::TempDir;

/// A temporary folder to run the program in.
pub struct Bench {
    folder: TempDir,
}

impl Bench {
    /// An empty folder.
    pub fn new() -> Self {
        Self {
            folder: tempfile::tempdir().expect("a temporary folder"),
        }
    }

    /// A file in it; folders on the way are made.
    #[must_use]
    pub fn file(self, name: &str, bytes: impl AsRef<[u8]>) -> Self {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("can be made");
        std::fs::write(path, bytes).expect("can be written");
        self
    }

    /// A copy of one of the pattern files beside the tests of the command line, in it.
    #[must_use]
    pub fn sample(self, name: &str) -> Self {
        let text = std::fs::read(root().join("tests/suite/cli").join(name)).expect("a sample");
        self.file(name, text)
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn read(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// Every file below the folder, sorted.
    pub fn files(&self) -> Vec<String> {
        fn walk(folder: &Path, root: &Path, found: &mut Vec<String>) {
            for entry in std::fs::read_dir(folder).expect("a folder") {
                let path = entry.expect("an entry").path();
                if path.is_dir() {
                    walk(&path, root, found);
                } else {
                    let name = path.strip_prefix(root).expect("below the folder");
                    found.push(name.to_string_lossy().into_owned());
                }
            }
        }
        let mut found = vec![];
        walk(self.folder.path(), self.folder.path(), &mut found);
        found.sort();
        found
    }

    /// Runs the program on the words of `command`; a word with blanks stands in double quotes.
    pub fn run(&self, command: &str) -> Told {
        self.run_words(&words(command))
    }

    /// As [`Bench::run`], with these bytes on standard input.
    pub fn run_fed(&self, command: &str, bytes: impl AsRef<[u8]>) -> Told {
        let (from, mut to) = std::io::pipe().expect("a pipe");
        let bytes = bytes.as_ref().to_vec();
        let feeding = std::thread::spawn(move || drop(to.write_all(&bytes)));
        let told = self.run_words_on(&words(command), from.into());
        feeding.join().expect("all is fed");
        told
    }

    /// Runs the program on these words.
    pub fn run_words(&self, words: &[impl AsRef<OsStr>]) -> Told {
        self.run_words_on(words, Stdio::null())
    }

    fn run_words_on(&self, words: &[impl AsRef<OsStr>], input: Stdio) -> Told {
        let output = Command::new(env!("CARGO_BIN_EXE_trimloft"))
            .args(words)
            .current_dir(self.folder.path())
            .stdin(input)
            .output()
            .expect("the program runs");
        let text = |bytes| String::from_utf8(bytes).expect("what it tells is UTF-8");
        Told {
            status: output.status.code(),
            stdout: text(output.stdout),
            stderr: text(output.stderr),
        }
    }
}

/// What a run came to.
#[derive(Debug)]
pub struct Told {
    pub status: Option<i32>,
    pub stdout: String,
    pub stderr: String,
}

impl Told {
    #[track_caller]
    pub fn exits(self, status: i32) -> Self {
        assert_eq!(self.status, Some(status), "{self:#?}");
        self
    }

    /// Exactly this on stdout.
    #[track_caller]
    pub fn results(self, stdout: &str) -> Self {
        assert_eq!(self.stdout, stdout, "{self:#?}");
        self
    }

    /// All of these on stderr, in this order.
    #[track_caller]
    pub fn says(self, pieces: &[&str]) -> Self {
        let mut rest = self.stderr.as_str();
        for piece in pieces {
            let Some((_, after)) = rest.split_once(piece) else {
                panic!("`{piece}` is not told: {self:#?}");
            };
            rest = after;
        }
        self
    }

    /// Nothing on stderr.
    #[track_caller]
    pub fn says_nothing(self) -> Self {
        assert_eq!(self.stderr, "", "{self:#?}");
        self
    }

    /// The result, which is JSON.
    #[track_caller]
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.stdout).unwrap_or_else(|error| panic!("{error}: {self:#?}"))
    }
}

/// Words of a command line, double quotes respected.
pub fn words(command: &str) -> Vec<String> {
    let mut words = vec![];
    let mut word: Option<String> = None;
    let mut quoted = false;
    for letter in command.chars() {
        match letter {
            '"' => {
                quoted = !quoted;
                word.get_or_insert_default();
            }
            ' ' if !quoted => words.extend(word.take()),
            other => word.get_or_insert_default().push(other),
        }
    }
    words.extend(word);
    words
}
