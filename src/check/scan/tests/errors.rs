//! What can't be told is said.

use super::super::{Raster, ScanError, Scanner, measure};
use super::picture::{Scan, set};
use kurbo::Size;

const SCANNER: Scanner = Scanner {
    dpi: 150.0,
    own_scale: None,
};

const SMALL: &str = "custom_small_195x200mm";

fn part(raster: &Raster, x: std::ops::Range<usize>, y: std::ops::Range<usize>) -> Raster {
    let rows = raster.grey().chunks_exact(raster.width());
    let kept = rows.skip(y.start).take(y.len());
    let grey = kept.flat_map(|row| row[x.clone()].to_vec()).collect();
    Raster::new(x.len(), y.len(), grey).unwrap()
}

#[test]
fn a_mirrored_sheet_is_refused() {
    let set = set(SMALL);
    for turn in [0.5, 90.0] {
        let scan = Scan {
            mirrored: true,
            turn,
            ..Scan::at(150.0)
        };
        let raster = scan.of(&set.pages[1], set.size);
        let found = measure(&raster, &SCANNER);
        assert!(matches!(found, Err(ScanError::Mirrored)), "{found:?}");
    }
}

/// The picture with one of its four rulers painted over.
fn without(raster: &Raster, [from_x, to_x, from_y, to_y]: [f64; 4]) -> Raster {
    let pixels = SCANNER.dpi / 25.4;
    let (width, height) = (raster.width(), raster.height());
    let mut grey = raster.grey().to_vec();
    for (at, pixel) in grey.iter_mut().enumerate() {
        let (x, y) = (
            (at % width) as f64 / pixels,
            (height - at / width) as f64 / pixels,
        );
        if (from_x..to_x).contains(&x) && (from_y..to_y).contains(&y) {
            *pixel = 255;
        }
    }
    Raster::new(width, height, grey).unwrap()
}

#[test]
fn a_sheet_that_lacks_a_ruler_is_not_told() {
    let set = set(SMALL);
    // The frame starts 21.85 mm in and the scan 3.37 mm out. Across, base lines lie 4 and 5.25 mm
    // from the frame, the metric one nearer; down, 4.25 and 5.5 mm, the inch one nearer.
    let edge = 21.85 + 3.37;
    let [near, far] = [(-4.6, -0.5), (-8.9, -4.65)];
    let [near_down, far_down] = [(-4.85, -0.5), (-8.9, -4.9)];
    let bands = [("100 mm", [near, far_down]), ("4 in", [far, near_down])];
    for (name, bands) in bands {
        for across in [true, false] {
            let (from, to) = bands[usize::from(!across)];
            let (from, to) = (edge + from, edge + to);
            for mirrored in [false, true] {
                let scan = Scan {
                    mirrored,
                    ..Scan::at(150.0)
                };
                let whole = scan.of(&set.pages[1], set.size);
                let width = whole.width() as f64 / SCANNER.dpi * 25.4;
                let [low, high] = if mirrored && !across {
                    [width - to, width - from]
                } else {
                    [from, to]
                };
                let [start, end] = if mirrored && across {
                    [0.0, width - edge]
                } else {
                    [edge, 1e9]
                };
                let part = if across {
                    [start, end, low, high]
                } else {
                    [low, high, edge, 1e9]
                };
                let found = measure(&without(&whole, part), &SCANNER);
                assert!(
                    matches!(found, Err(ScanError::RulerMissing { ruler, along })
                        if ruler == name && along == if across { "width" } else { "height" }),
                    "{name} {across} {mirrored}: {found:?}"
                );
            }
        }
    }
}

#[test]
fn another_paper_is_told_by_its_frame() {
    let set = set(SMALL);
    let worn = |turn| Scan {
        turn,
        ..Scan::at(150.0).worn()
    };
    for scan in [worn(0.3), worn(90.4), worn(181.0), worn(-89.0)] {
        let raster = scan.of(&set.pages[1], set.size);
        let found = measure(&raster, &SCANNER).unwrap();
        let around = 2.0 * (6.35 + 6.0) + 9.5;
        let frame = Size::new(195.0 - around, 200.0 - around);
        assert!(found.has_frame(&raster, frame), "{scan:?}");
        for (width, height) in [
            (5.0, 0.0),
            (0.0, 5.0),
            (-5.0, 0.0),
            (0.0, -5.0),
            (-5.0, 5.0),
        ] {
            let other = frame + Size::new(width, height);
            assert!(!found.has_frame(&raster, other), "{scan:?} {other}");
        }
    }
}

#[test]
fn half_a_sheet_says_which_rulers_it_has() {
    let set = set(SMALL);
    let whole = Scan::at(150.0).of(&set.pages[1], set.size);
    let (width, height) = (whole.width(), whole.height());
    // Without the foot, the rulers across are gone, and with them part of those down.
    let right = part(&whole, width / 4..width, 0..height);
    let found = measure(&right, &SCANNER);
    assert!(
        matches!(
            found,
            Err(ScanError::OneDirection { .. } | ScanError::NoRulers)
        ),
        "{found:?}"
    );
    let left = part(&whole, 0..width / 3, 0..height);
    match measure(&left, &SCANNER) {
        Err(ScanError::OneDirection {
            reads,
            along_height: true,
        }) => assert!((reads - 100.0).abs() < 0.05, "{reads}"),
        other => panic!("{other:?}"),
    }
    let corner = part(&whole, width / 2..width, 0..height / 2);
    assert!(matches!(
        measure(&corner, &SCANNER),
        Err(ScanError::NoRulers)
    ));
}

#[test]
fn two_sheets_on_one_glass_are_refused() {
    let set = set(SMALL);
    let one = Scan::at(150.0).of(&set.pages[1], set.size);
    let grey = [one.grey(), one.grey()].concat();
    let two = Raster::new(one.width(), 2 * one.height(), grey).unwrap();
    let found = measure(&two, &SCANNER);
    assert!(matches!(found, Err(ScanError::SeveralSheets)), "{found:?}");
}

#[test]
fn nothing_and_nonsense_are_refused() {
    let blank = Raster::new(400, 300, vec![255; 120_000]).unwrap();
    assert!(matches!(
        measure(&blank, &SCANNER),
        Err(ScanError::NoContrast)
    ));
    let mut random = 1_u32;
    let noise = (0..120_000)
        .map(|_| {
            random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (random >> 24) as u8
        })
        .collect();
    let noise = Raster::new(400, 300, noise).unwrap();
    assert!(matches!(
        measure(&noise, &SCANNER),
        Err(ScanError::NoRulers)
    ));
    let stripes = (0..120_000)
        .map(|at| if at % 6 < 2 { 0 } else { 255 })
        .collect();
    let stripes = Raster::new(400, 300, stripes).unwrap();
    assert!(matches!(
        measure(&stripes, &SCANNER),
        Err(ScanError::NoRulers)
    ));
    let dot = Raster::new(1, 1, vec![0]).unwrap();
    assert!(measure(&dot, &SCANNER).is_err());
    let sliver = Raster::new(2, 3, vec![0, 255, 0, 255, 0, 255]).unwrap();
    assert!(measure(&sliver, &SCANNER).is_err());
    for dpi in [0.0, -300.0, f64::NAN, 1e9] {
        let scanner = Scanner { dpi, ..SCANNER };
        assert!(
            matches!(measure(&blank, &scanner), Err(ScanError::Resolution { .. })),
            "{dpi}"
        );
    }
    for own in [0.0, f64::NAN, 1.5] {
        let scanner = Scanner {
            own_scale: Some((1.0, own)),
            ..SCANNER
        };
        assert!(
            matches!(
                measure(&blank, &scanner),
                Err(ScanError::ScannerScale { .. })
            ),
            "{own}"
        );
    }
    assert!(matches!(
        Raster::new(10, 10, vec![0; 99]),
        Err(ScanError::Sides { .. })
    ));
    assert!(matches!(
        Raster::new(0, 10, vec![]),
        Err(ScanError::Sides { .. })
    ));
    let huge = Raster::new(usize::MAX, usize::MAX, vec![]);
    assert!(matches!(huge, Err(ScanError::TooLarge { .. })));
}
