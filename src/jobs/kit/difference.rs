//! A folder held against what it should hold, file by file.

use super::manifest::FileEntry;
use crate::base::words::shown;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::fmt;
use std::fs;
use std::io;
use std::path::Path;

/// Files named in one line; more are counted.
const MOST_NAMED: usize = 8;

/// How a folder differs from an issue, by the names of files.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Differences {
    /// Files with other bytes.
    pub changed: Vec<String>,
    /// Files that are not there.
    pub missing: Vec<String>,
    /// Files, folders and links that do not belong there.
    pub added: Vec<String>,
}

impl Differences {
    /// How `folder` differs from these files.
    ///
    /// # Errors
    /// A folder that can't be looked through.
    pub fn of(folder: &Path, should: &[FileEntry]) -> io::Result<Self> {
        let mut there = BTreeMap::new();
        walk(folder, "", &mut there)?;
        let mut differences = Self::default();
        let same: Vec<bool> = should
            .par_iter()
            .map(|file| {
                there.get(&file.name) == Some(&Kind::File)
                    && is_same(&folder.join(&file.name), file)
            })
            .collect();
        for (file, same) in should.iter().zip(same) {
            match there.remove(&file.name) {
                None => differences.missing.push(file.name.clone()),
                Some(_) if same => {}
                Some(_) => differences.changed.push(file.name.clone()),
            }
        }
        let parents = |name: &str| {
            let inside = format!("{name}/");
            should.iter().any(|file| file.name.starts_with(&inside))
        };
        let added = there
            .into_iter()
            .filter(|(name, kind)| !(*kind == Kind::Folder && parents(name)));
        differences.added = added.map(|(name, _)| name).collect();
        Ok(differences)
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.changed.is_empty() && self.missing.is_empty() && self.added.is_empty()
    }

    /// The same, but for one file.
    pub(super) fn but_for(mut self, name: &str) -> Self {
        self.changed.retain(|changed| changed != name);
        self
    }
}

impl fmt::Display for Differences {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kinds = [
            ("changed", &self.changed),
            ("missing", &self.missing),
            ("added", &self.added),
        ];
        let mut first = true;
        for (kind, names) in kinds.into_iter().filter(|(_, names)| !names.is_empty()) {
            let joint = if first { "" } else { "; " };
            first = false;
            let named: Vec<String> = names
                .iter()
                .take(MOST_NAMED)
                .map(|name| format!("`{}`", shown(name)))
                .collect();
            write!(out, "{joint}{kind} {}", named.join(", "))?;
            match names.len().checked_sub(MOST_NAMED) {
                None | Some(0) => {}
                Some(more) => write!(out, " and {more} more")?,
            }
        }
        Ok(())
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    File,
    Folder,
    /// A link, or what is neither: never followed.
    Other,
}

fn walk(folder: &Path, before: &str, there: &mut BTreeMap<String, Kind>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = format!("{before}{}", entry.file_name().to_string_lossy());
        let kind = entry.file_type()?;
        let kind = if kind.is_file() {
            Kind::File
        } else if kind.is_dir() {
            walk(&entry.path(), &format!("{name}/"), there)?;
            Kind::Folder
        } else {
            Kind::Other
        };
        there.insert(name, kind);
    }
    Ok(())
}

/// Whether a file holds what its entry says; one that can't be read does not.
fn is_same(path: &Path, should: &FileEntry) -> bool {
    let length = fs::metadata(path).map(|file| file.len());
    length.is_ok_and(|length| length == should.size)
        && fs::read(path).is_ok_and(|bytes| FileEntry::of(&should.name, &bytes) == *should)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_kind_is_found_and_named() {
        let folder = tempfile::tempdir().unwrap();
        let put = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
        fs::create_dir(folder.path().join("patterns")).unwrap();
        put("a.pdf", "a");
        put("patterns/b.svg", "b");
        let should = [
            FileEntry::of("a.pdf", b"a"),
            FileEntry::of("patterns/b.svg", b"b"),
        ];
        let differences = || Differences::of(folder.path(), &should).unwrap();
        assert!(differences().is_empty());
        put("patterns/b.svg", "c");
        put("patterns/more.svg", "x");
        fs::remove_file(folder.path().join("a.pdf")).unwrap();
        let found = differences();
        assert_eq!(found.changed, ["patterns/b.svg"]);
        assert_eq!(found.missing, ["a.pdf"]);
        assert_eq!(found.added, ["patterns/more.svg"]);
        assert_eq!(
            found.to_string(),
            "changed `patterns/b.svg`; missing `a.pdf`; added `patterns/more.svg`"
        );
    }
}
