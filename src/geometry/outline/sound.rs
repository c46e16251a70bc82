//! One operation on two outlines, measured rather than trusted.
//!
//! Where sides lie on one another, or nearly touch, the library now and then loses a piece or
//! takes one for its opposite, and says nothing. Two things tell. Areas: `A or B` and `A and B`
//! make up `A` and `B`, `A not B` and `A and B` make up `A`. And the new line itself: none of
//! `A or B` runs inside `A`, none of `A and B` outside. What fails is worked out again from the
//! same outlines told otherwise.

use super::SHORTEST_SIDE;
use super::polyline::{SLIVER, from_polyline, simple_loops, to_polyline};
use super::{Outline, Runs};
use cavalier_contours::polyline::{
    BooleanOp, BooleanResultPline, PlineSource, PlineSourceMut, Polyline,
};
use kurbo::{Point, Rect, Vec2};

/// How far the second outline is moved where nothing else helps, mm: past what the library takes
/// for one and the same point, and far below what can be cut.
const NUDGE: f64 = 5e-5;

/// New lines lie on the old ones within this, mm.
const STRAY: f64 = 2.0 * SLIVER;

/// Outer lines and holes that an operation leaves.
#[derive(Debug, Clone, Default)]
pub(super) struct Loops {
    pub(super) outers: Vec<Outline>,
    pub(super) holes: Vec<Outline>,
}

impl Loops {
    fn area(&self) -> f64 {
        let sum = |lines: &[Outline]| lines.iter().map(Outline::area).sum::<f64>();
        sum(&self.outers) - sum(&self.holes)
    }

    /// How far its lines run where the operation leaves none, summed over the middles of their
    /// sides, mm: what the library mistakes is always whole sides.
    fn strays(&self, one: &Outline, other: &Outline, operation: BooleanOp) -> f64 {
        let (of_one, of_other) = match operation {
            BooleanOp::Or => (Never::Inside, Never::Inside),
            BooleanOp::And => (Never::Outside, Never::Outside),
            BooleanOp::Not => (Never::Outside, Never::Inside),
            BooleanOp::Xor => return 0.0,
        };
        let (one, other) = (Watched::new(one), Watched::new(other));
        self.outers
            .iter()
            .chain(&self.holes)
            .flat_map(Outline::sides)
            .map(|side| side.at(0.5))
            .map(|at| of_one.stray(&one, at) + of_other.stray(&other, at))
            .sum()
    }
}

/// An outline that many points are held against.
struct Watched<'a> {
    outline: &'a Outline,
    bounds: Rect,
    sides: Runs,
}

impl<'a> Watched<'a> {
    fn new(outline: &'a Outline) -> Self {
        Self {
            outline,
            bounds: outline.bounds(),
            sides: Runs::new(outline.sides()),
        }
    }
}

/// Where a new line never runs, of one of the outlines it is made from.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Never {
    Inside,
    Outside,
}

impl Never {
    /// How far `point` lies where it should not, mm.
    fn stray(self, line: &Watched<'_>, point: Point) -> f64 {
        if self == Self::Inside && !line.bounds.contains(point) {
            return 0.0;
        }
        let astray = !line.sides.come_near(point, STRAY)
            && line.outline.contains(point) == (self == Self::Inside);
        if astray {
            line.sides.nearest(point).0
        } else {
            0.0
        }
    }
}

/// Outer lines and holes of one operation, leftovers without area dropped.
pub(super) fn outcome(one: &Outline, other: &Outline, operation: BooleanOp) -> Loops {
    let allowed = SLIVER * (one.length() + other.length());
    let (whole, counterpart) = match operation {
        BooleanOp::Or => (one.area() + other.area(), BooleanOp::And),
        BooleanOp::And => (one.area() + other.area(), BooleanOp::Or),
        BooleanOp::Not | BooleanOp::Xor => (one.area(), BooleanOp::And),
    };
    let mut best = (f64::INFINITY, Loops::default());
    for tell in TELLINGS {
        let (first, second) = tell(one, other);
        let loops = operate(&first, &second, operation);
        let rest = operate(&first, &second, counterpart);
        let amiss = (loops.area() + rest.area() - whole).abs();
        let stray = loops.strays(one, other, operation);
        if amiss + stray < best.0 {
            best = (amiss + stray, loops);
        }
        if amiss <= allowed && stray == 0.0 {
            break;
        }
    }
    best.1
}

type Telling = fn(&Outline, &Outline) -> (Polyline<f64>, Polyline<f64>);

/// The same two outlines in several ways, the plainest first.
const TELLINGS: [Telling; 6] = [
    |one, other| (to_polyline(one), to_polyline(other)),
    |one, other| (with_joints_of(one, other), with_joints_of(other, one)),
    |one, other| (to_polyline(one), begun_later(other)),
    |one, other| (begun_later(one), to_polyline(other)),
    |one, other| {
        (
            to_polyline(one),
            nudged(other, Vec2::new(NUDGE, 0.6 * NUDGE)),
        )
    },
    |one, other| {
        (
            to_polyline(one),
            nudged(other, Vec2::new(-0.7 * NUDGE, NUDGE)),
        )
    },
];

/// With a joint wherever the other outline has one, so that sides on one another match whole.
fn with_joints_of(outline: &Outline, other: &Outline) -> Polyline<f64> {
    let mut line = Polyline::new_closed();
    for side in outline.sides() {
        let on_side = |t: &f64| {
            let at = side.at(*t);
            at.distance(side.start) > SHORTEST_SIDE && at.distance(side.end) > SHORTEST_SIDE
        };
        let mut stops: Vec<f64> = other
            .vertices()
            .iter()
            .filter(|vertex| side.nearest(vertex.point).distance(vertex.point) < SHORTEST_SIDE)
            .map(|vertex| side.nearest_t(vertex.point))
            .filter(on_side)
            .chain([0.0])
            .collect();
        stops.sort_by(f64::total_cmp);
        stops.push(1.0);
        for pair in stops.windows(2) {
            let at = side.at(pair[0]);
            let bulge = libm::tan(side.sweep() * (pair[1] - pair[0]) / 4.0);
            line.add(at.x, at.y, bulge);
        }
    }
    line.remove_repeat_pos(SHORTEST_SIDE).unwrap_or(line)
}

/// With the walk round it begun half-way.
fn begun_later(outline: &Outline) -> Polyline<f64> {
    let vertices = outline.vertices();
    let half = vertices.len() / 2;
    let mut line = Polyline::new_closed();
    for vertex in vertices[half..].iter().chain(&vertices[..half]) {
        line.add(vertex.point.x, vertex.point.y, vertex.bulge);
    }
    line
}

fn nudged(outline: &Outline, by: Vec2) -> Polyline<f64> {
    to_polyline(&outline.placed(0.0, by))
}

fn operate(one: &Polyline<f64>, other: &Polyline<f64>, operation: BooleanOp) -> Loops {
    let result = one.boolean(other, operation);
    let mut loops = Loops::default();
    let mut sort = |lines: Vec<BooleanResultPline<Polyline<f64>>>, filled: bool| {
        for BooleanResultPline { pline, .. } in lines {
            let forward = pline.orientation();
            for simple in simple_loops(&pline) {
                // A line that touches itself from within encloses a hole there.
                let same = simple.orientation() == forward;
                let list = if same == filled {
                    &mut loops.outers
                } else {
                    &mut loops.holes
                };
                list.extend(from_polyline(&simple));
            }
        }
    };
    sort(result.pos_plines, true);
    sort(result.neg_plines, false);
    loops
}
