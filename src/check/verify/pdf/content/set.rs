//! Operators that set the state (ISO 32000-1, 8.4).

use super::{Reader, numbers};
use crate::check::verify::error::VerifyError;
use crate::check::verify::pdf::look::look;
use crate::check::verify::pdf::state::is_paper;
use hayro_syntax::content::Instruction;
use hayro_syntax::object::{Array, Dict, Name, Number, Object};
use hayro_syntax::page::Resources;
use kurbo::Affine;

impl Reader<'_> {
    /// Operators that set the state.
    pub(super) fn set(
        &mut self,
        operator: &[u8],
        instruction: &Instruction<'_, '_>,
        resources: &Resources<'_>,
    ) -> Result<(), VerifyError> {
        match operator {
            b"cm" => {
                self.state.to_page *= Affine::new(numbers::<6>(instruction));
            }
            b"w" => self.state.width = numbers::<1>(instruction)[0],
            b"d" => {
                if let Some(Object::Array(dashes)) = instruction.operands().next() {
                    self.state.dashed = is_dashed(dashes);
                }
            }
            b"G" | b"RG" | b"K" | b"SC" | b"SCN" => {
                self.state.stroke_paper_white = is_paper(&parts(instruction));
            }
            b"g" | b"rg" | b"k" | b"sc" | b"scn" => {
                self.state.fill_paper_white = is_paper(&parts(instruction));
            }
            b"CS" => {
                self.state.stroke_paper_white = false;
                if let Some(Object::Name(name)) = instruction.operands().next() {
                    look(&resources.color_spaces, &[name.as_str()], self.budget)?;
                }
                if !is_plain_space(instruction, resources) {
                    self.page
                        .unread
                        .insert("colours that are mixed by a rule of the file");
                }
            }
            b"Tr" => self.state.clipping_text = numbers::<1>(instruction)[0] >= 4.0,
            b"gs" => {
                if let Some(Object::Name(name)) = instruction.operands().next()
                    && let Some(set) = resources.get_ext_g_state(name)
                {
                    look(&resources.ext_g_states, &[name.as_str()], self.budget)?;
                    self.looked_at(&set)?;
                    look(&set, &["LW", "CA", "ca", "BM", "SMask", "D"], self.budget)?;
                    self.set_many(&set);
                }
            }
            _ => {}
        }
        Ok(())
    }

    fn set_many(&mut self, set: &Dict<'_>) {
        let number = |key: &str| set.get::<Number>(key).map(|number| number.as_f64());
        if let Some(width) = number("LW") {
            self.state.width = width;
        }
        if let Some(opacity) = number("CA") {
            self.state.stroke_opacity = opacity;
        }
        if let Some(opacity) = number("ca") {
            self.state.fill_opacity = opacity;
        }
        let mixed = |object: Object<'_>| match object {
            Object::Name(name) => !matches!(name.as_str(), "Normal" | "Compatible"),
            _ => true,
        };
        if set.get::<Object<'_>>("BM").is_some_and(mixed) {
            self.page.unread.insert("inks that are mixed");
        }
        match set.get::<Object<'_>>("SMask") {
            Some(Object::Dict(_)) => self.state.masked = true,
            Some(Object::Name(_)) => self.state.masked = false,
            _ => {}
        }
        if let Some(dashes) = set.get::<Array<'_>>("D")
            && let Some(lengths) = dashes.iter::<Array<'_>>().next()
        {
            self.state.dashed = is_dashed(&lengths);
        }
    }
}

fn is_dashed(lengths: &Array<'_>) -> bool {
    lengths.iter::<Number>().any(|length| length.as_f64() > 0.0)
}

/// All numbers among the operands: the parts of a colour.
fn parts(instruction: &Instruction<'_, '_>) -> Vec<f64> {
    instruction
        .operands()
        .filter_map(|operand| match operand {
            Object::Number(number) => Some(number.as_f64()),
            _ => None,
        })
        .collect()
}

/// Whether a colour space's parts say by themselves how light a colour is.
fn is_plain_space(instruction: &Instruction<'_, '_>, resources: &Resources<'_>) -> bool {
    let Some(Object::Name(name)) = instruction.operands().next() else {
        return false;
    };
    if name.as_str().starts_with("Device") {
        return true;
    }
    match resources.get_color_space(name) {
        Some(Object::Array(space)) => space
            .iter::<Name<'_>>()
            .next()
            .is_some_and(|kind| matches!(kind.as_str(), "ICCBased" | "CalGray" | "CalRGB")),
        _ => false,
    }
}
