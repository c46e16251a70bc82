//! Contour openings held against the areas that shapely finds; how they were made stands at the
//! head of `contour_areas.toml`.

use kurbo::{Point, Vec2};
use toml::de::{DeTable, DeValue};
use trimloft::geometry::outline::{Corner, Outline, Region, Side, rounded};
use trimloft::solve::follow::contour;

fn corner(x: f64, y: f64, radius: f64) -> Corner {
    Corner {
        point: Point::new(x, y),
        radius,
        side: Side::Cut,
    }
}

fn window(width: f64, height: f64, radius: f64) -> Outline {
    let (w, h) = (width / 2.0, height / 2.0);
    let corners = [(-w, -h), (w, -h), (w, h), (-w, h)].map(|(x, y)| corner(x, y, radius));
    rounded(&corners).expect("a window")
}

fn number(value: &DeValue) -> f64 {
    let text = match value {
        DeValue::Integer(integer) => integer.as_str(),
        DeValue::Float(float) => float.as_str(),
        other => panic!("{other:?} is no number"),
    };
    text.parse().expect("a number")
}

fn list<'a>(value: &'a DeValue<'a>) -> impl Iterator<Item = &'a DeValue<'a>> {
    let items = value.as_array().expect("a list").iter();
    items.map(|item| item.get_ref())
}

fn part(value: &DeValue) -> (Outline, f64) {
    let shape = |key: &str| value.get(key).map(|shape| shape.get_ref());
    let numbers = |shape| list(shape).map(number).collect::<Vec<f64>>();
    let outline = if let Some(disc) = shape("disc").map(numbers) {
        let [x, y, r] = disc[..] else {
            panic!("{disc:?}")
        };
        window(2.0 * r, 2.0 * r, r).placed(0.0, Vec2::new(x, y))
    } else if let Some(of) = shape("window").map(numbers) {
        let [x, y, width, height, radius, turn] = of[..] else {
            panic!("{of:?}")
        };
        window(width, height, radius).placed(turn.to_radians(), Vec2::new(x, y))
    } else {
        let points = list(shape("polygon").expect("a shape")).map(numbers);
        let corners: Vec<Corner> = points.map(|at| corner(at[0], at[1], 0.0)).collect();
        rounded(&corners).expect("a polygon")
    };
    (outline, number(shape("clearance").expect("a clearance")))
}

#[test]
fn areas_are_those_that_shapely_finds() {
    let file = DeTable::parse(include_str!("contour_areas.toml")).expect("sound TOML");
    let cases: Vec<&DeValue> = list(file.get_ref()["case"].get_ref()).collect();
    assert!(cases.len() >= 30, "{}", cases.len());
    for case in cases {
        let value = |key: &str| case.get(key).map(|value| value.get_ref());
        let name = value("name").and_then(DeValue::as_str).expect("a name");
        let should = number(value("area").expect("an area"));
        let mut parts: Vec<(Outline, f64)> =
            list(value("parts").expect("parts")).map(part).collect();
        for _ in 0..parts.len() {
            parts.rotate_left(1);
            let opening = contour(&parts);
            let area: f64 = opening.iter().map(Region::area).sum();
            // Asked for is 1e-4; the flattening of the figures themselves is 1e-7.
            let off = area / should - 1.0;
            assert!(off.abs() < 1e-6, "{name}: {area} should be {should}");
            let holes: usize = opening.iter().map(|region| region.holes.len()).sum();
            assert_eq!(
                holes as f64,
                number(value("holes").expect("holes")),
                "{name}"
            );
            if let Some(pieces) = value("pieces") {
                assert_eq!(opening.len() as f64, number(pieces), "pieces of {name}");
            }
        }
    }
}
