//! The picture that follows what is typed is the pattern that is printed.

use super::served::Served;
use crate::common::laid_out::{extents, straight_pieces};
use crate::common::{read_pdf, read_svg};
use hayro_syntax::Pdf;
use kurbo::{Affine, BezPath, Line, ParamCurve, ParamCurveNearest, Vec2};

/// Farthest that a place of the one cut line lies from the other, mm, both with the lower left of what
/// they cover at the same place.
fn farthest(one: &[BezPath], other: &[BezPath]) -> f64 {
    let pieces = |paths: &[BezPath]| -> Vec<Line> {
        let corner = extents(paths).origin().to_vec2();
        let moved = |piece: Line| Line::new(piece.p0 - corner, piece.p1 - corner);
        straight_pieces(paths).into_iter().map(moved).collect()
    };
    let (one, other) = (pieces(one), pieces(other));
    let off = |place: kurbo::Point| {
        let near = other
            .iter()
            .map(|piece| piece.nearest(place, 1e-6).distance_sq);
        near.fold(f64::MAX, f64::min).sqrt()
    };
    let places = one
        .iter()
        .flat_map(|piece| [0.0, 0.5, 1.0].map(|at| piece.eval(at)));
    places.map(off).fold(0.0, f64::max)
}

#[test]
fn picture_and_print_show_one_cut_line() {
    // Demos whose cut stands on one sheet.
    for demo in ["under-panel", "heat-shield"] {
        let served = Served::new().demo(demo, "a");
        let text = served.text("a");
        let told = served
            .post("/p/a/picture", &[("text", &text)])
            .is(200)
            .json();
        let svg = told["svg"].as_str().unwrap();
        assert_eq!(told["text"], text);
        assert_eq!(told["prints"], true);
        let y_up = Affine::FLIP_Y.then_translate(Vec2::ZERO);
        let drawn: Vec<BezPath> = read_svg::layer(&read_svg::read(svg), "cut")
            .into_iter()
            .map(|path| y_up * path)
            .collect();
        let pdf = Pdf::new(served.get("/p/a/pdf").is(200).body).unwrap();
        let printed: Vec<BezPath> = read_pdf::read(&pdf)
            .iter()
            .flat_map(|page| page.layer("cut"))
            .collect();
        assert!(!drawn.is_empty(), "{demo}");
        for off in [farthest(&drawn, &printed), farthest(&printed, &drawn)] {
            assert!(off < 0.01, "{demo}: {off} mm");
        }
    }
}

#[test]
fn what_holds_the_panel_and_what_is_behind_it_stands_on_the_page() {
    let served = Served::new().demo("heat-shield-rear", "a");
    let page = served.get("/p/a").is(200);
    let page = page.text();
    for words in [
        "62.8 cm² of its 65 cm² clamp the panel, narrowest land 34.5 mm",
        "Fixed points that stay: stud holes, left, stud holes, right.",
        "7.8 mm from arm as the panel is brought up; either may be 3.63 mm off.",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
}

#[test]
fn what_is_moved_is_moved_in_text_and_picture() {
    let served = Served::new().demo("heat-shield", "a");
    let text = served.text("a");
    let before = served
        .post("/p/a/picture", &[("text", &text)])
        .is(200)
        .json();
    let handle = &before["handles"][0];
    let (table, side) = (
        handle["table"].as_str().unwrap(),
        handle["sides"][0].as_str().unwrap(),
    );
    let mm = handle["along"]["mm"].as_f64().unwrap();
    let away = handle["away"]["mm"].as_f64().unwrap() + 7.0;
    let by = format!("{table},0,{side},{},{away}", mm.abs());
    let after = served
        .post("/p/a/picture", &[("text", &text), ("move", &by)])
        .is(200)
        .json();
    assert_ne!(after["text"], text);
    let moved = &after["handles"][0];
    assert!((moved["away"]["mm"].as_f64().unwrap() - away).abs() < 1e-9);
    // Nothing is saved by looking.
    assert_eq!(served.text("a"), text);
}

#[test]
fn what_is_wrong_is_told_with_its_line_and_the_rest_is_kept() {
    let served = Served::new().demo("under-panel", "a");
    let text = served.text("a").replace("width = 980", "width = \"98o\"");
    let told = served
        .post("/p/a/picture", &[("text", &text)])
        .is(200)
        .json();
    assert!(told["svg"].is_null());
    let line = 1 + text[..text.find("98o").unwrap()].matches('\n').count();
    let status = told["status"].as_str().unwrap();
    assert!(
        status.contains(&format!("data-line=\"{line}\"")),
        "{status}"
    );
    let broken = served
        .post("/p/a/picture", &[("text", "[[part")])
        .is(200)
        .json();
    assert_eq!(broken["text"], "[[part");
}

#[test]
fn a_finding_that_stops_the_print_is_seen_all_the_same() {
    let served = Served::new().demo("fascia-socket", "a");
    // Nobody answers for what was accepted.
    let whole = served.text("a");
    let text = whole.split("[[accepted]]").next().unwrap();
    let told = served
        .post("/p/a/picture", &[("text", text)])
        .is(200)
        .json();
    assert!(
        told["svg"].is_string() && told["prints"] == false,
        "{}",
        told["status"]
    );
    // The web between socket and bezel hole, on the drawing.
    let places = told["places"].as_array().unwrap();
    let size = &told["size"];
    let on_drawing = |place: &serde_json::Value| {
        (0..2).all(|axis| {
            let at = place[axis].as_f64().unwrap_or(-1.0);
            at > 0.0 && at < size[axis].as_f64().unwrap()
        })
    };
    assert!(places.iter().any(on_drawing), "{places:?}");
}

#[test]
fn the_picture_comes_before_the_paper_where_many_ask() {
    let served = Served::new().demo("under-panel", "a");
    let text = served.text("a");
    let ask = |number: usize| {
        let changed = text.replace("revision = \"B\"", &format!("revision = \"R{number}\""));
        served
            .post("/p/a/picture", &[("text", &changed)])
            .is(200)
            .json()
    };
    let alone = ask(0);
    assert!(alone["rest"] == false && alone["prints"] == true);
    let all: Vec<serde_json::Value> = std::thread::scope(|scope| {
        let asked: Vec<_> = (1..17)
            .map(|number| {
                scope.spawn({
                    let ask = &ask;
                    move || ask(number)
                })
            })
            .collect();
        asked.into_iter().map(|own| own.join().unwrap()).collect()
    });
    let without: Vec<&serde_json::Value> = all.iter().filter(|told| told["rest"] == true).collect();
    assert!(!without.is_empty());
    for told in without {
        assert!(told["svg"].is_string() && told["prints"] == false);
        assert!(
            !told["status"].as_str().unwrap().contains("Does not fit"),
            "{}",
            told["status"]
        );
        let whole = [("text", told["text"].as_str().unwrap()), ("whole", "")];
        let whole = served.post("/p/a/picture", &whole).is(200).json();
        assert!(whole["rest"] == false && whole["prints"] == true);
        assert_eq!(whole["svg"], told["svg"]);
    }
}
