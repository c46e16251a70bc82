//! What is on the pages of a file, whatever kind of file it is: millimetres, y up, as displayed.

use super::budget::{Budget, Cost, FARTHEST};
use super::error::VerifyError;
use super::paint::{Dashes, FARTHEST_CORNER, Tone};
use kurbo::{BezPath, Point, Rect, Size, Vec2};
use std::collections::BTreeSet;

/// A file as read.
#[derive(Debug, Clone, Default)]
pub(crate) struct Measured {
    /// The pages, in order.
    pub(crate) pages: Vec<MeasuredPage>,
    /// What the file asks of a print dialog; `None` for files that can't ask.
    pub(crate) preferences: Option<Preferences>,
    /// The program that wrote the file, where the file says.
    pub(crate) producer: Option<String>,
    /// Names of all layers.
    pub(crate) layers: Vec<String>,
    /// Objects are packed together, as this program never does.
    pub(crate) repacked: bool,
    /// What a PDF calls itself and its pages: its title and its bookmarks.
    pub(crate) titles: Vec<String>,
    /// Things of the whole file that bear on what is seen or printed and that are not read.
    pub(crate) unread: BTreeSet<&'static str>,
}

/// What a PDF asks of a print dialog.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Preferences {
    /// Not to scale.
    pub(crate) no_scaling: bool,
    /// One side only.
    pub(crate) one_side: bool,
    /// Paper of the page's size.
    pub(crate) paper_by_page: bool,
    /// Some of its pages only, or a part of each.
    pub(crate) a_part: bool,
}

/// One page as read.
#[derive(Debug, Clone, Default)]
pub(crate) struct MeasuredPage {
    /// The whole page; its lower left corner is the origin.
    pub(crate) size: Size,
    /// The part of it that is shown and printed.
    pub(crate) shown: Rect,
    /// How many times its plain unit a unit of the page is.
    pub(crate) user_unit: f64,
    /// Width and height of the picture that the page shows over those it is shown at, where the
    /// file gives both: a hidden scale.
    pub(crate) stretch: Option<(f64, f64)>,
    /// By how many degrees the page is turned clockwise when shown.
    pub(crate) turned: i32,
    /// What is written on it, as far as it can be read.
    pub(crate) words: Vec<Words>,
    /// What the page is called for those who can't see it.
    pub(crate) titles: Vec<String>,
    /// Every stroke, in order of painting.
    pub(crate) strokes: Vec<Stroke>,
    /// Every filled area, likewise.
    pub(crate) areas: Vec<Area>,
    /// Every run of lettering in a typeface, likewise.
    pub(crate) letters: Vec<Letters>,
    /// What can't be told from its numbers: pictures and shadings, boxes round them.
    pub(crate) pictured: Vec<Rect>,
    /// How many marks were painted so far.
    pub(crate) painted: usize,
    /// What may cover strokes painted before.
    pub(crate) covers: Vec<Cover>,
    /// Pictures made of pixels.
    pub(crate) pictures: usize,
    /// Other boxes of the page that differ from it, by name.
    pub(crate) odd_boxes: Vec<(&'static str, Rect)>,
    /// Things that bear on what is seen and that are not read.
    pub(crate) unread: BTreeSet<&'static str>,
}

/// One line of lettering.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Words {
    /// Near where it begins.
    pub(crate) at: Point,
    /// What it says.
    pub(crate) words: String,
}

/// One stroked path.
#[derive(Debug, Clone)]
pub(crate) struct Stroke {
    /// Where in [`Measured::layers`] its layer stands.
    pub(crate) layer: Option<usize>,
    /// Its middle line.
    pub(crate) path: BezPath,
    /// Width, mm.
    pub(crate) width: f64,
    /// How far its ink may lie from its middle line at most, mm.
    pub(crate) reach: f64,
    /// Its dashes.
    pub(crate) dashes: Dashes,
    /// Whether it leaves ink at all.
    pub(crate) visible: bool,
    /// What is to be accounted for.
    pub(crate) painted: Painted,
}

/// What every mark has, whatever it is made of.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Painted {
    /// Its place in the order of painting.
    pub(crate) order: usize,
    /// What it leaves on paper.
    pub(crate) tone: Tone,
    /// What it is clipped to.
    pub(crate) clip: Clip,
}

/// One filled area, or lettering as outlines.
#[derive(Debug, Clone)]
pub(crate) struct Area {
    /// Where in [`Measured::layers`] its layer stands.
    pub(crate) layer: Option<usize>,
    pub(crate) path: BezPath,
    /// Width of a stroke round it, mm, where it is lettering with one.
    pub(crate) outlined: Option<f64>,
    /// What it is said to read, to those who can't see it.
    pub(crate) label: Option<String>,
    pub(crate) painted: Painted,
}

/// One run of lettering in a typeface.
#[derive(Debug, Clone)]
pub(crate) struct Letters {
    /// Where in [`Measured::layers`] its layer stands.
    pub(crate) layer: Option<usize>,
    /// Each glyph of the typeface of all lettering, `None` for one that draws anything else, with
    /// the place of its origin.
    pub(crate) glyphs: Vec<(Option<u16>, Point)>,
    /// An em along the baseline, mm.
    pub(crate) along: Vec2,
    /// An em square to it.
    pub(crate) up: Vec2,
    /// Width of a stroke round the letters, mm.
    pub(crate) outlined: Option<f64>,
    /// What it says.
    pub(crate) words: String,
    pub(crate) painted: Painted,
}

/// What ink is clipped to.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Clip {
    /// A box that holds all that can be seen; `None` for everything.
    pub(crate) bounds: Option<Rect>,
    /// Less than that box may be seen.
    pub(crate) ragged: bool,
}

impl Clip {
    /// Clipped further.
    pub(crate) fn within(self, bounds: Rect, ragged: bool) -> Self {
        Self {
            bounds: Some(self.bounds.map_or(bounds, |own| own.intersect(bounds))),
            ragged: self.ragged || ragged,
        }
    }
}

/// An opaque area.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cover {
    /// How many strokes were painted before.
    pub(crate) after: usize,
    /// Box round it.
    pub(crate) bounds: Rect,
}

/// Dark areas smaller than this in either direction are arrowheads and letters, mm. Areas as light as
/// paper and pictures hide a line however small they are.
const SMALLEST_COVER: f64 = 12.0;

impl MeasuredPage {
    /// A path as it may lie on paper. A box that reaches farther shows the same; a line does not,
    /// and is noted.
    pub(crate) fn on_paper(&mut self, path: BezPath, strokes: bool) -> BezPath {
        let (path, moved) = drawn_in(path);
        if moved && strokes {
            self.unread
                .insert("lines that run farther than any paper reaches");
        }
        path
    }

    /// Takes in what is written.
    pub(crate) fn write(&mut self, words: Words, budget: &mut Budget) -> Result<(), VerifyError> {
        budget.spend_len(Cost::Bytes, words.words.len())?;
        budget.spend(Cost::Elements, 2)?;
        self.words.push(words);
        Ok(())
    }

    /// The next mark in order of painting.
    pub(crate) fn next(&mut self, tone: Tone, clip: Clip) -> Painted {
        self.painted += 1;
        Painted {
            order: self.painted,
            tone,
            clip,
        }
    }

    /// Notes a picture or a shading.
    pub(crate) fn picture(&mut self, bounds: Rect) {
        self.painted += 1;
        self.pictured.push(bounds);
        self.cover(bounds, true);
    }

    /// Notes how far a line reaches: one of the paper's colour hides what was painted before, and
    /// one with long points at its corners shows another.
    pub(crate) fn reaches(&mut self, along: Rect, reach: f64, mitre: Option<f64>, tone: Tone) {
        if tone == Tone::Paper {
            self.cover(along.inflate(reach, reach), true);
        } else if tone != Tone::None
            && mitre.is_some()
            && (reach.is_nan() || reach > FARTHEST_CORNER)
        {
            self.unread
                .insert("lines whose corners may reach far beyond them");
        }
    }

    /// Notes an opaque area; `hides` where it leaves no ink of its own.
    pub(crate) fn cover(&mut self, bounds: Rect, hides: bool) {
        if hides || bounds.width().min(bounds.height()) >= SMALLEST_COVER {
            self.covers.push(Cover {
                after: self.strokes.len(),
                bounds,
            });
        }
    }
}

/// A path with points farther out than [`FARTHEST`] drawn in to there, and whether there were any.
fn drawn_in(path: BezPath) -> (BezPath, bool) {
    use kurbo::PathEl;
    let mut moved = false;
    let mut near = |p: Point| {
        if p.x.abs() <= FARTHEST && p.y.abs() <= FARTHEST {
            return p;
        }
        moved = true;
        let side = |at: f64| {
            if at.is_nan() {
                0.0
            } else {
                at.clamp(-FARTHEST, FARTHEST)
            }
        };
        Point::new(side(p.x), side(p.y))
    };
    let elements = path.into_iter().map(|element| match element {
        PathEl::MoveTo(p) => PathEl::MoveTo(near(p)),
        PathEl::LineTo(p) => PathEl::LineTo(near(p)),
        PathEl::QuadTo(p, q) => PathEl::QuadTo(near(p), near(q)),
        PathEl::CurveTo(p, q, r) => PathEl::CurveTo(near(p), near(q), near(r)),
        PathEl::ClosePath => PathEl::ClosePath,
    });
    let path = elements.collect();
    (path, moved)
}

/// Whether a path is one rectangle with sides along the axes, within `within` mm; and its box.
pub(crate) fn upright_box(path: &BezPath, within: f64) -> (Rect, bool) {
    let mut points = Vec::with_capacity(6);
    let mut plain = true;
    for element in path.elements() {
        match element {
            kurbo::PathEl::MoveTo(p) => {
                plain &= points.is_empty();
                points.push(*p);
            }
            kurbo::PathEl::LineTo(p) => points.push(*p),
            kurbo::PathEl::ClosePath => {}
            _ => plain = false,
        }
    }
    let bounds = kurbo::Shape::bounding_box(path);
    if points.len() == 5 && (points[4] - points[0]).hypot() <= within {
        points.pop();
    }
    let corner = |p: &kurbo::Point| {
        let near = |a: f64, b: f64| (a - b).abs() <= within;
        (near(p.x, bounds.x0) || near(p.x, bounds.x1))
            && (near(p.y, bounds.y0) || near(p.y, bounds.y1))
    };
    let area = bounds.area();
    let enclosed = kurbo::Shape::area(path).abs();
    let whole = (enclosed - area).abs() <= within * (bounds.width() + bounds.height()) * 2.0;
    (
        bounds,
        plain && points.len() == 4 && points.iter().all(corner) && whole,
    )
}
