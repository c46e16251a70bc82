//! Files written whole or not at all.

use super::WriteError;
use super::held::{Held, clear_if_left, folder_of};
use crate::base::words::is_device_name;
use std::fs;
use std::io;
use std::path::{Component, Path};

/// Writes a file so that its name never stands for half of it, as [`write_together`] does, and
/// clears what killed runs left beside it.
///
/// # Errors
/// As [`write_together`].
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    clear_leftovers(folder_of(path));
    write_together(&[(path, bytes)])
}

/// Writes files that belong together: all of them or, where anything fails, none.
///
/// The bytes go to new files in the same folders and reach the disk before any takes its name;
/// whatever had a name before is there untouched until then, and is put back if a later name can't
/// be taken. Folders on the way are made. A file that was there keeps its permissions, a new one
/// gets those of any new file. Only power that fails, or a run that is killed, between two names
/// leaves the one without the other.
///
/// # Errors
///
/// Names the folder or file, and what the system says; a name that Windows keeps for a device.
pub fn write_together<P: AsRef<Path>>(files: &[(P, &[u8])]) -> Result<(), WriteError> {
    let mut filled = vec![];
    for (path, bytes) in files {
        let path = path.as_ref();
        refuse_devices(path)?;
        let folder = folder_of(path);
        make_folder(folder)?;
        if path.is_dir() {
            return Err(failed(path, "written")(io::ErrorKind::IsADirectory.into()));
        }
        let held = Held::filled(folder, path, bytes).map_err(failed(path, "written"))?;
        filled.push((path, held));
    }
    place(filled)
}

/// Makes a folder, and those on the way to it, where they are not there.
///
/// # Errors
/// [`WriteError::Device`], [`WriteError::DeadLink`], and what the system says.
pub fn make_folder(folder: &Path) -> Result<(), WriteError> {
    refuse_devices(folder)?;
    fs::create_dir_all(folder).map_err(|cause| {
        let mut on_the_way = folder.ancestors();
        let dead = on_the_way.find(|one| one.is_symlink() && !one.exists());
        let link = dead.and_then(|link| Some((link.to_path_buf(), fs::read_link(link).ok()?)));
        match link {
            Some((link, to)) => WriteError::DeadLink { link, to },
            None => failed(folder, "made a folder")(cause),
        }
    })
}

/// Refuses a path with a name on it that Windows keeps for a device.
fn refuse_devices(path: &Path) -> Result<(), WriteError> {
    let is_device = |part: Component<'_>| match part {
        Component::Normal(name) => is_device_name(&name.to_string_lossy()),
        _ => false,
    };
    match path.components().any(is_device) {
        true => Err(WriteError::Device(path.into())),
        false => Ok(()),
    }
}

/// Gives every file its name, or none.
fn place(filled: Vec<(&Path, Held)>) -> Result<(), WriteError> {
    // One file alone is there or not as it is.
    let kept = if filled.len() > 1 {
        filled
            .iter()
            .map(|(path, _)| Held::copy_of(path).map_err(failed(path, "kept")))
            .collect::<Result<Vec<_>, _>>()?
    } else {
        vec![]
    };
    let mut placed: Vec<&Path> = vec![];
    for (path, held) in filled {
        if let Err(error) = held.take_name(path) {
            put_back(&placed, kept);
            return Err(failed(path, "written")(error));
        }
        placed.push(path);
    }
    Ok(())
}

/// Undoes what was placed so far; what can't be undone stays, and the error is told all the same.
fn put_back(placed: &[&Path], kept: Vec<Option<Held>>) {
    for (path, before) in placed.iter().zip(kept) {
        let _ = match before {
            Some(before) => before.take_name(path),
            None => fs::remove_file(path),
        };
    }
}

/// Removes files on their way that killed runs left in a folder; those of runs that are alive stay.
pub fn clear_leftovers(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        clear_if_left(&entry.path());
    }
}

/// What went wrong with a file, as [`WriteError::File`] tells it.
pub(crate) fn failed(path: &Path, doing: &'static str) -> impl FnOnce(io::Error) -> WriteError {
    let path = path.to_path_buf();
    move |cause| WriteError::File { path, doing, cause }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs::Permissions;
    use std::path::PathBuf;

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
        // A link gives way; what it led to has its own permissions.
        let link = folder.path().join("link");
        std::os::unix::fs::symlink(&ours, &link).unwrap();
        write_whole(&link, b"z").unwrap();
        assert_eq!(mode(&link), mode(&plain));
        assert!(!link.is_symlink());
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

    #[test]
    fn files_that_belong_together_are_all_there_or_none() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let both = |bytes| [(at("a.pdf"), bytes), (at("a.svg"), bytes)];
        write_together(&both(b"first".as_slice())).unwrap();
        // A folder that appears under the second name while the first is written.
        let clash = |files: &[(PathBuf, &[u8])]| {
            let mut filled = vec![];
            for (path, bytes) in files {
                filled.push((
                    path.as_path(),
                    Held::filled(folder.path(), path, bytes).unwrap(),
                ));
            }
            fs::remove_file(at("a.svg")).unwrap();
            fs::create_dir(at("a.svg")).unwrap();
            place(filled)
        };
        clash(&both(b"second")).unwrap_err();
        assert_eq!(fs::read(at("a.pdf")).unwrap(), b"first");
        fs::remove_file(at("a.pdf")).unwrap();
        fs::remove_dir(at("a.svg")).unwrap();
        fs::write(at("a.svg"), b"x").unwrap();
        clash(&both(b"third")).unwrap_err();
        assert_eq!(names(folder.path()), ["a.svg"]);
    }

    #[test]
    fn what_killed_runs_left_is_cleared_and_what_is_on_its_way_stays() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.pdf");
        let alive = Held::filled(folder.path(), &path, b"alive").unwrap();
        for left in [".trimloft-Ab3.part", ".trimloft-x", "b.part"] {
            fs::write(folder.path().join(left), b"left").unwrap();
        }
        fs::create_dir(folder.path().join(".trimloft-folder.part")).unwrap();
        clear_leftovers(folder.path());
        let there = names(folder.path());
        assert_eq!(there.len(), 4, "{there:?}");
        assert!(
            !there.contains(&".trimloft-Ab3.part".to_owned()),
            "{there:?}"
        );
        alive.take_name(&path).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"alive");
    }

    #[test]
    fn devices_of_windows_name_no_file() {
        let folder = tempfile::tempdir().unwrap();
        let error = write_whole(&folder.path().join("Con.toml"), b"x").unwrap_err();
        assert!(error.to_string().contains("Con.toml"), "{error}");
        let error = write_whole(&folder.path().join("a/nul/b.pdf"), b"x").unwrap_err();
        assert!(error.to_string().contains("nul"), "{error}");
        assert!(names(folder.path()).is_empty());
    }

    #[test]
    #[cfg(unix)]
    fn a_link_that_leads_nowhere_is_told() {
        let folder = tempfile::tempdir().unwrap();
        let link = folder.path().join("link");
        std::os::unix::fs::symlink("nowhere", &link).unwrap();
        for file in ["link/a.pdf", "link/b/a.pdf"] {
            let error = write_whole(&folder.path().join(file), b"x").unwrap_err();
            let told = error.to_string();
            assert!(told.contains("it is a link to `nowhere`"), "{told}");
        }
        assert_eq!(names(folder.path()), ["link"]);
        fs::create_dir(folder.path().join("nowhere")).unwrap();
        write_whole(&folder.path().join("link/a.pdf"), b"x").unwrap();
    }
}
