//! What was found in a file.

use serde::Serialize;
use std::fmt;

/// What a finding comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// As it must be.
    Sound,
    /// Not as it was written, but no harm to the scale by itself.
    Changed,
    /// Nothing can be said: not sound.
    CannotJudge,
    /// Wrong.
    Fault,
}

impl Outcome {
    /// The outcome in a few words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Sound => "sound",
            Self::Changed => "changed",
            Self::CannotJudge => "cannot judge",
            Self::Fault => "fault",
        }
    }
}

/// What a finding is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Topic {
    /// Sizes of pages and boxes.
    Page,
    /// What the file asks of a print dialog.
    Preferences,
    /// The scale of a page, or of the whole file.
    Scale,
    /// One check ruler.
    CheckRuler,
    /// Register marks.
    Register,
    /// The cut line.
    CutLine,
    /// The datum edge, its tab, and lines to fold along.
    DatumEdge,
    /// The centreline and the axes of openings.
    Centreline,
    /// Locators.
    Locators,
    /// Relief holes.
    Relief,
    /// Keep-out areas.
    KeepOut,
    /// Outlines of what passes through.
    Parts,
    /// Where the accessory presses the panel.
    Feet,
    /// What stands on the panel's hidden side.
    Behind,
    /// The panel's other edges.
    Panel,
    /// Hatching on the side that falls away.
    Hatching,
    /// Dimensions.
    Dimensions,
    /// Findings, at their place.
    Findings,
    /// Borders, arrows and tables of the sheets.
    Frame,
    /// The symbol that a camera reads.
    Code,
    /// All other lettering.
    Words,
    /// Ink of no kind, and all of it.
    Ink,
    /// Openings by the definition's own numbers, by a second path.
    Numbers,
    /// Which pattern, revision and sheet it says it is.
    Identity,
    /// What another program did to the file.
    File,
}

impl Topic {
    /// The topic in a few words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Page => "page",
            Self::Preferences => "print preferences",
            Self::Scale => "scale",
            Self::CheckRuler => "check ruler",
            Self::Register => "register marks",
            Self::CutLine => "cut line",
            Self::DatumEdge => "datum edge",
            Self::Centreline => "centreline",
            Self::Locators => "locators",
            Self::Relief => "relief holes",
            Self::KeepOut => "keep-out areas",
            Self::Parts => "parts",
            Self::Feet => "feet",
            Self::Behind => "features of the hidden side",
            Self::Panel => "panel's edges",
            Self::Hatching => "hatching",
            Self::Dimensions => "dimensions",
            Self::Findings => "findings",
            Self::Frame => "frame",
            Self::Code => "code for cameras",
            Self::Words => "words",
            Self::Ink => "ink",
            Self::Numbers => "second path",
            Self::Identity => "number and revision",
            Self::File => "file",
        }
    }
}

impl Topic {
    /// What a fitter loses where it is not as it must be.
    pub(crate) fn loses(self) -> &'static str {
        match self {
            Self::CutLine => "what is cut by it is not the opening",
            Self::Hatching => "the wrong side may be cut away",
            Self::DatumEdge | Self::Centreline | Self::Locators => {
                "nothing says where the pattern is to be laid"
            }
            Self::Panel => "the panel's edges can't be told",
            Self::Parts => "what passes through can't be held against it",
            Self::Feet => "where the accessory presses can't be told",
            Self::Behind => "what stands behind is not known before the cut",
            Self::KeepOut => "what must not be cut near is not shown",
            Self::Relief => "holes are drilled at other places",
            Self::Dimensions => "what is measured by it is not what must be",
            Self::CheckRuler => "the scale can't be proven on paper",
            Self::Register => "sheets can't be joined",
            Self::Code => "a camera reads another sheet than this, or none",
            _ => "the fitter reads something else than the definition says",
        }
    }
}

/// One thing that was found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// What it comes to.
    pub outcome: Outcome,
    /// What it is about.
    pub topic: Topic,
    /// Page it was found on, from 1; `None` for the whole file.
    pub page: Option<usize>,
    /// In words.
    pub words: String,
    /// What was measured, mm, where one length was.
    pub measured: Option<f64>,
    /// What it must measure, mm.
    pub should: Option<f64>,
}

impl Finding {
    pub(crate) fn new(outcome: Outcome, topic: Topic, words: impl Into<String>) -> Self {
        Self {
            outcome,
            topic,
            page: None,
            words: words.into(),
            measured: None,
            should: None,
        }
    }

    pub(crate) fn on(mut self, page: usize) -> Self {
        self.page = Some(page + 1);
        self
    }

    pub(crate) fn measured(mut self, measured: f64, should: f64) -> Self {
        self.measured = Some(measured);
        self.should = Some(should);
        self
    }

    /// By how much a length is off, mm.
    pub fn error(&self) -> Option<f64> {
        Some(self.measured? - self.should?)
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(page) = self.page {
            write!(out, "page {page}: ")?;
        }
        write!(out, "{}", self.words)
    }
}

/// What was found in one file.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// Kind of file.
    pub kind: FileKind,
    /// Pages read.
    pub pages: usize,
    /// Everything found, in order of the pages within each topic.
    pub findings: Vec<Finding>,
}

/// Kind of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum FileKind {
    /// Sheets to print.
    Pdf,
    /// One drawing.
    Svg,
}

impl Report {
    /// What the file comes to: its gravest finding.
    pub fn outcome(&self) -> Outcome {
        let worst = self.findings.iter().map(|finding| finding.outcome).max();
        worst.unwrap_or(Outcome::CannotJudge)
    }

    /// Whether the file is proven full size and whole, whatever else was changed.
    pub fn is_sound(&self) -> bool {
        self.outcome() <= Outcome::Changed
    }

    /// Findings of one outcome.
    pub fn of(&self, outcome: Outcome) -> impl Iterator<Item = &Finding> {
        self.findings
            .iter()
            .filter(move |finding| finding.outcome == outcome)
    }
}
