//! What somebody works on and has not saved yet: one text a window, each whole.
//!
//! It is not waited for until the disk has it, as a save is: a program that is killed loses nothing
//! of it, power that fails may.

use super::history::{Kept, Why};
use super::{LONGEST_TEXT, Name, State, Store, StoreError, read_plain};
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Drafts that are kept of each definition.
const MOST: usize = 20;

/// A window that somebody works in, by a name of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Window(String);

impl Window {
    /// A name of 8 to 32 digits and small letters; none of anything else.
    pub fn parse(name: &str) -> Option<Self> {
        let is_plain = |byte: u8| byte.is_ascii_digit() || byte.is_ascii_lowercase();
        let is_name = (8..=32).contains(&name.len()) && name.bytes().all(is_plain);
        is_name.then(|| Self(name.into()))
    }
}

impl Store {
    /// Keeps what a window works on, in the place of what it worked on before.
    ///
    /// # Errors
    /// [`StoreError::TooLong`], and what the system says.
    pub fn keep_draft(&self, name: &Name, window: &Window, text: &str) -> Result<(), StoreError> {
        if text.len() as u64 > LONGEST_TEXT {
            return Err(StoreError::TooLong);
        }
        let folder = self.drafts_of(name);
        let path = path(&folder, window);
        if !path.exists() {
            crate::output::make_folder(&folder)?;
            for old in drafts(&folder).into_iter().skip(MOST - 1) {
                old.forget();
            }
        }
        let mut file = tempfile::NamedTempFile::new_in(&folder)?;
        file.write_all(text.as_bytes())?;
        file.persist(path).map_err(io::Error::from)?;
        Ok(())
    }

    /// Lets go what a window worked on: it is saved.
    pub fn drop_draft(&self, name: &Name, window: &Window) {
        // There may be none.
        let _ = fs::remove_file(path(&self.drafts_of(name), window));
    }

    /// What is worked on and not saved, the newest first.
    pub fn drafts(&self, name: &Name) -> Vec<Kept> {
        drafts(&self.drafts_of(name))
    }

    pub(super) fn drafts_of(&self, name: &Name) -> PathBuf {
        self.hidden().join("drafts").join(name.as_str())
    }
}

fn path(folder: &Path, window: &Window) -> PathBuf {
    folder.join(format!("{}.toml", window.0))
}

fn drafts(folder: &Path) -> Vec<Kept> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let draft = |path: PathBuf| {
        Window::parse(path.file_name()?.to_str()?.strip_suffix(".toml")?)?;
        let state = State::of(read_plain(&path, LONGEST_TEXT).ok()?.ok()?);
        let when = fs::symlink_metadata(&path).ok()?.modified().ok();
        Some(Kept::at(path, Why::Draft, state.hash, when))
    };
    let mut all: Vec<Kept> = entries.filter_map(|entry| draft(entry.path())).collect();
    all.sort_by_key(|own| std::cmp::Reverse(own.when));
    all
}
