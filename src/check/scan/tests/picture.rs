//! A sheet as a scanner would see it.

use super::super::Raster;
use crate::base::Direction;
use crate::draw::ink::{
    Anchor, Drawing, Front, Geometry, Ink, Island, Layer, Line, Mark, PageEdges, Shade, Text,
    TitleBlock, Width, lettering,
};
use crate::layout::{Page, PageOrientation, Paper, Setup, SheetSet, sheets};
use kurbo::{Affine, BezPath, PathEl, Point, Rect, RoundedRect, Shape, Size, Vec2};
use resvg::tiny_skia::{FillRule, Paint, Path, PathBuilder, Pixmap, Stroke, Transform};

/// How a sheet was printed and scanned.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scan {
    /// Pixels to the inch.
    pub(super) dpi: f64,
    /// Scale of the print across and down.
    pub(super) scale: (f64, f64),
    /// Skew of the print, degrees.
    pub(super) skew: f64,
    /// Turn on the glass, degrees counter-clockwise.
    pub(super) turn: f64,
    /// Whether the sheet is mirrored.
    pub(super) mirrored: bool,
    /// Passes of a blur over three pixels each way.
    pub(super) blur: usize,
    /// Share of pixels turned black or white.
    pub(super) speckle: f64,
    /// Greatest noise of each pixel, of 255.
    pub(super) noise: f64,
    /// Greys of ink and paper.
    pub(super) tones: (f64, f64),
}

impl Scan {
    /// A clean scan of a true print.
    pub(super) const fn at(dpi: f64) -> Self {
        Self {
            dpi,
            scale: (1.0, 1.0),
            skew: 0.0,
            turn: 0.0,
            mirrored: false,
            blur: 0,
            speckle: 0.0,
            noise: 0.0,
            tones: (0.0, 255.0),
        }
    }

    /// The same, spoilt as an office scanner does.
    pub(super) const fn worn(self) -> Self {
        Self {
            blur: 1,
            speckle: 0.005,
            noise: 18.0,
            tones: (70.0, 215.0),
            ..self
        }
    }

    /// From the page, mm, y up, to pixels.
    fn placed(&self, size: Size) -> (Affine, usize, usize) {
        let flip = if self.mirrored { -1.0 } else { 1.0 };
        let linear = Affine::scale_non_uniform(flip, -1.0)
            * Affine::scale(self.dpi / 25.4)
            * Affine::rotate(self.turn.to_radians())
            * Affine::new([
                1.0,
                0.0,
                self.skew.to_radians().sin(),
                self.skew.to_radians().cos(),
                0.0,
                0.0,
            ])
            * Affine::scale_non_uniform(self.scale.0, self.scale.1);
        let bounds = linear.transform_rect_bbox(Rect::from_origin_size(Point::ZERO, size));
        // Not a whole number of pixels, so that nothing stands on them by luck.
        let border = 3.37 * self.dpi / 25.4;
        let by = Vec2::new(border, border) - bounds.origin().to_vec2();
        let side = |length: f64| (length + 2.0 * border) as usize;
        (
            Affine::translate(by) * linear,
            side(bounds.width()),
            side(bounds.height()),
        )
    }

    /// What the scanner sees of a page.
    pub(super) fn of(&self, page: &Page, size: Size) -> Raster {
        let (place, width, height) = self.placed(size);
        let mut pixmap = Pixmap::new(width as u32, height as u32).unwrap();
        pixmap.fill(resvg::tiny_skia::Color::WHITE);
        for mark in page.work.iter().chain(&page.furniture) {
            draw(&mut pixmap, mark, place);
        }
        let grey: Vec<u8> = pixmap
            .data()
            .chunks_exact(4)
            .map(|pixel| pixel[0])
            .collect();
        self.spoilt(width, height, grey)
    }

    /// A picture blurred, greyed and speckled.
    pub(super) fn spoilt(&self, width: usize, height: usize, mut grey: Vec<u8>) -> Raster {
        for _ in 0..self.blur {
            grey = blurred(width, height, &grey);
        }
        let mut random = 0x2545_f491_4f6c_dd1d_u64;
        let (ink, paper) = self.tones;
        let plain = self.speckle == 0.0 && self.noise == 0.0 && self.tones == (0.0, 255.0);
        if !plain {
            for pixel in &mut grey {
                random ^= random << 13;
                random ^= random >> 7;
                random ^= random << 17;
                let share = (random >> 32) as f64 / f64::from(u32::MAX);
                let noise = self.noise * ((random & 0xffff) as f64 / 32_768.0 - 1.0);
                *pixel = if share < self.speckle {
                    if random & 0x1_0000 == 0 { 0 } else { 255 }
                } else {
                    (ink + f64::from(*pixel) / 255.0 * (paper - ink) + noise) as u8
                };
            }
        }
        Raster::new(width, height, grey).unwrap()
    }
}

fn blurred(width: usize, height: usize, grey: &[u8]) -> Vec<u8> {
    let mut out = grey.to_vec();
    for y in 1..height - 1 {
        let rows = [y - 1, y, y + 1].map(|y| &grey[y * width..(y + 1) * width]);
        let sum = |x: usize| rows.iter().map(|row| u32::from(row[x])).sum::<u32>();
        let (mut left, mut here) = (sum(0), sum(1));
        for x in 1..width - 1 {
            let right = sum(x + 1);
            out[y * width + x] = ((left + here + right + 4) / 9) as u8;
            (left, here) = (here, right);
        }
    }
    out
}

fn draw(pixmap: &mut Pixmap, mark: &Mark, place: Affine) {
    let [a, b, c, d, e, f] = place.as_coeffs().map(|value| value as f32);
    let transform = Transform::from_row(a, b, c, d, e, f);
    let mut paint = Paint::default();
    paint.set_color_rgba8(0, 0, 0, 255);
    paint.anti_alias = true;
    match &mark.ink {
        Ink::Stroke { path, line } => {
            let stroke = Stroke {
                width: line.width.mm() as f32,
                ..Stroke::default()
            };
            if let Some(path) = skia(path) {
                pixmap.stroke_path(&path, &paint, &stroke, transform, None);
            }
        }
        Ink::Fill { path, shade } => {
            if *shade == Shade::White {
                paint.set_color_rgba8(255, 255, 255, 255);
            }
            if let Some(path) = skia(path) {
                pixmap.fill_path(&path, &paint, FillRule::Winding, transform, None);
            }
        }
        Ink::Text(text) => {
            if let Some(path) = skia(&lettering::outline(text)) {
                pixmap.fill_path(&path, &paint, FillRule::Winding, transform, None);
            }
        }
    }
}

fn skia(path: &BezPath) -> Option<Path> {
    let mut builder = PathBuilder::new();
    let pair = |point: Point| (point.x as f32, point.y as f32);
    for element in path {
        match element {
            PathEl::MoveTo(p) => builder.move_to(pair(p).0, pair(p).1),
            PathEl::LineTo(p) => builder.line_to(pair(p).0, pair(p).1),
            PathEl::QuadTo(p, q) => {
                let (p, q) = (pair(p), pair(q));
                builder.quad_to(p.0, p.1, q.0, q.1);
            }
            PathEl::CurveTo(p, q, r) => {
                let (p, q, r) = (pair(p), pair(q), pair(r));
                builder.cubic_to(p.0, p.1, q.0, q.1, r.0, r.1);
            }
            PathEl::ClosePath => builder.close(),
        }
    }
    builder.finish()
}

/// Sheets of a hatched opening with a front page before it, portrait on this paper.
pub(super) fn set(paper: &str) -> SheetSet {
    let setup = Setup {
        orientation: PageOrientation::Portrait,
        ..Setup::new(Paper::parse(paper).unwrap())
    };
    sheets(&drawing(), &setup).unwrap()
}

fn drawing() -> Drawing {
    let opening = RoundedRect::new(-40.0, 20.0, 40.0, 80.0, 10.0);
    let mut hatch = BezPath::new();
    for step in 0..30 {
        let x = -38.0 + 2.0 * f64::from(step);
        hatch.move_to((x, 30.0));
        hatch.line_to((x + 18.0, 48.0));
    }
    let mut edge = BezPath::new();
    edge.move_to((-70.0, 0.0));
    edge.line_to((70.0, 1.5));
    let words = Text {
        words: "window 80 x 60".into(),
        at: Point::new(0.0, 60.0),
        height: 3.5,
        anchor: Anchor::Middle,
        turn: 0.0,
        heavy: false,
    };
    let line = Line::continuous;
    let work = vec![
        Mark::stroke(Layer::Panel, edge, line(Width::Medium)),
        Mark::stroke(Layer::Waste, hatch, line(Width::Fine)),
        Mark::stroke(Layer::Cut, opening.to_path(0.001), line(Width::Thick)),
        Mark::text(Layer::Text, words),
    ];
    let words = "Check both rulers of every sheet with a steel rule, and cut nothing before. ";
    Drawing {
        warning: Default::default(),
        scale_error: crate::model::clearance::SCALE_ERROR,
        title: TitleBlock {
            owner: "Tarn fitting bay".into(),
            number: "LV2-UP-01".into(),
            revision: "B".into(),
            issued: "2026-03-02".into(),
            title: "Under-panel, bracket neck".into(),
            supplement: "Tarn LV2 van".into(),
            drawn_by: "parts desk".into(),
            approved_by: "bay lead".into(),
            document_type: "Cutting pattern".into(),
            sizes_in: "mm".into(),
            code: "7K3MQ-9XDT2".into(),
        },
        content: String::new(),
        edges: PageEdges {
            head: Direction::Front,
            foot: Direction::Rear,
            left: Direction::Right,
            right: Direction::Left,
        },
        geometry: Geometry {
            marks: work.clone(),
            islands: vec![Island {
                must_show: work.clone(),
                ..Island::default()
            }],
            left_out: vec![],
        },
        work,
        front: Front {
            steps: vec![words.repeat(3); 4],
            ..Front::default()
        },
        record: vec![],
    }
}
