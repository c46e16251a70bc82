//! Every depth is what a tape reads that is hooked over the real edge at that place, however the
//! edge bows: against the closed form of a parabola.

use crate::common::{assert_close, drawn, produced, read_svg, solved};
use kurbo::{BezPath, Point, Shape};
use trimloft::draw::ink::{Block, Cell};
use trimloft::input::{PatternSpec, Source};
use trimloft::solve::{Basis, Pattern};

/// Half of the panel's width, and how far the middle of its edge stands out: half an inch, mm.
const HALF: f64 = 490.0;
const BOW: f64 = 12.7;

/// Where the edge stands at a place off the middle, mm; three readings give the parabola.
fn edge(off: f64) -> f64 {
    -BOW * (1.0 - (off / HALF).powi(2))
}

/// A panel seen from below, 980 x 310, page right the vehicle's left, read from the left end.
fn panel(tables: &str) -> String {
    with_edge(980, &format!("[[0, 0], [490, {BOW}], [980, 0]]"), tables)
}

fn with_edge(width: u32, edge: &str, tables: &str) -> String {
    format!(
        "format = 1\n[pattern]\nnumber = \"T-1\"\ntitle = \"Test\"\n[panel]\nname = \"Panel\"\n\
         width = {width}\nheight = 310\ndatum_edge = \"rear\"\nseen_from = \"below\"\n\
         page_up = \"front\"\nmaterial = \"pp\"\nthickness = 2.5\nedge = {edge}\n{tables}"
    )
}

const NOTCH: &str = "[[opening]]\nname = \"notch\"\nshape = \"notch\"\n\
                     with = { width = 36, depth = 45, corner_radius = 6 }\n\
                     centre_offset = \"142 mm left\"\nfrom_datum = 0\n";

const WINDOW: &str = "[[opening]]\nname = \"window\"\nshape = \"window\"\n\
                      with = { width = 60, height = 40, corner_radius = 6 }\n\
                      centre_offset = \"60 mm right\"\nfrom_datum = 100\n";

fn all_tables() -> String {
    let part = "[[part]]\nname = \"bar\"\nshape = \"round-hole\"\nwith = { diameter = 20 }\n\
                centre_offset = \"60 mm right\"\nfrom_datum = 100\n";
    let rest = "[[locator]]\nname = \"drain\"\nacross = 200\nfrom_datum = 118\ndiameter = 10\n\
                [[locator]]\nname = \"slot\"\nacross = 800\nfrom_datum = 3\n\
                [[keep_out]]\nname = \"loom\"\nguards = \"wiring\"\nshape = \"round-hole\"\n\
                with = { diameter = 20 }\ncentre_offset = \"300 mm left\"\nfrom_datum = 200\n\
                distance = 5\n[[line]]\nname = \"crease\"\nkind = \"fold\"\n\
                points = [[100, 250], [490, 250], [900, 240]]\n\
                [clearance]\ngap = 2\nposition = 0\nmarking = 0\ncutting = 0\nprint = 0\n";
    format!("{part}{rest}{NOTCH}{WINDOW}")
}

#[test]
fn every_kind_of_depth_counts_from_the_bow() {
    let pattern = solved(&panel(&all_tables()));
    let is = |is: f64, should: f64, what: &str| assert_close(is, should, 1e-6, what);
    is(
        pattern.parts[0].outline.bounds().center().y,
        100.0 + edge(60.0),
        "part",
    );
    let window = named(&pattern, "window");
    is(
        window.outline.bounds().center().y,
        100.0 + edge(60.0),
        "window",
    );
    is(
        pattern.keep_outs[0].outline.bounds().center().y,
        200.0 + edge(300.0),
        "keep-out",
    );
    is(pattern.locators[0].at.y, 118.0 + edge(290.0), "locator");
    is(
        pattern.locators[1].at.y,
        3.0 + edge(310.0),
        "locator by the edge",
    );
    for (point, (off, depth)) in
        pattern.lines[0]
            .points
            .iter()
            .zip([(390.0, 250.0), (0.0, 250.0), (410.0, 240.0)])
    {
        is(point.y, depth + edge(off), "line");
    }
    let notch = named(&pattern, "notch");
    is(notch.outline.bounds().y1, 45.0 + edge(142.0), "notch");
    // Its mouth lies on the real edge, and both its walls reach it.
    assert!(notch.is_open());
    for off in [124.0, 160.0] {
        let foot = Point::new(off, edge(off));
        let strays = notch.outline.distance(foot).0;
        assert!(
            strays < 0.006,
            "the wall {off} mm off the middle ends {strays} mm off the edge"
        );
    }
}

fn named<'a>(pattern: &'a Pattern, name: &str) -> &'a trimloft::solve::Opening {
    let mut openings = pattern.openings.iter();
    openings.find(|opening| opening.name() == name).expect(name)
}

#[test]
fn a_hollow_edge_counts_the_same_way() {
    let toml = with_edge(
        980,
        "[[0, 0], [490, -12.7], [980, 0]]",
        &format!("{NOTCH}{WINDOW}"),
    );
    let pattern = solved(&toml);
    assert_close(
        named(&pattern, "notch").outline.bounds().y1,
        45.0 - edge(142.0),
        1e-6,
        "notch",
    );
    assert_close(
        named(&pattern, "window").outline.bounds().center().y,
        100.0 - edge(60.0),
        1e-6,
        "window",
    );
}

/// Where a straight-sided path crosses an upright line.
fn height_at(path: &BezPath, x: f64) -> f64 {
    let mut crossing = None;
    for segment in path.segments() {
        let (a, b) = (segment_start(&segment), segment_end(&segment));
        if (a.x - x) * (b.x - x) <= 0.0 && a.x != b.x {
            crossing = Some(a.lerp(b, (x - a.x) / (b.x - a.x)).y);
        }
    }
    crossing.expect("the edge is printed at this place")
}

fn segment_start(segment: &kurbo::PathSeg) -> Point {
    kurbo::ParamCurve::start(segment)
}

fn segment_end(segment: &kurbo::PathSeg) -> Point {
    kurbo::ParamCurve::end(segment)
}

#[test]
fn the_written_drawing_is_as_deep_from_its_edge_as_the_definition_says() {
    let text = produced(&panel(NOTCH)).svg.unwrap();
    let tree = read_svg::read(&text);
    let cut: BezPath = read_svg::layer(&tree, "cut")
        .into_iter()
        .flatten()
        .collect();
    let edges = read_svg::layer(&tree, "fold");
    // The edge itself, and not the tab past it: the least deep of what is printed there.
    let printed = edges
        .iter()
        .min_by(|a, b| {
            a.bounding_box()
                .height()
                .total_cmp(&b.bounding_box().height())
        })
        .unwrap();
    let bounds = cut.bounding_box();
    // y runs down, and the datum edge lies at the foot.
    let deep = height_at(printed, bounds.center().x) - bounds.y0;
    assert_close(deep, 45.0, 0.01, "a tape hooked over the printed edge");
    for x in [bounds.x0 + 0.001, bounds.x1 - 0.001] {
        let ends = cut
            .segments()
            .flat_map(|one| [segment_start(&one), segment_end(&one)]);
        let lowest = ends
            .filter(|end| (end.x - x).abs() < 0.01)
            .map(|end| end.y)
            .fold(f64::NEG_INFINITY, f64::max);
        assert_close(
            lowest,
            height_at(printed, x),
            0.01,
            "the mouth lies on the edge",
        );
    }
}

const HOOKED: &str = "For depths hook the tape over the edge at that place";

/// The cells of the table with this head, row by row.
fn table(blocks: &[Block], head: &str) -> Vec<Vec<String>> {
    let found = blocks.iter().find_map(|block| match block {
        Block::Table { columns, rows } if columns[0].head == head => Some(rows),
        _ => None,
    });
    let words = |cell: &Cell| match cell {
        Cell::Words(words) => words.clone(),
        _ => String::new(),
    };
    let rows = found.unwrap_or_else(|| panic!("no table of {head}"));
    rows.iter()
        .map(|row| row.iter().map(words).collect())
        .collect()
}

#[test]
fn depths_on_the_sheets_are_those_of_the_definition() {
    let pairs = "[centreline]\n[[centreline.pair]]\nname = \"clips\"\nleft = 112\nright = 868\n\
                 from_datum = 18\n[[centreline.pair]]\nname = \"screws\"\nleft = 200\nright = 780\n\
                 from_datum = 240\n";
    let drawing = drawn(&panel(&format!("{pairs}{NOTCH}{WINDOW}")));
    let cut = table(&drawing.record, "Opening");
    let row = |name: &str| cut.iter().find(|row| row[0] == name).unwrap().clone();
    assert_eq!(row("notch")[2], "45 mm");
    // Its middle at 100 and 40 high.
    assert_eq!(row("window")[5], "80 mm");
    let read = table(&drawing.record, "Pair");
    assert_eq!(
        [read[0][1].as_str(), read[1][1].as_str()],
        ["18 mm", "240 mm"]
    );
    let says = drawing.front.steps.iter().any(|step| step.contains(HOOKED));
    assert!(says, "the sheet says where its depths count from");
}

#[test]
fn pairs_are_fitted_at_their_real_heights() {
    // A middle that leans by 0.004 from 490 at the line through the ends, read at two heights.
    let (lean, foot) = (0.004, 490.0);
    let height = |left: f64, right: f64, from_datum: f64| {
        from_datum + (edge(left - 490.0) + edge(right - 490.0)) / 2.0
    };
    let mut tables =
        String::from("[centreline]\ngraduation = 0.01\nreading = 0.01\nmoulding = 0\n");
    for (name, half, from_datum) in [("low", 430.0, 20.0), ("high", 40.0, 200.0)] {
        // The middle's own place shifts the heights by next to nothing: three rounds settle it.
        let mut middle = foot;
        for _ in 0..8 {
            middle = foot + lean * height(middle - half, middle + half, from_datum);
        }
        tables += &format!(
            "[[centreline.pair]]\nname = \"{name}\"\nleft = {}\nright = {}\nfrom_datum = {from_datum}\n",
            middle - half,
            middle + half
        );
    }
    let pattern = solved(&panel(&format!("{tables}{WINDOW}")));
    assert_close(pattern.centreline.slope, lean, 1e-7, "lean");
    assert_close(pattern.centreline.reading, foot, 1e-5, "middle");
    assert_close(
        pattern.centreline.reading_on_edge(),
        foot - lean * BOW,
        1e-3,
        "where it is marked",
    );
}

#[test]
fn arcs_are_swung_between_real_heights() {
    // A short panel whose edge bows by 12.7 over 300: the features stand 100 off the middle.
    let out = |off: f64| -BOW * (1.0 - (off / 150.0_f64).powi(2));
    let (mark, low) = (30.0 + out(2.0), 15.0 + out(100.0));
    let distance = |along: f64| along.hypot(mark - low);
    let tables = format!(
        "[centreline]\n[centreline.mark]\nacross = 152\nfrom_datum = 30\n[[centreline.swing]]\n\
         name = \"clips\"\nleft = {}\nright = {}\napart = 200\nfrom_datum = 15\n\
         [[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = {{ diameter = 20 }}\n\
         centre_offset = 0\nfrom_datum = 60\n",
        distance(102.0),
        distance(98.0)
    );
    let pattern = solved(&with_edge(300, "[[0, 0], [150, 12.7], [300, 0]]", &tables));
    let Basis::Arcs(arcs) = &pattern.centreline.basis else {
        panic!("{:?}", pattern.centreline.basis);
    };
    for residual in arcs.residuals() {
        assert!(residual.residual.abs() < 0.02, "{residual:?}");
    }
    assert_close(pattern.centreline.reading, 150.0, 0.01, "middle");
}

#[test]
fn a_locator_off_the_real_edge_is_refused() {
    let read = |from_datum: f64| {
        let locator = format!(
            "[[locator]]\nname = \"hole\"\nacross = 490\nfrom_datum = {from_datum}\n{NOTCH}"
        );
        PatternSpec::read(&Source::new("p.toml", panel(&locator)))
            .map_err(|report| report.to_string())
    };
    assert!(read(320.0).is_ok(), "the edge stands 12.7 mm out there");
    assert!(read(323.0).unwrap_err().contains("at most 322.7 mm"));
    assert!(read(-2.0).unwrap_err().contains("at least 0 mm"));
}

#[test]
fn seen_square_on_a_depth_counts_from_the_edge_as_it_is_seen_there() {
    // Curved across with a radius of 700 about the middle and leaning by 20 degrees: the straight
    // edge itself is seen lower by `fall sin(rake)` at 200 mm off the middle, and the tape that is
    // hooked there reads along the look: on the leaning panel that is its reading over cos(rake).
    let tables = "[panel.surface]\nrake = \"20 deg\"\nradius = 700\nbulges = \"towards\"\n\
                  [[opening]]\nname = \"hole\"\nshape = \"round-hole\"\nwith = { diameter = 40 }\n\
                  centre_offset = \"200 mm left\"\nfrom_datum = 120\nmeasured = \"square-on\"\n";
    let rake = 20.0_f64.to_radians();
    // The panel as it lies flat is longer than it is seen: the middle is at 490 of its own length.
    let along = 700.0 * (200.0_f64 / 700.0).asin();
    for (edge_told, out) in [
        ("[]", 0.0),
        (&*format!("[[0, 0], [490, {BOW}], [980, 0]]"), edge(along)),
    ] {
        let toml = with_edge(980, edge_told, tables).replace("edge = []\n", "");
        let opening = &solved(&toml).openings[0];
        let middle = opening.declared[0].origin;
        assert_close(middle.x.abs(), along, 1e-6, "along");
        assert_close(middle.y, out + 120.0 / rake.cos(), 1e-6, "from the edge");
    }
}
