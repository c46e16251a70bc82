//! Arc length of a cubic through readings, both ways.
//!
//! Between readings the integrand `sqrt(1 + f'^2)` is smooth, so Gauss's rule of eight points on
//! a quarter of each span is exact to some 1e-12 of it; Newton's rule inverts the sum.

use super::jet::Jet;
use crate::geometry::Spline;

/// Pieces that each span between two readings is summed in.
const PIECES: usize = 4;

/// Positions and weights of Gauss's rule of eight points on (-1, 1), positive half (Abramowitz
/// and Stegun, table 25.4; from memory, proved by the test that sums powers).
const GAUSS: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_47),
    (0.960_289_856_497_536_2, 0.101_228_536_290_376_26),
];

/// A spline with the table of its arc length.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ArcLength {
    spline: Spline,
    /// Stops along `u` and the arc length up to each, from the first reading on, mm.
    stops: Vec<(f64, f64)>,
}

impl ArcLength {
    pub(crate) fn of(spline: Spline) -> Self {
        let knots = spline.knots();
        let mut stops = vec![(knots[0], 0.0)];
        let mut sum = 0.0;
        for pair in knots.windows(2) {
            let piece = (pair[1] - pair[0]) / PIECES as f64;
            for index in 0..PIECES {
                let from = pair[0] + piece * index as f64;
                let to = if index + 1 == PIECES {
                    pair[1]
                } else {
                    from + piece
                };
                sum += summed(&spline, from, to);
                stops.push((to, sum));
            }
        }
        Self { spline, stops }
    }

    pub(crate) fn jet(&self, u: f64) -> Jet {
        let [fall, slope, bend, _] = self.spline.jet(u);
        Jet { fall, slope, bend }
    }

    /// Arc length from the first reading to `u`, mm; straight beyond the ends.
    pub(crate) fn length(&self, u: f64) -> f64 {
        let last = self.stops.len() - 1;
        if u <= self.stops[0].0 || u >= self.stops[last].0 {
            let (end, sum) = self.stops[if u <= self.stops[0].0 { 0 } else { last }];
            return sum + (u - end) * self.jet(end).stretch();
        }
        let index = self.stops.partition_point(|stop| stop.0 <= u) - 1;
        let (from, sum) = self.stops[index];
        sum + summed(&self.spline, from, u)
    }

    /// The inverse of [`ArcLength::length`].
    pub(crate) fn at_length(&self, s: f64) -> f64 {
        let last = self.stops.len() - 1;
        if s <= 0.0 || s >= self.stops[last].1 {
            let (end, sum) = self.stops[if s <= 0.0 { 0 } else { last }];
            return end + (s - sum) / self.jet(end).stretch();
        }
        let index = self.stops.partition_point(|stop| stop.1 <= s) - 1;
        let ((from, before), (to, after)) = (self.stops[index], self.stops[index + 1]);
        let mut u = from + (to - from) * (s - before) / (after - before);
        // The length rises by 1 or more for each mm, so that Newton's steps never run away; four
        // of them double the digits from a thousandth of a piece to the last one.
        for _ in 0..8 {
            let step = (s - before - summed(&self.spline, from, u)) / self.jet(u).stretch();
            u = (u + step).clamp(from, to);
            if step.abs() < 1e-13 * (1.0 + u.abs()) {
                break;
            }
        }
        u
    }
}

/// Arc length of the spline between two places within one piece.
fn summed(spline: &Spline, from: f64, to: f64) -> f64 {
    let (middle, half) = ((from + to) / 2.0, (to - from) / 2.0);
    // One cubic from end to end: its slope is known everywhere from the middle.
    let [_, slope, bend, third] = spline.jet(middle);
    let stretch = |off: f64| {
        let slope = slope + off * (bend + off * third / 2.0);
        (1.0 + slope * slope).sqrt()
    };
    GAUSS
        .iter()
        .map(|&(place, weight)| weight * (stretch(-half * place) + stretch(half * place)))
        .sum::<f64>()
        * half
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rule_sums_even_powers_exactly() {
        for power in [0, 2, 4, 8, 14] {
            let sum: f64 = GAUSS
                .iter()
                .map(|&(place, weight)| 2.0 * weight * place.powi(power))
                .sum();
            let exact = 2.0 / f64::from(power + 1);
            assert!((sum - exact).abs() < 1e-14, "{power}: {sum} for {exact}");
        }
    }

    // Closed form of the parabola y = k x^2: with q = 2 k x, (q sqrt(1 + q^2) + asinh q) / 4 k.
    #[test]
    fn a_parabola_has_the_length_of_its_closed_form() {
        for k in [1e-4, 5e-4, 2e-3] {
            let points: Vec<_> = [-300.0, -100.0, 50.0, 300.0]
                .map(|x: f64| (x, k * x * x))
                .to_vec();
            let curve = ArcLength::of(Spline::through(&points).unwrap());
            let closed = |x: f64| {
                let q: f64 = 2.0 * k * x;
                (q * (1.0 + q * q).sqrt() + q.asinh()) / (4.0 * k)
            };
            for x in [-299.0, -80.0, 0.0, 33.3, 150.0, 300.0] {
                let (is, should) = (curve.length(x), closed(x) - closed(-300.0));
                assert!((is - should).abs() < 1e-9, "{is} for {should}");
                assert!((curve.at_length(is) - x).abs() < 1e-10);
            }
            for x in [-420.0, 700.0] {
                assert!((curve.at_length(curve.length(x)) - x).abs() < 1e-10);
            }
        }
    }
}
