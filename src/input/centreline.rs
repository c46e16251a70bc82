//! `[centreline]` of a pattern file as written.

use super::field::{choice, choices, keys};
use super::got::{Field, Got, Taken};
use super::keys::{Keys, Kind};
use super::problem::{Placed, Problem};
use super::reading::Reading;
use super::value::{ANY_LENGTH, DIAMETER};
use crate::base::Direction;
use crate::base::length::LONGEST;
use crate::model::centre::{Measuring, Tape, TapeClass, TapeEnd};
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

/// How well a feature's middle is found, mm either way.
const READING: Kind = Kind::Length(0.0, 50.0);

/// Distances between features.
const APART: Kind = Kind::Length(1.0, LONGEST);

const USUAL: fn() -> Measuring = Measuring::default;

keys! {
/// `[centreline]`: readings that the middle of the panel is found from.
const CENTRELINE;
/// The end of the panel that tape readings start from; unless given the left one, or the front one at
/// the vehicle's flank.
zero = choice!(Direction, Direction::hint);
/// Smallest division of the tape, mm.
graduation = Kind::Length(0.01, 50.0), or(USUAL().tape.graduation);
/// Accuracy class on the tape's blade.
tape_class = choice!(TapeClass), or(USUAL().tape.class);
/// Where the tape's zero is: a mark on the blade, or its hook or butt end.
tape_end = choice!(TapeEnd), or(USUAL().tape.end);
/// How well a hole's middle is found, mm either way.
reading = READING, or(USUAL().reading);
/// How unevenly the panel is made: standard deviation of a pair's middle, mm.
moulding = Kind::Length(0.0, 20.0), or(USUAL().moulding);
/// How far the centreline may lean, degrees either way.
skew_limit = Kind::Angle(0.0, 10.0), or(USUAL().skew_limit);
/// Features that mirror each other, left and right, read from one zero.
pair = Kind::Tables(&PairSpec::KEYS, 0, MOST_READ);
/// The pencil mark that arcs are swung to.
mark = Kind::Table(&MarkSpec::KEYS);
/// Distances from a left and a right feature to that mark.
swing = Kind::Tables(&SwingSpec::KEYS, 0, MOST_READ);
}

/// Most pairs or swings: more would only be noise.
const MOST_READ: usize = 50;

choices!(TapeClass, TapeEnd);

impl CentrelineSpec {
    /// Its keys.
    pub const KEYS: Keys = CENTRELINE;
}

impl Field for CentrelineSpec {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        let table = got.value.table()?;
        let read = Self {
            span: table.span.clone(),
            zero: table.get("zero", reading)?,
            measuring: measuring(table, reading),
            pairs: table.get("pair", reading)?,
            mark: table.get("mark", reading)?,
            swings: table.get("swing", reading)?,
        };
        if !read.pairs.is_empty() && !read.swings.is_empty() {
            reading.report(Problem {
                message: "`[centreline]` has both pairs and swings".into(),
                hint: Some("keep the way that you trust more, and leave the other out".into()),
                span: read.span.clone(),
            });
        }
        if read.swings.is_empty() != read.mark.is_none() {
            let hint = "give the mark that the arcs are swung to, and at least one swing";
            reading.report_missing(Problem {
                message: "`[[centreline.swing]]` and `[centreline.mark]` go together".into(),
                hint: Some(hint.into()),
                span: read.span.clone(),
            });
        }
        Some(read)
    }
}

fn measuring(table: &Taken, reading: &Reading<'_>) -> Measuring {
    let usual = Measuring::default();
    let number = |key, usual| table.get(key, reading).unwrap_or(usual);
    Measuring {
        tape: Tape {
            class: table.get("tape_class", reading).unwrap_or(usual.tape.class),
            end: table.get("tape_end", reading).unwrap_or(usual.tape.end),
            graduation: number("graduation", usual.tape.graduation),
        },
        reading: number("reading", usual.reading),
        moulding: number("moulding", usual.moulding),
        skew_limit: number("skew_limit", usual.skew_limit),
    }
}

keys! {
/// `[[centreline.pair]]`: a left and a right feature that mirror each other.
#[derive(Debug, Clone)]
pub struct PairSpec {
    /// Its name.
    name: Placed<String> = Kind::FilledText, required;
    /// Tape reading of the feature at the vehicle's left, mm.
    left: Placed<f64> = ANY_LENGTH, required;
    /// Tape reading of the feature at the vehicle's right, mm.
    right: Placed<f64> = ANY_LENGTH, required;
    /// Distance of both from the datum edge, mm.
    from_datum: Placed<f64> = ANY_LENGTH, required;
    /// Diameter if they are holes, mm.
    diameter: Option<f64> = DIAMETER;
    /// How well their middles are found, mm, where it differs from the rest.
    reading: Option<f64> = READING;
    /// Whether the panel is held there.
    fixed: bool = Kind::YesOrNo;
}
}

keys! {
/// `[centreline.mark]`: a pencil mark near the middle.
#[derive(Debug, Clone)]
pub struct MarkSpec {
    /// Its tape reading from the zero end, mm.
    across: Placed<f64> = ANY_LENGTH, required;
    /// Its distance from the datum edge, mm.
    from_datum: Placed<f64> = ANY_LENGTH, required;
}
}

keys! {
/// `[[centreline.swing]]`: distances to the mark from two features that mirror each other.
#[derive(Debug, Clone)]
pub struct SwingSpec {
    /// Name of the features.
    name: Placed<String> = Kind::FilledText, required;
    /// From the feature at the vehicle's left to the mark, mm.
    left: Placed<f64> = APART, required;
    /// From the feature at the vehicle's right to the mark, mm.
    right: Placed<f64> = APART, required;
    /// From the one feature to the other, mm, where it was measured.
    apart: Option<f64> = APART;
    /// Distance of both from the datum edge, mm.
    from_datum: Placed<f64> = ANY_LENGTH, required;
}
}
