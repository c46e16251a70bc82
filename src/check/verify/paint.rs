//! What pens and paint leave on paper.

use kurbo::Affine;

/// Opacity under which paint is none.
const NO_PAINT: f64 = 1e-3;
/// Darkness under which no printer shows a colour on white paper.
const PAPER: f64 = 0.15;
/// Share of black from which a line is seen at a glance.
const PLAIN_INK: f64 = 0.7;

/// How dark a colour of red, green and blue parts, 0 to 1, prints in grey (ITU-R BT.601, from memory):
/// 0 for white.
pub(crate) fn darkness([red, green, blue]: [f64; 3]) -> f64 {
    1.0 - (0.299 * red + 0.587 * green + 0.114 * blue)
}

/// Corners that are pointed may reach this far, mm: those of usual widths and limits do not.
pub(super) const FARTHEST_CORNER: f64 = 5.0;

/// How far the ink of a line of this width may lie from its middle line at most, mm; `mitre` is up to
/// how many times that width its corners are pointed. Ends and corners that are square reach root 2
/// times as far as the line is wide (ISO 32000-1, 8.4.3.5).
pub(crate) fn reach(width: f64, mitre: Option<f64>) -> f64 {
    let times = mitre.unwrap_or_default().max(std::f64::consts::SQRT_2);
    width / 2.0 * times
}

/// Said of a page whose strokes can't be judged by one width.
pub(crate) const UNEVEN_PEN: &str = "strokes that are wider one way than the other";

/// Most that a pen is wider one way than the other, as a share, and still one width.
const MOST_UNEVEN: f64 = 1.05;

/// Whether a round pen is none once it is on the page.
pub(crate) fn is_uneven(to_page: Affine) -> bool {
    // Of an ellipse with the half axes p and q: p^2 + q^2, and p q.
    let [a, b, c, d, ..] = to_page.as_coeffs();
    let (squares, product) = (a * a + b * b + c * c + d * d, to_page.determinant().abs());
    squares > (MOST_UNEVEN + 1.0 / MOST_UNEVEN) * product
}

/// What paint leaves on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Tone {
    /// Nothing.
    #[default]
    None,
    /// Ink that is seen at a glance.
    Ink,
    /// Ink that may be missed.
    Faint,
    /// The paper's colour over what was there.
    Paper,
}

impl Tone {
    /// What paint leaves that is so dark, 0 for white and 1 for black, and so opaque. However little
    /// is left counts: many layers of it hide what is under them, or draw a line.
    pub(crate) fn of(darkness: f64, opacity: f64) -> Self {
        match darkness * opacity {
            _ if opacity <= NO_PAINT => Self::None,
            _ if darkness < PAPER => Self::Paper,
            ink if ink >= PLAIN_INK => Self::Ink,
            _ => Self::Faint,
        }
    }
}

/// Lengths of dashes and gaps in turn, mm, and where in them a stroke begins.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Dashes {
    lengths: [f64; MOST_DASHES],
    count: usize,
    /// Where a stroke begins, mm from the first.
    pub(crate) phase: f64,
}

/// Most dashes and gaps of a line: those of long-dash double-dot lines.
const MOST_DASHES: usize = 6;

impl Dashes {
    /// Dashes of these lengths. A pattern that is longer than any drawn here is kept as one that
    /// is like none.
    pub(crate) fn new(lengths: impl IntoIterator<Item = f64>, phase: f64) -> Self {
        let mut dashes = Self {
            phase,
            ..Self::default()
        };
        for length in lengths {
            match dashes.lengths.get_mut(dashes.count) {
                Some(place) => *place = length,
                None => dashes.lengths = [f64::INFINITY; MOST_DASHES],
            }
            dashes.count = (dashes.count + 1).min(MOST_DASHES);
        }
        if !dashes.lengths().iter().any(|length| *length > 0.0) {
            return Self::default();
        }
        dashes
    }

    /// Broken at all.
    pub(crate) fn any(&self) -> bool {
        self.count > 0
    }

    pub(crate) fn lengths(&self) -> &[f64] {
        self.lengths.get(..self.count).unwrap_or_default()
    }

    /// In other units.
    pub(crate) fn scaled(self, by: f64) -> Self {
        Self {
            lengths: self.lengths.map(|length| length * by),
            phase: self.phase * by,
            ..self
        }
    }
}
