//! Why a drawing can't be put on sheets, and what would help.

use super::paper::{LONGEST_SIDE, Paper};
use crate::base::fixed;
use crate::draw::ink::lettering::MissingLetter;
use kurbo::Size;
use std::fmt;

/// Why sheets can't be made.
#[derive(Debug, Clone, PartialEq)]
pub enum SheetError {
    /// A letter that the typeface lacks.
    Letter(MissingLetter),
    /// The drawing holds no ink.
    NoWork,
    /// The drawing holds a number that is not finite.
    NotFinite,
    /// The drawing reaches farther from its origin than this, mm.
    TooFar(f64),
    /// Margin out of range.
    Margin {
        /// As given, mm.
        given: f64,
        /// The widest, mm.
        at_most: f64,
    },
    /// Overlap out of range.
    Overlap {
        /// As given, mm.
        given: f64,
        /// The least, mm.
        at_least: f64,
        /// Largest for this page, where that is the limit broken.
        at_most: Option<f64>,
    },
    /// Paper too small for its rulers and labels.
    TooSmall {
        /// The page, mm.
        page: Size,
        /// The smallest page that holds them at this margin, mm.
        needed: Size,
    },
    /// Work and title block do not fit on one page together.
    OnePage {
        /// The work, mm.
        work: Size,
        /// The largest room for it, mm.
        room: Size,
    },
    /// A block of the instruction sheet is larger than the room on a page.
    BlockTooLarge {
        /// What it is, with its first words.
        what: String,
        /// Its size, mm.
        size: Size,
        /// The room there is, mm.
        room: Size,
    },
}

impl fmt::Display for SheetError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Letter(missing) => missing.fmt(out),
            Self::NoWork => write!(
                out,
                "there is nothing to print; hint: give the pattern at least one opening"
            ),
            Self::NotFinite => write!(
                out,
                "the drawing holds a number that is not finite; hint: look for a size that is \
                 far too large"
            ),
            Self::TooFar(most) => write!(
                out,
                "the drawing reaches more than {} mm from its origin; hint: look for a size that \
                 is far too large",
                fixed(*most, 0)
            ),
            Self::Margin { given, at_most } => write!(
                out,
                "margin `{} mm` is out of range; allowed: 0 to {} mm",
                fixed(*given, 3),
                fixed(*at_most, 0)
            ),
            Self::Overlap {
                given,
                at_least,
                at_most,
            } => {
                let least = fixed(*at_least, 0);
                let given = fixed(*given, 3);
                write!(
                    out,
                    "overlap `{given} mm` is out of range; allowed: {least} mm, "
                )?;
                match at_most {
                    Some(most) => write!(
                        out,
                        "which a register mark needs, to {} mm, a quarter of the usable area; \
                         hint: use larger paper",
                        fixed(*most, 1)
                    ),
                    None => write!(
                        out,
                        "which a register mark needs, to a quarter of the usable area"
                    ),
                }
            }
            Self::TooSmall { page, needed } => too_small(out, *page, *needed),
            Self::OnePage { work, room } => write!(
                out,
                "the work takes {} x {} mm, and beside the title block a page has {} x {} mm for \
                 it; hint: use larger paper, or leave `--one-page` out",
                fixed(work.width, 1),
                fixed(work.height, 1),
                fixed(room.width, 1),
                fixed(room.height, 1)
            ),
            Self::BlockTooLarge { what, size, room } => write!(
                out,
                "{what} takes {} x {} mm and the page has {} x {} mm for it; hint: use larger \
                 paper, or fewer words",
                fixed(size.width, 0),
                fixed(size.height, 0),
                fixed(room.width, 0),
                fixed(room.height, 0)
            ),
        }
    }
}

fn too_small(out: &mut fmt::Formatter<'_>, page: Size, needed: Size) -> fmt::Result {
    write!(
        out,
        "a page of `{} x {} mm` is too small for its check rulers and labels; it must be at least \
         {} x {} mm",
        fixed(page.width, 1),
        fixed(page.height, 1),
        fixed(needed.width, 1),
        fixed(needed.height, 1)
    )?;
    let (short, long) = (
        needed.width.min(needed.height),
        needed.width.max(needed.height),
    );
    let known = Paper::smallest_for(short, long);
    if known.is_empty() {
        let longest = fixed(LONGEST_SIDE, 0);
        write!(
            out,
            "; hint: give a size of your own, up to {longest} mm a side"
        )
    } else {
        write!(out, "; hint: `{}` would do", known.join("` or `"))
    }
}

impl std::error::Error for SheetError {}
