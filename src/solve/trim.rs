//! What falls away at an edge, a lip or a corner: the side of a line that goes, or a shape that
//! reaches over an edge.

use super::check_points::corners;
use super::opening::{Declared, Placed};
use super::outright::outright;
use super::panel::outline_of;
use super::place::{Placing, on_panel};
use crate::base::length::Told;
use crate::base::words::listed;
use crate::geometry::outline::{Corner, ON_EDGE, Outline, OutlineError, Side, rounded};
use crate::input::{self, Problem, TrimGiven, TrimLine, TrimSpec};
use kurbo::{Point, Rect, Vec2};

/// A line's end this near to the panel's edge, mm, is meant to lie on it: what a tape is read to.
const AT_EDGE: f64 = 1.0;

/// How far past the panel the region reaches that is then cut at its edge, mm.
const PAST: f64 = 50.0;

/// The straight line through a trim's ends must make this angle, radians, with the direction that
/// falls away, 10 degrees, or left and right of it are as good as one.
const LEAST_ANGLE: f64 = 0.1745;

pub(super) fn trim(
    spec: &TrimSpec,
    size: Option<Rect>,
    placing: &Placing<'_>,
) -> Result<Vec<Placed>, Vec<Problem>> {
    match &spec.given {
        TrimGiven::Within(shape) => {
            let made = outright(&spec.name, shape, placing)?;
            let as_trim = |placed: Placed| Placed {
                declared: Declared {
                    trimmed: Some(vec![]),
                    ..placed.declared
                },
                ..placed
            };
            Ok(made.placed.into_iter().map(as_trim).collect())
        }
        TrimGiven::Along(line) => along(spec, line, size, placing).map(|placed| vec![placed]),
    }
}

fn along(
    spec: &TrimSpec,
    line: &TrimLine,
    size: Option<Rect>,
    placing: &Placing<'_>,
) -> Result<Placed, Vec<Problem>> {
    let point = |own: &input::Placed<(f64, f64)>| {
        let (across, from_datum) = own.value;
        on_panel(across, from_datum, placing.centreline, placing.edge)
    };
    let points: Vec<Point> = line.points.iter().map(point).collect();
    let around = bounds(&points);
    let whole = |error: OutlineError| vec![spec.name.problem(error.told(placing.units))];
    let panel = outline_of(placing.edge, size, around).map_err(whole)?;
    ends_reach_edge(line, &points, &panel, placing)?;
    let right_hand = falls_to_the_right(line, &points, placing)?;
    // The region lies to the left of the way that its line is followed.
    let mut followed = points.clone();
    if right_hand {
        followed.reverse();
    }
    let far = panel.bounds().union(around).inflate(PAST, PAST);
    let radius = line.corner_radius.as_ref().map_or(0.0, |own| own.value);
    let outline = rounded(&region(&followed, far, radius)).map_err(|error| {
        let at = match (&error, &line.corner_radius) {
            (OutlineError::NegativeRadius { .. }, Some(radius)) => radius.span.clone(),
            _ => spec.name.span.clone(),
        };
        let message = format!("trim `{}`: {}", spec.name.value, error.told(placing.units));
        vec![Problem {
            message,
            hint: Some("its line must not cross itself, and its corners need room".into()),
            span: at,
        }]
    })?;
    Ok(Placed {
        declared: Declared {
            name: spec.name.value.clone(),
            shape: "line".into(),
            origin: around.center(),
            offset: 0.0,
            bounds: outline.bounds(),
            trimmed: Some(within(&points, &panel)),
        },
        outline,
        fitted: false,
        drilled_together: false,
        holes: vec![],
        span: spec.name.span.clone(),
    })
}

fn bounds(points: &[Point]) -> Rect {
    let first = points.first().copied().unwrap_or_default();
    let start = Rect::from_points(first, first);
    points.iter().fold(start, |all, point| all.union_pt(*point))
}

/// A line that ends within the panel cuts nothing off.
fn ends_reach_edge(
    line: &TrimLine,
    points: &[Point],
    panel: &Outline,
    placing: &Placing<'_>,
) -> Result<(), Vec<Problem>> {
    let ends = [
        (points.first(), line.points.first()),
        (points.last(), line.points.last()),
    ];
    let short = ends.into_iter().filter_map(|(at, written)| {
        let (at, written) = (at?, written?);
        let from_edge = panel.distance(*at).0;
        (panel.contains(*at) && from_edge > AT_EDGE).then(|| {
            let message = format!(
                "the line ends {} inside the panel, so that nothing falls away",
                placing.units.length(from_edge)
            );
            written
                .problem(message)
                .hint("carry it on to the panel's edge, or past it")
        })
    });
    let short: Vec<Problem> = short.collect();
    if short.is_empty() { Ok(()) } else { Err(short) }
}

/// Whether what falls away lies to the right of a line as it is followed from its first point.
fn falls_to_the_right(
    line: &TrimLine,
    points: &[Point],
    placing: &Placing<'_>,
) -> Result<bool, Vec<Problem>> {
    let ways = placing.orientation.frame_ways();
    let side = line.falls_away.value;
    let names = |wanted: &dyn Fn(Vec2) -> bool| {
        let fit = ways.iter().filter(|(_, way)| wanted(*way));
        let names: Vec<&str> = fit.map(|(direction, _)| direction.word()).collect();
        format!("write {}", listed(&names, " or "))
    };
    let Some((_, way)) = ways.iter().find(|(direction, _)| *direction == side) else {
        let problem = line
            .falls_away
            .problem(format!("no edge of the panel lies to the {side}"));
        return Err(vec![problem.hint(names(&|_| true))]);
    };
    let chord = match (points.first(), points.last()) {
        (Some(first), Some(last)) => *last - *first,
        _ => Vec2::ZERO,
    };
    let to_right = Vec2::new(chord.y, -chord.x);
    let clear = |way: Vec2| to_right.dot(way).abs() > libm::sin(LEAST_ANGLE) * to_right.hypot();
    if !clear(*way) {
        let problem = line.falls_away.problem(format!(
            "the line's ends lie to the {side} of one another: which side falls away can't be told so"
        ));
        return Err(vec![problem.hint(names(&clear))]);
    }
    Ok(to_right.dot(*way) > 0.0)
}

/// The corners of what lies to the left of a line, out to a box that holds the panel.
fn region(points: &[Point], far: Rect, radius: f64) -> Vec<Corner> {
    let corner = |point: Point, radius: f64| Corner {
        point,
        radius,
        side: Side::Cut,
    };
    let (first, last) = (points[0], points[points.len() - 1]);
    let start = carried(points[1], first, far);
    let end = carried(points[points.len() - 2], last, far);
    let mut region = vec![corner(start, 0.0)];
    region.extend(points.iter().enumerate().map(|(i, point)| {
        let is_end = i == 0 || i + 1 == points.len();
        corner(*point, if is_end { 0.0 } else { radius })
    }));
    region.push(corner(end, 0.0));
    // Round the box, counter-clockwise, from where the line leaves it to where it came in.
    let round = 2.0 * (far.width() + far.height());
    let on = |distance: f64| (distance - along_box(end, far)).rem_euclid(round);
    let back = on(along_box(start, far));
    let mut passed: Vec<(f64, Point)> = corners(far)
        .into_iter()
        .map(|at| (on(along_box(at, far)), at))
        .filter(|(distance, _)| *distance < back)
        .collect();
    passed.sort_by(|a, b| a.0.total_cmp(&b.0));
    region.extend(passed.into_iter().map(|(_, at)| corner(at, 0.0)));
    region
}

/// The last side of a line carried on straight to a box round it.
fn carried(before: Point, end: Point, far: Rect) -> Point {
    let way = end - before;
    let reach = |from: f64, way: f64, low: f64, high: f64| match way {
        way if way > 0.0 => (high - from) / way,
        way if way < 0.0 => (low - from) / way,
        _ => f64::INFINITY,
    };
    let times = reach(end.x, way.x, far.x0, far.x1).min(reach(end.y, way.y, far.y0, far.y1));
    end + way * times
}

/// How far round a box a point on it lies from its lower left corner, counter-clockwise.
fn along_box(at: Point, far: Rect) -> f64 {
    let (width, height) = (far.width(), far.height());
    let sides = [
        ((at.y - far.y0).abs(), at.x - far.x0),
        ((at.x - far.x1).abs(), width + at.y - far.y0),
        ((at.y - far.y1).abs(), width + height + far.x1 - at.x),
        ((at.x - far.x0).abs(), 2.0 * width + height + far.y1 - at.y),
    ];
    let nearest = sides.into_iter().min_by(|a, b| a.0.total_cmp(&b.0));
    nearest.map_or(0.0, |(_, distance)| distance)
}

/// A line with its ends drawn in to the panel's edge.
fn within(points: &[Point], panel: &Outline) -> Vec<Point> {
    let drawn_in = |end: Point, next: Point| {
        let inner = if points.len() > 2 {
            next
        } else {
            end.midpoint(next)
        };
        if panel.contains(end) || !panel.contains(inner) {
            return end;
        }
        let (mut out, mut inside) = (end, inner);
        while out.distance(inside) > ON_EDGE / 10.0 {
            let middle = out.midpoint(inside);
            if panel.contains(middle) {
                inside = middle;
            } else {
                out = middle;
            }
        }
        inside
    };
    let mut line = points.to_vec();
    if let [first, second, ..] = points {
        line[0] = drawn_in(*first, *second);
    }
    if let [.., before, last] = points {
        line[points.len() - 1] = drawn_in(*last, *before);
    }
    line
}
