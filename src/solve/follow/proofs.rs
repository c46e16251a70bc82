//! Laws that worked-out openings keep for random parts.

use super::random_parts::{clearance, config, part, window};
use super::*;
use crate::geometry::outline::{Outline, Region, Side};
use crate::model::clearance::EachWay;
use geo::{Area, BooleanOps, Buffer, Coord, LineString, MultiPolygon, Polygon};
use kurbo::{Insets, Point, Vec2};
use proptest::prelude::*;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// So many chords to the turn fall short of a disc's area by 4e-5 of it.
const CHORDS_PER_TURN: f64 = 400.0;

fn points(outline: &Outline, to_a_side: u32) -> Vec<Point> {
    outline
        .sides()
        .flat_map(|side| {
            (0..to_a_side).map(move |step| side.at(f64::from(step) / f64::from(to_a_side)))
        })
        .collect()
}

fn flattened(outline: &Outline) -> Polygon<f64> {
    let ring: Vec<Coord<f64>> = outline
        .sides()
        .flat_map(|side| {
            let chords = (side.sweep().abs() / TAU * CHORDS_PER_TURN).ceil().max(1.0);
            (0..chords as usize).map(move |step| {
                let Point { x, y } = side.at(step as f64 / chords);
                Coord { x, y }
            })
        })
        .collect();
    Polygon::new(LineString(ring), vec![])
}

fn area(regions: &[Region]) -> f64 {
    regions.iter().map(Region::area).sum()
}

/// How far `outline` reaches in the direction `angle`.
fn reach(outline: &Outline, angle: f64) -> f64 {
    outline.placed(-angle, Vec2::ZERO).bounds().x1
}

fn slot_reach(way: EachWay, angle: f64) -> f64 {
    let lesser = way.lesser();
    lesser
        + (way.sideways - lesser) * angle.cos().abs()
        + (way.depthways - lesser) * angle.sin().abs()
}

/// The largest corner radius by its meaning, in many directions.
fn largest_by_directions(parts: &[(Outline, EachWay)], bounds: kurbo::Rect) -> f64 {
    let middle = bounds.center();
    let (w, h) = (bounds.width() / 2.0, bounds.height() / 2.0);
    let steps = 1500;
    let mut least = w.min(h);
    for quadrant in 0..4 {
        for step in 1..steps {
            let angle = (f64::from(quadrant) + f64::from(step) / f64::from(steps)) * FRAC_PI_2;
            let (sine, cosine) = (angle.sin(), angle.cos());
            let sharp = middle.x * cosine + middle.y * sine + w * cosine.abs() + h * sine.abs();
            let needed = parts
                .iter()
                .map(|(part, way)| reach(part, angle) + slot_reach(*way, angle))
                .fold(f64::NEG_INFINITY, f64::max);
            least = least.min((sharp - needed) / (cosine.abs() + sine.abs() - 1.0));
        }
    }
    least
}

proptest! {
    // The judge takes its time over fine chords.
    #![proptest_config(config(12))]

    #[test]
    fn contour_agrees_with_geo(parts in prop::collection::vec((part(), 0.5..15.0_f64), 1..5)) {
        let judge = parts
            .iter()
            .map(|(part, clearance)| {
                let round = 2.0 * PI / CHORDS_PER_TURN;
                flattened(part).buffer_with_style(
                    geo::algorithm::buffer::BufferStyle::new(*clearance)
                        .line_join(geo::algorithm::buffer::LineJoin::Round(round)),
                )
            })
            .reduce(|sum: MultiPolygon<f64>, next| sum.union(&next))
            .map_or(0.0, |sum| sum.unsigned_area());
        let is = area(&contour(&parts));
        prop_assert!((is / judge - 1.0).abs() < 1e-4, "{} judge {}", is, judge);
    }
}

proptest! {
    #![proptest_config(config(60))]

    #[test]
    fn contour_keeps_its_distance_and_no_more(
        parts in prop::collection::vec((part(), 0.5..15.0_f64), 1..5),
    ) {
        let opening = contour(&parts);
        let lines: Vec<&Outline> = opening
            .iter()
            .flat_map(|region| std::iter::once(&region.outer).chain(&region.holes))
            .collect();
        for (part, clearance) in &parts {
            for point in points(part, 12) {
                for line in &lines {
                    prop_assert!(line.distance(point).0 >= clearance - 0.01);
                }
            }
        }
        for line in lines {
            for point in points(line, 7) {
                let over = parts
                    .iter()
                    .map(|(part, clearance)| part.distance(point).0 - clearance)
                    .fold(f64::INFINITY, f64::min);
                prop_assert!(over.abs() < 0.01, "{} at {:?}", over, point);
            }
        }
    }

    #[test]
    fn contour_of_a_round_part_is_nowhere_wider(radius in 2.0..60.0_f64, clearance in 0.5..15.0_f64) {
        let part = window(2.0 * radius, 2.0 * radius, radius);
        let opening = contour(&[(part.clone(), clearance)]);
        prop_assert_eq!(opening.len(), 1);
        prop_assert!(opening[0].outer.sides().all(|side| side.is_arc()));
        for point in points(&part, 40) {
            let distance = opening[0].outer.distance(point).0;
            prop_assert!((distance - clearance).abs() < 0.01, "{}", distance);
        }
    }

    #[test]
    fn box_clears_with_the_largest_radius(
        parts in prop::collection::vec((part(), clearance()), 1..4),
    ) {
        let request = BoxRequest { parts: &parts, radius: Radius::Given(0.0), open_to: None, wider: Insets::ZERO };
        let bounds = boxed(&request).unwrap().bounds;
        let largest = boxed(&request).unwrap().largest_radius;
        let judge = largest_by_directions(&parts, bounds);
        prop_assert!(largest <= judge + 1e-6, "{} judge {}", largest, judge);
        prop_assert!(judge - largest < 0.15, "{} judge {}", largest, judge);

        let round = boxed(&BoxRequest { radius: Radius::Given(largest), ..request }).unwrap();
        for (part, way) in &parts {
            let left = least_after_moves(part, &round.outline, *way).distance;
            prop_assert!(left > -2e-6, "{}", left);
            for point in points(part, 12) {
                let (distance, _) = round.outline.distance(point);
                prop_assert!(distance >= way.lesser() - 1e-5, "{}", distance);
            }
        }
        let over = boxed(&BoxRequest { radius: Radius::Given(largest + 0.01), ..request });
        prop_assert_eq!(over, Err(OpeningError::RadiusTooLarge { radius: largest + 0.01, largest }));
    }

    #[test]
    fn box_for_tools_takes_the_largest_or_grows_just_enough(
        parts in prop::collection::vec((part(), clearance()), 1..4),
        tools in prop::collection::vec(3.0..60.0_f64, 1..6),
        open in any::<bool>(),
    ) {
        let open_to = open.then_some(-200.0);
        let request = BoxRequest { parts: &parts, radius: Radius::Tools(&tools), open_to, wider: Insets::ZERO };
        let is = boxed(&request).unwrap();
        prop_assert!(tools.contains(&is.tool.unwrap()));
        prop_assert!(is.largest_radius >= is.radius - 1e-6);
        for (part, way) in &parts {
            prop_assert!(least_after_moves(part, &is.outline, *way).distance > -2e-6);
        }
        if is.grown_by == 0.0 {
            let larger = tools.iter().filter(|&&tool| tool > is.tool.unwrap());
            prop_assert!(larger.copied().all(|tool| tool / 2.0 > is.largest_radius));
        } else {
            let smallest = tools.iter().copied().fold(f64::INFINITY, f64::min);
            prop_assert_eq!(is.tool, Some(smallest));
            // What it is after growing is just the radius it needed.
            prop_assert!(is.largest_radius - is.radius < 1e-4, "{}", is.largest_radius);
        }
    }

    #[test]
    fn box_is_never_smaller_than_contour(
        parts in prop::collection::vec((part(), 0.5..15.0_f64), 1..4),
        tools in prop::collection::vec(3.0..60.0_f64, 1..6),
    ) {
        let even: Vec<(Outline, EachWay)> = parts
            .iter()
            .map(|(part, clearance)| (part.clone(), EachWay::even(*clearance)))
            .collect();
        let is = boxed(&BoxRequest { parts: &even, radius: Radius::Tools(&tools), open_to: None, wider: Insets::ZERO }).unwrap();
        for region in contour(&parts) {
            for point in points(&region.outer, 12) {
                let (distance, _) = is.outline.distance(point);
                prop_assert!(is.outline.contains(point) || distance < 1e-4, "{:?}", point);
            }
        }
    }

    #[test]
    fn a_smaller_gap_never_grows_the_opening(
        parts in prop::collection::vec((part(), 2.0..15.0_f64), 1..4),
        less in 0.0..2.0_f64,
        share in 0.0..=1.0_f64,
    ) {
        let grown: f64 = area(&contour(&parts));
        let shrunk: Vec<(Outline, f64)> = parts.iter().map(|(part, way)| (part.clone(), way - less)).collect();
        prop_assert!(area(&contour(&shrunk)) <= grown + 1e-6);
        let in_box = |parts: &[(Outline, f64)], radius: f64| {
            let parts: Vec<(Outline, EachWay)> = parts
                .iter()
                .map(|(part, way)| (part.clone(), EachWay::even(*way)))
                .collect();
            boxed(&BoxRequest { parts: &parts, radius: Radius::Given(radius), open_to: None, wider: Insets::ZERO }).unwrap()
        };
        // What fits the smaller gap fits the larger.
        let radius = share * in_box(&shrunk, 0.0).largest_radius;
        let (wide, tight) = (in_box(&parts, radius), in_box(&shrunk, radius));
        prop_assert!(tight.outline.area() <= wide.outline.area() + 1e-9);
        for point in points(&tight.outline, 9) {
            prop_assert!(wide.outline.contains(point) || wide.outline.distance(point).0 < 1e-6);
        }
    }

    #[test]
    fn a_passage_lets_every_point_through(
        parts in prop::collection::vec((part(), 0.5..15.0_f64), 1..5),
    ) {
        for region in contour(&parts) {
            let opened = open_at_edge(&region.outer, -150.0).unwrap();
            prop_assert!(opened.area() >= region.outer.area() - 1e-6);
            for point in points(&region.outer, 9) {
                for part in 0..=8 {
                    let way = Point::new(point.x, point.y + (-150.0 - point.y) * f64::from(part) / 8.0);
                    let near = opened.distance(way).0 < 1e-5;
                    prop_assert!(near || opened.contains(way), "{:?}", way);
                }
            }
            // Its upper line is the opening's own, or upright.
            for side in opened.sides().filter(|side| (side.start.x - side.end.x).abs() > 1e-5) {
                let middle = side.at(0.5);
                prop_assert!(side.side == Side::Open || region.outer.distance(middle).0 < 1e-5);
            }
        }
    }

    #[test]
    fn least_distance_is_no_more_than_any_sampled(part in part(), way in clearance(), grow in 0.1..8.0_f64) {
        let held = [(part.clone(), way)];
        let bounds = boxed(&BoxRequest { parts: &held, radius: Radius::Given(0.0), open_to: None, wider: Insets::ZERO }).unwrap().bounds;
        let bounds = bounds.inflate(grow, grow);
        let opening = window(bounds.width(), bounds.height(), grow).placed(0.0, bounds.center().to_vec2());
        let is = least_distance(&part, &opening);
        let sampled = points(&part, 60)
            .into_iter()
            .map(|point| opening.distance(point).0)
            .fold(f64::INFINITY, f64::min);
        prop_assert!(is.distance <= sampled + 1e-9);
        prop_assert!(part.distance(is.on_part).0 < 1e-7 && opening.distance(is.on_opening).0 < 1e-7);
        // Moved in every direction, sampled: no place is nearer than told.
        let left = least_after_moves(&part, &opening, way).distance;
        prop_assert!(left > 0.0);
        for step in 0..16 {
            let angle = f64::from(step) / 16.0 * TAU;
            let by = Vec2::new(way.sideways * angle.cos(), way.depthways * angle.sin());
            let moved = least_distance(&part.placed(0.0, by), &opening).distance;
            prop_assert!(moved >= left - 1e-9, "{} {}", moved, left);
        }
    }
}

#[test]
fn a_sharp_part_allows_its_clearance_as_radius_and_a_round_one_more() {
    let square = window(60.0, 60.0, 0.0);
    let largest = |part: &Outline, way| {
        let parts = [(part.clone(), way)];
        boxed(&BoxRequest {
            parts: &parts,
            radius: Radius::Given(0.0),
            open_to: None,
            wider: Insets::ZERO,
        })
        .unwrap()
        .largest_radius
    };
    assert!((largest(&square, EachWay::even(9.0)) - 9.0).abs() < 1e-9);
    assert!((largest(&window(60.0, 60.0, 4.0), EachWay::even(9.0)) - 13.0).abs() < 1e-9);
    assert!((largest(&window(60.0, 60.0, 30.0), EachWay::even(9.0)) - 39.0).abs() < 1e-9);
    let leaning = EachWay {
        sideways: 11.0,
        depthways: 7.0,
    };
    assert!((largest(&square, leaning) - 7.0).abs() < 1e-9);
}

#[test]
fn a_box_too_tight_for_the_smallest_tool_grows_by_the_closed_form() {
    // A sharp corner c off both sides needs (r - c) (1 - sqrt(1/2)) ... of room each way:
    // (c + g) + (r - c) / sqrt 2 >= r, so g = (r - c) (1 - 1 / sqrt 2).
    let parts = [(window(60.0, 40.0, 0.0), EachWay::even(3.0))];
    let is = boxed(&BoxRequest {
        parts: &parts,
        radius: Radius::Tools(&[20.0, 16.0, 24.0]),
        open_to: None,
        wider: Insets::ZERO,
    })
    .unwrap();
    let should = (8.0 - 3.0) * (1.0 - 0.5_f64.sqrt());
    assert!(
        (is.grown_by - should).abs() < 1e-5,
        "{} {should}",
        is.grown_by
    );
    assert_eq!((is.tool, is.radius), (Some(16.0), 8.0));
    assert!((is.bounds.width() - (66.0 + 2.0 * is.grown_by)).abs() < 1e-12);
}

#[test]
fn an_open_box_has_an_open_foot_and_what_cannot_be_is_refused() {
    let parts = [(
        window(60.0, 40.0, 4.0).placed(0.0, Vec2::new(0.0, 30.0)),
        EachWay::even(6.0),
    )];
    let request = BoxRequest {
        parts: &parts,
        radius: Radius::Tools(&[12.0, 20.0, 25.0]),
        open_to: Some(0.0),
        wider: Insets::ZERO,
    };
    let is = boxed(&request).unwrap();
    assert_eq!(is.radius, 10.0);
    let open = is.outline.length() - is.outline.cut_length();
    assert!((open - 72.0).abs() < 1e-9);
    assert_eq!(
        (is.outline.bounds().y0, is.outline.bounds().y1),
        (0.0, 56.0)
    );
    let fails = |request| boxed(&request).unwrap_err();
    assert_eq!(
        fails(BoxRequest {
            open_to: Some(56.0),
            ..request
        }),
        OpeningError::PastEdge
    );
    assert_eq!(
        fails(BoxRequest {
            parts: &[],
            ..request
        }),
        OpeningError::NoParts
    );
    assert_eq!(
        fails(BoxRequest {
            radius: Radius::Tools(&[]),
            ..request
        }),
        OpeningError::NoTools
    );
    assert_eq!(
        fails(BoxRequest {
            radius: Radius::Given(f64::NAN),
            ..request
        }),
        OpeningError::BadNumber
    );
    let message = fails(BoxRequest {
        radius: Radius::Given(15.0),
        ..request
    })
    .to_string();
    assert!(
        message.contains("`15 mm`") && message.contains("10 mm"),
        "{message}"
    );
}
