//! The states that a file had: each a file of its own, whole, named by its place and its hash.
//!
//! They stand in `.trimloft/history/NAME/` beside the definitions, so that whoever copies the
//! folder has them, and lists of its definitions have not.

use super::{Hash, LONGEST_TEXT, Name, State, StoreError, read_plain};
use crate::output::write_whole;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// States that are kept of each file, and as many that were put aside.
pub const KEPT: usize = 20;

/// Why a state is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// The file was so.
    Was,
    /// Somebody wanted to save it so, and somebody else had saved before.
    Aside,
    /// Somebody works on it, and has not saved it yet.
    Draft,
}

impl Why {
    fn word(self) -> &'static str {
        match self {
            Self::Was => "was",
            Self::Aside => "aside",
            Self::Draft => "draft",
        }
    }
}

/// A state that is kept.
#[derive(Debug, Clone)]
pub struct Kept {
    /// Its place, rising; 0 of what was never saved.
    pub number: u64,
    /// Why it is kept.
    pub why: Why,
    /// Hash of its text.
    pub hash: Hash,
    /// When it was put there, where the system says so.
    pub when: Option<SystemTime>,
    path: PathBuf,
}

impl Kept {
    fn of(path: PathBuf) -> Option<Self> {
        let stem = path.file_name()?.to_str()?.strip_suffix(".toml")?;
        let mut parts = stem.split('-');
        let number = parts.next()?.parse().ok()?;
        let word = parts.next()?;
        let why = [Why::Was, Why::Aside]
            .into_iter()
            .find(|why| why.word() == word)?;
        let hash = Hash::parse(parts.next()?)?;
        let when = fs::symlink_metadata(&path).ok()?.modified().ok();
        Some(Self {
            number,
            why,
            hash,
            when,
            path,
        })
    }

    /// What stands there, known otherwise than by its file's name.
    pub(super) fn at(path: PathBuf, why: Why, hash: Hash, when: Option<SystemTime>) -> Self {
        Self {
            number: 0,
            why,
            hash,
            when,
            path,
        }
    }

    /// Removes it.
    pub(super) fn forget(&self) {
        // Somebody else may have done so.
        let _ = fs::remove_file(&self.path);
    }

    /// Its text; none where it is gone, or is not what it was.
    pub fn state(&self) -> Option<State> {
        let state = State::of(read_plain(&self.path, LONGEST_TEXT).ok()?.ok()?);
        (state.hash == self.hash).then_some(state)
    }
}

/// The history of one file.
pub(super) struct History {
    folder: PathBuf,
}

impl History {
    pub(super) fn of(hidden: &Path, name: &Name) -> Self {
        Self {
            folder: hidden.join("history").join(name.as_str()),
        }
    }

    /// What is kept, the newest first.
    pub(super) fn kept(&self) -> Vec<Kept> {
        let entries = fs::read_dir(&self.folder).into_iter().flatten().flatten();
        let mut kept: Vec<Kept> = entries.filter_map(|entry| Kept::of(entry.path())).collect();
        kept.sort_by_key(|one| std::cmp::Reverse(one.number));
        kept
    }

    /// Keeps a state, unless it is the newest of its kind already, and lets the oldest go. The
    /// file's lock is held.
    pub(super) fn keep(&self, state: &State, why: Why) -> Result<(), StoreError> {
        let kept = self.kept();
        let mut alike = kept.iter().filter(|one| one.why == why);
        if alike.next().is_some_and(|newest| newest.hash == state.hash) {
            return Ok(());
        }
        let number = kept.first().map_or(1, |newest| newest.number + 1);
        let name = format!("{number:08}-{}-{}.toml", why.word(), state.hash);
        write_whole(&self.folder.join(name), state.text.as_bytes())?;
        // The newest of them was looked at already.
        for old in alike.skip(KEPT - 2) {
            old.forget();
        }
        Ok(())
    }

    /// Goes with its file to another name, where that has no history yet.
    pub(super) fn move_to(&self, other: &Self) {
        if !other.folder.exists() {
            let _ = fs::rename(&self.folder, &other.folder);
        }
    }
}
