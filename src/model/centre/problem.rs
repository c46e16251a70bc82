//! What can be wrong with readings.

use super::zero::Zero;
use crate::base::fixed;
use crate::base::length::{Told, Units};
use std::fmt;

/// Why no centreline can be worked out; lower case, the user's words in backticks.
#[derive(Debug, Clone, PartialEq)]
pub enum CentreError {
    /// Nothing was read.
    NoPairs,
    /// A setting is out of its range, or not a number.
    Setting {
        /// Place of the pair that it is given for, from 0; `None` where it holds for all.
        pair: Option<usize>,
        /// Its key.
        what: &'static str,
        /// As given.
        value: f64,
        /// Least allowed.
        at_least: f64,
        /// Most allowed.
        at_most: f64,
        /// Unit of the three.
        unit: &'static str,
    },
    /// A reading is not a number, or beyond any panel.
    NotALength {
        /// Place of the pair in its list, from 0.
        pair: usize,
        /// Name of the pair.
        name: String,
        /// Key of the reading.
        what: &'static str,
    },
    /// A pair's readings say that left lies right of right.
    SidesSwapped {
        /// Place of the pair in its list, from 0.
        pair: usize,
        /// Name of the pair.
        name: String,
        /// Reading of the left feature, mm.
        left: f64,
        /// Reading of the right feature, mm.
        right: f64,
        /// The end that readings start from.
        zero: Zero,
    },
    /// A reading lies past an end of the panel.
    OffPanel {
        /// Place of the pair in its list, from 0.
        pair: usize,
        /// Name of the pair.
        name: String,
        /// Which of its readings.
        side: Zero,
        /// The reading, mm.
        reading: f64,
        /// Width of the panel, mm, where it is known.
        width: Option<f64>,
    },
    /// A distance of a swing is not a number above 0.
    NotPositive {
        /// Place of the swing in its list, from 0.
        swing: usize,
        /// Name of the swing.
        name: String,
        /// Key of the distance.
        what: &'static str,
        /// As given, mm.
        value: f64,
    },
    /// Arcs of the given radii do not meet at the mark, not even with every reading at its worst.
    ArcsCannotMeet {
        /// Place of the swing in its list, from 0.
        swing: usize,
        /// Name of the swing.
        name: String,
        /// What keeps them apart.
        why: ArcGap,
        /// By how much more than reading errors explain, mm.
        by: f64,
    },
    /// The arcs meet so flatly that they do not settle one place.
    ArcsTooFlat,
}

/// What keeps two arcs from meeting at the mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ArcGap {
    /// Both radii together are less than the distance between the features.
    TooShort,
    /// One radius is longer than the other and the distance between the features together.
    TooUneven,
    /// A radius is shorter than the mark lies deeper or less deep than the features.
    TooShallow,
}

impl CentreError {
    /// Place, from 0, of the pair or swing that it is about; `None` where it is about all.
    pub fn index(&self) -> Option<usize> {
        match self {
            Self::NoPairs | Self::ArcsTooFlat => None,
            Self::Setting { pair, .. } => *pair,
            Self::NotALength { pair, .. }
            | Self::SidesSwapped { pair, .. }
            | Self::OffPanel { pair, .. } => Some(*pair),
            Self::NotPositive { swing, .. } | Self::ArcsCannotMeet { swing, .. } => Some(*swing),
        }
    }

    /// What to do about it.
    pub fn hint(&self) -> String {
        match self {
            Self::NoPairs => "read a left and a right feature that mirror each other, such as the \
                outer clip holes, from one end of the panel"
                .into(),
            Self::Setting { .. } | Self::NotALength { .. } | Self::NotPositive { .. } => {
                "read it again, and give it as a plain length or angle".into()
            }
            Self::SidesSwapped { zero, .. } => format!(
                "left and right are the vehicle's own: swap the two readings, or say \
                 `zero = \"{}\"` if the tape starts from there",
                zero.other().word()
            ),
            Self::OffPanel { .. } => {
                "check the reading, the end that the tape starts from and the panel's `width`"
                    .into()
            }
            Self::ArcsCannotMeet { why, .. } => match why {
                ArcGap::TooShort | ArcGap::TooUneven => {
                    "measure from each feature to the mark and from feature to feature again".into()
                }
                ArcGap::TooShallow => {
                    "measure to the mark again, and check `from_datum` of the mark and the features"
                        .into()
                }
            },
            Self::ArcsTooFlat => {
                "give `apart`, or make the mark nearer to the line between the features".into()
            }
        }
    }
}

impl fmt::Display for CentreError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.tell(out, Units::Mm)
    }
}

impl Told for CentreError {
    fn tell(&self, f: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        // Millimetres are named once, where they can be.
        let bare = |mm: f64| match units {
            Units::Mm => fixed(mm, 2),
            Units::In => units.close(mm),
        };
        let close = |mm: &f64| units.close(*mm);
        match self {
            Self::NoPairs => write!(f, "no pair was read, at least one is needed"),
            Self::Setting {
                what,
                value,
                at_least,
                at_most,
                unit,
                ..
            } => {
                let told = |value: &f64| match *unit {
                    "mm" => bare(*value),
                    _ => fixed(*value, 2),
                };
                let unit = match (*unit, units) {
                    ("mm", Units::In) => String::new(),
                    (unit, _) => format!(" {unit}"),
                };
                write!(
                    f,
                    "`{what}` is {}, allowed is {} to {}{unit}",
                    told(value),
                    told(at_least),
                    told(at_most)
                )
            }
            Self::NotALength { name, what, .. } => {
                write!(f, "`{what}` of pair `{name}` is not a length within 100 m")
            }
            Self::SidesSwapped {
                name,
                left,
                right,
                zero,
                ..
            } => {
                let (left, right) = (bare(*left), bare(*right));
                let smaller = zero.word();
                write!(
                    f,
                    "pair `{name}` is read the wrong way round: left {left}, right {right}, but \
                     from the {smaller} end the {smaller} reading is the smaller one"
                )
            }
            Self::OffPanel {
                name,
                side,
                reading,
                width,
                ..
            } => {
                let (side, reading) = (side.word(), close(reading));
                write!(f, "`{side}` of pair `{name}` is {reading}, ")?;
                match width {
                    Some(width) => write!(
                        f,
                        "off the panel: allowed is 0 to its width of {}",
                        close(width)
                    ),
                    None => write!(f, "off the panel: allowed is 0 or more"),
                }
            }
            Self::NotPositive {
                name, what, value, ..
            } => write!(
                f,
                "`{what}` of arcs `{name}` is {}, it must be a length above {}",
                bare(*value),
                close(&0.0)
            ),
            Self::ArcsCannotMeet { name, why, by, .. } => {
                let by = close(by);
                match why {
                    ArcGap::TooShort => write!(
                        f,
                        "arcs `{name}` cannot meet: `left` and `right` together fall {by} short \
                         of `apart`, beyond what the tape and the eye explain"
                    ),
                    ArcGap::TooUneven => write!(
                        f,
                        "arcs `{name}` cannot meet: `left` and `right` differ by {by} more than \
                         `apart`, beyond what the tape and the eye explain"
                    ),
                    ArcGap::TooShallow => write!(
                        f,
                        "arcs `{name}` cannot meet at the mark: they fall {by} short of its \
                         depth, beyond what the tape and the eye explain"
                    ),
                }
            }
            Self::ArcsTooFlat => write!(f, "the arcs meet too flatly to settle the middle"),
        }
    }
}

impl std::error::Error for CentreError {}
