//! A folder of definitions that several people work on at once, and nothing is lost.
//!
//! A definition is a file `NAME.toml` of the folder, as the command line reads it. Whoever saves
//! says which state the work began from: where the file is no longer so, nothing is replaced, and
//! what was to be saved is put aside. Every file is whole at any moment; the last states of each
//! are kept. Nothing is held in memory, and locks are the system's, so that several programs may
//! serve one folder.

mod draft;
mod error;
mod history;
mod name;
mod state;
#[cfg(test)]
mod tests;

pub use draft::Window;
pub use error::StoreError;
pub use history::{KEPT, Kept, Why};
pub use name::{Name, NameError};
pub use state::{Hash, State};

use crate::output::{Lock, write_whole};
use history::History;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// Folder of what the program keeps beside the definitions.
const HIDDEN: &str = ".trimloft";
/// Longest text of a definition, bytes, as `input` reads it.
pub const LONGEST_TEXT: u64 = 1 << 20;
/// Definitions that are listed at most.
const MOST_LISTED: usize = 10_000;

/// A folder of definitions.
#[derive(Debug, Clone)]
pub struct Store {
    folder: PathBuf,
}

/// A definition of the folder.
#[derive(Debug, Clone)]
pub struct Entry {
    /// Its name.
    pub name: Name,
    /// When it was last changed, where the system says so.
    pub changed: Option<SystemTime>,
}

impl Store {
    /// The folder, which must be there.
    ///
    /// # Errors
    /// What the system says; a path that is no folder.
    pub fn open(folder: &Path) -> io::Result<Self> {
        let folder = fs::canonicalize(folder)?;
        if !folder.is_dir() {
            return Err(ErrorKind::NotADirectory.into());
        }
        Ok(Self { folder })
    }

    /// The folder itself.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The folder of what the program keeps for itself.
    pub(crate) fn hidden(&self) -> PathBuf {
        self.folder.join(HIDDEN)
    }

    /// Its definitions, in order of their names.
    ///
    /// # Errors
    /// A folder that can't be read.
    pub fn list(&self) -> Result<Vec<Entry>, StoreError> {
        listed(&self.folder)
    }

    /// A definition as it stands.
    ///
    /// # Errors
    /// [`StoreError::Missing`], [`StoreError::Unreadable`], and what the system says.
    pub fn read(&self, name: &Name) -> Result<State, StoreError> {
        self.there(name)?
            .ok_or_else(|| StoreError::Missing(name.clone()))
    }

    /// The state of a definition that has this hash, now, before or as a draft; none where it is not
    /// kept.
    ///
    /// # Errors
    /// As [`Store::read`].
    pub fn state(&self, name: &Name, hash: Hash) -> Result<Option<State>, StoreError> {
        if let Some(there) = self.there(name)?
            && there.hash == hash
        {
            return Ok(Some(there));
        }
        let kept = [self.history(name), self.drafts(name)].concat();
        let one = kept.iter().find(|kept| kept.hash == hash);
        Ok(one.and_then(Kept::state))
    }

    /// The states that are kept of a definition, the newest first.
    pub fn history(&self, name: &Name) -> Vec<Kept> {
        History::of(&self.hidden(), name).kept()
    }

    /// Saves a definition whose editing began `from` this state: none for a new one.
    ///
    /// # Errors
    /// [`StoreError::Taken`] for a new one whose name is taken; [`StoreError::Changed`] where
    /// somebody saved meanwhile: the text is then put aside, and nothing is replaced.
    pub fn save(&self, name: &Name, from: Option<Hash>, text: &str) -> Result<State, StoreError> {
        if text.len() as u64 > LONGEST_TEXT {
            return Err(StoreError::TooLong);
        }
        let _lock = self.lock(name)?;
        let history = History::of(&self.hidden(), name);
        let new = State::of(text);
        let there = self.there(name)?;
        match (&there, from) {
            (Some(there), _) if there.hash == new.hash => return Ok(new),
            (Some(_), None) => return Err(StoreError::Taken(name.clone())),
            (None, None) => {}
            (Some(there), Some(from)) if there.hash == from => history.keep(there, Why::Was)?,
            (_, Some(_)) => {
                history.keep(&new, Why::Aside)?;
                let name = name.clone();
                return Err(StoreError::Changed { name, there });
            }
        }
        write_whole(&self.path(name), text.as_bytes())?;
        // Kept at once: an editor that knows nothing of this may replace it.
        history.keep(&new, Why::Was)?;
        Ok(new)
    }

    /// Gives a definition, and its history, another name.
    ///
    /// # Errors
    /// [`StoreError::Taken`], [`StoreError::Missing`], and what the system says.
    pub fn rename(&self, name: &Name, to: &Name) -> Result<(), StoreError> {
        if name == to {
            return Ok(());
        }
        // Both in one order, so that two that cross don't wait for each other.
        let _first = self.lock(name.min(to))?;
        let _second = self.lock(name.max(to))?;
        let there = self.read(name)?;
        if self.is_taken(to) {
            return Err(StoreError::Taken(to.clone()));
        }
        let history = History::of(&self.hidden(), name);
        history.keep(&there, Why::Was)?;
        fs::rename(self.path(name), self.path(to))?;
        history.move_to(&History::of(&self.hidden(), to));
        // Where others work under that name already, both stay where they are.
        let _ = fs::rename(self.drafts_of(name), self.drafts_of(to));
        Ok(())
    }

    /// Another folder of this one, whose files are kept the same way; made where it is not there.
    ///
    /// # Errors
    /// What the system says; a link, which may lead elsewhere.
    pub fn within(&self, folder: &'static str) -> Result<Self, StoreError> {
        let folder = self.folder.join(folder);
        match fs::symlink_metadata(&folder) {
            Ok(there) if !there.is_dir() => {
                return Err(io::Error::from(ErrorKind::NotADirectory).into());
            }
            Ok(_) => {}
            Err(_) => crate::output::make_folder(&folder)?,
        }
        Ok(Self { folder })
    }

    fn path(&self, name: &Name) -> PathBuf {
        self.folder.join(name.file())
    }

    fn is_taken(&self, name: &Name) -> bool {
        fs::symlink_metadata(self.path(name)).is_ok()
    }

    fn lock(&self, name: &Name) -> Result<Lock, StoreError> {
        let hidden = self.hidden();
        crate::output::make_folder(&hidden)?;
        Ok(Lock::take(&hidden.join(format!("{name}.lock")), || {})?)
    }

    /// What stands under a name; none where nothing does.
    fn there(&self, name: &Name) -> Result<Option<State>, StoreError> {
        let unreadable = |why| {
            let name = name.clone();
            StoreError::Unreadable { name, why }
        };
        match read_plain(&self.path(name), LONGEST_TEXT) {
            Ok(Ok(text)) => Ok(Some(State::of(text))),
            Ok(Err(why)) => Err(unreadable(why)),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) if error.kind() == ErrorKind::PermissionDenied => {
                Err(unreadable("it may not be read"))
            }
            Err(error) => Err(error.into()),
        }
    }
}

fn listed(folder: &Path) -> Result<Vec<Entry>, StoreError> {
    let mut entries = vec![];
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let file = entry.file_name();
        let Some(stem) = file.to_str().and_then(|file| file.strip_suffix(".toml")) else {
            continue;
        };
        // What a page could not open again is not listed: links, and odd names.
        let (Ok(name), Ok(about)) = (Name::parse(stem), entry.metadata()) else {
            continue;
        };
        if about.is_file() && name.as_str() == stem && entries.len() < MOST_LISTED {
            let changed = about.modified().ok();
            entries.push(Entry { name, changed });
        }
    }
    entries.sort_by(|one, other| one.name.cmp(&other.name));
    Ok(entries)
}

/// The text of a plain file; or else why it is none. Links are not followed.
fn read_plain(path: &Path, longest: u64) -> io::Result<Result<String, &'static str>> {
    let about = fs::symlink_metadata(path)?;
    if !about.is_file() {
        return Ok(Err(
            "it is a link or a folder, and only plain files are read",
        ));
    }
    let mut bytes = vec![];
    opened(path)?.take(longest + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > longest {
        return Ok(Err("it is longer than 1 MB"));
    }
    Ok(String::from_utf8(bytes).map_err(|_| "it is not UTF-8 text"))
}

/// A file, opened so that a link put in its place meanwhile is not followed, and a pipe not waited
/// for.
#[cfg(unix)]
fn opened(path: &Path) -> io::Result<File> {
    use rustix::fs::OFlags;
    use std::os::unix::fs::OpenOptionsExt;
    let flags = OFlags::NOFOLLOW | OFlags::NONBLOCK;
    let flags = i32::try_from(flags.bits()).map_err(io::Error::other)?;
    OpenOptions::new().read(true).custom_flags(flags).open(path)
}

#[cfg(not(unix))]
fn opened(path: &Path) -> io::Result<File> {
    OpenOptions::new().read(true).open(path)
}
