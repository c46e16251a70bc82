//! Sheets rasterised by an outside library, then scaled, skewed, blurred and speckled: the rulers
//! give the scale back within 0.05 %.

use crate::common::bench::Bench;
use crate::common::{root, shipped};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use lopdf::{Document, Object, Stream, dictionary};
use trimloft::check::scale::{Measured, Printer, Scales};
use trimloft::check::scan::{Raster, RulerKind, ScanError, Scanner, SheetScale, measure};
use trimloft::input::{PatternSpec, Source};
use trimloft::jobs::produce::{Formats, produce, produce_for};
use trimloft::layout::{PageOrientation, Paper, Setup};

const FORMATS: Formats = Formats {
    pdf: true,
    svg: false,
    view: false,
    closed: false,
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
fn printed(pdf: &[u8], scale: (f64, f64), turn: f64) -> Vec<u8> {
    let mut file = Document::load_mem(pdf).unwrap();
    print(&mut file, 1, scale, turn, 0.0);
    let mut bytes = vec![];
    file.save_to(&mut bytes).unwrap();
    bytes
}

/// Scales a page as a printer does, shears it as a skewed feed does, the head to the right, and lays
/// it turned on the glass, degrees.
fn print(file: &mut Document, page: u32, (x, y): (f64, f64), turn: f64, skew: f64) {
    let id = file.get_pages()[&page];
    let content = file.get_page_content(id);
    let (sine, cosine) = turn.to_radians().sin_cos();
    let (up_sine, up_cosine) = (turn - skew).to_radians().sin_cos();
    // A larger page holds the corners.
    let matrix = [
        x * cosine,
        x * sine,
        -y * up_sine,
        y * up_cosine,
        90.0,
        60.0,
    ];
    let matrix: Vec<String> = matrix.iter().map(|part| format!("{part:.9}")).collect();
    let mut all = format!("q {} cm\n", matrix.join(" ")).into_bytes();
    all.extend(content);
    all.extend(b"\nQ");
    let stream = file.add_object(Stream::new(dictionary! {}, all));
    let page = file.get_dictionary_mut(id).unwrap();
    page.set("Contents", stream);
    for name in ["MediaBox", "CropBox"] {
        page.set(name, vec![0.into(), 0.into(), 1000.into(), 1020.into()]);
    }
}

fn rasterised(pdf: Vec<u8>, dpi: f64) -> (usize, usize, Vec<u8>) {
    page_of(pdf, 1, dpi)
}

pub fn page_of(pdf: Vec<u8>, page: u32, dpi: f64) -> (usize, usize, Vec<u8>) {
    let pdf = Pdf::new(pdf).unwrap();
    let scale = (dpi / 72.0) as f32;
    let settings = PixmapSettings {
        x_scale: scale,
        y_scale: scale,
        bg_color: WHITE,
    };
    let image = hayro::render(
        &pdf.pages()[page as usize - 1],
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

/// The picture mirrored left to right, if so, and then turned by quarters counter-clockwise.
fn laid(picture: &(usize, usize, Vec<u8>), mirrored: bool, quarters: u8) -> Raster {
    let (width, height, grey) = picture;
    let (width, height) = (*width, *height);
    let (wide, high) = match quarters % 2 {
        0 => (width, height),
        _ => (height, width),
    };
    let source = |x: usize, y: usize| {
        let (x, y) = match quarters {
            0 => (x, y),
            1 => (width - 1 - y, x),
            2 => (width - 1 - x, height - 1 - y),
            _ => (y, height - 1 - x),
        };
        let x = if mirrored { width - 1 - x } else { x };
        grey[y * width + x]
    };
    let pixels = (0..high).flat_map(|y| (0..wide).map(move |x| (x, y)));
    Raster::new(wide, high, pixels.map(|(x, y)| source(x, y)).collect()).unwrap()
}

/// How a page is printed and scanned.
#[derive(Debug, Clone, Copy)]
struct Scan {
    dpi: f64,
    scale: (f64, f64),
    turn: f64,
    skew: f64,
}

/// All eight ways that a page can lie, rendered once and turned as pixels: four are measured rightly,
/// and none of the mirrored is. Returns how many were measured, and how many told to be mirrored.
/// Only a part of the page is scanned where one is given.
fn all_eight(
    pdf: &[u8],
    page: u32,
    scan: Scan,
    part: Option<[i64; 4]>,
    what: &str,
) -> (usize, usize) {
    let mut file = Document::load_mem(pdf).unwrap();
    print(&mut file, page, scan.scale, scan.turn, scan.skew);
    if let Some(part) = part {
        let id = file.get_pages()[&page];
        let dictionary = file.get_dictionary_mut(id).unwrap();
        for name in ["MediaBox", "CropBox"] {
            dictionary.set(name, part.map(Object::from).to_vec());
        }
    }
    let mut bytes = vec![];
    file.save_to(&mut bytes).unwrap();
    let picture = worn(page_of(bytes, page, scan.dpi));
    let scanner = Scanner {
        dpi: scan.dpi,
        own_scale: None,
    };
    let (mut measured, mut mirrors) = (0, 0);
    for mirrored in [false, true] {
        for quarters in 0..4 {
            let told = format!("{what}, page {page}, {scan:?}, {mirrored} {quarters}");
            let found = match measure(&laid(&picture, mirrored, quarters), &scanner) {
                Ok(found) => found,
                Err(error) => {
                    let words = error.to_string();
                    assert!(words.starts_with("cannot tell: "), "{words}: {told}");
                    // What 100 dpi can't tell is said.
                    assert!(mirrored || scan.dpi < 150.0, "{words}: {told}");
                    mirrors += usize::from(matches!(error, ScanError::Mirrored));
                    continue;
                }
            };
            assert!(!mirrored, "{found:?}: {told}");
            measured += 1;
            for (is, should) in [(found.across, scan.scale.0), (found.down, scan.scale.1)] {
                let off = (is.value / should - 1.0).abs();
                assert!(off < 1e-3, "{off}: {told}");
            }
            let turn = found.turn - scan.turn - 90.0 * f64::from(quarters);
            let turn = (turn + 540.0).rem_euclid(360.0) - 180.0;
            assert!(turn.abs() < 0.1, "{found:?}: {told}");
            let shear = found.skew.value - scan.skew;
            assert!(shear.abs() < 0.1, "{found:?}: {told}");
        }
    }
    (measured, mirrors)
}

/// Pages of a demo, landscape or portrait.
fn pages(name: &str, orientation: PageOrientation) -> (Vec<u8>, u32) {
    let path = root().join(format!("shapes/demo/{name}.toml"));
    let text = std::fs::read_to_string(&path).unwrap();
    let spec = PatternSpec::read(&Source::new(path, text)).unwrap();
    let setup = Setup {
        orientation,
        ..Setup::new(Paper::parse("a4").unwrap())
    };
    let product = produce(&spec, &shipped(), &setup, FORMATS).unwrap();
    let pdf = product.pdf.unwrap();
    let count = Document::load_mem(&pdf).unwrap().get_pages().len() as u32;
    (pdf, count)
}

/// A demo, its orientation, whether its work or its words, dpi, turn and shear.
type Sheet = (&'static str, PageOrientation, bool, f64, (f64, f64));

fn scanned_all_ways(sheets: &[Sheet]) {
    for (at, (name, orientation, work, dpi, (turn, skew))) in sheets.iter().copied().enumerate() {
        let (pdf, count) = pages(name, orientation);
        let scan = Scan {
            dpi,
            scale: (0.994 + 0.003 * at as f64, 1.004 - 0.002 * at as f64),
            turn,
            skew,
        };
        // Words first, the work last.
        let page = if work { count } else { 1 };
        let found = all_eight(&pdf, page, scan, None, name);
        let told = format!("{found:?} measured and mirrored: {name}, {scan:?}");
        assert_eq!(found, (4, 4), "{told}");
    }
}

#[test]
fn every_demo_in_all_eight_orientations() {
    scanned_all_ways(&[
        (
            "under-panel",
            PageOrientation::Portrait,
            true,
            150.0,
            (0.7, 0.0),
        ),
        (
            "under-panel",
            PageOrientation::Landscape,
            false,
            150.0,
            (-2.0, 0.0),
        ),
        (
            "fascia-socket",
            PageOrientation::Landscape,
            true,
            150.0,
            (1.4, 2.0),
        ),
        (
            "fascia-wide",
            PageOrientation::Portrait,
            false,
            150.0,
            (-0.6, -1.1),
        ),
    ]);
}

/// Lower left corner of a page, with its rulers and room for any turn: the rest takes time only.
const CORNER: [i64; 4] = [30, 20, 480, 470];

#[test]
fn every_demo_at_every_resolution_in_all_eight_orientations() {
    let demos = ["fascia-socket", "fascia-wide", "heat-shield", "under-panel"];
    let (mut sheets, mut told) = (0, 0);
    for (row, name) in demos.into_iter().enumerate() {
        for (column, dpi) in [100.0, 150.0, 200.0, 300.0, 600.0].into_iter().enumerate() {
            let at = 5 * row + column;
            let orientation = [PageOrientation::Portrait, PageOrientation::Landscape][at % 2];
            let (pdf, count) = pages(name, orientation);
            let share = at as f64 / 19.0;
            let scan = Scan {
                dpi,
                scale: (0.985 + 0.03 * share, 1.01 - 0.025 * share),
                // From -2 to 2, a step and a half round at a time.
                turn: (1.5 * at as f64).rem_euclid(4.0) - 2.0,
                skew: [0.0, 1.6, -0.9, 0.3][at % 4],
            };
            let page = if at % 3 == 0 { 1 } else { count };
            let found = all_eight(&pdf, page, scan, Some(CORNER), name);
            // What 100 dpi can't tell may stay so, but is never told wrongly.
            if dpi >= 150.0 {
                assert_eq!(found, (4, 4), "{name}, {scan:?}");
            }
            sheets += 1;
            told += found.0 + found.1;
        }
    }
    println!("{sheets} sheets, of {} ways {told} told", 8 * sheets);
    assert!(told >= 8 * 16, "{told}");
}

/// The sheet as a file that the command reads.
fn page_file(raster: &Raster) -> Vec<u8> {
    let mut pgm = format!("P5\n{} {}\n255\n", raster.width(), raster.height()).into_bytes();
    pgm.extend_from_slice(raster.grey());
    pgm
}

#[test]
fn what_a_scan_cannot_tell_or_tells_to_be_bad_ends_with_status_1() {
    let mut file = Document::load_mem(&sheet()).unwrap();
    print(&mut file, 1, (1.0, 1.0), 0.4, 0.0);
    let mut straight = vec![];
    file.save_to(&mut straight).unwrap();
    let picture = worn(rasterised(straight, 150.0));
    let mut file = Document::load_mem(&sheet()).unwrap();
    print(&mut file, 1, (1.0, 1.0), 0.4, 1.5);
    let mut sheared = vec![];
    file.save_to(&mut sheared).unwrap();
    let sheared = worn(rasterised(sheared, 150.0));
    let bench = Bench::new()
        .file("true.pgm", page_file(&laid(&picture, false, 1)))
        .file("mirrored.pgm", page_file(&laid(&picture, true, 1)))
        .file("sheared.pgm", page_file(&laid(&sheared, false, 0)));
    bench.run("scale --scan true.pgm --dpi 150").exits(0);
    bench
        .run("scale --scan true.pgm --dpi 150 --paper a4")
        .exits(0);
    for (line, words) in [
        ("--scan mirrored.pgm", "cannot tell: the sheet is mirrored"),
        (
            "--scan true.pgm --paper letter",
            "cannot tell: the frame of this sheet is not that of",
        ),
        (
            "--scan true.pgm --orientation landscape --save kept.toml",
            "cannot tell: the frame of this sheet",
        ),
    ] {
        let told = bench.run(&format!("scale {line} --dpi 150")).exits(1);
        assert!(told.stderr.contains(words), "{line}: {told:#?}");
    }
    let told = bench.run("scale --scan sheared.pgm --dpi 150").exits(1);
    for piece in ["square: 1.", "do not cut", "degrees from square"] {
        assert!(told.stdout.contains(piece), "{piece}: {told:#?}");
    }
}
