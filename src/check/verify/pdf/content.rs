//! A content stream's operators, run (ISO 32000-1, Annex A).

use super::inline::holds_picture;
use super::layers::{Layers, Membership};
use super::lettering::{Fonts, Lettering, Letters};
use super::state::{State, is_paper};
use super::unpack::unpacked;
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::{MeasuredPage, Stroke, upright_box};
use hayro_syntax::content::{Instruction, UntypedIter};
use hayro_syntax::object::{Array, Dict, Name, Number, Object, Stream};
use hayro_syntax::page::Resources;
use kurbo::{Affine, BezPath, Point, Rect, Shape};
use std::rc::Rc;

/// Deepest nesting of states, marked content and forms.
const DEEPEST: usize = 256;
/// Deepest nesting of forms.
const DEEPEST_FORM: usize = 16;

/// Clip paths this near to a rectangle are one, mm.
const BOX_WITHIN: f64 = 0.01;

/// Runs a page's operators and keeps what they paint.
pub(super) struct Reader<'r> {
    page: &'r mut MeasuredPage,
    layers: &'r mut Layers,
    budget: &'r mut Budget,
    fonts: &'r mut Fonts,
    lettering: Lettering,
    state: State,
    kept: Vec<State>,
    /// Marked content that is open; `None` where it is no layer.
    open: Vec<Option<Membership>>,
    path: BezPath,
    at: Option<Point>,
    clipping: bool,
    forms: usize,
}

impl<'r> Reader<'r> {
    pub(super) fn new(
        page: &'r mut MeasuredPage,
        layers: &'r mut Layers,
        budget: &'r mut Budget,
        fonts: &'r mut Fonts,
    ) -> Self {
        Self {
            page,
            layers,
            budget,
            fonts,
            lettering: Lettering::default(),
            state: State::new(Affine::IDENTITY),
            kept: vec![],
            open: vec![],
            path: BezPath::new(),
            at: None,
            clipping: false,
            forms: 0,
        }
    }

    pub(super) fn page(
        mut self,
        content: &[u8],
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

    fn run(&mut self, content: &[u8], resources: &Resources<'_>) -> Result<(), VerifyError> {
        let (states, marks) = (self.kept.len(), self.open.len());
        if holds_picture(content) {
            return Err(VerifyError::Pdf("a picture is written into its content"));
        }
        let mut operators = UntypedIter::new(content);
        while let Some(instruction) = operators.next() {
            self.budget.spend(Cost::Steps, 1)?;
            let operator: &[u8] = instruction.operator.as_ref();
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
                        self.show(resources.get_x_object(name), resources)?;
                    }
                }
                b"sh" => {
                    self.budget.spend(Cost::Elements, 1)?;
                    let all = self.page.shown;
                    self.page.cover(self.state.clip.bounds.unwrap_or(all));
                }
                b"ET" => {
                    self.state.clip.ragged |= std::mem::take(&mut self.state.clipping_text);
                }
                b"BT" | b"Tm" | b"Td" | b"TD" | b"TL" | b"T*" => {
                    self.lettering.place(operator, &numbers::<6>(&instruction));
                }
                b"Tf" => self.lettering.font = self.font(&instruction, resources)?,
                b"Tj" | b"TJ" | b"'" | b"\"" => {
                    if matches!(operator, b"'" | b"\"") {
                        self.lettering.place(b"T*", &[0.0; 6]);
                    }
                    let words = self
                        .lettering
                        .show(instruction.operands(), self.state.to_page);
                    let shown = self.shown();
                    if let Some(words) = words.filter(|_| shown) {
                        self.page.write(words, self.budget)?;
                    }
                }
                _ => self.set(operator, &instruction, resources)?,
            }
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

    /// The letters of the font that is chosen.
    fn font(
        &mut self,
        instruction: &Instruction<'_, '_>,
        resources: &Resources<'_>,
    ) -> Result<Option<Rc<Letters>>, VerifyError> {
        let Some(Object::Name(name)) = instruction.operands().next() else {
            return Ok(None);
        };
        let font = resources.get_font(name);
        font.map(|font| self.fonts.letters(&font, self.budget))
            .transpose()
    }

    /// Operators that set the state.
    fn set(
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
            b"g" | b"rg" | b"k" | b"sc" | b"scn" => self.state.fill_shows = true,
            b"CS" => {
                self.state.stroke_paper_white = false;
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
                    self.looked_at(&set)?;
                    self.set_many(&set);
                }
            }
            _ => {}
        }
        Ok(())
    }

    /// A dictionary is read anew each time that it is looked up.
    fn looked_at(&mut self, dict: &Dict<'_>) -> Result<(), VerifyError> {
        self.budget.spend_len(Cost::Bytes, dict.data().len())
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

    /// Operators that build a path; its points are those of the page at once.
    fn build(&mut self, operator: &[u8], n: &[f64; 6]) {
        let at = |x: f64, y: f64| self.state.to_page * Point::new(x, y);
        let end = match operator {
            b"m" => {
                let to = at(n[0], n[1]);
                self.path.move_to(to);
                to
            }
            b"re" => {
                let (x1, y1) = (n[0] + n[2], n[1] + n[3]);
                let corners = [at(n[0], n[1]), at(x1, n[1]), at(x1, y1), at(n[0], y1)];
                self.path.move_to(corners[0]);
                for corner in &corners[1..] {
                    self.path.line_to(*corner);
                }
                self.path.close_path();
                corners[0]
            }
            b"h" => {
                if self.at.is_some() {
                    self.path.close_path();
                }
                return;
            }
            _ => {
                // A path that begins without a move is none.
                let Some(from) = self.at else { return };
                match operator {
                    b"l" => {
                        let to = at(n[0], n[1]);
                        self.path.line_to(to);
                        to
                    }
                    b"c" => {
                        let to = at(n[4], n[5]);
                        self.path.curve_to(at(n[0], n[1]), at(n[2], n[3]), to);
                        to
                    }
                    b"v" => {
                        let to = at(n[2], n[3]);
                        self.path.curve_to(from, at(n[0], n[1]), to);
                        to
                    }
                    _ => {
                        let to = at(n[2], n[3]);
                        self.path.curve_to(at(n[0], n[1]), to, to);
                        to
                    }
                }
            }
        };
        self.at = Some(end);
    }

    /// Operators that paint a path, or drop it.
    fn paint(&mut self, operator: &[u8]) -> Result<(), VerifyError> {
        if matches!(operator, b"s" | b"b" | b"b*") && self.at.is_some() {
            self.path.close_path();
        }
        let path = std::mem::take(&mut self.path);
        self.at = None;
        let clipping = std::mem::take(&mut self.clipping);
        if path.elements().is_empty() {
            return Ok(());
        }
        let strokes = matches!(operator, b"S" | b"s" | b"B" | b"B*" | b"b" | b"b*");
        let path = self.page.on_paper(path, strokes);
        let shown = self.shown();
        if matches!(operator, b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*")
            && shown
            && self.state.fill_opacity > 0.5
        {
            let bounds = path.bounding_box();
            let seen = self
                .state
                .clip
                .bounds
                .map_or(bounds, |clip| clip.intersect(bounds));
            self.page.cover(seen);
        }
        let after = if clipping {
            let (bounds, plain) = upright_box(&path, BOX_WITHIN);
            self.state.clip.within(bounds, !plain)
        } else {
            self.state.clip
        };
        if strokes {
            let mut clip = self.state.clip;
            clip.ragged |= self.state.masked;
            self.budget.keep(&path)?;
            self.page.strokes.push(Stroke {
                layer: self.membership().and_then(|layer| layer.layer),
                width: self.state.width * self.state.scale(),
                dashed: self.state.dashed,
                visible: shown
                    && !self.state.stroke_paper_white
                    && self.state.stroke_opacity > 0.15,
                clip,
                path,
            });
        }
        self.state.clip = after;
        Ok(())
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
        let content: Option<Dict<'_>> = resources.properties.get(place.as_ref());
        content
            .filter(|_| tag.as_str() == "OC")
            .map(|content| self.member(&content))
            .transpose()
    }

    fn member(&mut self, content: &Dict<'_>) -> Result<Membership, VerifyError> {
        self.looked_at(content)?;
        let membership = self.layers.membership(content);
        if !membership.told {
            self.page.unread.insert("layers that are shown by a rule");
        }
        Ok(membership)
    }

    /// Shows a form or a picture.
    fn show(
        &mut self,
        object: Option<Stream<'_>>,
        around: &Resources<'_>,
    ) -> Result<(), VerifyError> {
        let Some(object) = object else { return Ok(()) };
        let dict = object.dict();
        self.looked_at(dict)?;
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
        let own = dict.get::<Dict<'_>>("Resources");
        if let Some(own) = &own {
            self.looked_at(own)?;
        }
        let own = own.map(Resources::new);
        self.open.push(member);
        self.forms += 1;
        let outer = (std::mem::take(&mut self.path), self.at.take());
        self.run(&content, own.as_ref().unwrap_or(around))?;
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
        self.page.cover(bounds);
        Ok(())
    }
}

fn is_dashed(lengths: &Array<'_>) -> bool {
    lengths.iter::<Number>().any(|length| length.as_f64() > 0.0)
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
