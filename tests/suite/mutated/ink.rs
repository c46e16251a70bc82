//! What a file looks like where cut line and check rulers are, by renderers that take no part in
//! the judging: hayro for PDF, resvg for SVG.

use super::pdf::drop_layer;
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::hayro_syntax::page::Page;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use lopdf::Document;
use resvg::tiny_skia::{Pixmap, Transform};
use std::panic::catch_unwind;

/// Pixels to the inch: the cut line is two pixels wide.
const DOTS: f32 = 72.0;
/// A pixel so much lighter has lost its ink, of 255.
const LOST: u8 = 90;
/// Share of the ink that may be lost, to other ink that was moved over it.
const MOST_LOST: f64 = 0.01;

/// A page's pixels: across, down, and how light each is.
type Picture = (usize, usize, Vec<u8>);

/// How a file looks beside what it was.
#[derive(Debug, PartialEq)]
pub enum Look {
    /// Its cut line and rulers are where they were.
    Same,
    /// They are not, in words.
    Other(String),
    /// The renderer can't draw it.
    NotDrawn,
}

/// A sound file's pictures, and which of their pixels are ink of cut line and rulers.
pub struct Ink {
    pictures: Vec<Picture>,
    ink: Vec<Vec<usize>>,
    is_pdf: bool,
}

impl Ink {
    pub fn of_pdf(bytes: &[u8]) -> Self {
        let mut file = Document::load_mem(bytes).unwrap();
        drop_layer(&mut file, "cut");
        drop_layer(&mut file, "check-ruler");
        let mut without = vec![];
        file.save_to(&mut without).unwrap();
        Self::between(pdf(bytes).unwrap(), &pdf(&without).unwrap(), true)
    }

    pub fn of_svg(text: &str) -> Self {
        let mut without = text.to_owned();
        for layer in ["cut", "check-ruler"] {
            let id = format!("id=\"{layer}\"");
            assert!(without.contains(&id), "{id}");
            without = without.replace(&id, &format!("{id} display=\"none\""));
        }
        let pictures = |text: &str| svg(text.as_bytes()).unwrap();
        Self::between(pictures(text), &pictures(&without), false)
    }

    fn between(pictures: Vec<Picture>, without: &[Picture], is_pdf: bool) -> Self {
        let ink: Vec<Vec<usize>> = pictures
            .iter()
            .zip(without)
            .map(|((.., with), (.., without))| {
                let both = with.iter().zip(without).enumerate();
                both.filter(|(_, (with, without))| without.saturating_sub(**with) > 2 * LOST)
                    .map(|(at, _)| at)
                    .collect()
            })
            .collect();
        assert!(ink.iter().map(Vec::len).sum::<usize>() > 500);
        Self {
            pictures,
            ink,
            is_pdf,
        }
    }

    /// Whether this file looks the same where the ink is.
    pub fn look(&self, bytes: &[u8]) -> Look {
        let read = || {
            if self.is_pdf { pdf(bytes) } else { svg(bytes) }
        };
        // Renderers fall over what is odd elsewhere on a page.
        let Ok(Some(pictures)) = catch_unwind(read) else {
            return Look::NotDrawn;
        };
        if pictures.len() != self.pictures.len() {
            return Look::Other(format!("{} pages", pictures.len()));
        }
        let both = pictures.iter().zip(&self.pictures).zip(&self.ink);
        let other = both.enumerate().find_map(|(page, ((is, was), ink))| {
            if (is.0, is.1) != (was.0, was.1) {
                return Some(format!("page {page} is {} x {} pixels", is.0, is.1));
            }
            let lost = ink
                .iter()
                .filter(|at| is.2[**at].saturating_sub(was.2[**at]) > LOST);
            let lost = lost.count();
            (lost as f64 > MOST_LOST * ink.len() as f64)
                .then(|| format!("page {page} lost {lost} of {} pixels of ink", ink.len()))
        });
        other.map_or(Look::Same, Look::Other)
    }
}

fn pdf(bytes: &[u8]) -> Option<Vec<Picture>> {
    let file = Pdf::new(bytes.to_vec()).ok()?;
    Some(
        file.pages()
            .iter()
            .map(|page| picture(page, DOTS))
            .collect(),
    )
}

fn picture(page: &Page<'_>, dots: f32) -> Picture {
    let settings = PixmapSettings {
        x_scale: dots / 72.0,
        y_scale: dots / 72.0,
        bg_color: WHITE,
    };
    let image = hayro::render(
        page,
        &RenderCache::new(),
        &InterpreterSettings::default(),
        &RenderSettings::default(),
        &settings,
    );
    let light = image.data().iter().map(|pixel| pixel.g).collect();
    (image.width().into(), image.height().into(), light)
}

/// The last page of a PDF as a scanner of so many pixels to the inch sees it.
pub fn last_page(bytes: &[u8], dots: f32) -> Picture {
    picture(
        Pdf::new(bytes.to_vec()).unwrap().pages().last().unwrap(),
        dots,
    )
}

fn svg(bytes: &[u8]) -> Option<Vec<Picture>> {
    let tree = usvg::Tree::from_data(bytes, &usvg::Options::default()).ok()?;
    let scale = DOTS / 96.0;
    let side = |side: f32| (side * scale).ceil() as u32;
    let mut image = Pixmap::new(side(tree.size().width()), side(tree.size().height()))?;
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut image.as_mut(),
    );
    let light = |pixel: &resvg::tiny_skia::PremultipliedColorU8| {
        pixel.green().saturating_add(255 - pixel.alpha())
    };
    let pixels = image.pixels().iter().map(light).collect();
    Some(vec![(
        image.width() as usize,
        image.height() as usize,
        pixels,
    )])
}
