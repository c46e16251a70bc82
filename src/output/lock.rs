//! One run at a time for what stands behind a lock.

use super::file::failed;
use super::{WriteError, held::is_still};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// A lock, given back when it is dropped, and by the system when the run is killed.
#[derive(Debug)]
pub(crate) struct Lock {
    path: PathBuf,
    _file: File,
}

impl Lock {
    /// Takes the lock; calls `waiting` once if another run has it.
    pub(crate) fn take(path: &Path, waiting: impl Fn()) -> Result<Self, WriteError> {
        loop {
            let file = locked(path, &waiting).map_err(failed(path, "locked"))?;
            if let Some(lock) = Self::held(path, file) {
                return Ok(lock);
            }
        }
    }

    /// The lock, if no run has it now.
    pub(crate) fn take_if_free(path: &Path) -> Option<Self> {
        let file = opened(path).ok()?;
        file.try_lock().ok()?;
        Self::held(path, file)
    }

    /// Whoever had the lock before may have removed the file in the meantime: another run may then
    /// have locked a new one.
    fn held(path: &Path, file: File) -> Option<Self> {
        is_still(path, &file).then(|| Self {
            path: path.into(),
            _file: file,
        })
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        if cfg!(unix) {
            let _ = fs::remove_file(&self.path);
        }
    }
}

fn opened(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.create(true).truncate(false).write(true).open(path)
}

fn locked(path: &Path, waiting: &impl Fn()) -> io::Result<File> {
    let file = opened(path)?;
    match file.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock) => {
            waiting();
            file.lock()?;
        }
        Err(TryLockError::Error(error)) => return Err(error),
    }
    Ok(file)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn one_holder_at_a_time_and_nothing_left() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(".K-1.lock");
        let inside = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| {
                    for _ in 0..40 {
                        let _lock = Lock::take(&path, || {}).unwrap();
                        assert_eq!(inside.fetch_add(1, Ordering::SeqCst), 0);
                        std::thread::yield_now();
                        inside.fetch_sub(1, Ordering::SeqCst);
                    }
                });
            }
        });
        assert!(fs::read_dir(folder.path()).unwrap().next().is_none());
    }
}
