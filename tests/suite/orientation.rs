//! Which way round: for every face, datum edge and head of the page, what is printed lies where
//! it belongs on the vehicle, and the shape is never mirrored.
//!
//! Judged by vectors in the vehicle's own axes (front, left, up) alone: nothing here asks the
//! program which way is right.

mod way;

use crate::common::bench::Bench;
use kurbo::{ParamCurveNearest, PathEl, Point, Rect, Shape, Vec2};
use trimloft::base::Direction;
use trimloft::draw::draw;
use trimloft::draw::ink::{Drawing, Ink, Layer};
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Source};
use trimloft::layout::{Page, Paper, Setup, sheets};
use trimloft::model::panel::{Face, Orientation};
use trimloft::solve::solve;
use way::{Axes, Way};

const WIDTH: f64 = 400.0;
const HEIGHT: f64 = 200.0;
const FROM_DATUM: f64 = 25.0;

/// Corners of the letter F, upright as one faces the panel with its datum edge at the foot.
const LETTER: [(f64, f64); 10] = [
    (-20.0, 0.0),
    (-8.0, 0.0),
    (-8.0, 20.0),
    (8.0, 20.0),
    (8.0, 32.0),
    (-8.0, 32.0),
    (-8.0, 48.0),
    (20.0, 48.0),
    (20.0, 60.0),
    (-20.0, 60.0),
];

/// The letter as a family of the user's own.
fn letter() -> String {
    let corners: String = LETTER
        .iter()
        .map(|(x, y)| format!("[[corner]]\nx = \"{x}\"\ny = \"{y}\"\n"))
        .collect();
    format!("format = 1\nname = \"letter-f\"\ntitle = \"F\"\n{corners}")
}

fn library() -> Library {
    let bench = Bench::new().file("own/f.toml", letter());
    Library::shipped().with_folder(&bench.path("own")).unwrap()
}

fn drawing(toml: &str, library: &Library) -> Drawing {
    let spec =
        PatternSpec::read(&Source::new("f.toml", toml)).unwrap_or_else(|report| panic!("{report}"));
    let pattern = solve(&spec, library).unwrap_or_else(|problems| panic!("{problems:#?}\n{toml}"));
    draw(&pattern).unwrap_or_else(|error| panic!("{error}"))
}

/// Corners of the strokes of a layer.
fn corners(drawing: &Drawing, layer: Layer) -> Vec<Point> {
    let strokes = drawing.work.iter().filter(|mark| mark.layer == layer);
    strokes
        .filter_map(|mark| match &mark.ink {
            Ink::Stroke { path, .. } => Some(path.elements().to_vec()),
            _ => None,
        })
        .flatten()
        .filter_map(|element| match element {
            PathEl::MoveTo(point) | PathEl::LineTo(point) => Some(point),
            PathEl::ClosePath => None,
            curve => panic!("the letter has straight sides: {curve:?}"),
        })
        .collect()
}

/// Middles of the circles of this diameter among the locators.
fn circles(drawing: &Drawing, diameter: f64) -> Vec<Point> {
    let locators = drawing
        .work
        .iter()
        .filter(|mark| mark.layer == Layer::Locators);
    let boxes = locators.filter_map(|mark| match &mark.ink {
        Ink::Stroke { path, .. } if path.elements().len() > 4 => Some(path.bounding_box()),
        _ => None,
    });
    let same = |bounds: &Rect| {
        (bounds.width() - diameter).abs() < 0.01 && (bounds.height() - diameter).abs() < 0.01
    };
    boxes.filter(same).map(|bounds| bounds.center()).collect()
}

/// Distance of a point from the straight strokes of a layer.
fn distance_from(drawing: &Drawing, layer: Layer, point: Point) -> f64 {
    let strokes = drawing.work.iter().filter(|mark| mark.layer == layer);
    let paths = strokes.filter_map(|mark| match &mark.ink {
        Ink::Stroke { path, .. } => Some(path),
        _ => None,
    });
    paths
        .flat_map(|path| path.segments())
        .map(|segment| segment.nearest(point, 1e-9).distance_sq.sqrt())
        .fold(f64::INFINITY, f64::min)
}

fn near(one: Point, other: Point) -> bool {
    one.distance(other) < 1e-6
}

/// The same places, in whatever order.
#[track_caller]
fn assert_same_places(is: &[Point], should: &[Point], what: &str) {
    for place in should {
        assert!(
            is.iter().any(|one| near(*one, *place)),
            "{what}: nothing at {place:?}: {is:?}"
        );
    }
    for place in is {
        assert!(
            should.iter().any(|one| near(*one, *place)),
            "{what}: {place:?} should not be: {should:?}"
        );
    }
}

#[test]
fn page_right_is_look_cross_up() {
    // The words of the format's own table.
    for (seen_from, page_up, page_right) in [
        ("behind", "up", "right"),
        ("front", "up", "left"),
        ("below", "front", "left"),
        ("below", "rear", "right"),
        ("above", "front", "right"),
    ] {
        let direction = |word| Direction::from_word(word).unwrap();
        let face = Face::from_word(seen_from).unwrap();
        let way = Orientation::new(face, direction(page_up), direction(page_up)).unwrap();
        assert_eq!(
            way.page_right().word(),
            page_right,
            "{seen_from}, {page_up}"
        );
        let by_vectors = Axes::look_from(seen_from).cross(Axes::of(page_up));
        assert_eq!(by_vectors.word(), page_right, "{seen_from}, {page_up}");
    }
}

#[test]
fn the_letter_can_not_be_taken_for_its_mirror_image() {
    let turns = [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)];
    let middle = Vec2::new(0.0, 30.0);
    let centred: Vec<Vec2> = LETTER
        .iter()
        .map(|(x, y)| Vec2::new(*x, *y) - middle)
        .collect();
    for (cos, sin) in turns {
        let turned_mirror =
            |at: &Vec2| Vec2::new(-at.x * cos - at.y * sin, -at.x * sin + at.y * cos);
        let fits = centred
            .iter()
            .map(turned_mirror)
            .all(|one| centred.iter().any(|other| (one - *other).hypot() < 1.0));
        assert!(!fits);
    }
}

#[test]
fn the_shape_stands_the_right_way_round_on_every_panel() {
    let library = library();
    let mut ways = 0;
    for way in Way::all().filter(|way| way.can_be()) {
        // As one faces the panel with its datum edge at the foot.
        let (x, y) = (way.right_with(way.inward()), way.inward());
        for side in [x, x.times(-1.0)] {
            let drawing = drawing(&way.definition(side.word(), ""), &library);
            let place = side.times(30.0).plus(y.times(FROM_DATUM));
            let should: Vec<Point> = LETTER
                .iter()
                .map(|(right, in_)| way.on_page(place.plus(x.times(*right)).plus(y.times(*in_))))
                .collect();
            let is = corners(&drawing, Layer::Cut);
            assert_same_places(&is, &should, &format!("{way:?}, {}", side.word()));
        }
        ways += 1;
    }
    // Six faces, four heads of the page for each, two datum edges for each.
    assert_eq!(ways, 48);
}

#[test]
fn features_stand_where_the_tape_said() {
    let library = library();
    // The parabola through the readings of the edge: the tape is hooked over it.
    let out = |across: f64| 6.0 * across * (400.0 - across) / (90.0 * 310.0);
    let tables = "edge = [[0, 0], [90, 6], [400, 0]]\n\
                  [[locator]]\nname = \"near zero\"\nacross = 35\nfrom_datum = 120\ndiameter = 9\n\
                  [[locator]]\nname = \"far\"\nacross = 330\nfrom_datum = 60\ndiameter = 14\n";
    for way in Way::all().filter(|way| way.can_be()) {
        let zero = way.usual_zero();
        if !["left", "right", "front", "rear"].contains(&zero.word()) {
            // No end of such a panel is usual: its datum edge runs up and down the vehicle.
            continue;
        }
        let drawing = drawing(&way.definition(zero.word(), tables), &library);
        let what = format!("{way:?}");
        assert_same_places(
            &circles(&drawing, 9.0),
            &[way.reading(zero, 35.0, 120.0 - out(35.0))],
            &what,
        );
        assert_same_places(
            &circles(&drawing, 14.0),
            &[way.reading(zero, 330.0, 60.0 - out(330.0))],
            &what,
        );
        // A rise stands out past the straight line through the edge's ends.
        for (across, rise) in [(0.0, 0.0), (90.0, 6.0), (WIDTH, 0.0)] {
            let point = way.reading(zero, across, -rise);
            let off = distance_from(&drawing, Layer::Fold, point);
            assert!(off < 0.005, "{what}: the edge passes {point:?} at {off}");
        }
    }
}

#[test]
fn readings_start_from_the_end_that_is_named() {
    let library = library();
    for way in Way::all().filter(|way| way.can_be()) {
        if way.page_right().dot(Axes::of("left")) == 0.0 {
            continue;
        }
        for zero in ["left", "right"] {
            // The middle between 100 and 300, or 300 and 100 from the other end, is half the width.
            let (left, right) = if zero == "left" {
                (100, 300)
            } else {
                (300, 100)
            };
            let tables = format!(
                "[centreline]\nzero = \"{zero}\"\n[[centreline.pair]]\nname = \"clips\"\nleft = {left}\n\
                 right = {right}\nfrom_datum = 30\n[[locator]]\nname = \"hole\"\nacross = 35\n\
                 from_datum = 120\ndiameter = 9\n"
            );
            let drawing = drawing(&way.definition("left", &tables), &library);
            let should = way.reading(Axes::of(zero), 35.0, 120.0);
            assert_same_places(
                &circles(&drawing, 9.0),
                &[should],
                &format!("{way:?}, {zero}"),
            );
        }
    }
}

#[test]
fn lettering_reads_from_the_foot_or_the_right() {
    let library = library();
    for way in Way::all().filter(|way| way.can_be()) {
        let drawing = drawing(&way.definition(way.page_right().word(), ""), &library);
        let mut words = 0;
        for mark in &drawing.work {
            if let Ink::Text(text) = &mark.ink {
                let turn = text.turn.rem_euclid(360.0);
                assert!(
                    turn == 0.0 || turn == 90.0,
                    "{way:?}: `{}` is turned by {turn}",
                    text.words
                );
                words += 1;
            }
        }
        assert!(words > 5, "{way:?}: {words}");
    }
}

/// Where a direction's word stands on a page, and the way that the arrow beside it points.
fn label(page: &Page, word: &str) -> (Point, Vec2) {
    let words = page.furniture.iter().find_map(|mark| match &mark.ink {
        // The map of the front page names sides too.
        Ink::Text(text) if text.words == word.to_uppercase() && !page.window.contains(text.at) => {
            Some(text.at)
        }
        _ => None,
    });
    let at = words.unwrap_or_else(|| panic!("`{word}` is not on the page"));
    let arrows = page.furniture.iter().filter_map(|mark| match &mark.ink {
        Ink::Fill { path, .. } if path.elements().len() == 5 || path.elements().len() == 4 => {
            let points: Vec<Vec2> = path
                .elements()
                .iter()
                .filter_map(|element| match element {
                    PathEl::MoveTo(point) | PathEl::LineTo(point) => Some(point.to_vec2()),
                    _ => None,
                })
                .collect();
            (points.len() == 3).then(|| {
                let middle = (points[0] + points[1] + points[2]) / 3.0;
                let tip = points
                    .into_iter()
                    .max_by(|a, b| (*a - middle).hypot().total_cmp(&(*b - middle).hypot()))
                    .unwrap();
                (middle.to_point(), (tip - middle).normalize())
            })
        }
        _ => None,
    });
    let nearest = arrows.min_by(|a, b| a.0.distance(at).total_cmp(&b.0.distance(at)));
    (
        at,
        nearest
            .unwrap_or_else(|| panic!("no arrow beside `{word}`"))
            .1,
    )
}

#[test]
fn all_four_edges_of_every_page_say_where_they_point() {
    let library = library();
    let setup = Setup::new(Paper::parse("a4").unwrap());
    for way in Way::all().filter(|way| way.can_be()) {
        let drawing = drawing(&way.definition(way.page_right().word(), ""), &library);
        let set = sheets(&drawing, &setup).unwrap_or_else(|error| panic!("{error}"));
        let (up, right) = (Axes::of(way.up), way.page_right());
        for page in &set.pages {
            let beyond = |at: Point| {
                Vec2::new(
                    (at.x - page.window.x1).max(0.0) + (at.x - page.window.x0).min(0.0),
                    (at.y - page.window.y1).max(0.0) + (at.y - page.window.y0).min(0.0),
                )
            };
            for (direction, towards) in [
                (up, Vec2::new(0.0, 1.0)),
                (up.times(-1.0), Vec2::new(0.0, -1.0)),
                (right, Vec2::new(1.0, 0.0)),
                (right.times(-1.0), Vec2::new(-1.0, 0.0)),
            ] {
                let (at, arrow) = label(page, direction.word());
                let out = beyond(at);
                let what = format!(
                    "{way:?}: `{}` at {at:?} of {:?}",
                    direction.word(),
                    page.window
                );
                assert!(
                    out.dot(towards) > 0.0 && out.cross(towards).abs() < 1e-9,
                    "{what}"
                );
                assert!(
                    (arrow - towards).hypot() < 1e-6,
                    "{what}: its arrow points {arrow:?}"
                );
            }
        }
    }
}

#[test]
fn every_other_way_is_refused_with_a_reason() {
    let mut refused = 0;
    for way in Way::all().filter(|way| !way.can_be()) {
        let toml = way.definition("left", "");
        let report =
            PatternSpec::read(&Source::new("f.toml", toml)).expect_err(&format!("{way:?}"));
        let told = report.to_string();
        let across = Axes::of(way.up).dot(Axes::look_from(way.face)) == 0.0;
        let reason = if across {
            format!(
                "`datum_edge = \"{}\"` would lie at a side of the page",
                way.datum
            )
        } else {
            format!("`page_up = \"{}\"` lies along the reader's look", way.up)
        };
        assert!(told.contains(&reason), "{way:?}: {told}");
        assert!(
            told.contains('^') && told.contains(way.up),
            "{way:?}: {told}"
        );
        refused += 1;
    }
    assert_eq!(refused, 216 - 48);
}
