//! Photos of sheets that are made up: tilted, turned, out of focus, dim, grainy, stored as JPEG. What a
//! sheet's symbol says must be read from nearly all, and never anything else.

use crate::common::simulated::Random;
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings, render};
use image::codecs::jpeg::JpegEncoder;
use std::fs;
use std::path::Path;
use trimloft::check::scan::Raster;

/// Photos that are taken.
const PHOTOS: usize = 200;
/// Dots to the millimetre that sheets are rendered at: 300 to the inch.
const DOTS: f64 = 300.0 / 25.4;
/// What of a sheet is in view, mm: its lower left corner.
const SIDE: f64 = 30.0;
/// From the lens to the sheet, mm, as somebody holds a phone over a page.
const DISTANCE: f64 = 350.0;

/// The lower left corner of a sheet, grey, and what its symbol must say.
struct Corner {
    side: usize,
    grey: Vec<f64>,
    says: String,
}

fn corners() -> Vec<Corner> {
    let out = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/out"));
    let codes = include_str!("papers.txt");
    let of = |stem: &str, definition: &str, revision: &str, page: usize| {
        let code = codes.lines().find_map(|line| line.strip_prefix(definition));
        let file = Pdf::new(fs::read(out.join(format!("{stem}-{revision}.pdf"))).unwrap()).unwrap();
        let count = file.pages().len();
        let settings = PixmapSettings {
            x_scale: (DOTS * 25.4 / 72.0) as f32,
            y_scale: (DOTS * 25.4 / 72.0) as f32,
            bg_color: WHITE,
        };
        let picture = render(
            &file.pages()[page],
            &RenderCache::new(),
            &InterpreterSettings::default(),
            &RenderSettings::default(),
            &settings,
        );
        let (width, height) = (usize::from(picture.width()), usize::from(picture.height()));
        let side = (SIDE * DOTS) as usize;
        let rows = (height - side..height).flat_map(|y| (0..side).map(move |x| y * width + x));
        Corner {
            side,
            grey: rows.map(|at| f64::from(picture.data()[at].g)).collect(),
            says: format!(
                "TL1 {stem} {revision} {} {}/{count}",
                code.unwrap().trim(),
                page + 1
            ),
        }
    };
    vec![
        of("LV2-UP-01", "under-panel.toml ", "B", 1),
        of("LV2-FA-02", "fascia-socket.toml ", "A", 1),
        of("LV2-HS-03", "heat-shield.toml ", "A", 0),
    ]
}

impl Corner {
    /// The grey at a place, mm from the upper left; beyond the sheet a dark bench, and beyond what was
    /// rendered, paper.
    fn at(&self, x: f64, y: f64) -> f64 {
        if x < 0.0 || y > SIDE {
            return 70.0;
        }
        let (x, y) = (x * DOTS - 0.5, y * DOTS - 0.5);
        let most = (self.side - 2) as f64;
        if x > most || y < 0.0 {
            return 255.0;
        }
        let (x, y) = (x.max(0.0), y.min(most));
        let (column, row) = (x as usize, y as usize);
        let (dx, dy) = (x - column as f64, y - row as f64);
        let dot = |dx: usize, dy: usize| self.grey[(row + dy) * self.side + column + dx];
        let upper = dot(0, 0) * (1.0 - dx) + dot(1, 0) * dx;
        let lower = dot(0, 1) * (1.0 - dx) + dot(1, 1) * dx;
        upper * (1.0 - dy) + lower * dy
    }
}

/// How a photo is taken.
#[derive(Debug)]
struct Shot {
    /// Tilt of the sheet against the picture, and the way that its axis lies, and how the sheet is
    /// turned, radians.
    tilt: f64,
    axis: f64,
    turn: f64,
    /// Pixels to the millimetre in the middle.
    pixels: f64,
    /// Standard deviation of the blur, pixels.
    blur: f64,
    /// Light, as a share of paper's white, and how much of it is lost from one side to the other.
    light: f64,
    fall: f64,
    /// Standard deviation of the grain, of 255.
    grain: f64,
    quality: u8,
}

impl Shot {
    fn by_chance(random: &mut Random) -> Self {
        let turn = std::f64::consts::PI;
        Self {
            tilt: random.between(0.0, 30.0_f64.to_radians()),
            axis: random.between(-turn, turn),
            turn: random.between(-turn, turn),
            // A4 in 8 to 20 megapixels, filling two thirds of the picture and more.
            pixels: random.between(7.5, 14.0),
            blur: random.between(0.4, 1.6),
            light: random.between(0.25, 0.95),
            fall: random.between(0.0, 0.4),
            grain: random.between(0.0, 8.0),
            quality: random.between(55.0, 95.0) as u8,
        }
    }

    /// The photo as JPEG.
    fn taken(&self, of: &Corner, random: &mut Random) -> Vec<u8> {
        let side = (SIDE * self.pixels) as usize;
        let half = side as f64 / 2.0;
        let on_sheet = self.on_sheet();
        let mut picture: Vec<f64> = Vec::with_capacity(side * side);
        for row in 0..side {
            for column in 0..side {
                let (x, y) = on_sheet(
                    (column as f64 + 0.5 - half) / self.pixels,
                    (row as f64 + 0.5 - half) / self.pixels,
                );
                let light = self.light * (1.0 - self.fall * column as f64 / side as f64);
                picture.push(light * of.at(x + 0.42 * SIDE, y + 0.58 * SIDE));
            }
        }
        let picture = blurred(blurred(picture, side, self.blur), side, self.blur);
        // Two throws make a deviation of 0.816 (each 1 by the root of 3).
        let mut grain = || self.grain / 0.816 * (random.either_way() + random.either_way());
        let grey: Vec<u8> = picture
            .into_iter()
            .map(|grey| (grey + grain()).clamp(0.0, 255.0) as u8)
            .collect();
        let mut bytes = vec![];
        JpegEncoder::new_with_quality(&mut bytes, self.quality)
            .encode(
                &grey,
                side as u32,
                side as u32,
                image::ExtendedColorType::L8,
            )
            .unwrap();
        bytes
    }

    /// Where a ray through a place of the picture, mm from its middle, meets the sheet, mm from the point
    /// that is looked at: a pinhole [`DISTANCE`] off.
    fn on_sheet(&self) -> impl Fn(f64, f64) -> (f64, f64) {
        let (sin, cos) = self.axis.sin_cos();
        let (lean, upright) = self.tilt.sin_cos();
        let (turned, straight) = self.turn.sin_cos();
        move |x, y| {
            // Across the axis of tilt, and along it.
            let (across, along) = (x * cos + y * sin, -x * sin + y * cos);
            let reach = DISTANCE / (DISTANCE * upright - across * lean);
            let (across, along) = (across * reach, along * reach * upright);
            let (x, y) = (across * cos - along * sin, across * sin + along * cos);
            (x * straight - y * turned, x * turned + y * straight)
        }
    }
}

/// A square picture blurred along its rows and turned over its diagonal: twice is once each way.
fn blurred(picture: Vec<f64>, side: usize, deviation: f64) -> Vec<f64> {
    let reach = (3.0 * deviation).ceil() as isize;
    let bell = |at: isize| (-0.5 * (at as f64 / deviation).powi(2)).exp();
    let whole: f64 = (-reach..=reach).map(bell).sum();
    let weights: Vec<f64> = (-reach..=reach).map(|at| bell(at) / whole).collect();
    let mut out = vec![0.0; picture.len()];
    for (row, pixels) in picture.chunks(side).enumerate() {
        for column in 0..side {
            let near = weights.iter().zip(-reach..).map(|(weight, by)| {
                let at = (column as isize + by).clamp(0, side as isize - 1);
                weight * pixels[at as usize]
            });
            out[column * side + row] = near.sum();
        }
    }
    out
}

#[test]
fn sheets_are_told_from_photos() {
    let corners = corners();
    let mut random = Random(16);
    let (mut read, mut missed) = (0, vec![]);
    for photo in 0..PHOTOS {
        let corner = &corners[photo % corners.len()];
        let shot = Shot::by_chance(&mut random);
        let bytes = shot.taken(corner, &mut random);
        match Raster::decode(&bytes).unwrap().page_names() {
            Ok(names) => {
                let names: Vec<String> = names.iter().map(ToString::to_string).collect();
                assert_eq!(names, [corner.says.as_str()], "{shot:?}");
                read += 1;
            }
            Err(_) => missed.push(shot),
        }
    }
    println!("{read} of {PHOTOS} read");
    assert!(read * 100 >= PHOTOS * 95, "{read} of {PHOTOS}: {missed:#?}");
}

#[test]
fn what_shows_no_symbol_is_said_to_show_none() {
    let blank = Raster::new(400, 300, vec![200; 120_000]).unwrap();
    let error = blank.page_names().unwrap_err().to_string();
    assert!(error.contains("no sheet's code"), "{error}");
}
