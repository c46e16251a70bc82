//! How what is there stands to what would be issued: by content first, by bytes where those tell.

use super::difference::Differences;
use super::make::Issue;
use super::manifest::Manifest;
use crate::jobs::papers::MANIFEST;
use crate::jobs::papers::content_of;
use std::io;
use std::path::Path;

/// How a folder stands to an issue that was made.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Standing {
    /// It holds that issue.
    Same,
    /// It holds the same content, whole, on other paper or by another version of the program.
    DrawnOtherwise,
    /// It holds something else, or files that are not those that were issued.
    Other(Differences),
}

impl Standing {
    /// How `folder` stands, whose manifest says `there`, to `made`.
    ///
    /// # Errors
    /// A folder that can't be looked through.
    pub(super) fn of(folder: &Path, there: Option<&Manifest>, made: &Issue) -> io::Result<Self> {
        let found = Differences::of(folder, &made.files)?;
        if found.is_empty() {
            return Ok(Self::Same);
        }
        let Some(there) = there.filter(|there| there.code == made.manifest.code) else {
            return Ok(Self::Other(found));
        };
        let new = &made.manifest;
        // Definitions that are written otherwise and draw the same change hashes of the manifest alone.
        let said = |manifest: &Manifest| (manifest.kit_content(), manifest.files.clone());
        if found.clone().but_for(MANIFEST).is_empty() && said(there) == said(new) {
            return Ok(Self::Same);
        }
        let otherwise = there.sheets != new.sheets || there.program != new.program;
        if otherwise && there.kit_content() == new.kit_content() && is_whole(folder, there)? {
            return Ok(Self::DrawnOtherwise);
        }
        Ok(Self::Other(found))
    }

    /// What must be mended before the folder is what would be issued.
    pub(super) fn into_differences(self) -> Differences {
        match self {
            Self::Same | Self::DrawnOtherwise => Differences::default(),
            Self::Other(found) => found,
        }
    }
}

/// Whether a folder holds the files of its own manifest, and no other.
///
/// # Errors
/// A folder that can't be looked through.
pub(super) fn is_whole(folder: &Path, manifest: &Manifest) -> io::Result<bool> {
    // The list does not name itself.
    let only_manifest = Differences {
        added: vec![MANIFEST.into()],
        ..Differences::default()
    };
    Differences::of(folder, &manifest.files).map(|found| found == only_manifest)
}

/// What differs of two kits under one number and revision, and of patterns that both hold under one,
/// whose drawings stand in `folders`.
pub(super) fn facts_that_differ(
    folders: [&Path; 2],
    old: &Manifest,
    new: &Manifest,
) -> Vec<String> {
    let mut facts = old.kit_content().differences(&new.kit_content());
    for one in &new.patterns {
        let before = old.patterns.iter().find(|old| old.svg == one.svg);
        let Some(before) = before.filter(|before| before.code != one.code) else {
            continue;
        };
        let [this, that] = folders;
        let contents = content_of(&this.join(&before.svg)).zip(content_of(&that.join(&one.svg)));
        let told = contents.map_or_else(Vec::new, |(this, that)| this.differences(&that));
        facts.extend(
            told.into_iter()
                .map(|fact| format!("{}, {fact}", one.number_and_revision())),
        );
    }
    facts
}
