//! The demos' PDFs are at full size: rulers and cut lines measured in the file and in pixels.

use crate::common::laid_out::{Sheet, extents, lay, length, shown_length, straight_pieces};
use crate::common::read_pdf::{self, MM, ReadPage};
use crate::common::{assert_close, demos, produced_on, solved};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use hayro_syntax::Pdf;
use kurbo::{BezPath, Rect, Shape};
use trimloft::input::{Follow, PatternSpec, Source};
use trimloft::layout::{Paper, Setup};
use trimloft::solve::Pattern;

/// Nominal lengths: 100 mm is 283.4645669 pt, 4 in is 288 pt, at 72 pt to the inch of 25.4 mm.
const RULERS: [f64; 2] = [283.464_566_9, 288.0];

/// A demo with its name, its solved pattern and its file.
fn read_demos() -> Vec<(String, Pattern, Pdf)> {
    demos()
        .iter()
        .map(|demo| {
            let text = std::fs::read_to_string(demo).unwrap();
            let name = demo.file_stem().unwrap().to_string_lossy().into_owned();
            let spec = PatternSpec::read(&Source::new("demo.toml", text.as_str())).unwrap();
            let mut setup = Setup::new(Paper::parse("a4").unwrap());
            // Sheets of islands share no marks.
            setup.joined = true;
            let file = Pdf::new(produced_on(&spec, &setup).pdf.unwrap()).unwrap();
            (name, solved(&text), file)
        })
        .collect()
}

/// A page's rulers, mm: across then down, shorter first.
fn rulers(page: &ReadPage) -> Vec<Rect> {
    let mut found = extents_each(&page.layer("check-ruler"));
    found.sort_by(|a, b| {
        let down = |bounds: &Rect| bounds.height() > bounds.width();
        let long = |bounds: &Rect| bounds.width() + bounds.height();
        down(a).cmp(&down(b)).then(long(a).total_cmp(&long(b)))
    });
    found
}

fn extents_each(paths: &[BezPath]) -> Vec<Rect> {
    paths.iter().map(Shape::bounding_box).collect()
}

#[test]
fn every_page_has_four_exact_rulers() {
    for (name, _, file) in read_demos() {
        for page in read_pdf::read(&file) {
            let found = rulers(&page);
            assert_eq!(found.len(), 4, "{name}");
            for (ruler, nominal) in found[..2].iter().zip(RULERS) {
                assert_close(ruler.width() / MM, nominal, 0.01, &name);
                assert_close(ruler.height(), 0.0, 1e-9, &name);
            }
            for (ruler, nominal) in found[2..].iter().zip(RULERS) {
                assert_close(ruler.height() / MM, nominal, 0.01, &name);
                assert_close(ruler.width(), 0.0, 1e-9, &name);
            }
        }
    }
}

/// A fitter's view of the sheets that show work.
fn sheets(pages: &[ReadPage]) -> Vec<Sheet> {
    pages
        .iter()
        .filter_map(|page| {
            let mut marks: Vec<_> = page
                .texts
                .iter()
                .filter(|text| text.layer == "register")
                .map(|text| (text.words.clone(), text.at))
                .collect();
            marks.sort_by(|a, b| a.0.cmp(&b.0));
            let cut = page.layer("cut");
            // A sheet may show work with no cut line on it; it still joins its neighbours.
            (!cut.is_empty() || !marks.is_empty()).then(|| Sheet {
                window: page.cut_window.unwrap_or(Rect::ZERO),
                cut,
                marks,
            })
        })
        .collect()
}

/// The cut line as the definition's own true arcs give it, in the panel's frame.
fn defined(pattern: &Pattern) -> Vec<BezPath> {
    pattern
        .openings
        .iter()
        .flat_map(|opening| opening.outline.cut_paths(1e-5))
        .collect()
}

#[test]
fn sheets_laid_by_their_marks_show_the_defined_cut_line_whole() {
    for (name, pattern, file) in read_demos() {
        let pages = read_pdf::read(&file);
        assert!(
            pages[0].layer("cut").is_empty(),
            "{name}: a cut line to follow"
        );
        let laid = lay(&sheets(&pages));
        let (found, should) = (
            extents(laid.iter().flat_map(|sheet| &sheet.cut)),
            extents(&defined(&pattern)),
        );
        assert_close(found.width(), should.width(), 0.01, &name);
        assert_close(found.height(), should.height(), 0.01, &name);
        let whole = length(&straight_pieces(&defined(&pattern)));
        assert_close(shown_length(&laid), whole, 0.01, &name);
    }
}

#[test]
fn widths_are_those_written_in_the_definitions() {
    let clearance = |pattern: &Pattern, opening: usize| {
        let total = pattern.clearances[opening].budget.total();
        match pattern.clearances[opening].follow {
            Follow::Box => total.sideways,
            Follow::Contour => total.sideways.max(total.depthways),
        }
    };
    for (name, pattern, file) in read_demos() {
        // Along the datum edge, which lies across the page, from the figures in `shapes/demo`, mm.
        let width = match name.as_str() {
            // The plate's width, 2 1/2 in, and its clearance to each side.
            "fascia-socket" => 63.5 + 2.0 * clearance(&pattern, 0),
            // Curved, so that its widths are arcs: held in `tests/suite/development/`.
            "fascia-wide" => continue,
            // Sockets of 24 and 21 mm, 28 mm to the left and 46 mm to the right.
            "heat-shield" => {
                28.0 + 12.0 + 46.0 + 10.5 + clearance(&pattern, 0) + clearance(&pattern, 1)
            }
            // The lip that is trimmed off, from 60 to 300 across.
            "heat-shield-rear" => 240.0,
            // By its ties: held in `tests/suite/cuts/ties.rs`.
            "under-panel-tied" => continue,
            "under-panel" => 60.0 + 2.0 * clearance(&pattern, 0),
            other => panic!("no figures for {other}"),
        };
        let laid = lay(&sheets(&read_pdf::read(&file)));
        let found = extents(laid.iter().flat_map(|sheet| &sheet.cut)).width();
        assert_close(found, width, 0.01, &name);
    }
}

#[test]
fn rulers_drawn_at_300_dots_to_the_inch_are_of_the_right_number_of_pixels() {
    const DOTS: f64 = 300.0 / 25.4;
    for (name, _, file) in read_demos() {
        for (page, read) in file.pages().iter().zip(read_pdf::read(&file)) {
            let scale = 300.0 / 72.0;
            let settings = PixmapSettings {
                x_scale: scale,
                y_scale: scale,
                bg_color: WHITE,
            };
            let image = hayro::render(
                page,
                &RenderCache::new(),
                &InterpreterSettings::default(),
                &RenderSettings::default(),
                &settings,
            );
            let width = usize::from(image.width());
            let head = read_pdf::box_of(page, "MediaBox")[3] * MM;
            let dark = |x: usize, y: usize| 1.0 - f64::from(image.data()[y * width + x].g) / 255.0;
            for (ruler, nominal) in rulers(&read).iter().zip(RULERS.iter().cycle()) {
                // Half a millimetre past both ends, short of any other ink. Graduations begin at the
                // line's middle and stick out past its ends by half their width, so it is measured
                // on both sides of its middle and the side without them counts.
                const ASIDE: f64 = 0.12;
                let reach = |from: f64, to: f64| {
                    ((from - 0.5) * DOTS) as usize..((to + 0.5) * DOTS) as usize
                };
                let pixels = [-ASIDE, ASIDE].map(|aside| -> f64 {
                    if ruler.width() > ruler.height() {
                        let row = ((head - ruler.y0 + aside) * DOTS) as usize;
                        reach(ruler.x0, ruler.x1).map(|x| dark(x, row)).sum()
                    } else {
                        let column = ((ruler.x0 + aside) * DOTS) as usize;
                        let down = reach(head - ruler.y1, head - ruler.y0);
                        down.map(|y| dark(column, y)).sum()
                    }
                });
                let pixels = pixels[0].min(pixels[1]);
                // 100 mm at 300 dots to the inch is 1181.1 pixels, 4 in 1200.
                assert_close(pixels, nominal / 72.0 * 300.0, 1.0, &name);
            }
        }
    }
}
