//! Correction, layout margin and file of a printer.

use super::printer::{Printer, PrinterError};
use super::{Measured, Scales};
use crate::draw::ink::{Ink, Layer, Line, Mark, Width};
use crate::layout::{Page, PageKind, SheetSet};
use kurbo::{Affine, BezPath, Point, Rect, Shape, Size};

fn printer(across: f64, down: f64) -> Result<Printer, PrinterError> {
    let exact = |value| {
        Some(Measured {
            value,
            uncertainty: 0.0,
        })
    };
    let scales = Scales {
        across: exact(across),
        down: exact(down),
        skew: None,
    };
    Printer::new(
        "front desk",
        "2026-03-02",
        &scales,
        "iso_a4_210x297mm",
        6.35,
    )
}

#[test]
fn a_corrected_page_printed_there_is_the_page() {
    let printer = printer(0.994, 0.997).unwrap();
    let mut path = BezPath::new();
    path.move_to((20.0, 30.0));
    path.curve_to((60.0, 90.0), (150.0, 10.0), (190.0, 280.0));
    let line = Line::continuous(Width::Thick);
    let size = Size::new(210.0, 297.0);
    let set = SheetSet {
        title: String::new(),
        author: String::new(),
        subject: String::new(),
        issued: String::new(),
        content: String::new(),
        size,
        pages: vec![Page {
            kind: PageKind::Work,
            bookmark: String::new(),
            furniture: vec![],
            work: vec![Mark::stroke(Layer::Cut, path.clone(), line)],
            window: Rect::new(20.0, 20.0, 190.0, 280.0),
        }],
    };
    let corrected = printer.correct(&set, false);
    assert_eq!(corrected.size, size);
    let Ink::Stroke { path: drawn, .. } = &corrected.pages[0].work[0].ink else {
        panic!("a stroke stays a stroke");
    };
    // The printer, wherever its fixed point may lie.
    let printed = Affine::scale_non_uniform(0.994, 0.997) * drawn.clone();
    let (a, b) = (printed.bounding_box(), path.bounding_box());
    assert!((a.width() - b.width()).abs() < 1e-9 && (a.height() - b.height()).abs() < 1e-9);
    assert!((corrected.pages[0].window.width() - 170.0 / 0.994).abs() < 1e-9);
    // In the middle nothing moves.
    assert!(
        (printer.map(size, false) * Point::new(105.0, 148.5)).distance((105.0, 148.5).into())
            < 1e-9
    );
}

#[test]
fn the_layout_margin_keeps_file_and_print_off_the_edge() {
    let size = Size::new(210.0, 297.0);
    for (across, down) in [(0.994, 0.997), (1.01, 0.98), (1.02, 1.03), (1.0, 1.0)] {
        let printer = printer(across, down).unwrap();
        let margin = printer.layout_margin(size, false);
        assert!(margin >= 6.35);
        let drawn = printer.map(size, false) * Point::new(margin, margin);
        assert!(
            drawn.x >= 6.35 - 1e-9 && drawn.y >= 6.35 - 1e-9,
            "{drawn:?}"
        );
        assert!(margin < 6.35 + 0.03 * 150.0);
    }
}

#[test]
fn the_file_reads_back_by_a_toml_parser() {
    let mut printer = printer(0.994_012_3, 1.0).unwrap();
    printer.name = "front \"desk\" \\ Příčka".into();
    let text = printer.to_toml();
    let table = toml::de::DeTable::parse(&text).unwrap().into_inner();
    fn value<'a, 'b>(table: &'a toml::de::DeTable<'b>, key: &str) -> &'a toml::de::DeValue<'b> {
        table[key].get_ref()
    }
    assert_eq!(value(&table, "format").as_integer().unwrap().as_str(), "1");
    let read = value(&table, "printer");
    let read = read.as_table().unwrap();
    assert_eq!(value(read, "name").as_str(), Some(printer.name.as_str()));
    for (key, number) in [("across", "0.994012"), ("down", "1.0"), ("margin", "6.35")] {
        assert_eq!(value(read, key).as_float().unwrap().as_str(), number);
    }
    let measured = value(read, "measured");
    assert_eq!(measured.as_datetime().unwrap().to_string(), "2026-03-02");
}

#[test]
fn what_no_printer_has_is_refused() {
    assert!(matches!(
        printer(0.96, 1.0),
        Err(PrinterError::Scale { way: "across", .. })
    ));
    assert!(matches!(
        printer(1.0, f64::NAN),
        Err(PrinterError::Scale { way: "down", .. })
    ));
    let good = printer(1.0, 1.0).unwrap();
    for date in ["2026-3-2", "2026-13-01", "yesterday", "2026-01-01\nx = 1"] {
        let bad = Printer {
            measured: date.into(),
            ..good.clone()
        };
        assert!(matches!(bad.check(), Err(PrinterError::Date(_))), "{date}");
    }
    let bad = Printer {
        name: "front\ndesk".into(),
        ..good.clone()
    };
    assert!(matches!(bad.check(), Err(PrinterError::Name(_))));
    let bad = Printer {
        margin: f64::INFINITY,
        ..good
    };
    assert!(matches!(bad.check(), Err(PrinterError::Margin(_))));
}
