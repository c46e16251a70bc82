//! What a cutter takes from the drawing: each cut once, in one layer, closed where asked for.

use crate::common::bench::Bench;
use crate::common::read_svg::{layer, read};
use crate::common::{demos, produced, under_panel};
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathEl, Point, Shape};

/// Points a millimetre apart along paths.
fn points(paths: &[BezPath]) -> Vec<Point> {
    let mut points = vec![];
    for segment in paths.iter().flat_map(BezPath::segments) {
        let parts = segment.arclen(0.01).ceil().max(1.0);
        points.extend((0..=parts as usize).map(|part| segment.eval(part as f64 / parts)));
    }
    points
}

/// How far a place is from the nearest of these paths, mm.
fn distance(from: Point, paths: &[BezPath]) -> f64 {
    let segments = paths.iter().flat_map(BezPath::segments);
    let squares = segments.map(|segment| segment.nearest(from, 1e-4).distance_sq);
    squares.fold(f64::INFINITY, f64::min).sqrt()
}

/// The longest stretch of relief holes' rims along the line to cut, mm: where the rim meets the
/// line it may touch it.
fn along_the_cut(svg: &str) -> usize {
    let tree = read(svg);
    let cut = layer(&tree, "cut");
    let relief = points(&layer(&tree, "relief"));
    let near: Vec<bool> = relief.iter().map(|at| distance(*at, &cut) < 0.06).collect();
    let runs = near.chunk_by(|one, next| one == next);
    runs.filter(|run| run[0])
        .map(<[bool]>::len)
        .max()
        .unwrap_or(0)
}

#[test]
fn no_cut_stands_in_two_layers() {
    for demo in demos() {
        let text = std::fs::read_to_string(&demo).unwrap();
        let svg = produced(&text).svg.unwrap();
        let longest = along_the_cut(&svg);
        assert!(longest <= 4, "{}: {longest} mm twice", demo.display());
    }
}

fn is_closed(path: &BezPath) -> bool {
    path.elements().last() == Some(&PathEl::ClosePath)
}

#[test]
fn outlines_are_closed_where_asked_for() {
    let tables = "[[opening]]\nname = \"notch\"\nshape = \"notch\"\nwith = { width = 60, depth = 40, \
                  corner_radius = 6 }\ncentre_offset = 0\nfrom_datum = 0\n";
    let bench = Bench::new().file("notch.toml", under_panel(400.0, 200.0, tables));
    let cut = |bench: &Bench| {
        let text = String::from_utf8(bench.read("out/T-1.svg")).unwrap();
        layer(&read(&text), "cut")
    };
    bench.run("draw notch.toml --only svg").exits(0);
    let open = cut(&bench);
    assert_eq!(open.len(), 1);
    assert!(!is_closed(&open[0]), "{open:?}");

    bench.run("draw notch.toml --closed").exits(0);
    let closed = cut(&bench);
    assert_eq!(closed.len(), 1);
    assert!(is_closed(&closed[0]), "{closed:?}");
    // 60 x 40 less two corners of 6 mm: (4 - pi) / 2 of the square of the radius.
    let area = 60.0 * 40.0 - (4.0 - std::f64::consts::PI) / 2.0 * 36.0;
    assert!((closed[0].area().abs() - area).abs() < 0.05);

    let verify = "verify out/T-1.svg --against notch.toml";
    bench.run(&format!("{verify} --closed")).exits(0);
    bench.run(verify).exits(1);
    // The sheets are laid at the edge and stay as they are.
    bench
        .run("verify out/T-1.pdf --against notch.toml")
        .exits(0);
}
