//! What the operators of a content stream set.

use crate::check::verify::measured::Clip;
use crate::check::verify::paint::{Dashes, Tone, darkness, reach};
use kurbo::Affine;

/// The part of the graphics state that bears on strokes (ISO 32000-1, 8.4).
#[derive(Debug, Clone, Copy)]
pub(super) struct State {
    /// From the units in force to millimetres on the page.
    pub(super) to_page: Affine,
    pub(super) clip: Clip,
    /// Line width in those units.
    pub(super) width: f64,
    /// Whether its corners are pointed, and up to how many times its width they are then.
    pub(super) mitred: bool,
    pub(super) mitre_limit: f64,
    /// Dashes in those units.
    pub(super) dashes: Dashes,
    /// How dark strokes and fills print, 0 for white and 1 for black.
    pub(super) stroke_darkness: f64,
    pub(super) fill_darkness: f64,
    /// Opacity of strokes and of fills.
    pub(super) stroke_opacity: f64,
    pub(super) fill_opacity: f64,
    /// Opacity of the groups that are open.
    pub(super) group_opacity: f64,
    /// A soft mask is in force.
    pub(super) masked: bool,
    /// One is in force on a group that is open.
    pub(super) group_masked: bool,
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
    /// What fills leave on paper.
    pub(super) fn fill_tone(&self) -> Tone {
        Tone::of(self.fill_darkness, self.fill_opacity * self.group_opacity)
    }

    /// What strokes leave.
    pub(super) fn stroke_tone(&self) -> Tone {
        Tone::of(
            self.stroke_darkness,
            self.stroke_opacity * self.group_opacity,
        )
    }

    /// Whether a soft mask may hide what is painted.
    pub(super) fn is_masked(&self) -> bool {
        self.masked || self.group_masked
    }

    pub(super) fn new(to_page: Affine) -> Self {
        Self {
            to_page,
            clip: Clip::default(),
            width: 1.0,
            mitred: true,
            mitre_limit: 10.0,
            dashes: Dashes::default(),
            stroke_darkness: 1.0,
            fill_darkness: 1.0,
            stroke_opacity: 1.0,
            fill_opacity: 1.0,
            group_opacity: 1.0,
            masked: false,
            group_masked: false,
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

    /// How far strokes may lie from their middle lines at most, mm.
    pub(super) fn reach(&self) -> f64 {
        reach(self.width * self.scale(), self.mitre())
    }

    /// Up to how many times their width corners of lines are pointed; `None` where they are not.
    pub(super) fn mitre(&self) -> Option<f64> {
        self.mitred.then_some(self.mitre_limit)
    }

    /// How many millimetres a unit is, on the whole.
    pub(super) fn scale(&self) -> f64 {
        self.to_page.determinant().abs().sqrt()
    }
}

/// How dark a colour of grey, red-green-blue or cyan-magenta-yellow-black parts prints, 0 to 1; what is
/// told by other parts counts as black.
pub(super) fn darkness_of(parts: &[f64]) -> f64 {
    let darkness = match *parts {
        [grey] => 1.0 - grey,
        [red, green, blue] => darkness([red, green, blue]),
        [cyan, magenta, yellow, black] => {
            darkness([cyan, magenta, yellow].map(|ink| 1.0 - (ink + black).min(1.0)))
        }
        _ => 1.0,
    };
    darkness.clamp(0.0, 1.0)
}
