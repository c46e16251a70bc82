//! Lettering, shown.

use super::Reader;
use crate::check::verify::budget::Cost;
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::{Letters, Words};
use crate::check::verify::paint::Tone;
use crate::check::verify::pdf::show::Shown;
use hayro_syntax::content::Instruction;
use hayro_syntax::object::Object;
use kurbo::{Point, Vec2};

/// What each way to show lettering (ISO 32000-1, table 106) does: fill, stroke.
const MODES: [(bool, bool); 4] = [(true, false), (false, true), (true, true), (false, false)];

impl Reader<'_> {
    /// Shows lettering.
    pub(super) fn letter(
        &mut self,
        operator: &[u8],
        instruction: &Instruction<'_, '_>,
    ) -> Result<(), VerifyError> {
        if matches!(operator, b"'" | b"\"") {
            self.pen.place(b"T*", &[0.0; 6]);
        }
        let operands: Vec<&Object<'_>> = instruction.operands().collect();
        if operator == b"\""
            && let [Object::Number(word), Object::Number(letter), _] = operands.as_slice()
        {
            self.state.lettering.word_spacing = word.as_f64();
            self.state.lettering.letter_spacing = letter.as_f64();
        }
        let set = self.state.lettering;
        let (to_page, start) = (self.state.to_page, self.pen.at());
        let mut shown = Shown::default();
        let face = set.face.and_then(|face| self.faces.get(face));
        if let Some(operand) = operands.last() {
            self.pen.show(operand, face, &set, to_page, &mut shown);
        }
        // What is kept of a run is as large as some four parts of a line, and of four letters as two.
        self.budget
            .spend_len(Cost::Elements, shown.glyphs.len() / 4 + 4)?;
        self.clipping_text |= set.mode >= 4;
        let (fills, strokes) = *MODES.get(usize::from(set.mode % 4)).unwrap_or(&MODES[0]);
        if !self.shown() || shown.glyphs.is_empty() || !(fills || strokes) {
            return Ok(());
        }
        let mut clip = self.state.clip;
        clip.ragged |= self.state.is_masked();
        let filled = self.state.fill_tone();
        let stroked = self.state.stroke_tone();
        let tone = match (fills, strokes) {
            (true, true) if filled != stroked => Tone::Faint,
            (true, _) => filled,
            // Letters that are hollow are none of ours.
            (false, _) => Tone::Faint,
        };
        let em = |x: f64, y: f64| -> Vec2 {
            let place = to_page * start;
            place * Point::new(x * set.size * set.stretch, y * set.size) - place * Point::ZERO
        };
        let words = shown.words;
        let at = shown.glyphs.first().map_or(Point::ZERO, |(_, at)| *at);
        self.page.write(
            Words {
                at,
                words: words.clone(),
            },
            self.budget,
        )?;
        let layer = self.membership().and_then(|layer| layer.layer);
        let painted = self.page.next(tone, clip);
        self.page.letters.push(Letters {
            layer,
            glyphs: shown.glyphs,
            along: em(1.0, 0.0),
            up: em(0.0, 1.0),
            outlined: strokes.then(|| self.state.width * self.state.scale()),
            words,
            painted,
        });
        Ok(())
    }
}
