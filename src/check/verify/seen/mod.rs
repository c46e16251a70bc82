//! What a page shows to one who looks for it: rulers, window, register marks, cut line, and what
//! else a fitter works by.

mod cross;
mod cut;
mod guide;
mod join;
mod ruler;
mod segments;
mod sheet;
mod window;

pub(crate) use cut::{CutLine, FAR, Index};
pub(crate) use guide::{GUIDES, guide_of};
pub(crate) use join::{Laid, lay};
pub(crate) use ruler::{Lie, NoLie, Ruler};
pub(crate) use segments::flattened;
pub(crate) use sheet::{Places, Sheet, sheet};
