//! Forms, run in place, and pictures.

use super::{BOX_WITHIN, DEEPEST_FORM, Reader};
use crate::check::verify::budget::Cost;
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::upright_box;
use crate::check::verify::pdf::look::{RESOURCES, look, look_into};
use crate::check::verify::pdf::unpack::unpacked;
use hayro_syntax::object::{Array, Dict, Name, Number, Stream};
use hayro_syntax::page::Resources;
use kurbo::{Affine, Rect, Shape};

impl Reader<'_> {
    /// Shows a form or a picture.
    pub(super) fn show(
        &mut self,
        object: Option<Stream<'_>>,
        around: &Resources<'_>,
    ) -> Result<(), VerifyError> {
        let Some(object) = object else { return Ok(()) };
        let dict = object.dict();
        look_into(dict, self.budget)?;
        let asked = ["Subtype", "OC", "Matrix", "BBox", "Resources"];
        look(dict, &asked, self.budget)?;
        let kind = dict.get::<Name<'_>>("Subtype");
        if kind.is_none_or(|name| name.as_str() != "Form") {
            return self.picture();
        }
        if self.forms >= DEEPEST_FORM {
            return Err(VerifyError::Pdf("its content is nested too deep"));
        }
        let content = unpacked(&object, self.budget)?;
        let before = self.state;
        let member = dict
            .get::<Dict<'_>>("OC")
            .map(|content| self.member(&content))
            .transpose()?;
        if let Some(matrix) = dict.get::<Array<'_>>("Matrix") {
            let parts: Vec<f64> = matrix.iter::<Number>().map(|n| n.as_f64()).collect();
            if let Ok(parts) = <[f64; 6]>::try_from(parts) {
                self.state.to_page *= Affine::new(parts);
            }
        }
        if let Some(bounds) = dict.get::<hayro_syntax::object::Rect>("BBox") {
            let bounds = Rect::from_points((bounds.x0, bounds.y0), (bounds.x1, bounds.y1));
            let (bounds, plain) = upright_box(
                &self
                    .page
                    .on_paper(self.state.to_page * bounds.to_path(BOX_WITHIN), false),
                BOX_WITHIN,
            );
            self.state.clip = self.state.clip.within(bounds, !plain);
        }
        if dict.contains_key("Group") {
            // What is painted inside counts anew, and all of it is put down as one (ISO 32000-1,
            // 11.6.6).
            self.state.group_opacity *= self.state.fill_opacity;
            self.state.group_masked |= self.state.masked;
            self.state.masked = false;
            (self.state.stroke_opacity, self.state.fill_opacity) = (1.0, 1.0);
        }
        let own = dict.get::<Dict<'_>>("Resources");
        if let Some(own) = &own {
            look_into(own, self.budget)?;
            look(own, &RESOURCES, self.budget)?;
        }
        let own = own.map(Resources::new);
        self.open.push(member);
        self.forms += 1;
        let outer = (std::mem::take(&mut self.path), self.at.take());
        self.run(content, own.as_ref().unwrap_or(around))?;
        (self.path, self.at) = outer;
        self.forms -= 1;
        self.open.pop();
        self.state = before;
        Ok(())
    }

    fn picture(&mut self) -> Result<(), VerifyError> {
        self.budget.spend(Cost::Elements, 1)?;
        if !self.shown() {
            return Ok(());
        }
        let unit = Rect::new(0.0, 0.0, 1.0, 1.0);
        self.page.pictures += 1;
        let bounds = self.state.to_page.transform_rect_bbox(unit);
        self.page.picture(bounds);
        Ok(())
    }
}
