//! One mark of ink: a stroke, a fill or a line of lettering, in one layer.

use super::said::Said;
use kurbo::{BezPath, Point};
use std::sync::Arc;

/// The layer a mark stands in: optional content in the PDF, a group with this `id` in the SVG.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// The line to cut to.
    Cut,
    /// Hatching on the side that falls away.
    Waste,
    /// Fold lines: the tab over the datum edge.
    Fold,
    /// The panel's own edges.
    Panel,
    /// The centreline and its ticks.
    Centreline,
    /// Features of the panel that place the pattern.
    Locators,
    /// Parts that pass through.
    Parts,
    /// Where the accessory presses the panel.
    Feet,
    /// What stands on the panel's hidden side.
    Behind,
    /// Areas that no cut may come near.
    KeepOut,
    /// Relief holes and hole-saw centres.
    Relief,
    /// Dimensions.
    Dimensions,
    /// Findings, at their place.
    Findings,
    /// The rulers that prove the scale.
    CheckRuler,
    /// Crosses that join one sheet to the next.
    Register,
    /// Border and furniture of the sheet.
    Frame,
    /// The symbol that says to a camera which page it is.
    Code,
    /// All other lettering.
    Text,
}

impl Layer {
    /// Every layer, from the bottom of the page to the top.
    pub const ALL: [Self; 18] = [
        Self::Waste,
        Self::Panel,
        Self::Fold,
        Self::Centreline,
        Self::Parts,
        Self::Feet,
        Self::Behind,
        Self::KeepOut,
        Self::Locators,
        Self::Relief,
        Self::Cut,
        Self::Dimensions,
        Self::Findings,
        Self::Register,
        Self::Frame,
        Self::CheckRuler,
        Self::Code,
        Self::Text,
    ];

    /// The layer's name in PDF and SVG.
    pub fn name(self) -> &'static str {
        match self {
            Self::Cut => "cut",
            Self::Waste => "waste",
            Self::Fold => "fold",
            Self::Panel => "panel",
            Self::Centreline => "centreline",
            Self::Locators => "locators",
            Self::Parts => "parts",
            Self::Feet => "feet",
            Self::Behind => "behind",
            Self::KeepOut => "keep-out",
            Self::Relief => "relief",
            Self::Dimensions => "dimensions",
            Self::Findings => "findings",
            Self::CheckRuler => "check-ruler",
            Self::Register => "register",
            Self::Frame => "frame",
            Self::Code => "code",
            Self::Text => "text",
        }
    }
}

/// A line width of ISO 128-2 (read second-hand).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Width {
    /// 0.18 mm: hatching, fine graduations.
    Fine,
    /// 0.25 mm: dimension, projection, fold and centre lines.
    Thin,
    /// 0.35 mm: the panel's edge, table rules.
    Medium,
    /// 0.5 mm: rulers, borders.
    Broad,
    /// 0.7 mm: the cut line.
    Thick,
}

impl Width {
    /// Width in millimetres.
    pub fn mm(self) -> f64 {
        match self {
            Self::Fine => 0.18,
            Self::Thin => 0.25,
            Self::Medium => 0.35,
            Self::Broad => 0.5,
            Self::Thick => 0.7,
        }
    }
}

/// A line type of ISO 128 (read second-hand).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LineType {
    /// Continuous.
    Continuous,
    /// Dashed: hidden or to be folded.
    Dashed,
    /// Long-dash dot: centre lines.
    LongDashDot,
    /// Long-dash double-dot: adjacent parts.
    LongDashDoubleDot,
    /// Dash dot: where they press.
    DashDot,
}

impl LineType {
    /// Dash lengths in millimetres for a line of this width; empty for a continuous one.
    ///
    /// Long dash 24 d, dash 12 d, gap 3 d, dot 0.5 d (ISO 128, from memory), with d held at
    /// 0.25 mm or more so that the finest lines still read as dashed on an office printer.
    pub fn dashes(self, width: Width) -> Vec<f64> {
        let d = width.mm().max(0.25);
        let (long, dash, gap, dot) = (24.0 * d, 12.0 * d, 3.0 * d, 0.5 * d);
        match self {
            Self::Continuous => vec![],
            Self::Dashed => vec![dash, gap],
            Self::LongDashDot => vec![long, gap, dot, gap],
            Self::LongDashDoubleDot => vec![long, gap, dot, gap, dot, gap],
            Self::DashDot => vec![dash, gap, dot, gap],
        }
    }

    /// Whether its dashes end round: half a line width of ink is lost on an office printer, so
    /// dots need round ends. All other lines end square, at exactly their nominal length.
    pub fn round_ends(self) -> bool {
        matches!(
            self,
            Self::LongDashDot | Self::LongDashDoubleDot | Self::DashDot
        )
    }
}

/// How a stroke is drawn: width, type and where in its dash pattern it begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Width of the stroke.
    pub width: Width,
    /// Type of the line.
    pub kind: LineType,
    /// How far into the dash pattern the stroke begins, mm; keeps dashes in step across a join.
    pub phase: f64,
}

impl Line {
    /// A continuous line.
    pub const fn continuous(width: Width) -> Self {
        Self {
            width,
            kind: LineType::Continuous,
            phase: 0.0,
        }
    }

    /// A line of another type, from the start of its dash pattern.
    pub const fn of(kind: LineType, width: Width) -> Self {
        Self {
            width,
            kind,
            phase: 0.0,
        }
    }
}

/// The two inks of an office printer: black, and the paper's white to clear a ground.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shade {
    /// Black.
    Black,
    /// Paper white.
    White,
}

/// Which point of a line of lettering stands at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The start of the words.
    Start,
    /// Their middle.
    Middle,
    /// Their end.
    End,
}

/// One line of lettering.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// The words.
    pub words: String,
    /// Where the anchor of the baseline stands, mm.
    pub at: Point,
    /// Height of a capital letter, mm (ISO 3098-1).
    pub height: f64,
    /// Which point of the baseline stands at `at`.
    pub anchor: Anchor,
    /// Turn about `at`, degrees, counter-clockwise.
    pub turn: f64,
    /// Drawn heavier, for headings and what must not be missed.
    pub heavy: bool,
}

/// What a mark is made of.
#[derive(Debug, Clone, PartialEq)]
pub enum Ink {
    /// A stroked path, mm.
    Stroke {
        /// The path.
        path: BezPath,
        /// How it is drawn.
        line: Line,
    },
    /// A filled path, non-zero winding.
    Fill {
        /// The path.
        path: BezPath,
        /// Its shade.
        shade: Shade,
    },
    /// Lettering.
    Text(Text),
}

/// Ink in its layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// The one layer that it stands in.
    pub layer: Layer,
    /// The opening that it is of, by name.
    pub of: Option<Arc<str>>,
    /// What it is when read out; `None` for what only frames, or is the work itself.
    pub said: Option<Said>,
    /// The ink.
    pub ink: Ink,
}

impl Mark {
    /// A stroke.
    pub fn stroke(layer: Layer, path: BezPath, line: Line) -> Self {
        Self {
            layer,
            of: None,
            said: None,
            ink: Ink::Stroke { path, line },
        }
    }

    /// A filled shape.
    pub fn fill(layer: Layer, path: BezPath, shade: Shade) -> Self {
        Self {
            layer,
            of: None,
            said: None,
            ink: Ink::Fill { path, shade },
        }
    }

    /// The same mark as that of an opening.
    pub fn of(self, opening: &Arc<str>) -> Self {
        Self {
            of: Some(opening.clone()),
            ..self
        }
    }

    /// The same mark as a part of what is read out.
    pub fn said(self, said: Said) -> Self {
        Self {
            said: Some(said),
            ..self
        }
    }

    /// A line of lettering.
    pub fn text(layer: Layer, text: Text) -> Self {
        Self {
            layer,
            of: None,
            said: None,
            ink: Ink::Text(text),
        }
    }
}
