//! Where the files of an issue go: into a folder, or, to be told only what they would be, nowhere.

use super::manifest::FileEntry;
use crate::output::{WriteError, failed};
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
#[cfg(any(target_os = "linux", target_os = "android"))]
use std::{
    sync::mpsc::{self, RecvTimeoutError},
    thread,
    time::Duration,
};

/// The folder of the patterns' drawings in an issue.
pub(super) const PATTERNS: &str = "patterns";

/// Where files go.
#[derive(Debug)]
pub(super) enum Sink {
    /// A new folder that nobody else looks at.
    Folder(PathBuf),
    /// Nowhere.
    Nowhere,
}

impl Sink {
    /// A sink into a folder, which is made.
    pub(super) fn folder(path: &Path) -> Result<Self, WriteError> {
        for folder in [path, &path.join(PATTERNS)] {
            fs::create_dir(folder).map_err(failed(folder, "made a folder"))?;
        }
        Ok(Self::Folder(path.into()))
    }

    /// Takes a file. Its name is one that this program made: words with `/` between.
    pub(super) fn put(&self, name: &str, bytes: &[u8]) -> Result<FileEntry, WriteError> {
        let entry = FileEntry::of(name, bytes);
        self.put_as(&entry, bytes)?;
        Ok(entry)
    }

    /// Takes a file that stands in the issue before with these bytes: under a second name where the
    /// system can, since issues are never changed once they are made, or else written again.
    pub(super) fn put_again(
        &self,
        entry: &FileEntry,
        there: &Path,
        bytes: &[u8],
    ) -> Result<(), WriteError> {
        let linked = match self {
            Self::Folder(folder) => {
                // A link in its place would be taken over as the link that it is.
                fs::symlink_metadata(there).is_ok_and(|there| there.is_file())
                    && fs::hard_link(there, folder.join(&entry.name)).is_ok()
            }
            Self::Nowhere => true,
        };
        if linked {
            Ok(())
        } else {
            self.put_as(entry, bytes)
        }
    }

    /// Takes a file whose entry is known to be that of these bytes.
    pub(super) fn put_as(&self, entry: &FileEntry, bytes: &[u8]) -> Result<(), WriteError> {
        if let Self::Folder(folder) = self {
            let path = folder.join(&entry.name);
            write(&path, bytes).map_err(failed(&path, "written"))?;
        }
        Ok(())
    }
}

fn write(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)
}

/// Has everything in a folder reach the disk, so that what takes its name is whole also where
/// power fails: all at once where the system can, since file by file takes longer than drawing.
#[cfg(any(target_os = "linux", target_os = "android"))]
pub(super) fn sync_all(folder: &Path) -> io::Result<()> {
    rustix::fs::syncfs(File::open(folder)?).map_err(io::Error::from)
}

/// As above, file by file.
#[cfg(not(any(target_os = "linux", target_os = "android")))]
pub(super) fn sync_all(folder: &Path) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        if path.is_dir() {
            sync_all(&path)?;
        } else {
            OpenOptions::new().write(true).open(&path)?.sync_all()?;
        }
    }
    sync_names(folder)
}

/// How often what was written so far is sent to the disk.
#[cfg(any(target_os = "linux", target_os = "android"))]
const EVERY: Duration = Duration::from_millis(40);

/// Does some work while what it writes into a folder is already on its way to the disk, so that
/// little is left to wait for at the end.
#[cfg(any(target_os = "linux", target_os = "android"))]
pub(super) fn while_written<T>(folder: &Path, work: impl FnOnce() -> T) -> T {
    thread::scope(|scope| {
        let (working, done) = mpsc::channel::<()>();
        scope.spawn(move || {
            while done.recv_timeout(EVERY) == Err(RecvTimeoutError::Timeout) {
                // Whether all of it arrives is asked at the end.
                let _ = sync_all(folder);
            }
        });
        let outcome = work();
        drop(working);
        outcome
    })
}

/// As above; a system that syncs file by file has nothing to gain.
#[cfg(not(any(target_os = "linux", target_os = "android")))]
pub(super) fn while_written<T>(_folder: &Path, work: impl FnOnce() -> T) -> T {
    work()
}

/// Has the names in a folder reach the disk, where the system knows that of folders.
pub(super) fn sync_names(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}
