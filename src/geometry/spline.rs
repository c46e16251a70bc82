//! A smooth curve through readings: the not-a-knot cubic.
//!
//! de Boor, *A Practical Guide to Splines*, chapter IV (from memory): the third derivative is
//! continuous at the second and the last but one reading, so that four readings give the one
//! cubic through them, three the parabola and two the straight line.

/// Places looked at between two readings for how far the curve swings there: a cubic's peak is
/// then missed by less than 1 % of its height.
const SWING_STEPS: u32 = 32;

/// A curve `y(x)` through readings at rising `x`, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Spline {
    x: Vec<f64>,
    y: Vec<f64>,
    slope: Vec<f64>,
}

impl Spline {
    /// The curve through `points`, whose x must rise; `None` for fewer than two, or where x
    /// does not rise or a number is not finite.
    pub fn through(points: &[(f64, f64)]) -> Option<Self> {
        let rising = points.windows(2).all(|pair| pair[0].0 < pair[1].0);
        let finite = points.iter().all(|(x, y)| x.is_finite() && y.is_finite());
        if points.len() < 2 || !rising || !finite {
            return None;
        }
        let (x, y): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
        let slope = slopes(&x, &y);
        Some(Self { x, y, slope })
    }

    /// Height at `x`; beyond the ends the curve goes on straight.
    pub fn at(&self, x: f64) -> f64 {
        self.jet(x)[0]
    }

    /// Height and first three derivatives at `x`; beyond the ends the curve goes on straight.
    pub(crate) fn jet(&self, x: f64) -> [f64; 4] {
        let last = self.x.len() - 1;
        if x < self.x[0] || x > self.x[last] {
            let end = if x < self.x[0] { 0 } else { last };
            let slope = self.slope[end];
            return [self.y[end] + slope * (x - self.x[end]), slope, 0.0, 0.0];
        }
        let i = self.x.partition_point(|&knot| knot <= x).clamp(1, last) - 1;
        let [height, slope, square, cubic] = self.span(i);
        let d = x - self.x[i];
        [
            height + d * (slope + d * (square + d * cubic)),
            slope + d * (2.0 * square + 3.0 * cubic * d),
            2.0 * square + 6.0 * cubic * d,
            6.0 * cubic,
        ]
    }

    /// The cubic after reading `i`: factors of the powers of the distance from it.
    fn span(&self, i: usize) -> [f64; 4] {
        let width = self.x[i + 1] - self.x[i];
        let chord = (self.y[i + 1] - self.y[i]) / width;
        let (from, to) = (self.slope[i], self.slope[i + 1]);
        [
            self.y[i],
            from,
            (3.0 * chord - 2.0 * from - to) / width,
            (from + to - 2.0 * chord) / (width * width),
        ]
    }

    /// The readings, x rising.
    pub(crate) fn readings(&self) -> impl Iterator<Item = (f64, f64)> {
        self.x.iter().copied().zip(self.y.iter().copied())
    }

    /// The readings' own x, rising.
    pub(crate) fn knots(&self) -> &[f64] {
        &self.x
    }

    /// The third derivative, constant between each two readings, span by span.
    pub(crate) fn third_derivatives(&self) -> Vec<f64> {
        let spans = 0..self.x.len() - 1;
        spans.map(|i| 6.0 * self.span(i)[3]).collect()
    }

    /// Points along the curve from `from` to `to`, both kept, whose joining straight lines stay
    /// within `tolerance` mm of it.
    pub fn flattened(&self, from: f64, to: f64, tolerance: f64) -> Vec<(f64, f64)> {
        let knots = self.x.iter().copied().filter(|x| *x > from && *x < to);
        let stops: Vec<f64> = std::iter::once(from).chain(knots).chain([to]).collect();
        let mut points = vec![(from, self.at(from))];
        for pair in stops.windows(2) {
            let pieces = self.pieces(pair[0], pair[1], tolerance);
            points.extend((1..=pieces).map(|k| {
                let x = pair[0] + (pair[1] - pair[0]) * k as f64 / pieces as f64;
                (x, self.at(x))
            }));
        }
        points
    }

    /// Where the curve swings farthest past the range of its readings: the reading before that
    /// place, counted from 0, and how far, mm; `None` where it stays within.
    pub fn swing(&self) -> Option<(usize, f64)> {
        let high = self.y.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let low = self.y.iter().copied().fold(f64::INFINITY, f64::min);
        let past = |x: f64| (self.at(x) - high).max(low - self.at(x));
        let spans = self.x.windows(2).enumerate();
        spans
            .map(|(before, pair)| {
                let steps = (1..SWING_STEPS).map(|k| f64::from(k) / f64::from(SWING_STEPS));
                let places = steps.map(|t| pair[0] + t * (pair[1] - pair[0]));
                (before, places.map(past).fold(0.0, f64::max))
            })
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .filter(|(_, by)| *by > 0.0)
    }

    /// Straight pieces that one cubic span needs: a chord of length `l` strays by at most
    /// `l^2 |y''| / 8`.
    fn pieces(&self, from: f64, to: f64, tolerance: f64) -> usize {
        let width = to - from;
        // The second derivative of a cubic is linear: its greatest size is at an end.
        let worst = self.jet(from)[2].abs().max(self.jet(to)[2].abs());
        ((worst * width * width / (8.0 * tolerance)).sqrt().ceil() as usize).clamp(1, 10_000)
    }
}

/// Slopes at the readings, from continuity of the second derivative and the two end conditions.
fn slopes(x: &[f64], y: &[f64]) -> Vec<f64> {
    let n = x.len();
    let dx: Vec<f64> = x.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let chord: Vec<f64> = y
        .windows(2)
        .zip(&dx)
        .map(|(pair, d)| (pair[1] - pair[0]) / d)
        .collect();
    if n == 2 {
        return vec![chord[0]; 2];
    }
    if n == 3 {
        let bend = (chord[1] - chord[0]) / (x[2] - x[0]);
        return vec![
            chord[0] - bend * dx[0],
            chord[0] + bend * dx[0],
            chord[1] + bend * dx[1],
        ];
    }
    let (first, last) = (x[2] - x[0], x[n - 1] - x[n - 3]);
    let mut rows = vec![(
        0.0,
        dx[1],
        first,
        ((dx[0] + 2.0 * first) * dx[1] * chord[0] + dx[0] * dx[0] * chord[1]) / first,
    )];
    rows.extend((1..n - 1).map(|i| {
        let (before, after) = (dx[i - 1], dx[i]);
        let right = 3.0 * (after * chord[i - 1] + before * chord[i]);
        (after, 2.0 * (before + after), before, right)
    }));
    let (near, end) = (dx[n - 3], dx[n - 2]);
    rows.push((
        last,
        near,
        0.0,
        (end * end * chord[n - 3] + (2.0 * last + end) * near * chord[n - 2]) / last,
    ));
    solve_tridiagonal(&rows)
}

/// Solves rows of `(below, diagonal, above, right)`.
fn solve_tridiagonal(rows: &[(f64, f64, f64, f64)]) -> Vec<f64> {
    let mut swept: Vec<(f64, f64)> = Vec::with_capacity(rows.len());
    for &(below, diagonal, above, right) in rows {
        let (c, d) = swept.last().copied().unwrap_or((0.0, 0.0));
        let pivot = diagonal - below * c;
        swept.push((above / pivot, (right - below * d) / pivot));
    }
    let mut next = 0.0;
    let mut solution: Vec<f64> = swept
        .into_iter()
        .rev()
        .map(|(c, d)| {
            next = d - c * next;
            next
        })
        .collect();
    solution.reverse();
    solution
}

#[cfg(test)]
mod tests {
    use super::Spline;

    #[test]
    fn gives_back_a_cubic_exactly() {
        let cubic = |x: f64| 0.5 * x * x * x - 2.0 * x * x + x - 3.0;
        for knots in [
            vec![0.0, 1.0, 2.5, 4.0],
            vec![-1.0, 0.0, 0.5, 3.0, 4.0, 7.0],
        ] {
            let points: Vec<_> = knots.iter().map(|&x| (x, cubic(x))).collect();
            let spline = Spline::through(&points).unwrap();
            for step in 0..=100 {
                let x = knots[0] + (knots[knots.len() - 1] - knots[0]) * f64::from(step) / 100.0;
                let (is, should) = (spline.at(x), cubic(x));
                assert!((is - should).abs() < 1e-9, "at {x}: {is} for {should}");
            }
        }
    }

    #[test]
    fn slopes_and_bends_are_those_of_the_cubic() {
        let cubic = |x: f64| 0.5 * x * x * x - 2.0 * x * x + x - 3.0;
        let points: Vec<_> = [-1.0, 0.0, 0.5, 3.0, 4.0].map(|x| (x, cubic(x))).to_vec();
        let spline = Spline::through(&points).unwrap();
        for x in [-1.0, -0.3, 0.5, 2.0, 4.0] {
            let [y, slope, bend, third] = spline.jet(x);
            assert!((third - 3.0).abs() < 1e-9, "{third}");
            assert!((y - cubic(x)).abs() < 1e-10);
            assert!(
                (slope - (1.5 * x * x - 4.0 * x + 1.0)).abs() < 1e-10,
                "{slope}"
            );
            assert!((bend - (3.0 * x - 4.0)).abs() < 1e-9, "{bend}");
        }
        assert!(
            spline
                .third_derivatives()
                .iter()
                .all(|third| (third - 3.0).abs() < 1e-9)
        );
        assert_eq!(spline.jet(6.0)[2], 0.0);
        assert!((spline.jet(6.0)[0] - spline.at(6.0)).abs() < 1e-12);
    }

    #[test]
    fn three_readings_give_the_parabola() {
        let spline = Spline::through(&[(0.0, 0.0), (300.0, 22.0), (600.0, 0.0)]).unwrap();
        let is = spline.at(150.0);
        assert!((is - 16.5).abs() < 1e-9, "{is}");
    }

    #[test]
    fn flattening_stays_within_its_tolerance() {
        let spline = Spline::through(&[
            (0.0, 0.0),
            (250.0, 4.0),
            (490.0, 6.0),
            (730.0, 4.0),
            (980.0, 0.0),
        ])
        .unwrap();
        let points = spline.flattened(0.0, 980.0, 0.005);
        assert!(points.len() < 80, "{}", points.len());
        for pair in points.windows(2) {
            let middle = (pair[0].0 + pair[1].0) / 2.0;
            let strays = (spline.at(middle) - (pair[0].1 + pair[1].1) / 2.0).abs();
            assert!(strays <= 0.005, "{strays} mm at {middle}");
        }
    }

    #[test]
    fn refuses_readings_that_do_not_rise() {
        assert!(Spline::through(&[(0.0, 0.0)]).is_none());
        assert!(Spline::through(&[(0.0, 0.0), (0.0, 1.0)]).is_none());
        assert!(Spline::through(&[(0.0, 0.0), (f64::NAN, 1.0)]).is_none());
    }
}
