//! Files written whole or not at all.

use super::WriteError;
use std::fs::{self, Permissions};
use std::io::{self, Write};
use std::path::Path;
use tempfile::{Builder, NamedTempFile};

/// Writes a file so that its name never stands for half of it.
///
/// The bytes go to a new file in the same folder, reach the disk, and then take the name in one
/// step; whatever had the name before is there untouched until then, and stays if anything
/// fails. Folders on the way are made. A file that was there keeps its permissions, a new one
/// gets those of any new file.
///
/// # Errors
///
/// Names the folder or file, and what the system says.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    fs::create_dir_all(folder).map_err(failed(folder, "made a folder"))?;
    if path.is_dir() {
        return Err(failed(path, "written")(io::ErrorKind::IsADirectory.into()));
    }
    fill(folder, path, bytes).map_err(failed(path, "written"))
}

fn fill(folder: &Path, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = new_file(folder)?;
    file.write_all(bytes)?;
    if let Ok(there) = fs::metadata(path) {
        file.as_file().set_permissions(there.permissions())?;
    }
    file.as_file().sync_all()?;
    file.persist(path).map_err(|failure| failure.error)?;
    Ok(())
}

/// A new file of an ordinary kind: a temporary one would be its owner's alone to read.
fn new_file(folder: &Path) -> io::Result<NamedTempFile> {
    let mut builder = Builder::new();
    builder.prefix(".trimloft-").suffix(".part");
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

fn failed(path: &Path, doing: &'static str) -> impl FnOnce(io::Error) -> WriteError {
    let path = path.to_path_buf();
    move |cause| WriteError::File { path, doing, cause }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<_> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn makes_folders_and_replaces_what_was_there() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a/b/LV2.pdf");
        write_whole(&path, b"first").unwrap();
        write_whole(&path, b"second").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"second");
        assert_eq!(names(path.parent().unwrap()), ["LV2.pdf"]);
    }

    #[test]
    #[cfg(unix)]
    fn permissions_are_those_of_any_file() {
        use std::os::unix::fs::PermissionsExt;
        let folder = tempfile::tempdir().unwrap();
        let (ours, plain) = (folder.path().join("ours"), folder.path().join("plain"));
        write_whole(&ours, b"x").unwrap();
        fs::write(&plain, b"x").unwrap();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode();
        assert_eq!(mode(&ours), mode(&plain));
        fs::set_permissions(&ours, Permissions::from_mode(0o640)).unwrap();
        write_whole(&ours, b"y").unwrap();
        assert_eq!(mode(&ours) & 0o777, 0o640);
    }

    #[test]
    fn a_failure_leaves_nothing_and_names_the_place() {
        let folder = tempfile::tempdir().unwrap();
        let blocked = folder.path().join("taken");
        fs::create_dir_all(blocked.join("inside")).unwrap();
        let error = write_whole(&blocked, b"x").unwrap_err();
        assert!(error.to_string().contains("taken"), "{error}");
        assert!(
            error.hint().contains("a folder has this name"),
            "{}",
            error.hint()
        );

        let file = folder.path().join("file");
        fs::write(&file, b"kept").unwrap();
        let error = write_whole(&file.join("below.pdf"), b"x").unwrap_err();
        assert!(error.to_string().contains("file"), "{error}");
        assert!(error.hint().contains("--out"), "{}", error.hint());
        assert_eq!(fs::read(&file).unwrap(), b"kept");
        assert_eq!(names(folder.path()), ["file", "taken"]);
    }
}
