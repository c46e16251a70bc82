//! Pictures written by another library, whole, damaged and hostile.

use super::super::{Raster, ScanError, Scanner, measure};
use super::picture::{Scan, set};
use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, GrayImage, ImageFormat, RgbaImage};
use std::io::Cursor;

fn encoded(picture: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

#[test]
fn every_kind_of_file_gives_the_same_scale() {
    let set = set("custom_small_195x200mm");
    let scan = Scan {
        scale: (0.97, 1.01),
        turn: 0.6,
        ..Scan::at(150.0)
    }
    .worn();
    let raster = scan.of(&set.pages[1], set.size);
    let (width, height) = (raster.width() as u32, raster.height() as u32);
    let grey = GrayImage::from_raw(width, height, raster.grey().to_vec()).unwrap();
    let picture = DynamicImage::ImageLuma8(grey);
    let mut jpeg = Vec::new();
    JpegEncoder::new_with_quality(&mut jpeg, 60)
        .encode_image(&picture)
        .unwrap();
    let colour = DynamicImage::ImageRgb8(picture.to_rgb8());
    let deep = DynamicImage::ImageLuma16(picture.to_luma16());
    let files = [
        encoded(&picture, ImageFormat::Png),
        encoded(&picture, ImageFormat::Pnm),
        encoded(&colour, ImageFormat::Png),
        encoded(&deep, ImageFormat::Png),
    ];
    for bytes in &files {
        let back = Raster::decode(bytes).unwrap();
        assert_eq!(
            (back.width(), back.height()),
            (raster.width(), raster.height())
        );
        let off = back
            .grey()
            .iter()
            .zip(raster.grey())
            .map(|(a, b)| a.abs_diff(*b));
        assert!(off.max().unwrap() <= 1);
    }
    let scanner = Scanner {
        dpi: 150.0,
        own_scale: None,
    };
    let found = measure(&Raster::decode(&jpeg).unwrap(), &scanner).unwrap();
    assert!((found.across.value / 0.97 - 1.0).abs() < 5e-4, "{found:?}");
    assert!((found.down.value / 1.01 - 1.0).abs() < 5e-4, "{found:?}");
}

#[test]
fn what_is_see_through_is_paper() {
    let mut picture = RgbaImage::new(3, 1);
    picture.put_pixel(0, 0, image::Rgba([0, 0, 0, 255]));
    picture.put_pixel(1, 0, image::Rgba([0, 0, 0, 0]));
    picture.put_pixel(2, 0, image::Rgba([255, 255, 255, 255]));
    let bytes = encoded(&DynamicImage::ImageRgba8(picture), ImageFormat::Png);
    assert_eq!(Raster::decode(&bytes).unwrap().grey(), [0, 255, 255]);
}

#[test]
fn damaged_and_hostile_files_are_refused() {
    let grey = GrayImage::from_fn(60, 40, |x, y| image::Luma([(x * y) as u8]));
    let picture = DynamicImage::ImageLuma8(grey);
    let mut random = 7_u32;
    let (mut read, mut refused) = (0, 0);
    for format in [ImageFormat::Png, ImageFormat::Jpeg, ImageFormat::Pnm] {
        let whole = encoded(&picture, format);
        assert!(Raster::decode(&whole).is_ok());
        for _ in 0..200 {
            let mut bytes = whole.clone();
            for _ in 0..4 {
                random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                let at = (random >> 8) as usize % bytes.len();
                bytes[at] = random as u8;
            }
            bytes.truncate(bytes.len() - (random >> 24) as usize % bytes.len());
            match Raster::decode(&bytes) {
                Ok(raster) => {
                    assert_eq!(raster.grey().len(), raster.width() * raster.height());
                    read += 1;
                }
                Err(ScanError::Picture(_) | ScanError::TooLarge { .. }) => refused += 1,
                Err(other) => panic!("{format:?}: {other}"),
            }
        }
    }
    // Each outcome is really met.
    assert!(
        read >= 10 && refused >= 300,
        "{read} read, {refused} refused"
    );
    for bytes in [
        &b""[..],
        b"GIF89a",
        b"P5",
        b"%PDF-1.7",
        b"P5 10 10 255\n123",
    ] {
        let found = Raster::decode(bytes);
        assert!(matches!(found, Err(ScanError::Picture(_))), "{found:?}");
    }
    let huge = Raster::decode(b"P5 4000000000 4000000000 255\n");
    assert!(
        matches!(
            huge,
            Err(ScanError::TooLarge { .. } | ScanError::Picture(_))
        ),
        "{huge:?}"
    );
    let large = Raster::decode(b"P5 20000 20000 255\n0");
    assert!(
        matches!(large, Err(ScanError::TooLarge { unit: "pixels", .. })),
        "{large:?}"
    );
    let missing = Raster::load(std::path::Path::new("no such file.png"));
    assert!(matches!(missing, Err(ScanError::Read { .. })));
}
