//! The demos' SVGs are at full size: measured by usvg in the file and by resvg in pixels.

use crate::common::laid_out::{extents, length, straight_pieces};
use crate::common::read_svg::{self, MM};
use crate::common::{assert_close, demos, produced, solved};
use hayro_syntax::Pdf;
use hayro_syntax::content::ops::TypedInstruction as Op;
use hayro_syntax::object::Number;
use kurbo::{Affine, BezPath, Point, Rect, Shape};
use resvg::tiny_skia::{Pixmap, Transform};
use std::process::Command;
use trimloft::solve::Pattern;
use usvg::Tree;
use usvg::roxmltree::Document;

/// Nominal lengths, mm; 4 in are 101.6 mm, at 25.4 mm to the inch.
const RULERS: [f64; 2] = [100.0, 101.6];

/// Millimetres in a point.
const MM_IN_POINT: f64 = 25.4 / 72.0;

fn read_demos() -> Vec<(String, Pattern, String)> {
    demos()
        .iter()
        .map(|demo| {
            let text = std::fs::read_to_string(demo).unwrap();
            let name = demo.file_stem().unwrap().to_string_lossy().into_owned();
            (name, solved(&text), produced(&text).svg.unwrap())
        })
        .collect()
}

/// Rulers: across then down, shorter first, mm.
fn rulers(tree: &Tree) -> Vec<Rect> {
    let mut found: Vec<Rect> = read_svg::layer(tree, "check-ruler")
        .iter()
        .map(BezPath::bounding_box)
        .collect();
    found.sort_by(|a, b| {
        let down = |bounds: &Rect| bounds.height() > bounds.width();
        let long = |bounds: &Rect| bounds.width() + bounds.height();
        down(a).cmp(&down(b)).then(long(a).total_cmp(&long(b)))
    });
    found
}

#[test]
fn width_and_height_are_the_view_box_in_millimetres() {
    for (name, _, text) in read_demos() {
        let document = Document::parse(&text).unwrap();
        let root = document.root_element();
        let side = |key: &str| root.attribute(key).unwrap().strip_suffix("mm").unwrap();
        let view = root.attribute("viewBox").unwrap();
        assert_eq!(
            view,
            format!("0 0 {} {}", side("width"), side("height")),
            "{name}"
        );
        let tree = read_svg::read(&text);
        for (read, written) in [
            (tree.size().width(), side("width")),
            (tree.size().height(), side("height")),
        ] {
            assert_close(f64::from(read) * MM, written.parse().unwrap(), 1e-3, &name);
        }
        let scaled = document
            .descendants()
            .any(|node| node.has_attribute("transform"));
        assert!(!scaled, "{name} hides a transform");
    }
}

#[test]
fn no_number_has_noise_digits() {
    for (name, _, text) in read_demos() {
        let document = Document::parse(&text).unwrap();
        for node in document.descendants() {
            for key in ["d", "stroke-width", "stroke-dasharray", "viewBox"] {
                // A sign parts a number from the one before it.
                let numbers = node.attribute(key).unwrap_or("").replace('-', " -");
                for number in numbers.split(|c: char| !c.is_ascii_digit() && !"-.".contains(c)) {
                    let decimals = number.split_once('.').map_or("", |(_, part)| part);
                    let tidy = decimals.len() <= 4 && !decimals.ends_with('0') && number != "-0";
                    assert!(tidy, "{name}: `{number}` in {key}");
                }
            }
        }
    }
}

#[test]
fn the_rulers_and_the_cut_line_are_of_their_true_size() {
    for (name, pattern, text) in read_demos() {
        let tree = read_svg::read(&text);
        let found = rulers(&tree);
        assert_eq!(found.len(), 4, "{name}");
        for (ruler, nominal) in found.iter().zip(RULERS.iter().cycle()) {
            // 0.01 pt is 0.0035 mm.
            assert_close(ruler.width().max(ruler.height()), *nominal, 0.0035, &name);
            assert_close(ruler.width().min(ruler.height()), 0.0, 1e-4, &name);
        }
        let cut = read_svg::layer(&tree, "cut");
        let defined: Vec<BezPath> = pattern
            .openings
            .iter()
            .flat_map(|opening| opening.outline.cut_paths(1e-5))
            .collect();
        let (drawn, should) = (extents(&cut), extents(&defined));
        assert_close(drawn.width(), should.width(), 0.01, &name);
        assert_close(drawn.height(), should.height(), 0.01, &name);
        let whole = length(&straight_pieces(&defined));
        assert_close(length(&straight_pieces(&cut)), whole, 0.01, &name);
    }
}

#[test]
fn rulers_drawn_at_300_dots_to_the_inch_are_of_the_right_number_of_pixels() {
    const DOTS: f64 = 300.0 / 25.4;
    for (name, _, text) in read_demos() {
        let tree = read_svg::read(&text);
        for (ruler, nominal) in rulers(&tree).into_iter().zip(RULERS.iter().cycle()) {
            // Only the ruler's own place is drawn, half a millimetre past both its ends: a whole
            // fascia would take a quarter of a gigabyte.
            let view = ruler.inflate(0.5, 0.5);
            let mut image = Pixmap::new(
                (view.width() * DOTS).round() as u32,
                (view.height() * DOTS).round() as u32,
            )
            .unwrap();
            let scale = 300.0 / 96.0;
            let by = view.origin().to_vec2() * -DOTS;
            let place = Transform::from_translate(by.x as f32, by.y as f32).pre_scale(scale, scale);
            resvg::render(&tree, place, &mut image.as_mut());
            let (width, height) = (image.width() as usize, image.height() as usize);
            let alpha =
                |x: usize, y: usize| f64::from(image.pixels()[y * width + x].alpha()) / 255.0;
            // Graduations begin at the line's middle and stick out past its ends by half their width,
            // so it is measured on both sides of its middle and the side without them counts.
            let aside = (0.12 * DOTS) as usize;
            let [first, second] = if width > height {
                [height / 2 - aside, height / 2 + aside]
                    .map(|row| -> f64 { (0..width).map(|x| alpha(x, row)).sum() })
            } else {
                [width / 2 - aside, width / 2 + aside]
                    .map(|column| -> f64 { (0..height).map(|y| alpha(column, y)).sum() })
            };
            let pixels = first.min(second);
            // 100 mm at 300 dots to the inch is 1181.1 pixels, 4 in 1200.
            assert_close(pixels, nominal * DOTS, 1.0, &name);
        }
    }
}

/// The browser of this machine.
fn browser() -> &'static str {
    let known = ["chromium", "chromium-browser", "google-chrome"];
    let works = |name: &&str| Command::new(name).arg("--version").output().is_ok();
    known
        .into_iter()
        .find(works)
        .expect("a browser is installed")
}

/// Boxes round what is stroked on the first page of a file by any program, mm from its lower left.
fn stroked(file: &Pdf) -> Vec<Rect> {
    let (mut to_page, mut kept, mut path) = (Affine::scale(MM_IN_POINT), vec![], BezPath::new());
    let mut found = vec![];
    let pages = file.pages();
    let mut operations = pages[0].typed_operations();
    while let Some(operation) = operations.next() {
        let at = |x: &Number, y: &Number| Point::new(x.as_f64(), y.as_f64());
        match operation {
            Op::SaveState(_) => kept.push(to_page),
            Op::RestoreState(_) => to_page = kept.pop().unwrap(),
            Op::Transform(m) => {
                to_page *= Affine::new([&m.0, &m.1, &m.2, &m.3, &m.4, &m.5].map(Number::as_f64));
            }
            Op::MoveTo(to) => path.move_to(at(&to.0, &to.1)),
            Op::LineTo(to) => path.line_to(at(&to.0, &to.1)),
            Op::StrokePath(_) => found.push((to_page * std::mem::take(&mut path)).bounding_box()),
            Op::EndPath(_) | Op::FillPathNonZero(_) | Op::FillPathEvenOdd(_) => {
                path = BezPath::new();
            }
            _ => {}
        }
    }
    found
}

/// A browser leaves margins unless told otherwise, and shrinks a drawing into them: 95.8 mm of 100.
#[test]
#[ignore = "needs Chromium: `.ci/run` installs it and runs this"]
fn a_browser_prints_at_full_size() {
    let folder = tempfile::tempdir().unwrap();
    let (drawing, printed) = (folder.path().join("in.svg"), folder.path().join("out.pdf"));
    for (name, _, text) in read_demos() {
        std::fs::write(&drawing, &text).unwrap();
        let ran = Command::new(browser())
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--no-pdf-header-footer",
            ])
            .arg(format!("--print-to-pdf={}", printed.display()))
            .arg(&drawing)
            .output()
            .unwrap();
        assert!(printed.exists(), "{name}: {ran:?}");
        let file = Pdf::new(std::fs::read(&printed).unwrap()).unwrap();
        std::fs::remove_file(&printed).unwrap();
        assert_eq!(file.pages().len(), 1, "{name}");
        let strokes = stroked(&file);
        let tree = read_svg::read(&text);
        for ruler in rulers(&tree) {
            let same = |stroke: &&Rect| {
                (stroke.x0 - ruler.x0).abs() < 0.15
                    && (stroke.width() - ruler.width()).abs() < 0.1
                    && (stroke.height() - ruler.height()).abs() < 0.1
            };
            assert!(
                strokes.iter().any(|stroke| same(&stroke)),
                "{name}: {ruler:?} in {strokes:?}"
            );
        }
    }
}
