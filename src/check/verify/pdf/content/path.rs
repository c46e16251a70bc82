//! Paths, built and painted.

use super::{BOX_WITHIN, Reader};
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::{Area, Stroke, upright_box};
use crate::check::verify::paint::{Tone, UNEVEN_PEN, is_uneven};
use kurbo::{Point, Shape};

impl Reader<'_> {
    /// Operators that build a path; its points are those of the page at once.
    pub(super) fn build(&mut self, operator: &[u8], n: &[f64; 6]) {
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
    pub(super) fn paint(&mut self, operator: &[u8]) -> Result<(), VerifyError> {
        if matches!(operator, b"s" | b"b" | b"b*") && self.at.is_some() {
            self.path.close_path();
        }
        let path = std::mem::take(&mut self.path);
        self.at = None;
        let clipping = std::mem::take(&mut self.clipping);
        if path.elements().is_empty() {
            if clipping {
                // Some readers show nothing after it, some all.
                self.page.unread.insert("clips without a path");
            }
            return Ok(());
        }
        let strokes = matches!(operator, b"S" | b"s" | b"B" | b"B*" | b"b" | b"b*");
        let fills = matches!(operator, b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*");
        let path = self.page.on_paper(path, strokes);
        let shown = self.shown();
        let mut clip = self.state.clip;
        clip.ragged |= self.state.is_masked();
        let layer = self.membership().and_then(|layer| layer.layer);
        if fills && shown {
            let tone = self.state.fill_tone();
            self.budget.keep(&path)?;
            let bounds = path.bounding_box();
            if matches!(tone, Tone::Ink | Tone::Paper) {
                let seen = clip.bounds.map_or(bounds, |clip| clip.intersect(bounds));
                self.page.cover(seen, tone == Tone::Paper);
            }
            let painted = self.page.next(tone, clip);
            self.page.areas.push(Area {
                layer,
                path: path.clone(),
                outlined: None,
                label: None,
                painted,
            });
        }
        let after = if clipping {
            let (bounds, plain) = upright_box(&path, BOX_WITHIN);
            self.state.clip.within(bounds, !plain)
        } else {
            self.state.clip
        };
        if strokes {
            self.budget.keep(&path)?;
            let tone = self.state.stroke_tone();
            let reach = self.state.reach();
            let tone = if shown { tone } else { Tone::None };
            let mitre = self.state.mitre();
            self.page.reaches(path.bounding_box(), reach, mitre, tone);
            let painted = self.page.next(tone, clip);
            let scale = self.state.scale();
            if is_uneven(self.state.to_page) {
                self.page.unread.insert(UNEVEN_PEN);
            }
            self.page.strokes.push(Stroke {
                layer,
                reach,
                width: self.state.width * scale,
                dashes: self.state.dashes.scaled(scale),
                visible: tone == Tone::Ink,
                painted,
                path,
            });
        }
        self.state.clip = after;
        Ok(())
    }
}
