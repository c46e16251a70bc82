//! One page's ink as a content stream.
//!
//! Operators are those of ISO 32000-1, Annex A.

use super::path::{push_path, push_points};
use super::structure::{Element, Elements};
use crate::base::push_fixed;
use crate::draw::ink::{Ink, Layer, Line, Mark, Shade, Text, lettering};
use crate::layout::Page;
use kurbo::{BezPath, Rect};
use std::collections::BTreeMap;

/// The typeface's name within the file.
pub(super) const FACE: &str = "Lettering";

/// Decimals of a turn's sine and cosine: over a line of 1 m they come to a thousandth of 1 mm.
const TURN_DECIMALS: usize = 6;

/// A layer's name within a page: sorts as [`Layer::ALL`] does.
pub(super) fn layer_id(layer: Layer) -> String {
    let place = Layer::ALL.iter().position(|&other| other == layer);
    format!("L{:02}", place.unwrap_or(Layer::ALL.len()))
}

/// The codes that letters have in the typeface as embedded.
pub(super) type Codes = BTreeMap<char, u16>;

/// A page's content, the work within its window, then the furniture over it; and what it is when
/// read out.
pub(super) fn page_content(page: &Page, codes: &Codes) -> (Vec<u8>, Vec<Element>) {
    let (elements, [of_work, of_furniture]) = Elements::of(page);
    let mut pen = Pen {
        out: Vec::new(),
        elements,
        state: State::default(),
        codes,
    };
    if !page.work.is_empty() {
        pen.say("q");
        pen.clip(page.window);
        pen.layers(&page.work, &of_work);
        pen.say("Q");
        pen.state = State::default();
    }
    pen.layers(&page.furniture, &of_furniture);
    (pen.out, pen.elements.into_all())
}

/// What the page's graphics state is known to hold; at the start, what ISO 32000-1 gives it.
#[derive(Debug, Clone, PartialEq)]
struct State {
    joins_round: bool,
    caps_round: bool,
    width: f64,
    dashes: (Vec<f64>, f64),
    fill: Shade,
    lettering: f64,
    heavy: bool,
}

impl Default for State {
    fn default() -> Self {
        Self {
            joins_round: false,
            caps_round: false,
            width: f64::NAN,
            dashes: (vec![], 0.0),
            fill: Shade::Black,
            lettering: f64::NAN,
            heavy: false,
        }
    }
}

/// Writes operators, and leaves out those that would change nothing.
struct Pen<'a> {
    out: Vec<u8>,
    elements: Elements,
    state: State,
    codes: &'a Codes,
}

impl Pen<'_> {
    /// Words of the content stream, and the end of their line.
    fn say(&mut self, words: &str) {
        self.out.extend_from_slice(words.as_bytes());
        self.out.push(b'\n');
    }

    fn length(&mut self, mm: f64) {
        push_points(&mut self.out, mm);
    }

    fn clip(&mut self, window: Rect) {
        for side in [window.x0, window.y0, window.width(), window.height()] {
            self.length(side);
        }
        self.say("re W n");
    }

    /// Marks layer by layer, each told as part of its element.
    fn layers(&mut self, marks: &[Mark], elements: &[Option<usize>]) {
        for layer in Layer::ALL {
            let mut begun = None;
            let all = marks.iter().zip(elements);
            let mut all = all.filter(|(mark, _)| mark.layer == layer).peekable();
            while let Some((mark, element)) = all.next() {
                if begun != Some(*element) {
                    match begun {
                        None => self.say(&format!("/OC /{} BDC", layer_id(layer))),
                        Some(_) => self.say("EMC"),
                    }
                    self.begin(*element);
                    begun = Some(*element);
                }
                let next = all.peek().filter(|(_, next)| *next == element);
                self.mark(mark, element.is_some() && next.is_some());
            }
            if begun.is_some() {
                self.say("EMC");
                self.say("EMC");
            }
        }
    }

    /// Begins a piece of content of an element, or of none.
    fn begin(&mut self, element: Option<usize>) {
        match element {
            None => self.say("/Artifact BMC"),
            Some(element) => {
                let (kind, number) = self.elements.piece(element);
                self.say(&format!("/{kind} <</MCID {number}>> BDC"));
            }
        }
    }

    /// One mark; words that go on in the next end with a blank, for whoever has them read out.
    fn mark(&mut self, mark: &Mark, goes_on: bool) {
        match &mark.ink {
            Ink::Stroke { path, line } => self.stroke(path, line),
            Ink::Fill { path, shade } => self.fill(path, *shade),
            Ink::Text(text) => self.text(text, goes_on),
        }
    }

    fn stroke(&mut self, path: &BezPath, line: &Line) {
        let dashes = line.kind.dashes(line.width);
        let phase = if dashes.is_empty() { 0.0 } else { line.phase };
        self.line(line.width.mm(), dashes, phase, line.kind.round_ends());
        if push_path(&mut self.out, path) {
            self.say("S");
        }
    }

    fn fill(&mut self, path: &BezPath, shade: Shade) {
        self.shade(shade);
        if push_path(&mut self.out, path) {
            self.say("f");
        }
    }

    fn text(&mut self, text: &Text, goes_on: bool) {
        if text.words.is_empty() {
            return;
        }
        self.shade(Shade::Black);
        if text.heavy {
            self.line(lettering::heavy_stroke(text.height), vec![], 0.0, false);
        }
        self.say("BT");
        if self.state.lettering != text.height {
            self.state.lettering = text.height;
            self.out.extend_from_slice(format!("/{FACE} ").as_bytes());
            self.length(lettering::em(text.height));
            self.say("Tf");
        }
        if self.state.heavy != text.heavy {
            self.state.heavy = text.heavy;
            // Filled and stroked, or filled alone.
            self.say(if text.heavy { "2 Tr" } else { "0 Tr" });
        }
        let (start, along) = lettering::baseline(text);
        for part in [along.x, along.y, -along.y, along.x] {
            push_fixed(&mut self.out, part, TURN_DECIMALS);
            self.out.push(b' ');
        }
        self.length(start.x);
        self.length(start.y);
        self.say("Tm");
        self.words(&text.words);
        if goes_on {
            self.words(" ");
        }
        self.say("ET");
    }

    fn words(&mut self, words: &str) {
        const DIGITS: &[u8; 16] = b"0123456789ABCDEF";
        self.out.push(b'<');
        // Every letter has a code: the typeface was cut down to just these.
        for code in words.chars().filter_map(|letter| self.codes.get(&letter)) {
            let digits = [12, 8, 4, 0].map(|shift| DIGITS[usize::from((code >> shift) & 15)]);
            self.out.extend_from_slice(&digits);
        }
        self.say("> Tj");
    }

    fn line(&mut self, width: f64, dashes: Vec<f64>, phase: f64, caps_round: bool) {
        if !self.state.joins_round {
            self.state.joins_round = true;
            self.say("1 j");
        }
        if self.state.caps_round != caps_round {
            self.state.caps_round = caps_round;
            self.say(if caps_round { "1 J" } else { "0 J" });
        }
        if self.state.width != width {
            self.state.width = width;
            self.length(width);
            self.say("w");
        }
        let wanted = (dashes, phase);
        if self.state.dashes != wanted {
            self.out.push(b'[');
            for &length in &wanted.0 {
                self.length(length);
            }
            if self.out.last() == Some(&b' ') {
                self.out.pop();
            }
            self.out.extend_from_slice(b"] ");
            self.length(phase);
            self.say("d");
            self.state.dashes = wanted;
        }
    }

    fn shade(&mut self, shade: Shade) {
        if self.state.fill == shade {
            return;
        }
        self.state.fill = shade;
        self.say(match shade {
            Shade::Black => "0 g",
            Shade::White => "1 g",
        });
    }
}
