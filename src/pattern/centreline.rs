//! Where the centreline meets the panel, and how well that is known.

use crate::centre::{
    ArcCentre, ArcReadings, Centre, CentreError, Pair, Readings, Swing, Zero, solve, solve_arcs,
};
use crate::panel::{Direction, Orientation};
use crate::spec::{CentrelineSpec, MarkSpec, PanelSpec, Problem};
use std::ops::Range;

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
    /// Tape reading of the centreline at the datum edge, mm.
    pub reading: f64,
    /// How its tape reading grows with the distance from the datum edge, mm for each mm.
    pub slope: f64,
    /// +1 where readings grow along the frame's x, -1 where against it.
    sense: f64,
}

impl Centreline {
    /// Finds the centreline from what was read; where nothing was, it is assumed half way along
    /// the panel, or, on a panel of no told width, marked by the fitter.
    ///
    /// # Errors
    /// Readings that can not be right, each at its place.
    pub(super) fn find(
        spec: Option<&CentrelineSpec>,
        panel: &PanelSpec,
        orientation: Orientation,
    ) -> Result<Self, Vec<Problem>> {
        let zero = spec
            .and_then(|spec| spec.zero.as_ref())
            .map_or_else(|| default_zero(orientation), |zero| zero.value);
        let whole = |basis, reading, slope| Self {
            basis,
            zero,
            reading,
            slope,
            sense: if zero == orientation.frame_right() {
                -1.0
            } else {
                1.0
            },
        };
        match spec {
            Some(spec) if !spec.pairs.is_empty() => {
                let centre = from_pairs(spec, zero, panel.width)?;
                let (reading, slope) = (centre.at(0.0).middle, centre.skew().slope());
                Ok(whole(Basis::Pairs(Box::new(centre)), reading, slope))
            }
            Some(
                spec @ CentrelineSpec {
                    mark: Some(mark), ..
                },
            ) => {
                let arcs = from_arcs(spec, mark)?;
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

    /// Where the centreline runs at a depth from the datum edge, mm along the frame's x.
    pub fn x_at(&self, depth: f64) -> f64 {
        self.sense * self.slope * depth
    }

    /// The turn that lays an axis square to the datum edge along the centreline, radians,
    /// counter-clockwise in the panel frame.
    pub fn lean(&self) -> f64 {
        -libm::atan(self.sense * self.slope)
    }

    /// How well the centreline is known at a depth, mm either way, expanded with k = 2; `None`
    /// where nobody measured it.
    pub fn uncertainty_at(&self, depth: f64) -> Option<f64> {
        match &self.basis {
            Basis::Assumed | Basis::Marked => None,
            Basis::Pairs(centre) => Some(centre.at(depth).uncertainty),
            Basis::Arcs(arcs) => Some(arcs.at(depth).uncertainty),
        }
    }
}

fn from_pairs(
    spec: &CentrelineSpec,
    zero: Direction,
    width: Option<f64>,
) -> Result<Centre, Vec<Problem>> {
    let pairs = spec.pairs.iter().map(|pair| Pair {
        name: pair.name.value.clone(),
        left: pair.left.value,
        right: pair.right.value,
        depth: pair.from_datum.value,
        reading: pair.reading,
    });
    let readings = Readings {
        zero: tape_zero(zero),
        measuring: spec.measuring,
        panel_width: width,
        pairs: pairs.collect(),
    };
    solve(&readings).map_err(|errors| {
        placed(
            errors,
            |index| spec.pairs.get(index)?.name.span.clone(),
            &spec.span,
        )
    })
}

fn from_arcs(spec: &CentrelineSpec, mark: &MarkSpec) -> Result<ArcCentre, Vec<Problem>> {
    let swings = spec.swings.iter().map(|swing| Swing {
        name: swing.name.value.clone(),
        left: swing.left.value,
        right: swing.right.value,
        apart: swing.apart,
        depth: swing.from_datum.value,
    });
    let readings = ArcReadings {
        measuring: spec.measuring,
        mark_depth: mark.from_datum.value,
        swings: swings.collect(),
    };
    solve_arcs(&readings).map_err(|errors| {
        placed(
            errors,
            |index| spec.swings.get(index)?.name.span.clone(),
            &spec.span,
        )
    })
}

/// What is wrong with readings, each at the pair or swing that it is about.
fn placed(
    errors: Vec<CentreError>,
    place: impl Fn(usize) -> Option<Range<usize>>,
    whole: &Option<Range<usize>>,
) -> Vec<Problem> {
    errors
        .into_iter()
        .map(|error| Problem {
            message: error.to_string(),
            hint: Some(error.hint()),
            span: error.index().and_then(&place).or_else(|| whole.clone()),
        })
        .collect()
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
