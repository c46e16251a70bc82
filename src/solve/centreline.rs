//! Where the centreline meets the panel, and how well that is known.
//!
//! Depths are told as a tape reads them that is hooked over the real edge. The mathematics of the
//! middle wants them from one straight line: that through the edge's ends.

use crate::base::Direction;
use crate::base::length::{Told, Units};
use crate::input::{CentrelineSpec, MarkSpec, PanelSpec, Placed, Problem, SwingSpec};
use crate::model::centre::{
    ArcCentre, ArcReadings, Centre, CentreError, Measuring, Pair, Readings, Swing, Zero, solve,
    solve_arcs,
};
use crate::model::panel::{DatumEdge, Orientation};

/// How the centreline was found.
#[derive(Debug, Clone, PartialEq)]
pub enum Basis {
    /// Taken to be half the panel's width: nobody measured it.
    Assumed,
    /// Marked on the panel by the fitter: the pattern is laid to that mark.
    Marked,
    /// From readings of left and right features.
    Pairs(Box<Centre>),
    /// From arcs swung to a pencil mark.
    Arcs(Box<ArcCentre>),
}

/// The centreline in tape readings, and the way from readings to the panel frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Centreline {
    /// How it was found.
    pub basis: Basis,
    /// The end of the panel that readings start from.
    pub zero: Direction,
    /// Tape reading of the centreline where it meets the line through the datum edge's ends, mm.
    pub reading: f64,
    /// How its tape reading grows with the distance from the datum edge, mm for each mm.
    pub slope: f64,
    /// How unevenly the panel is taken to be moulded: standard deviation of a pair's middle, mm.
    pub moulding: f64,
    /// +1 where readings grow along the frame's x, -1 where against it.
    sense: f64,
    /// Tape reading of the centreline at the real datum edge, mm, and how far that lies past the
    /// line through the edge's ends.
    foot: (f64, f64),
    /// What was told as `from_datum` of each pair, by name.
    told: Vec<(String, f64)>,
}

/// Rounds of a fixed-point search whose every round is nearer by the edge's slope or more.
const ROUNDS: usize = 40;

impl Centreline {
    /// Finds the centreline from what was read; where nothing was, it is assumed half way along
    /// the panel, or, on a panel of no told width, marked by the fitter. The edge is that along
    /// the tape.
    ///
    /// # Errors
    /// Readings that can not be right, each at its place.
    pub(super) fn find(
        spec: Option<&CentrelineSpec>,
        panel: &PanelSpec,
        edge: &DatumEdge,
        orientation: Orientation,
        units: Units,
    ) -> Result<Self, Vec<Problem>> {
        let zero = spec
            .and_then(|spec| spec.zero.as_ref())
            .map_or_else(|| default_zero(orientation), |zero| zero.value);
        let whole = |basis, reading: f64, slope: f64| Self {
            basis,
            zero,
            reading,
            slope,
            moulding: spec
                .map_or(Measuring::default(), |spec| spec.measuring)
                .moulding,
            foot: settled((reading, 0.0), |(at, _)| {
                let out = edge.at(at);
                (reading + slope * out, out)
            }),
            told: spec.iter().flat_map(|spec| depths_told(spec)).collect(),
            sense: if zero == orientation.frame_right() {
                -1.0
            } else {
                1.0
            },
        };
        match spec {
            Some(spec) if !spec.pairs.is_empty() => {
                let centre = from_pairs(spec, zero, panel.width, edge).map_err(|errors| {
                    let named: Vec<_> = spec.pairs.iter().map(|pair| &pair.name).collect();
                    placed(&errors, &named, spec, units)
                })?;
                let (reading, slope) = (centre.at(0.0).middle, centre.skew().slope());
                Ok(whole(Basis::Pairs(Box::new(centre)), reading, slope))
            }
            Some(
                spec @ CentrelineSpec {
                    mark: Some(mark), ..
                },
            ) => {
                let arcs = from_arcs(spec, mark, zero, edge).map_err(|errors| {
                    let named: Vec<_> = spec.swings.iter().map(|swing| &swing.name).collect();
                    placed(&errors, &named, spec, units)
                })?;
                let reading =
                    mark.across.value - tape_zero(zero).to_the_right(arcs.mark_right_by(), 0.0);
                Ok(whole(Basis::Arcs(Box::new(arcs)), reading, 0.0))
            }
            _ => Ok(match panel.width {
                Some(width) => whole(Basis::Assumed, width / 2.0, 0.0),
                None => whole(Basis::Marked, 0.0, 0.0),
            }),
        }
    }

    /// Place along the frame's x of a tape reading, mm.
    pub fn frame_x(&self, reading: f64) -> f64 {
        self.sense * (reading - self.reading)
    }

    /// Tape reading of the middle where it is marked: on the real datum edge, mm.
    pub fn reading_on_edge(&self) -> f64 {
        self.foot.0
    }

    /// How well the middle is known on the datum edge: see [`Self::uncertainty_at`].
    pub fn uncertainty_on_edge(&self) -> Option<f64> {
        self.uncertainty_at(self.foot.1)
    }

    /// What was told as `from_datum` of the pair of that name, mm.
    pub fn depth_told(&self, pair: &str) -> Option<f64> {
        let mut told = self.told.iter();
        told.find(|(name, _)| name == pair).map(|(_, depth)| *depth)
    }

    /// Where the centreline runs at a height of the frame, mm along the frame's x.
    pub fn x_at(&self, y: f64) -> f64 {
        self.sense * self.slope * y
    }

    /// The turn that lays an axis square to the datum edge along the centreline, radians,
    /// counter-clockwise in the panel frame.
    pub fn lean(&self) -> f64 {
        -libm::atan(self.sense * self.slope)
    }

    /// Whether anybody measured where it is.
    pub fn is_measured(&self) -> bool {
        !matches!(self.basis, Basis::Assumed | Basis::Marked)
    }

    /// How well the centreline is known at a height of the frame, mm either way, in about 95 of 100
    /// cases; `None` where nobody measured it.
    pub fn uncertainty_at(&self, y: f64) -> Option<f64> {
        match &self.basis {
            Basis::Assumed | Basis::Marked => None,
            Basis::Pairs(centre) => Some(centre.at(y).uncertainty),
            Basis::Arcs(arcs) => Some(arcs.at(y).uncertainty),
        }
    }
}

/// A pair of numbers that `next` leaves as it is, from a first guess.
fn settled(guess: (f64, f64), next: impl Fn((f64, f64)) -> (f64, f64)) -> (f64, f64) {
    let mut at = guess;
    for _ in 0..ROUNDS {
        let then = next(at);
        if then == at {
            break;
        }
        at = then;
    }
    at
}

fn depths_told(spec: &CentrelineSpec) -> Vec<(String, f64)> {
    let pairs = spec.pairs.iter();
    pairs
        .map(|pair| (pair.name.value.clone(), pair.from_datum.value))
        .collect()
}

fn from_pairs(
    spec: &CentrelineSpec,
    zero: Direction,
    width: Option<f64>,
    edge: &DatumEdge,
) -> Result<Centre, Vec<CentreError>> {
    // The middle of two features lies half way between their heights too.
    let out = |left: f64, right: f64| f64::midpoint(edge.at(left), edge.at(right));
    let pairs = spec.pairs.iter().map(|pair| Pair {
        name: pair.name.value.clone(),
        left: pair.left.value,
        right: pair.right.value,
        depth: pair.from_datum.value + out(pair.left.value, pair.right.value),
        reading: pair.reading,
    });
    let readings = Readings {
        zero: tape_zero(zero),
        measuring: spec.measuring,
        panel_width: width,
        pairs: pairs.collect(),
    };
    solve(&readings)
}

fn from_arcs(
    spec: &CentrelineSpec,
    mark: &MarkSpec,
    zero: Direction,
    edge: &DatumEdge,
) -> Result<ArcCentre, Vec<CentreError>> {
    let mark_depth = mark.from_datum.value + edge.at(mark.across.value);
    let depth_of = |swing: &SwingSpec| {
        let told = swing.from_datum.value;
        let (left, right) = (swing.left.value, swing.right.value);
        // The features' own places along the edge follow from their distances to the mark.
        let off = |distance: f64, lower: f64| (distance * distance - lower * lower).max(0.0).sqrt();
        let out = |(left_out, right_out): (f64, f64)| {
            let apart = [(left, left_out, -1.0), (right, right_out, 1.0)];
            let [left, right] = apart.map(|(distance, out, side)| {
                let aside = side * off(distance, mark_depth - told - out);
                edge.at(mark.across.value + tape_zero(zero).to_the_right(aside, 0.0))
            });
            (left, right)
        };
        let (left, right) = settled(out((0.0, 0.0)), out);
        told + f64::midpoint(left, right)
    };
    let swings = spec.swings.iter().map(|swing| Swing {
        name: swing.name.value.clone(),
        left: swing.left.value,
        right: swing.right.value,
        apart: swing.apart,
        depth: depth_of(swing),
    });
    let readings = ArcReadings {
        measuring: spec.measuring,
        mark_depth,
        swings: swings.collect(),
    };
    solve_arcs(&readings)
}

/// What is wrong with readings, each at the pair or swing that it is about, in order `named`.
fn placed(
    errors: &[CentreError],
    named: &[&Placed<String>],
    spec: &CentrelineSpec,
    units: Units,
) -> Vec<Problem> {
    let place = |error: &CentreError| named.get(error.index()?)?.span.clone();
    let placed = errors.iter().map(|error| Problem {
        message: error.told(units),
        hint: Some(error.hint()),
        span: place(error).or_else(|| spec.span.clone()),
    });
    placed.collect()
}

/// The end that a tape starts from, across the vehicle.
fn tape_zero(zero: Direction) -> Zero {
    if zero == Direction::Right {
        Zero::Right
    } else {
        Zero::Left
    }
}

/// The end that readings start from when nothing is said.
fn default_zero(orientation: Orientation) -> Direction {
    match orientation.frame_right() {
        Direction::Left | Direction::Right => Direction::Left,
        _ => Direction::Front,
    }
}
