//! What a page shows to one who looks for it: rulers, window, register marks, cut line and
//! centreline.

mod cross;
mod cut;
mod join;
mod layers;
mod ruler;
mod segments;
mod sheet;
mod window;

pub(crate) use cut::{CutLine, FAR, Index};
pub(crate) use join::{Laid, lay};
pub(crate) use layers::Layers;
pub(crate) use ruler::{Lie, NoLie, Ruler};
pub(crate) use sheet::{Sheet, sheet};
