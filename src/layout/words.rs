//! Lettering and lines as the sheets set them.

use crate::draw::ink::{Anchor, Layer, Line, Mark, Text, Width, lettering};
use kurbo::{BezPath, Point, Rect, Shape};

/// Smallest lettering, mm of capital height (ISO 3098-1): nothing to be read is smaller.
pub(crate) const SMALL: f64 = 2.5;
/// Next size up.
pub(crate) const MIDDLE: f64 = 3.5;
/// Size of titles.
pub(crate) const LARGE: f64 = 5.0;
/// From one line of small lettering to the next, mm.
pub(crate) const PITCH: f64 = 4.1;
/// Space between two columns, mm.
pub(crate) const GUTTER: f64 = 5.0;

/// From one line of lettering to the next, mm.
pub(crate) fn pitch(height: f64) -> f64 {
    PITCH / SMALL * height
}

/// Lettering as it is set here, to be put in its place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Style {
    /// Capital height, mm.
    pub(crate) height: f64,
    /// Which point of the baseline is placed.
    pub(crate) anchor: Anchor,
    /// Heavier.
    pub(crate) heavy: bool,
}

impl Style {
    /// Light lettering that starts at its place.
    pub(crate) const fn plain(height: f64) -> Self {
        Self {
            height,
            anchor: Anchor::Start,
            heavy: false,
        }
    }

    /// The same, heavy.
    pub(crate) const fn heavy(height: f64) -> Self {
        Self {
            heavy: true,
            ..Self::plain(height)
        }
    }

    /// The same, at another anchor.
    pub(crate) const fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    /// Words with their baseline at `at`.
    pub(crate) fn at(self, words: impl Into<String>, at: impl Into<Point>) -> Mark {
        Mark::text(
            Layer::Text,
            Text {
                words: words.into(),
                at: at.into(),
                height: self.height,
                anchor: self.anchor,
                turn: 0.0,
                heavy: self.heavy,
            },
        )
    }
}

/// Room that heavy lettering takes beyond its letters' advances, as a share of its height.
const HEAVY_SPREAD: f64 = 0.06;

/// Words and the largest of `heights` at which they fit in `width` mm; at the least height they
/// are shortened with dots where they still do not.
pub(crate) fn fitted(words: &str, width: f64, heights: &[f64]) -> (String, f64) {
    let length = |words: &str, height: f64| lettering::width(words, height) + HEAVY_SPREAD * height;
    if let Some(height) = heights
        .iter()
        .find(|height| length(words, **height) <= width)
    {
        return (words.into(), *height);
    }
    let least = heights.last().copied().unwrap_or(SMALL);
    let letters: Vec<char> = words.chars().collect();
    let shortened = (0..letters.len()).rev().map(|count| {
        let kept: String = letters.iter().take(count).collect();
        format!("{}...", kept.trim_end())
    });
    let fits = shortened
        .into_iter()
        .find(|short| length(short, least) <= width);
    (fits.unwrap_or_default(), least)
}

/// A straight line in the frame layer.
pub(crate) fn rule(from: impl Into<Point>, to: impl Into<Point>, width: Width) -> Mark {
    Mark::stroke(Layer::Frame, straight(from, to), Line::continuous(width))
}

/// A rectangle in the frame layer.
pub(crate) fn outline(rect: Rect, width: Width) -> Mark {
    Mark::stroke(Layer::Frame, rect.to_path(0.01), Line::continuous(width))
}

/// One straight segment as a path.
pub(crate) fn straight(from: impl Into<Point>, to: impl Into<Point>) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from.into());
    path.line_to(to.into());
    path
}

/// An empty box to tick, with its lower left corner here, mm.
pub(crate) fn tick_box(x: f64, y: f64) -> Mark {
    outline(Rect::new(x, y, x + 3.5, y + 3.5), Width::Thin)
}
