//! A content stream's operators, run (ISO 32000-1, Annex A).

mod form;
mod path;
mod set;
mod words;

use super::inline::holds_picture;
use super::layers::{Layers, Membership};
use super::look::look;
use super::operators::{is_end, is_well_written, with_end};
use super::show::Pen;
use super::state::State;
use super::typeface::Typefaces;
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::MeasuredPage;
use hayro_syntax::content::{Instruction, UntypedIter};
use hayro_syntax::object::{Dict, Object};
use hayro_syntax::page::Resources;
use kurbo::{Affine, BezPath, Point};

/// Deepest nesting of states, marked content and forms.
const DEEPEST: usize = 256;
/// Deepest nesting of forms.
const DEEPEST_FORM: usize = 16;

/// What is said of colours whose parts do not tell how light they are.
const MIXED: &str = "colours that are mixed by a rule of the file";

/// Clip paths this near to a rectangle are one, mm.
const BOX_WITHIN: f64 = 0.01;

/// Runs a page's operators and keeps what they paint.
pub(super) struct Reader<'r> {
    page: &'r mut MeasuredPage,
    layers: &'r mut Layers,
    budget: &'r mut Budget,
    faces: &'r mut Typefaces,
    pen: Pen,
    state: State,
    kept: Vec<State>,
    /// Marked content that is open; `None` where it is no layer.
    open: Vec<Option<Membership>>,
    path: BezPath,
    at: Option<Point>,
    clipping: bool,
    /// Lettering that clips was shown.
    clipping_text: bool,
    forms: usize,
}

impl<'r> Reader<'r> {
    pub(super) fn new(
        page: &'r mut MeasuredPage,
        layers: &'r mut Layers,
        budget: &'r mut Budget,
        faces: &'r mut Typefaces,
    ) -> Self {
        Self {
            page,
            layers,
            budget,
            faces,
            pen: Pen::default(),
            state: State::new(Affine::IDENTITY),
            kept: vec![],
            open: vec![],
            path: BezPath::new(),
            at: None,
            clipping: false,
            clipping_text: false,
            forms: 0,
        }
    }

    pub(super) fn page(
        mut self,
        content: Vec<u8>,
        resources: &Resources<'_>,
        to_page: Affine,
    ) -> Result<(), VerifyError> {
        self.state = State::new(to_page);
        self.run(content, resources)?;
        if !self.open.is_empty() {
            self.page.unread.insert("layers that do not end");
        }
        Ok(())
    }

    fn run(&mut self, content: Vec<u8>, resources: &Resources<'_>) -> Result<(), VerifyError> {
        let (states, marks) = (self.kept.len(), self.open.len());
        let spaces = &resources.color_spaces;
        if ["DefaultGray", "DefaultRGB", "DefaultCMYK"]
            .iter()
            .any(|plain| spaces.contains_key(plain))
        {
            self.page.unread.insert(MIXED);
        }
        if holds_picture(&content) {
            return Err(VerifyError::Pdf("a picture is written into its content"));
        }
        let content = with_end(content).ok_or(VerifyError::Pdf("its content is miswritten"))?;
        let mut operators = UntypedIter::new(&content);
        let mut ended = false;
        while let Some(instruction) = operators.next() {
            self.budget.spend(Cost::Steps, 1)?;
            let operator: &[u8] = instruction.operator.as_ref();
            ended = is_end(operator);
            if ended && instruction.operands().count() == 0 {
                break;
            }
            if !is_well_written(&instruction) {
                self.page.unread.insert("operators that are miswritten");
            }
            match operator {
                b"m" | b"l" | b"c" | b"v" | b"y" | b"h" | b"re" => {
                    self.budget
                        .spend(Cost::Elements, if operator == b"re" { 5 } else { 1 })?;
                    self.build(operator, &numbers::<6>(&instruction));
                }
                b"S" | b"s" | b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*" | b"n" => {
                    self.paint(operator)?;
                }
                b"W" | b"W*" => self.clipping = true,
                b"q" => {
                    if self.kept.len() - states >= DEEPEST {
                        return Err(VerifyError::Pdf("its content is nested too deep"));
                    }
                    self.kept.push(self.state);
                }
                b"Q" => {
                    if self.kept.len() > states
                        && let Some(state) = self.kept.pop()
                    {
                        self.state = state;
                    }
                }
                b"BMC" | b"BDC" => {
                    if self.open.len() >= DEEPEST {
                        return Err(VerifyError::Pdf("its content is nested too deep"));
                    }
                    let layer = self.layer(&instruction, resources)?;
                    self.open.push(layer);
                }
                b"EMC" => {
                    if self.open.len() > marks {
                        self.open.pop();
                    }
                }
                b"Do" => {
                    if let Some(Object::Name(name)) = instruction.operands().next() {
                        look(&resources.x_objects, &[name.as_str()], self.budget)?;
                        self.show(resources.get_x_object(name), resources)?;
                    }
                }
                b"sh" => {
                    self.budget.spend(Cost::Elements, 1)?;
                    let all = self.page.shown;
                    self.page.picture(self.state.clip.bounds.unwrap_or(all));
                }
                b"ET" => {
                    self.state.clip.ragged |= std::mem::take(&mut self.clipping_text);
                }
                b"BT" | b"Tm" | b"Td" | b"TD" | b"TL" | b"T*" => {
                    self.pen.place(operator, &numbers::<6>(&instruction));
                }
                b"Tf" => {
                    let [_, size] = numbers::<2>(&instruction);
                    self.state.lettering.size = size;
                    self.state.lettering.face = self.face(&instruction, resources)?;
                }
                b"Tj" | b"TJ" | b"'" | b"\"" => self.letter(operator, &instruction)?,
                _ => self.set(operator, &instruction, resources)?,
            }
        }
        if !ended {
            self.page.unread.insert("operators that break off");
        }
        // A form leaves no trace in what shows it.
        if let Some(state) = self.kept.get(states) {
            self.state = *state;
        }
        self.kept.truncate(states);
        if marks > 0 {
            self.open.truncate(marks);
        }
        Ok(())
    }

    /// The typeface that is chosen.
    fn face(
        &mut self,
        instruction: &Instruction<'_, '_>,
        resources: &Resources<'_>,
    ) -> Result<Option<usize>, VerifyError> {
        let Some(Object::Name(name)) = instruction.operands().next() else {
            return Ok(None);
        };
        let face = self.faces.of(&resources.fonts, name, self.budget)?;
        let known = face.and_then(|face| self.faces.get(face));
        if known.is_some_and(|face| face.by_procedures) {
            let letters = "letters that are drawn by procedures of their own";
            self.page.unread.insert(letters);
        }
        Ok(face)
    }

    /// Whether all layers that are open are shown.
    fn shown(&self) -> bool {
        self.open.iter().flatten().all(|layer| layer.visible)
    }

    /// The innermost layer that is open.
    fn membership(&self) -> Option<&Membership> {
        self.open.iter().rev().flatten().next()
    }

    fn layer(
        &mut self,
        instruction: &Instruction<'_, '_>,
        resources: &Resources<'_>,
    ) -> Result<Option<Membership>, VerifyError> {
        let mut operands = instruction.operands();
        let (Some(Object::Name(tag)), Some(Object::Name(place))) =
            (operands.next(), operands.next())
        else {
            return Ok(None);
        };
        if tag.as_str() != "OC" {
            return Ok(None);
        }
        look(&resources.properties, &[place.as_str()], self.budget)?;
        let content: Option<Dict<'_>> = resources.properties.get(place.as_ref());
        content.map(|content| self.member(&content)).transpose()
    }

    fn member(&mut self, content: &Dict<'_>) -> Result<Membership, VerifyError> {
        let membership = self.layers.membership(content, self.budget)?;
        if !membership.told {
            self.page.unread.insert("layers that are shown by a rule");
        }
        Ok(membership)
    }
}

/// The first numbers among the operands, 0 for those that are missing.
fn numbers<const N: usize>(instruction: &Instruction<'_, '_>) -> [f64; N] {
    let mut all = [0.0; N];
    for (place, operand) in all.iter_mut().zip(instruction.operands()) {
        if let Object::Number(number) = operand {
            *place = number.as_f64();
        }
    }
    all
}
