//! The list of what was issued: every file with its size and hash, every pattern with its content.

use super::content::hash;
use crate::base::length::Units;
use crate::base::paper::PageName;
use crate::output::WriteError;
use crate::solve::{Content, Facts, Pattern};
use serde::{Deserialize, Serialize};

/// The format of manifests written today.
pub(super) const FORMAT: u32 = 1;

/// What an issue holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Manifest {
    /// Format of this list: 1.
    pub format: u32,
    /// Program and version that drew it.
    pub program: String,
    /// The kit.
    pub kit: KitEntry,
    /// Code of the kit's content: the same code is the same kit, on whatever paper, by whatever
    /// version of the program it was drawn.
    #[serde(default)]
    pub code: String,
    /// What the kit file says besides its patterns, a fact each, as `name: words`.
    #[serde(default)]
    pub facts: Vec<String>,
    /// Hash of the files that the issue is made from: where it is the same, so is every byte.
    pub content: String,
    /// Paper, orientation, margin, overlap.
    pub sheets: String,
    /// Every file but this one, by name.
    pub files: Vec<FileEntry>,
    /// Every pattern, in the order of the kit file.
    pub patterns: Vec<PatternEntry>,
}

/// The kit as its file names it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KitEntry {
    /// Number.
    pub number: String,
    /// Revision.
    pub revision: String,
    /// Title.
    pub title: String,
    /// Date of issue, `YYYY-MM-DD`.
    pub issued: String,
    /// Vehicle; may be empty.
    pub vehicle: String,
    /// Accessory; may be empty.
    pub accessory: String,
}

/// One file of an issue.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct FileEntry {
    /// Its path from the folder, with `/` between.
    pub name: String,
    /// Bytes.
    pub size: u64,
    /// SHA-256, in hexadecimal digits.
    pub sha256: String,
}

impl FileEntry {
    /// The entry of these bytes.
    pub fn of(name: impl Into<String>, bytes: &[u8]) -> Self {
        Self {
            name: name.into(),
            size: bytes.len() as u64,
            sha256: hash(bytes),
        }
    }
}

/// One pattern of an issue.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PatternEntry {
    /// Number.
    pub number: String,
    /// Revision; may be empty.
    pub revision: String,
    /// Title.
    pub title: String,
    /// Its panel's name; may be empty.
    pub panel: String,
    /// Its definition, as the kit file names it.
    pub definition: String,
    /// How many are put in the box.
    pub quantity: u32,
    /// Code of its content, as every sheet of it says; empty in issues older than codes.
    #[serde(default)]
    pub code: String,
    /// Hash of its definition, shapes, sheets and version: where it is the same, so is every byte.
    pub content: String,
    /// Its SVG, from the folder.
    pub svg: String,
    /// The PDF that holds its sheets.
    pub volume: String,
    /// Its first page in there, from 1.
    pub first_page: usize,
    /// Its pages from there on.
    pub pages: usize,
    /// The page that its work shares with others, where it does.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub shared_page: Option<usize>,
    /// Where its record stands.
    #[serde(default)]
    pub record: PagesEntry,
    /// Whether it is small enough to share a sheet, where that was asked for.
    #[serde(skip_serializing_if = "std::ops::Not::not", default)]
    pub small: bool,
    /// What is cut.
    pub openings: Vec<OpeningEntry>,
    /// Tools that it calls for.
    #[serde(default)]
    pub tools: Vec<String>,
    /// Fixed points that fall into its waste: their fasteners are left out.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub left_out: Vec<String>,
    /// Units that the pattern speaks; numbers here are in mm all the same.
    #[serde(default, skip_serializing_if = "Units::is_mm")]
    pub units: Units,
    /// Findings that it is issued with.
    pub findings: Vec<FindingEntry>,
}

impl PatternEntry {
    /// Its name, as a volume carries it.
    pub(super) fn page_name(&self) -> PageName {
        PageName {
            number: self.number.clone(),
            revision: self.revision.clone(),
            code: self.code.clone(),
            page: None,
        }
    }

    /// Number and revision as one: `LV2-UP-01 rev B`.
    pub(super) fn number_and_revision(&self) -> String {
        match self.revision.as_str() {
            "" => self.number.clone(),
            revision => format!("{} rev {revision}", self.number),
        }
    }
}

/// Pages of a file of an issue.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct PagesEntry {
    /// The PDF.
    pub file: String,
    /// The first page in there, from 1.
    pub first_page: usize,
    /// The pages from there on.
    pub pages: usize,
}

/// An opening's size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OpeningEntry {
    /// Its name.
    pub name: String,
    /// Along the datum edge, mm.
    pub width: f64,
    /// Away from it, mm.
    pub depth: f64,
}

/// A finding that a pattern is issued with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FindingEntry {
    /// Its id.
    pub finding: String,
    /// How much it matters.
    pub severity: String,
    /// What was found.
    pub message: String,
    /// What it comes to: mm, or a share from 0 to 1; left out where there is no one number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// Who lets it stand, and why; left out where nobody has to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accepted: Option<AcceptedEntry>,
}

/// Who lets a finding stand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AcceptedEntry {
    /// Who.
    pub by: String,
    /// Why.
    pub because: String,
}

/// The findings that a pattern is issued with: the one way by which they enter a manifest.
pub(super) fn findings_issued(pattern: &Pattern) -> Vec<FindingEntry> {
    pattern
        .findings
        .iter()
        .map(|finding| FindingEntry {
            finding: finding.id.to_string(),
            severity: finding.severity.word().into(),
            message: finding.message.clone(),
            value: finding.measure.map(|measure| thousandths(measure.value())),
            accepted: finding.accepted.as_ref().map(|accepted| AcceptedEntry {
                by: accepted.by.clone(),
                because: accepted.because.clone(),
            }),
        })
        .collect()
}

fn thousandths(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

/// The openings of a pattern with their sizes to a hundredth of a millimetre.
pub(super) fn openings(pattern: &Pattern) -> Vec<OpeningEntry> {
    let hundredths = |length: f64| (length * 100.0).round() / 100.0;
    pattern
        .openings
        .iter()
        .map(|opening| {
            let bounds = opening.outline.bounds();
            OpeningEntry {
                name: opening.name(),
                width: hundredths(bounds.width()),
                depth: hundredths(opening.depth(&pattern.panel.edge)),
            }
        })
        .collect()
}

impl Manifest {
    /// What the kit is: what its file says, and its patterns by their codes.
    pub(super) fn kit_content(&self) -> Content {
        kit_content(&self.facts, self.patterns.iter())
    }

    /// As the file holds it.
    pub(super) fn to_bytes(&self) -> Result<Vec<u8>, WriteError> {
        let mut bytes = serde_json::to_vec_pretty(self)
            .map_err(|cause| WriteError::Manifest(cause.to_string()))?;
        bytes.push(b'\n');
        Ok(bytes)
    }

    /// The manifest that a file holds; none for what is no manifest of this format.
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let read: Self = serde_json::from_slice(bytes).ok()?;
        (read.format == FORMAT).then_some(read)
    }
}

/// What a kit is: what its file says, and its patterns by their codes.
pub(super) fn kit_content<'e>(
    own: &[String],
    patterns: impl Iterator<Item = &'e PatternEntry>,
) -> Content {
    let mut facts = Facts::default();
    for one in patterns {
        let words = [
            format!("rev {}", one.revision),
            one.code.clone(),
            format!("{} in the box", one.quantity),
        ];
        facts.about("pattern", &one.number, words);
    }
    Content::of_facts([own.to_vec(), facts.into_lines()].concat())
}
