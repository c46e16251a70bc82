//! The layers by which marks are recognised.

use crate::check::verify::measured::Stroke;

/// Where the layers that matter stand in the file's list.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Layers {
    pub(crate) cut: Option<usize>,
    pub(crate) register: Option<usize>,
    pub(crate) centreline: Option<usize>,
    pub(crate) check_ruler: Option<usize>,
    pub(crate) frame: Option<usize>,
}

impl Layers {
    /// Whether layers say what a mark is; where they are gone, its form has to.
    pub(crate) fn are_told(self) -> bool {
        self.cut.is_some() || self.check_ruler.is_some() || self.register.is_some()
    }

    /// Whether a stroke may be what stands in `layer`: it is in it, or no layer tells.
    pub(crate) fn may_be(self, stroke: &Stroke, layer: Option<usize>) -> bool {
        !self.are_told() || (layer.is_some() && stroke.layer == layer)
    }
}
