//! `[centreline]` of a pattern file as written.

use super::problem::Placed;
use crate::base::Direction;
use crate::model::centre::Measuring;
use std::ops::Range;

/// How the middle of the panel was read.
#[derive(Debug, Clone)]
pub struct CentrelineSpec {
    /// Its header, for what is wrong with the whole of it.
    pub span: Option<Range<usize>>,
    /// The end of the panel that tape readings start from; the left one (the front one at the
    /// vehicle's flank) unless given.
    pub zero: Option<Placed<Direction>>,
    /// Tape, eye and what is known of the panel beforehand.
    pub measuring: Measuring,
    /// Left and right features read from one zero.
    pub pairs: Vec<PairSpec>,
    /// The pencil mark that arcs are swung to.
    pub mark: Option<MarkSpec>,
    /// Distances from a left and a right feature to that mark.
    pub swings: Vec<SwingSpec>,
}

/// `[[centreline.pair]]`.
#[derive(Debug, Clone)]
pub struct PairSpec {
    /// Its name.
    pub name: Placed<String>,
    /// Tape reading of the feature at the vehicle's left, mm.
    pub left: Placed<f64>,
    /// Tape reading of the feature at the vehicle's right, mm.
    pub right: Placed<f64>,
    /// Distance of both from the datum edge, mm.
    pub from_datum: Placed<f64>,
    /// Diameter if they are holes, mm.
    pub diameter: Option<f64>,
    /// How well their middles are found, mm, where it differs from the rest.
    pub reading: Option<f64>,
    /// Whether the panel is held there.
    pub fixed: bool,
}

/// `[centreline.mark]`: a pencil mark near the middle.
#[derive(Debug, Clone)]
pub struct MarkSpec {
    /// Its tape reading from the zero end, mm.
    pub across: Placed<f64>,
    /// Its distance from the datum edge, mm.
    pub from_datum: Placed<f64>,
}

/// `[[centreline.swing]]`: distances to the mark from two features that mirror each other.
#[derive(Debug, Clone)]
pub struct SwingSpec {
    /// Name of the features.
    pub name: Placed<String>,
    /// From the feature at the vehicle's left to the mark, mm.
    pub left: Placed<f64>,
    /// From the feature at the vehicle's right to the mark, mm.
    pub right: Placed<f64>,
    /// From the one feature to the other, mm, where it was measured.
    pub apart: Option<f64>,
    /// Distance of both from the datum edge, mm.
    pub from_datum: Placed<f64>,
}
