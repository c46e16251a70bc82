//! A file on its way to its name: locked while its run is alive, so that another run knows whether
//! it may clear it away.

use std::fs::{self, File, Permissions};
use std::io::{self, Write};
use std::path::Path;
use tempfile::{Builder, NamedTempFile, TempPath};

/// What the names of files on their way begin and end with.
const PREFIX: &str = ".trimloft-";
const SUFFIX: &str = ".part";

/// A file that has no name of its own yet. It is removed if it never takes one.
#[derive(Debug)]
pub(super) struct Held {
    path: TempPath,
    /// Holds the lock.
    file: File,
}

impl Held {
    /// A new file beside `path`, of the kind that stands there, with these bytes on the disk.
    pub(super) fn filled(folder: &Path, path: &Path, bytes: &[u8]) -> io::Result<Self> {
        let mut held = Self::new(folder)?;
        held.file.write_all(bytes)?;
        // A link gives way to the file, and what it leads to has nothing to do with it.
        if let Ok(there) = fs::symlink_metadata(path)
            && there.is_file()
        {
            held.file.set_permissions(there.permissions())?;
        }
        held.file.sync_all()?;
        Ok(held)
    }

    /// What stands at `path` once more, beside it; none where nothing does.
    pub(super) fn copy_of(path: &Path) -> io::Result<Option<Self>> {
        if !path.exists() {
            return Ok(None);
        }
        let folder = folder_of(path);
        let linked = builder().make_in(folder, |copy| {
            // Some file systems know no second names.
            fs::hard_link(path, copy).or_else(|error| match error.kind() {
                // Another name is tried then.
                io::ErrorKind::AlreadyExists => Err(error),
                _ => fs::copy(path, copy).map(drop),
            })
        });
        let (_, path) = linked?.into_parts();
        let file = File::open(&path)?;
        // Whoever else holds it keeps it from being cleared as well.
        let _ = file.try_lock();
        Ok(Some(Self { path, file }))
    }

    /// Takes the name, whatever had it before.
    pub(super) fn take_name(self, path: &Path) -> io::Result<()> {
        self.path.persist(path).map_err(|failure| failure.error)
    }

    fn new(folder: &Path) -> io::Result<Self> {
        loop {
            let (file, path) = new_file(folder)?.into_parts();
            // Where the file system knows no locks, nobody clears anything either.
            let _ = file.lock();
            // Another run may have taken it for left over before it was locked.
            if is_still(&path, &file) {
                return Ok(Self { path, file });
            }
        }
    }
}

/// The folder that `path` lies in; a bare name lies in the one that is worked in.
pub(super) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Removes a file that was on its way when its run was killed.
pub(super) fn clear_if_left(path: &Path) {
    let on_its_way = path
        .file_name()
        .and_then(|name| name.to_str())
        .is_some_and(|name| name.starts_with(PREFIX) && name.ends_with(SUFFIX));
    // A link is none of ours.
    let is_file = || fs::symlink_metadata(path).is_ok_and(|there| there.is_file());
    if on_its_way
        && is_file()
        && let Ok(file) = File::open(path)
        && file.try_lock().is_ok()
    {
        // While it is locked nobody else can take it for their own. It stays where it must.
        let _ = fs::remove_file(path);
    }
}

/// Whether a path still names an open file: another run may have cleared it away, and made a new
/// one, before this one had its lock.
#[cfg(unix)]
pub(super) fn is_still(path: &Path, file: &File) -> bool {
    use std::os::unix::fs::MetadataExt;
    let same = |one: fs::Metadata, other: fs::Metadata| {
        (one.dev(), one.ino()) == (other.dev(), other.ino())
    };
    match (file.metadata(), fs::metadata(path)) {
        (Ok(held), Ok(there)) => same(held, there),
        _ => false,
    }
}

/// The file is never removed here.
#[cfg(not(unix))]
pub(super) fn is_still(_: &Path, _: &File) -> bool {
    true
}

fn builder() -> Builder<'static, 'static> {
    let mut builder = Builder::new();
    builder.prefix(PREFIX).suffix(SUFFIX);
    builder
}

/// A new file of an ordinary kind: a temporary one would be its owner's alone to read.
fn new_file(folder: &Path) -> io::Result<NamedTempFile> {
    let mut builder = builder();
    if let Some(permissions) = ordinary() {
        builder.permissions(permissions);
    }
    builder.tempfile_in(folder)
}

/// The system takes from these what the user's mask forbids.
#[cfg(unix)]
fn ordinary() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn ordinary() -> Option<Permissions> {
    None
}
