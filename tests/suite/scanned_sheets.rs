//! Sheets rasterised by an outside library, then scaled, skewed, blurred and speckled: the rulers
//! give the scale back within 0.05 %.

use crate::common::bench::Bench;
use crate::common::{root, shipped};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use lopdf::{Document, Stream, dictionary};
use trimloft::check::scale::{Measured, Printer, Scales};
use trimloft::check::scan::{Raster, RulerKind, Scanner, SheetScale, measure};
use trimloft::input::{PatternSpec, Source};
use trimloft::jobs::produce::{Formats, produce, produce_for};
use trimloft::layout::{Paper, Setup};

const FORMATS: Formats = Formats {
    pdf: true,
    svg: false,
    view: false,
};

fn spec() -> PatternSpec {
    let path = root().join("shapes/demo/under-panel.toml");
    let text = std::fs::read_to_string(&path).unwrap();
    PatternSpec::read(&Source::new(path, text)).unwrap()
}

fn setup() -> Setup {
    let mut setup = Setup::new(Paper::parse("a4").unwrap());
    setup.one_page = true;
    setup
}

/// The sheet of an ordinary pattern, title block and all.
fn sheet() -> Vec<u8> {
    let product = produce(&spec(), &shipped(), &setup(), FORMATS).unwrap();
    product.pdf.unwrap()
}

/// The same with its page printed through this matrix, about the middle of the paper.
fn printed(pdf: &[u8], (x, y): (f64, f64), turn: f64) -> Vec<u8> {
    let mut file = Document::load_mem(pdf).unwrap();
    let id = file.get_pages()[&1];
    let content = file.get_page_content(id);
    let (sine, cosine) = turn.to_radians().sin_cos();
    // Scaled by the printer, then laid turned on the glass; a larger page holds the corners.
    let matrix = [x * cosine, x * sine, -y * sine, y * cosine, 60.0, 60.0];
    let matrix: Vec<String> = matrix.iter().map(|part| format!("{part:.9}")).collect();
    let mut all = format!("q {} cm\n", matrix.join(" ")).into_bytes();
    all.extend(content);
    all.extend(b"\nQ");
    let stream = file.add_object(Stream::new(dictionary! {}, all));
    let page = file.get_dictionary_mut(id).unwrap();
    page.set("Contents", stream);
    for name in ["MediaBox", "CropBox"] {
        page.set(name, vec![0.into(), 0.into(), 760.into(), 1020.into()]);
    }
    let mut bytes = vec![];
    file.save_to(&mut bytes).unwrap();
    bytes
}

fn rasterised(pdf: Vec<u8>, dpi: f64) -> (usize, usize, Vec<u8>) {
    let pdf = Pdf::new(pdf).unwrap();
    let scale = (dpi / 72.0) as f32;
    let settings = PixmapSettings {
        x_scale: scale,
        y_scale: scale,
        bg_color: WHITE,
    };
    let image = hayro::render(
        &pdf.pages()[0],
        &RenderCache::new(),
        &InterpreterSettings::default(),
        &RenderSettings::default(),
        &settings,
    );
    let grey = image.data().iter().map(|pixel| pixel.g).collect();
    (image.width().into(), image.height().into(), grey)
}

/// Blurred over three pixels, greyed, and speckled: one pixel in 400 black or white.
fn worn((width, height, grey): (usize, usize, Vec<u8>)) -> (usize, usize, Vec<u8>) {
    let mut worn = grey.clone();
    for y in 1..height - 1 {
        for x in 1..width - 1 {
            let mut sum = 0_u32;
            for row in y - 1..=y + 1 {
                let at = row * width + x;
                sum += grey[at - 1..=at + 1]
                    .iter()
                    .map(|p| u32::from(*p))
                    .sum::<u32>();
            }
            worn[y * width + x] = (30 + sum * 200 / (9 * 255)) as u8;
        }
    }
    let mut seed = 11_u64;
    for _ in 0..width * height / 400 {
        // Knuth's MMIX constants.
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let at = (seed >> 33) as usize % (width * height);
        worn[at] = if seed & (1 << 32) == 0 { 0 } else { 255 };
    }
    (width, height, worn)
}

fn found((width, height, grey): (usize, usize, Vec<u8>), dpi: f64) -> SheetScale {
    let raster = Raster::new(width, height, grey).unwrap();
    let scanner = Scanner {
        dpi,
        own_scale: None,
    };
    measure(&raster, &scanner).unwrap_or_else(|error| panic!("{error}"))
}

#[track_caller]
fn assert_recovered(dpi: f64, scale: (f64, f64), turn: f64) {
    let picture = worn(rasterised(printed(&sheet(), scale, turn), dpi));
    let found = found(picture, dpi);
    for (is, should) in [(found.across, scale.0), (found.down, scale.1)] {
        let off = is.value / should - 1.0;
        assert!(
            off.abs() < 5e-4,
            "{off} at {dpi} dpi, {scale:?}, {turn} degrees"
        );
    }
    assert!(
        (found.turn - turn).abs() < 0.05,
        "{} for {turn}",
        found.turn
    );
    assert_eq!(found.rulers.len(), 4);
}

#[test]
fn scales_at_150_dpi() {
    for (step, turn) in [-2.0, -1.3, -0.4, 0.0, 0.2, 0.9, 1.6, 2.0]
        .into_iter()
        .enumerate()
    {
        let scale = 0.93 + 0.02 * step as f64;
        assert_recovered(150.0, (scale, 2.0 - scale), turn);
    }
}

#[test]
fn scales_at_300_dpi() {
    assert_recovered(300.0, (0.9597, 0.9597), -1.1);
    assert_recovered(300.0, (1.07, 1.004), 2.0);
}

#[test]
fn scales_at_600_dpi() {
    assert_recovered(600.0, (0.994, 0.93), 1.7);
}

#[test]
fn sheets_corrected_for_a_printer_measure_true_when_printed_there() {
    let exact = |value| {
        Some(Measured {
            value,
            uncertainty: 0.0,
        })
    };
    let scales = Scales {
        across: exact(0.994),
        down: exact(0.997),
        skew: None,
    };
    let printer = Printer::new("front desk", "2026-03-02", &scales, "a4", 6.35).unwrap();
    let product = produce_for(&spec(), &shipped(), &setup(), FORMATS, Some(&printer)).unwrap();
    let picture = rasterised(printed(&product.pdf.unwrap(), (0.994, 0.997), 0.0), 300.0);
    let (width, height, grey) = &picture;
    let mut pgm = format!("P5\n{width} {height}\n255\n").into_bytes();
    pgm.extend_from_slice(grey);
    let told = Bench::new()
        .file("page.pgm", pgm)
        .run("scale --scan page.pgm --dpi 300 --farthest 100,100 --print 1.5")
        .exits(0);
    for piece in ["good to cut", "cannot tell: the scanner's own scale"] {
        assert!(told.stdout.contains(piece), "{piece}: {told:#?}");
    }
    for ruler in found(picture, 300.0).rulers {
        let nominal = match ruler.kind {
            RulerKind::Metric => 100.0,
            RulerKind::Inches => 101.6,
        };
        assert!((ruler.reads - nominal).abs() < 0.02, "{ruler:?}");
    }
}
