//! What the operators of a content stream set.

use crate::check::verify::measured::{Clip, Dashes};
use kurbo::Affine;

/// The part of the graphics state that bears on strokes (ISO 32000-1, 8.4).
#[derive(Debug, Clone, Copy)]
pub(super) struct State {
    /// From the units in force to millimetres on the page.
    pub(super) to_page: Affine,
    pub(super) clip: Clip,
    /// Line width in those units.
    pub(super) width: f64,
    /// Dashes in those units.
    pub(super) dashes: Dashes,
    pub(super) stroke_paper_white: bool,
    pub(super) fill_paper_white: bool,
    /// Opacity of strokes and of fills.
    pub(super) stroke_opacity: f64,
    pub(super) fill_opacity: f64,
    /// A soft mask is in force.
    pub(super) masked: bool,
    pub(super) lettering: Lettering,
}

/// How lettering is set (ISO 32000-1, 9.3), in its own units.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lettering {
    /// Which of the typefaces read so far; `None` for one that can't be found.
    pub(super) face: Option<usize>,
    pub(super) size: f64,
    /// Added to each letter's advance.
    pub(super) letter_spacing: f64,
    /// Added to that of a space that is one byte.
    pub(super) word_spacing: f64,
    /// Width as a share of what it is by the typeface.
    pub(super) stretch: f64,
    pub(super) rise: f64,
    /// Filled, stroked, both or neither, and whether it clips.
    pub(super) mode: u8,
}

impl State {
    pub(super) fn new(to_page: Affine) -> Self {
        Self {
            to_page,
            clip: Clip::default(),
            width: 1.0,
            dashes: Dashes::default(),
            stroke_paper_white: false,
            fill_paper_white: false,
            stroke_opacity: 1.0,
            fill_opacity: 1.0,
            masked: false,
            lettering: Lettering {
                face: None,
                size: 0.0,
                letter_spacing: 0.0,
                word_spacing: 0.0,
                stretch: 1.0,
                rise: 0.0,
                mode: 0,
            },
        }
    }

    /// How many millimetres a unit is, on the whole.
    pub(super) fn scale(&self) -> f64 {
        self.to_page.determinant().abs().sqrt()
    }
}

/// Whether a colour of grey, red-green-blue or cyan-magenta-yellow-black parts is that of paper,
/// or so near that no printer shows it.
pub(super) fn is_paper(parts: &[f64]) -> bool {
    const FAINT: f64 = 0.85;
    match parts {
        [grey] => *grey > FAINT,
        // How light a colour prints in grey (ITU-R BT.601, from memory).
        [r, g, b] => 0.299 * r + 0.587 * g + 0.114 * b > FAINT,
        [c, m, y, k] => [c, m, y, k].iter().all(|part| **part < 1.0 - FAINT),
        _ => false,
    }
}
