//! What can't be told is said.

use super::super::{Raster, ScanError, Scanner, measure};
use super::picture::{Scan, set};

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
