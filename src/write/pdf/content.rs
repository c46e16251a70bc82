//! One page's ink as the operations of a content stream.

use crate::drawing::{Ink, Layer, Line, Mark, Shade, Text, lettering};
use crate::sheet::Page;
use kurbo::{BezPath, Point};
use printpdf::{
    Color, FontId, Greyscale, LayerInternalId, LineCapStyle, LineDashPattern, LineJoinStyle, Op,
    PaintMode, PdfFontHandle, Polygon, Rect, TextItem, TextMatrix, TextRenderingMode, WindingOrder,
};

use super::path::{pt, rings, subpaths};

/// The typeface's name within the file.
pub(super) const FACE: &str = "Lettering";

/// A layer's name within a page: sorts as [`Layer::ALL`] does.
pub(super) fn layer_id(layer: Layer) -> LayerInternalId {
    let place = Layer::ALL.iter().position(|&other| other == layer);
    LayerInternalId(format!("L{:02}", place.unwrap_or(Layer::ALL.len())))
}

/// A page's operations: the work within its window, then the furniture over it.
pub(super) fn page_content(page: &Page) -> Vec<Op> {
    let mut pen = Pen::default();
    if !page.work.is_empty() {
        pen.ops.push(Op::SaveGraphicsState);
        pen.ops.push(clip(page.window));
        pen.layers(&page.work);
        pen.ops.push(Op::RestoreGraphicsState);
        pen.state = State::default();
    }
    pen.layers(&page.furniture);
    pen.ops
}

fn clip(window: kurbo::Rect) -> Op {
    Op::DrawRectangle {
        rectangle: Rect {
            mode: Some(PaintMode::Clip),
            winding_order: Some(WindingOrder::NonZero),
            ..Rect::from_xywh(
                pt(window.x0),
                pt(window.y0),
                pt(window.width()),
                pt(window.height()),
            )
        },
    }
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

/// Writes operations, and leaves out those that would change nothing.
#[derive(Default)]
struct Pen {
    ops: Vec<Op>,
    state: State,
}

impl Pen {
    fn layers(&mut self, marks: &[Mark]) {
        for layer in Layer::ALL {
            let mut begun = false;
            for mark in marks.iter().filter(|mark| mark.layer == layer) {
                if !begun {
                    let layer_id = layer_id(layer);
                    self.ops.push(Op::BeginLayer { layer_id });
                    begun = true;
                }
                self.mark(mark);
            }
            if begun {
                self.ops.push(Op::EndLayer);
            }
        }
    }

    fn mark(&mut self, mark: &Mark) {
        match &mark.ink {
            Ink::Stroke { path, line } => self.stroke(path, line),
            Ink::Fill { path, shade } => self.fill(path, *shade),
            Ink::Text(text) => self.text(text),
        }
    }

    fn stroke(&mut self, path: &BezPath, line: &Line) {
        let dashes = line.kind.dashes(line.width);
        let phase = if dashes.is_empty() { 0.0 } else { line.phase };
        self.line(line.width.mm(), dashes, phase, line.kind.round_ends());
        for line in subpaths(path) {
            self.ops.push(Op::DrawLine { line });
        }
    }

    fn fill(&mut self, path: &BezPath, shade: Shade) {
        self.shade(shade);
        let polygon = Polygon {
            rings: rings(path),
            mode: PaintMode::Fill,
            winding_order: WindingOrder::NonZero,
        };
        self.ops.push(Op::DrawPolygon { polygon });
    }

    fn text(&mut self, text: &Text) {
        if text.words.is_empty() {
            return;
        }
        self.shade(Shade::Black);
        if text.heavy {
            self.line(lettering::heavy_stroke(text.height), vec![], 0.0, false);
        }
        self.ops.push(Op::StartTextSection);
        if self.state.lettering != text.height {
            self.state.lettering = text.height;
            self.ops.push(Op::SetFont {
                font: PdfFontHandle::External(FontId(FACE.into())),
                size: pt(lettering::em(text.height)),
            });
        }
        if self.state.heavy != text.heavy {
            self.state.heavy = text.heavy;
            let mode = if text.heavy {
                TextRenderingMode::FillStroke
            } else {
                TextRenderingMode::Fill
            };
            self.ops.push(Op::SetTextRenderingMode { mode });
        }
        let (start, along) = lettering::baseline(text);
        self.ops.push(Op::SetTextMatrix {
            matrix: text_matrix(start, along.x, along.y),
        });
        let items = vec![TextItem::Text(text.words.clone())];
        self.ops.push(Op::ShowText { items });
        self.ops.push(Op::EndTextSection);
    }

    fn line(&mut self, width: f64, dashes: Vec<f64>, phase: f64, caps_round: bool) {
        if !self.state.joins_round {
            self.state.joins_round = true;
            let join = LineJoinStyle::Round;
            self.ops.push(Op::SetLineJoinStyle { join });
        }
        if self.state.caps_round != caps_round {
            self.state.caps_round = caps_round;
            let cap = if caps_round {
                LineCapStyle::Round
            } else {
                LineCapStyle::Butt
            };
            self.ops.push(Op::SetLineCapStyle { cap });
        }
        if self.state.width != width {
            self.state.width = width;
            self.ops.push(Op::SetOutlineThickness { pt: pt(width) });
        }
        let wanted = (dashes, phase);
        if self.state.dashes != wanted {
            let lengths: Vec<f32> = wanted.0.iter().map(|&length| pt(length).0).collect();
            let dash = LineDashPattern::new(pt(phase).0, &lengths);
            self.ops.push(Op::SetLineDashPattern { dash });
            self.state.dashes = wanted;
        }
    }

    fn shade(&mut self, shade: Shade) {
        if self.state.fill == shade {
            return;
        }
        self.state.fill = shade;
        let percent = match shade {
            Shade::Black => 0.0,
            Shade::White => 1.0,
        };
        let col = Color::Greyscale(Greyscale::new(percent, None));
        self.ops.push(Op::SetFillColor { col });
    }
}

fn text_matrix(start: Point, cos: f64, sin: f64) -> TextMatrix {
    let (cos, sin) = (cos as f32, sin as f32 + 0.0);
    // Adding nothing turns a minus zero into a zero.
    TextMatrix::Raw([
        cos + 0.0,
        sin,
        0.0 - sin,
        cos + 0.0,
        pt(start.x).0,
        pt(start.y).0,
    ])
}
