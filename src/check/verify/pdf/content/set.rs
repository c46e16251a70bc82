//! Operators that set the state (ISO 32000-1, 8.4).

use super::{MIXED, Reader, numbers};
use crate::check::verify::budget::Cost;
use crate::check::verify::error::VerifyError;
use crate::check::verify::paint::Dashes;
use crate::check::verify::pdf::look::{look, look_into};
use crate::check::verify::pdf::state::darkness_of;
use hayro_syntax::content::Instruction;
use hayro_syntax::object::{Array, Dict, Number, Object};
use hayro_syntax::page::Resources;
use kurbo::Affine;

/// What many settings at once cost, in steps of drawing: as many keys are looked for.
const SETTINGS: u64 = 12;

impl Reader<'_> {
    /// Operators that set the state.
    pub(super) fn set(
        &mut self,
        operator: &[u8],
        instruction: &Instruction<'_, '_>,
        resources: &Resources<'_>,
    ) -> Result<(), VerifyError> {
        match operator {
            b"j" => self.state.mitred = numbers::<1>(instruction)[0] == 0.0,
            b"M" => self.state.mitre_limit = numbers::<1>(instruction)[0],
            b"cm" => {
                self.state.to_page *= Affine::new(numbers::<6>(instruction));
            }
            b"w" => self.state.width = numbers::<1>(instruction)[0],
            b"d" => {
                if let Some(Object::Array(dashes)) = instruction.operands().next() {
                    let phase = instruction.operands().nth(1);
                    let phase = match phase {
                        Some(Object::Number(phase)) => phase.as_f64(),
                        _ => 0.0,
                    };
                    self.state.dashes = dashes_of(dashes, phase);
                }
            }
            b"G" | b"RG" | b"K" | b"SC" | b"SCN" => {
                self.state.stroke_darkness = darkness_of(&parts(instruction));
            }
            b"g" | b"rg" | b"k" | b"sc" | b"scn" => {
                self.state.fill_darkness = darkness_of(&parts(instruction));
            }
            b"CS" | b"cs" => {
                if operator == b"CS" {
                    self.state.stroke_darkness = 1.0;
                } else {
                    self.state.fill_darkness = 1.0;
                }
                if !is_plain_space(instruction) {
                    self.page.unread.insert(MIXED);
                }
            }
            b"Tc" | b"Tw" | b"Tz" | b"Ts" | b"Tr" => {
                let [number] = numbers::<1>(instruction);
                let lettering = &mut self.state.lettering;
                match operator {
                    b"Tc" => lettering.letter_spacing = number,
                    b"Tw" => lettering.word_spacing = number,
                    b"Tz" => lettering.stretch = number / 100.0,
                    b"Ts" => lettering.rise = number,
                    // There are eight ways; beyond them it is any.
                    _ => {
                        lettering.mode = (0..8).find(|mode| f64::from(*mode) == number).unwrap_or(8)
                    }
                }
            }
            b"gs" => {
                let Some(Object::Name(name)) = instruction.operands().next() else {
                    return Ok(());
                };
                self.budget.spend(Cost::Steps, SETTINGS)?;
                look(&resources.ext_g_states, &[name.as_str()], self.budget)?;
                if let Some(set) = resources.get_ext_g_state(name) {
                    look_into(&set, self.budget)?;
                    look(
                        &set,
                        &[
                            "LW", "LJ", "ML", "CA", "ca", "BM", "SMask", "D", "TR", "TR2",
                        ],
                        self.budget,
                    )?;
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
        if let Some(join) = number("LJ") {
            self.state.mitred = join == 0.0;
        }
        if let Some(limit) = number("ML") {
            self.state.mitre_limit = limit;
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
        if ["TR", "TR2", "Font"]
            .iter()
            .any(|key| set.contains_key(key))
        {
            self.page
                .unread
                .insert("inks or typefaces that are set aside from its content");
        }
        match set.get::<Object<'_>>("SMask") {
            Some(Object::Dict(_)) => self.state.masked = true,
            Some(Object::Name(_)) => self.state.masked = false,
            _ => {}
        }
        if let Some(dashes) = set.get::<Array<'_>>("D")
            && let Some(lengths) = dashes.iter::<Array<'_>>().next()
        {
            let phase = dashes.iter::<Object<'_>>().nth(1);
            let phase = match phase {
                Some(Object::Number(phase)) => phase.as_f64(),
                _ => 0.0,
            };
            self.state.dashes = dashes_of(&lengths, phase);
        }
    }
}

/// Most lengths of dashes that are read: more than any line has that is known.
const MOST_LENGTHS: usize = 16;

fn dashes_of(lengths: &Array<'_>, phase: f64) -> Dashes {
    Dashes::new(
        lengths
            .iter::<Number>()
            .map(|length| length.as_f64())
            .take(MOST_LENGTHS),
        phase,
    )
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

/// Whether a colour space's parts say by themselves how light a colour is. What a profile makes of
/// them, or readers that have no use for it, can't be told.
fn is_plain_space(instruction: &Instruction<'_, '_>) -> bool {
    let space = instruction.operands().next();
    matches!(space, Some(Object::Name(name))
        if matches!(name.as_str(), "DeviceGray" | "DeviceRGB" | "DeviceCMYK"))
}
