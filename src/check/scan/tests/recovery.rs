//! Known scales, found again.

use super::super::{Raster, RulerKind, ScanError, Scanner, SheetScale, measure};
use super::picture::{Scan, set};
use crate::check::scale::{Measured, Printer, Scales};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};

/// Little more than the rulers need.
const SMALL: &str = "custom_small_195x200mm";

const PLAIN: fn(f64) -> Scanner = |dpi| Scanner {
    dpi,
    own_scale: None,
};

/// A ruler within 0.05 % of what was planted, with an uncertainty that says so.
fn recovers(scan: &Scan, found: Result<SheetScale, ScanError>, turn: f64) {
    let found = found.unwrap_or_else(|error| panic!("{error} in {scan:?}"));
    let pairs = [(found.across, scan.scale.0), (found.down, scan.scale.1)];
    for (measured, planted) in pairs {
        let off = measured.value / planted - 1.0;
        assert!(off.abs() < 5e-4, "{off} off in {scan:?}: {found:?}");
        assert!(measured.uncertainty < 1e-3, "{found:?} in {scan:?}");
        assert!(
            off.abs() < measured.uncertainty + 1e-4,
            "{off} is not within {measured:?} in {scan:?}"
        );
    }
    assert!(
        (found.skew.value - scan.skew).abs() < 0.05,
        "{found:?} in {scan:?}"
    );
    let turned = (found.turn - turn + 540.0).rem_euclid(360.0) - 180.0;
    assert!(turned.abs() < 0.05, "{found:?} in {scan:?}");
    assert_eq!(found.rulers.len(), 4, "{found:?}");
    for ruler in &found.rulers {
        assert!(
            ruler.residual.abs() < 0.05 && ruler.roughness < 0.1,
            "{ruler:?} in {scan:?}"
        );
    }
}

fn check(paper: &str, page: usize, scans: &[Scan]) {
    let set = set(paper);
    for scan in scans {
        let raster = scan.of(&set.pages[page], set.size);
        recovers(scan, measure(&raster, &PLAIN(scan.dpi)), scan.turn);
    }
}

fn printed(dpi: f64, scale: (f64, f64), turn: f64) -> Scan {
    Scan {
        scale,
        turn,
        ..Scan::at(dpi)
    }
}

#[test]
fn clean_sheets_at_150_dpi() {
    let scans = [
        printed(150.0, (1.0, 1.0), 0.0),
        printed(150.0, (0.93, 1.07), 2.0),
    ];
    check(SMALL, 1, &scans);
}

#[test]
fn worn_sheets_at_150_dpi() {
    check("a4", 1, &[printed(150.0, (0.9597, 0.9597), 0.4).worn()]);
    check("letter", 1, &[printed(150.0, (1.07, 0.93), -2.0).worn()]);
}

/// Specks beside its ends make a base line longer than its ruler by most of an interval.
#[test]
fn specks_at_the_ends_of_a_ruler() {
    let set = set(SMALL);
    let scan = Scan::at(300.0);
    let clean = scan.of(&set.pages[1], set.size);
    let (width, height) = (clean.width(), clean.height());
    let pixels = scan.dpi / 25.4;
    // The frame starts 21.85 mm in and the scan 3.37 mm out; metric rulers start 4 mm from its
    // corner, 4 mm below it and 5.5 mm to its left.
    let frame = 21.85 + 3.37;
    let (zero, foot, left) = (frame + 4.0, frame - 4.0, frame - 5.5);
    for end in [zero, zero + 100.0] {
        let mut grey = clean.grey().to_vec();
        let away = if end > zero { 1.0 } else { -1.0 };
        for by in [0.35, 0.7] {
            let pixel = |length: f64| (length * pixels) as usize;
            // As high as the line, so that they lengthen it wherever it is followed.
            for beside in 0..7 {
                let across = (pixel(end + away * by), pixel(foot) + beside - 3);
                let down = (pixel(left) + beside - 3, pixel(end + away * by));
                for (x, y) in [across, down] {
                    grey[(height - y) * width + x] = 0;
                }
            }
        }
        let raster = Raster::new(width, height, grey).unwrap();
        recovers(&scan, measure(&raster, &PLAIN(scan.dpi)), 0.0);
    }
}

#[test]
fn instruction_sheets_full_of_lettering() {
    check("a4", 0, &[printed(150.0, (0.97, 0.985), 1.1).worn()]);
}

#[test]
fn a_sheet_at_300_dpi() {
    check("a4", 1, &[printed(300.0, (0.93, 0.95), -1.7).worn()]);
}

#[test]
fn a_sheet_at_600_dpi() {
    check(SMALL, 1, &[printed(600.0, (0.994, 1.013), 1.9).worn()]);
}

#[test]
fn lying_sheets_and_upside_down_ones() {
    let scans = [90.0, 181.5, -91.0].map(|turn| printed(150.0, (0.98, 1.02), turn).worn());
    check(SMALL, 1, &scans);
}

/// Scales, turns, skews and wear as they come; `TRIMLOFT_SCANS` sets how many.
#[test]
fn sheets_as_they_come() {
    let count = std::env::var("TRIMLOFT_SCANS")
        .ok()
        .and_then(|count| count.parse().ok());
    let set = set(SMALL);
    let mut random = 0x9e37_79b9_7f4a_7c15_u64;
    let mut between = |low: f64, high: f64| {
        random ^= random << 13;
        random ^= random >> 7;
        random ^= random << 17;
        low + (high - low) * (random >> 11) as f64 / (1_u64 << 53) as f64
    };
    for _ in 0..count.unwrap_or(2) {
        let quarters = between(-1.5, 2.5).round();
        let scan = Scan {
            dpi: between(150.0, 320.0).round(),
            scale: (between(0.93, 1.07), between(0.93, 1.07)),
            skew: between(-1.0, 1.0),
            turn: 90.0 * quarters + between(-2.0, 2.0),
            mirrored: false,
            blur: between(0.0, 2.99) as usize,
            speckle: between(0.0, 0.01),
            noise: between(0.0, 25.0),
            tones: (between(0.0, 100.0), between(190.0, 255.0)),
        };
        let raster = scan.of(&set.pages[between(0.0, 2.0) as usize], set.size);
        recovers(&scan, measure(&raster, &PLAIN(scan.dpi)), scan.turn);
    }
}

#[test]
fn skewed_feed_is_told_from_a_turned_sheet() {
    let scans = [0.8, -1.5].map(|skew| Scan {
        skew,
        ..printed(150.0, (1.01, 0.99), 0.9)
    });
    check(SMALL, 1, &scans);
}

#[test]
fn half_size_and_half_as_large_again() {
    let scans = [
        printed(250.0, (0.55, 0.55), 0.7),
        printed(150.0, (1.45, 1.45), -0.7),
    ];
    check(SMALL, 1, &scans);
}

#[test]
fn the_scanner_s_own_scale_is_taken_out() {
    let set = set(SMALL);
    // Scanned landscape, so that the glass's length runs along the sheet's width.
    let scan = printed(150.0, (1.01, 1.0), 90.0);
    let raster = scan.of(&set.pages[1], set.size);
    let scanner = Scanner {
        dpi: 150.0,
        own_scale: Some((1.002, 0.997)),
    };
    let found = measure(&raster, &scanner).unwrap();
    assert!(
        (found.across.value - 1.01 / 0.997).abs() < 3e-4,
        "{found:?}"
    );
    assert!((found.down.value - 1.0 / 1.002).abs() < 3e-4, "{found:?}");
    assert!(found.cannot_tell().is_empty());
    let found = measure(&raster, &PLAIN(150.0)).unwrap();
    assert!(found.cannot_tell()[0].starts_with("the scanner's own scale"));
}

#[test]
fn a_corrected_page_measures_true_on_its_printer() {
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
    let printer = Printer::new("front desk", "", &scales, "a4", 6.35).unwrap();
    let set = printer.correct(&set(SMALL), false);
    let scan = printed(300.0, (0.994, 0.997), 0.0);
    let raster = scan.of(&set.pages[1], set.size);
    let found = measure(&raster, &PLAIN(300.0)).unwrap();
    for ruler in &found.rulers {
        let nominal = match ruler.kind {
            RulerKind::Metric => 100.0,
            RulerKind::Inches => 101.6,
        };
        assert!((ruler.reads - nominal).abs() < 0.02, "{ruler:?}");
    }
}

#[test]
fn the_pdf_itself_rasterised_by_another_library() {
    let set = set("a4");
    let bytes = crate::output::pdf(&set).unwrap();
    let pdf = Pdf::new(bytes).unwrap();
    let dpi = 200.0;
    let settings = PixmapSettings {
        x_scale: (dpi / 72.0) as f32,
        y_scale: (dpi / 72.0) as f32,
        bg_color: WHITE,
    };
    let page = &pdf.pages()[1];
    let cache = RenderCache::new();
    let image = hayro::render(
        page,
        &cache,
        &InterpreterSettings::default(),
        &RenderSettings::default(),
        &settings,
    );
    let grey = image.data().iter().map(|pixel| pixel.g).collect();
    let scan = Scan::at(dpi);
    let raster = scan.spoilt(image.width().into(), image.height().into(), grey);
    recovers(&scan, measure(&raster, &PLAIN(dpi)), 0.0);
}
