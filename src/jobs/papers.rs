//! Which papers a folder holds: under one number and revision there is one.
//!
//! A folder holds drawn files, which carry their content, and issues of kits, whose manifests name the
//! code of each pattern. What carries no content (another program saved it, or a version that knew no
//! codes) can't be told apart and is passed over. So is a pattern that has no revision: it is a draft.

use crate::base::paper::{file_stem, number_and_revision};
use crate::output::{WriteError, failed, make_folder};
use crate::solve::{Content, Pattern, in_one_breath};
use serde::{Deserialize, Serialize};
use std::collections::{HashMap, HashSet};
use std::fmt;
use std::fs::{self, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};

/// The manifest's name in an issue.
pub const MANIFEST: &str = "manifest.json";

/// Where a folder keeps what was replaced under its number and revision, by what, and why: a line of
/// JSON each.
pub const REPLACED: &str = "replaced.jsonl";

/// Where a folder keeps which papers were called back, and why: a line of JSON each, with `paper`, `code`
/// and `because`.
pub const WITHDRAWN: &str = "withdrawn.jsonl";

/// What stands under a number and revision.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Paper {
    /// Number.
    pub number: String,
    /// Revision; empty for a draft.
    pub revision: String,
    /// What it is.
    pub content: Content,
}

impl Paper {
    /// The paper of a solved pattern.
    pub fn of(pattern: &Pattern) -> Self {
        Self {
            number: pattern.identity.number.value.clone(),
            revision: pattern.identity.revision.clone(),
            content: Content::of(pattern),
        }
    }

    /// Whether a file holds another paper; not where it carries no content.
    pub fn holds_otherwise(&self, file: &Path) -> bool {
        content_of(file).is_some_and(|content| content.code() != self.content.code())
    }

    /// What differs in another paper under the same number and revision; none where none does, and
    /// for drafts.
    pub fn clash(&self, other: &Content, holder: &Path) -> Option<Clash> {
        let is_other = !self.revision.is_empty() && other.code() != self.content.code();
        is_other.then(|| Clash {
            name: format!("{} rev {}", self.number, self.revision),
            holder: holder.into(),
            old: other.code(),
            new: self.content.code(),
            differences: other.differences(&self.content),
        })
    }
}

/// Two papers under one number and revision.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Clash {
    /// Number and revision.
    pub name: String,
    /// The file that holds the other one.
    pub holder: PathBuf,
    /// Code of the paper that is there.
    pub old: String,
    /// Code of the new one.
    pub new: String,
    /// What differs; none where what is there is known by its code alone.
    pub differences: Vec<String>,
}

impl Clash {
    /// What to do about it.
    pub const HINT: &'static str = "raise the revision; or, for a draft that nobody has, `--replace \
        --because \"...\"`";
}

impl fmt::Display for Clash {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self {
            name,
            holder,
            old,
            new,
            differences,
        } = self;
        let holder = holder.display();
        write!(
            out,
            "{name} is {old} in `{holder}` already, and this is {new}"
        )?;
        match differences.as_slice() {
            [] => Ok(()),
            told => write!(out, ": {}", in_one_breath(told)),
        }
    }
}

/// Why a paper was replaced, as it is kept.
#[derive(Debug, Serialize)]
struct Replaced<'a> {
    paper: &'a str,
    old: &'a str,
    new: &'a str,
    because: &'a str,
}

/// A paper that a folder holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// Number.
    pub number: String,
    /// Revision; may be empty.
    pub revision: String,
    /// Content code.
    pub code: String,
    /// The drawing of it.
    pub file: PathBuf,
}

impl Held {
    /// Number and revision, as sheets have them.
    pub fn number_and_revision(&self) -> String {
        number_and_revision(&self.number, &self.revision)
    }

    /// Date of issue, `YYYY-MM-DD`, as its drawing has it; empty where that does not tell.
    pub(super) fn issued(&self) -> String {
        let content = content_of(&self.file).unwrap_or_default();
        content.fact("issued").unwrap_or_default().to_owned()
    }
}

/// The papers of a folder.
#[derive(Debug)]
pub struct Papers {
    folder: PathBuf,
    /// Every pattern that was issued, by its files' stem.
    issued: HashMap<String, Vec<Held>>,
}

/// As much of a manifest as tells its papers.
#[derive(Deserialize)]
struct Listed {
    patterns: Vec<ListedPattern>,
}

#[derive(Deserialize)]
struct ListedPattern {
    number: String,
    revision: String,
    #[serde(default)]
    code: String,
    svg: String,
}

impl Papers {
    /// Those of `folder`, but for the issue in `but_for`; none where the folder is not there.
    pub fn of(folder: &Path, but_for: Option<&Path>) -> Self {
        let mut issued = HashMap::<String, Vec<Held>>::new();
        let entries = fs::read_dir(folder).into_iter().flatten().flatten();
        let issues = entries.map(|entry| entry.path());
        for issue in issues.filter(|path| Some(path.as_path()) != but_for) {
            let Some(listed) = fs::read(issue.join(MANIFEST))
                .ok()
                .and_then(|bytes| serde_json::from_slice::<Listed>(&bytes).ok())
            else {
                continue;
            };
            for one in listed.patterns {
                let stem = file_stem(&one.number, &one.revision);
                issued.entry(stem).or_default().push(Held {
                    number: one.number,
                    revision: one.revision,
                    code: one.code,
                    file: issue.join(&one.svg),
                });
            }
        }
        Self {
            folder: folder.into(),
            issued,
        }
    }

    /// Another paper that the folder holds under the same number and revision.
    pub fn clash(&self, paper: &Paper) -> Option<Clash> {
        let stem = file_stem(&paper.number, &paper.revision);
        self.issued_otherwise(&stem, paper).or_else(|| {
            ["svg", "pdf"].iter().find_map(|ending| {
                let file = self.folder.join(format!("{stem}.{ending}"));
                paper.clash(&content_of(&file)?, &file)
            })
        })
    }

    /// All that have a code, each once: those of issues, then those of drawn files.
    pub(super) fn held(&self) -> Vec<Held> {
        let entries = fs::read_dir(&self.folder).into_iter().flatten().flatten();
        let files = entries.map(|entry| entry.path());
        let is_drawn = |file: &PathBuf| {
            let ending = file.extension().and_then(|ending| ending.to_str());
            matches!(ending, Some("svg" | "pdf"))
        };
        let mut files: Vec<PathBuf> = files.filter(is_drawn).collect();
        // The drawing is read before the sheets.
        files.sort_by_key(|file| {
            (
                file.with_extension(""),
                file.extension() != Some("svg".as_ref()),
            )
        });
        let drawn = files.into_iter().filter_map(|file| {
            let content = content_of(&file)?;
            let fact = |name| content.fact(name).unwrap_or_default().to_owned();
            Some(Held {
                number: fact("number"),
                revision: fact("revision"),
                code: content.code(),
                file,
            })
        });
        let mut issued: Vec<Held> = self.issued.values().flatten().cloned().collect();
        issued.sort_by(|one, other| one.file.cmp(&other.file));
        let mut seen = HashSet::new();
        let all = issued.into_iter().chain(drawn);
        all.filter(|held| !held.code.is_empty() && seen.insert(held.code.clone()))
            .collect()
    }

    fn issued_otherwise(&self, stem: &str, paper: &Paper) -> Option<Clash> {
        let code = paper.content.code();
        let known = self.issued.get(stem)?.iter();
        let other = known
            .into_iter()
            .find(|known| !known.code.is_empty() && known.code != code)?;
        let content = content_of(&other.file).unwrap_or_default();
        let clash = paper.clash(&content, &other.file)?;
        Some(Clash {
            old: other.code.clone(),
            differences: if content.code() == other.code {
                clash.differences
            } else {
                vec![]
            },
            ..clash
        })
    }

    /// Keeps why a paper of this folder is replaced: written through to the disk.
    ///
    /// # Errors
    /// A file that can't be written.
    pub fn keep(&self, paper: &str, codes: [&str; 2], because: &str) -> Result<(), WriteError> {
        let [old, new] = codes;
        let line = serde_json::to_string(&Replaced {
            paper,
            old,
            new,
            because,
        })
        .map_err(|cause| WriteError::Manifest(cause.to_string()))?;
        make_folder(&self.folder)?;
        let path = self.folder.join(REPLACED);
        let kept = OpenOptions::new()
            .create(true)
            .append(true)
            .open(&path)
            .and_then(|mut file| {
                // One write, so that lines of two runs do not mix.
                file.write_all(format!("{line}\n").as_bytes())?;
                file.sync_all()
            });
        kept.map_err(failed(&path, "written"))
    }
}

/// What a drawn file carries.
pub(super) fn content_of(file: &Path) -> Option<Content> {
    Content::in_file(&fs::read(file).ok()?)
}
