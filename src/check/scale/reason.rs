//! Why a verdict is what it is.

use super::Way;
use super::fault_table::Fault;
use super::reading::Read;
use crate::base::fixed;
use std::fmt;

/// The answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judgement {
    /// Good to cut: every ruler reads what its sheet asks for.
    Good,
    /// Not shown to be good, nor to be bad: read again, better.
    Unproven,
    /// Not to be cut from.
    Bad,
}

/// Why the answer is what it is.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Every ruler reads what its sheet asks for.
    Within,
    /// A ruler reads what its sheet does not allow.
    Outside(Read, f64),
    /// The sheet leans, and together with its scale that is more than is allowed, even at best.
    Leans {
        /// Least error at the farthest cut, a part of 1.
        least: f64,
        /// What is allowed, a part of 1.
        allowed: f64,
    },
    /// Read too coarsely to show anything.
    TooCoarse {
        /// Direction.
        way: Way,
        /// Expanded uncertainty of the scale.
        uncertainty: f64,
    },
    /// A direction was not read.
    NotRead(Way),
    /// More than a printer is ever wrong by.
    NotThePrinter {
        /// Direction.
        way: Way,
        /// What 100 mm reads.
        reads: f64,
    },
    /// Its corners are not square: the feed was skewed.
    Sheared {
        /// By how much, degrees, either way.
        degrees: f64,
    },
    /// A known fault of the print dialog fits the readings, and full size does not.
    KnownFault(Fault),
}

impl Reason {
    /// What this reason alone would answer.
    pub fn judgement(&self) -> Judgement {
        match self {
            Self::NotThePrinter { .. }
            | Self::KnownFault(_)
            | Self::Sheared { .. }
            | Self::Outside(..)
            | Self::Leans { .. } => Judgement::Bad,
            Self::TooCoarse { .. } | Self::NotRead(_) => Judgement::Unproven,
            Self::Within => Judgement::Good,
        }
    }

    /// Order of telling, gravest first.
    pub(super) fn gravity(&self) -> u8 {
        match self {
            Self::NotThePrinter { .. } => 0,
            Self::KnownFault(_) => 1,
            Self::Sheared { .. } => 2,
            Self::Outside(..) => 3,
            Self::Leans { .. } => 4,
            Self::TooCoarse { .. } => 5,
            Self::NotRead(_) => 6,
            Self::Within => 7,
        }
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Within => write!(out, "every ruler reads what its sheet asks for"),
            Self::Outside(read, scale_error) => write!(
                out,
                "the {} reads {} {}, it must read {}; hint: print at actual size, or correct the \
                 printer",
                read.gauge.words(),
                read.words(),
                read.way.word(),
                read.accepted_in_words(*scale_error)
            ),
            Self::Leans { least, allowed } => write!(
                out,
                "scale and skew together put the cut off by at least {} % of its distance, {} % are \
                 allowed; hint: square up the stack in the tray, and print again",
                fixed(least * 100.0, 2),
                fixed(allowed * 100.0, 2)
            ),
            Self::TooCoarse { way, uncertainty } => write!(
                out,
                "100 mm {} is known to {} mm only, which shows nothing; hint: read the 100 mm ruler \
                 to half a millimetre or finer",
                way.word(),
                fixed(uncertainty * 100.0, 2)
            ),
            Self::NotRead(way) => write!(
                out,
                "the sheet was not read {way}, and may be off that way; hint: read the rulers \
                 that run {way} too",
                way = way.word()
            ),
            Self::NotThePrinter { way, reads } => write!(
                out,
                "100 mm reads {} {}: more than a printer is ever off, so the print dialog scaled \
                 the page",
                fixed(*reads, 2),
                way.word()
            ),
            Self::Sheared { degrees } => write!(
                out,
                "the sheet is {} degrees from square: the paper went in askew; hint: square up the \
                 stack in the tray, and print again",
                fixed(*degrees, 2)
            ),
            Self::KnownFault(fault) => write!(out, "{fault}; hint: {}", fault.remedy()),
        }
    }
}
