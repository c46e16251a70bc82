//! An issue made before: unchanged patterns are taken over from it.

use super::KitError;
use super::manifest::{FileEntry, Manifest, PatternEntry};
use super::plan::Item;
use crate::jobs::papers::MANIFEST;
use crate::output::{PackedPage, pages_of_volume};
use std::collections::{BTreeSet, HashMap};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// An issue's folder and what its manifest says.
#[derive(Debug)]
pub struct Previous {
    folder: PathBuf,
    manifest: Manifest,
    by_content: HashMap<String, usize>,
    files: HashMap<String, FileEntry>,
}

/// Pages of volumes; none for one that is damaged.
#[derive(Debug, Default)]
pub(super) struct Volumes(HashMap<String, Option<Arc<Vec<PackedPage>>>>);

/// A pattern taken over.
pub(super) struct Taken {
    pub(super) entry: PatternEntry,
    pub(super) svg: Vec<u8>,
    /// The drawing's file in the issue before.
    pub(super) path: PathBuf,
    /// The drawing's size and hash, which it was found to have.
    pub(super) file: FileEntry,
    pub(super) pages: Vec<PackedPage>,
    pub(super) record: Vec<PackedPage>,
}

impl Previous {
    /// Opens an issue.
    ///
    /// # Errors
    /// A folder that is no issue.
    pub fn open(folder: &Path) -> Result<Self, KitError> {
        let manifest = fs::read(folder.join(MANIFEST))
            .ok()
            .and_then(|bytes| Manifest::from_bytes(&bytes))
            .ok_or_else(|| KitError::NoIssue(folder.into()))?;
        let by_content = manifest.patterns.iter().enumerate();
        let files = manifest.files.iter();
        Ok(Self {
            folder: folder.into(),
            by_content: by_content
                .map(|(at, pattern)| (pattern.content.clone(), at))
                .collect(),
            files: files
                .map(|file| (file.name.clone(), file.clone()))
                .collect(),
            manifest,
        })
    }

    /// What it holds.
    pub fn manifest(&self) -> &Manifest {
        &self.manifest
    }

    /// The volumes that these patterns stand in; those of `loaded` are not read again.
    pub(super) fn volumes_for(&self, items: &[Item], loaded: &Volumes) -> Volumes {
        let needed: BTreeSet<&String> = items
            .iter()
            .filter_map(|item| self.entry(item))
            .flat_map(|entry| [&entry.volume, &entry.record.file])
            .collect();
        let read = |name: &String| {
            let pages = self
                .whole(name)
                .and_then(|bytes| pages_of_volume(&bytes).ok());
            pages.map(Arc::new)
        };
        let volume = |name: &String| match loaded.0.get(name) {
            Some(pages) => (name.clone(), pages.clone()),
            None => (name.clone(), read(name)),
        };
        Volumes(needed.into_iter().map(volume).collect())
    }

    /// A pattern as it was issued; none if it was not, or if what is left of it is damaged.
    ///
    /// Small patterns are not taken over where they may share sheets: which they share with
    /// hangs on all the others.
    pub(super) fn take(&self, item: &Item, volumes: &Volumes) -> Option<Taken> {
        let entry = self.entry(item).filter(|entry| !entry.small)?;
        let pages = |file: &String, first_page: usize, count: usize| {
            let pages = volumes.0.get(file)?.as_ref()?;
            let first = first_page.checked_sub(1)?;
            Some(pages.get(first..first.checked_add(count)?)?.to_vec())
        };
        let record = &entry.record;
        Some(Taken {
            svg: self.whole(&entry.svg)?,
            path: self.folder.join(&entry.svg),
            file: self.files.get(&entry.svg)?.clone(),
            entry: entry.clone(),
            pages: pages(&entry.volume, entry.first_page, entry.pages)?,
            record: pages(&record.file, record.first_page, record.pages)?,
        })
    }

    fn entry(&self, item: &Item) -> Option<&PatternEntry> {
        self.manifest
            .patterns
            .get(*self.by_content.get(&item.content)?)
    }

    /// A file's bytes, where they are those that were issued.
    fn whole(&self, name: &str) -> Option<Vec<u8>> {
        let should = self.files.get(name)?;
        let bytes = fs::read(self.folder.join(name)).ok()?;
        (FileEntry::of(name, &bytes) == *should).then_some(bytes)
    }
}
