//! `[panel.surface]` as written: how the panel leans and curves.

use super::field::{choice, choices, keys};
use super::got::{Field, Got, Taken};
use super::keys::{Keys, Kind, List, Pair, Way, Ways};
use super::problem::Placed;
use super::reading::Reading;
use super::value::ANY_LENGTH;
use crate::base::length::LONGEST;
use crate::geometry::development::{Along, Bulge, MOST_READINGS, READING_ERROR};
use std::ops::Range;

/// Angles of rake, slope and yaw: past them nothing can be looked through.
pub(super) const LEAN: Kind = Kind::Angle(-84.0, 84.0);

/// Lengths that are over nothing.
const SIZE: Kind = Kind::Length(0.1, LONGEST);

static READINGS: List = List {
    of: "readings",
    kind: Kind::Pair(&Pair {
        each: "a place and how far the panel falls away there",
        first: (-LONGEST, LONGEST),
        second: (-LONGEST, LONGEST),
        example: EXAMPLE,
    }),
    least: 2,
    most: MOST_READINGS,
    example: EXAMPLE,
    wrong_count: Some("a profile needs readings at both ends and in the middle"),
};

const EXAMPLE: &str = "write `[[-300, 22], [0, 0], [300, 22]]`: place, fall away from you";

static FORMS: Ways = Ways {
    each: &[
        Way {
            key: "chord",
            needs: &["rise", "bulges"],
            may: &["crown"],
        },
        Way {
            key: "radius",
            needs: &["bulges"],
            may: &["crown"],
        },
        Way {
            key: "profile",
            needs: &[],
            may: &["error", "at", "other_profile", "other_at"],
        },
    ],
    none: None,
    two: "a panel is curved in one way, not by",
    hint: "give `chord` and `rise`, or `radius`, or `profile`",
};

keys! {
/// `[panel.surface]`: how the panel leans and curves.
const SURFACE, &FORMS;
/// How far it leans: positive where the head of the page leans away from you.
rake = LEAN, or(0.0);
/// Which way it is curved: across its width, or from edge to edge as a rolled edge is.
along = choice!(Along), or(Along::Across);
/// Of a panel that is curved to a circle, the chord, mm.
chord = SIZE;
/// Height of the circle over its chord, mm.
rise = SIZE;
/// Radius of a panel that is curved to a circle, mm; one of a larger one is flat to a tape.
radius = Kind::Length(1.0, 100_000.0);
/// Which way the circle bulges.
bulges = choice!(Bulge);
/// Where the circle's crown stands, mm: from the centreline, 0 unless given, or from the datum edge
/// where the panel is curved along its edge, which must have it.
crown = ANY_LENGTH;
/// Readings of a cross-section, each a place, to the right as you face the panel with the datum edge
/// at the foot, or from the datum edge, and how far the panel falls away from you there, mm.
profile = Kind::List(&READINGS);
/// How well each reading is known, mm.
error = Kind::Length(0.0, 20.0), or(READING_ERROR);
/// Where the profile was taken, square to it, mm; 0 unless given.
at = ANY_LENGTH;
/// Readings at another place, which show whether the panel curves both ways.
other_profile = Kind::List(&READINGS);
/// Where the other profile was taken, mm.
other_at = ANY_LENGTH;
}

choices!(Along, Bulge);

impl SurfaceSpec {
    /// Its keys.
    pub const KEYS: Keys = SURFACE;
}

impl Field for SurfaceSpec {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        let table = got.value.table()?;
        let along = table.get("along", reading).unwrap_or(Along::Across);
        let form = if table.written("profile").is_some() {
            profile(table, reading)?
        } else if table.written("chord").or(table.written("radius")).is_some() {
            circle(table, along, reading)?
        } else {
            FormSpec::Flat
        };
        Some(Self {
            rake: table.get("rake", reading).unwrap_or(Placed::unwritten(0.0)),
            form,
            along,
            span: table.span.clone(),
        })
    }
}

fn circle(table: &Taken, along: Along, reading: &Reading<'_>) -> Option<FormSpec> {
    // Where a rolled edge turns can't be guessed.
    if along == Along::EdgeToEdge && table.written("crown").is_none() {
        return table.missing("crown", None, reading);
    }
    let size = match table.get("radius", reading) {
        Some(radius) => CircleSize::Radius(radius),
        None => CircleSize::Chord {
            chord: table.get("chord", reading)?,
            rise: table.get("rise", reading)?,
        },
    };
    Some(FormSpec::Circle {
        size,
        bulges: table.get("bulges", reading)?,
        crown: table.get("crown", reading).unwrap_or(0.0),
    })
}

fn profile(table: &Taken, reading: &Reading<'_>) -> Option<FormSpec> {
    let at: Option<f64> = table.get("at", reading)?;
    let one = ProfileSpec {
        readings: readings("profile", table, reading)?,
        at: at.unwrap_or(0.0),
    };
    let two = ["other_profile", "other_at"].map(|key| table.written(key).is_some());
    let other = if two.contains(&true) {
        for key in ["at", "other_profile", "other_at"] {
            if table.written(key).is_none() {
                let _: Option<()> = table.missing(key, None, reading);
            }
        }
        let other_at: Placed<f64> = table.get("other_at", reading)?;
        if at == Some(other_at.value) {
            let message = "both profiles were taken at one place";
            let hint = "take the other a hand's breadth away, or leave it out";
            reading.report(other_at.problem(message).hint(hint));
        }
        Some(ProfileSpec {
            readings: readings("other_profile", table, reading)?,
            at: other_at.value,
        })
    } else {
        None
    };
    Some(FormSpec::Profile {
        one,
        other,
        error: table.get("error", reading).unwrap_or(READING_ERROR),
    })
}

/// Readings of a cross-section, each place beyond the one before.
fn readings(key: &str, table: &Taken, reading: &Reading<'_>) -> Option<Placed<Vec<(f64, f64)>>> {
    let readings: Placed<Vec<Placed<(f64, f64)>>> = table.get(key, reading)?;
    let back = readings.value.windows(2).find_map(|pair| match pair {
        [before, after] if after.value.0 <= before.value.0 => Some(after),
        _ => None,
    });
    if let Some(after) = back {
        let message = "this reading does not lie beyond the one before it";
        reading.report(after.problem(message));
    }
    Some(readings.map(|all| all.into_iter().map(|one| one.value).collect()))
}

/// `[panel.surface]`.
#[derive(Debug, Clone)]
pub struct SurfaceSpec {
    /// How far it leans, degrees: positive where the head of the page leans away from the reader.
    pub rake: Placed<f64>,
    /// How it is curved.
    pub form: FormSpec,
    /// Which way it is curved.
    pub along: Along,
    /// The table, for messages.
    pub span: Option<Range<usize>>,
}

/// How a panel is curved.
#[derive(Debug, Clone)]
pub enum FormSpec {
    /// Not at all.
    Flat,
    /// To a circle.
    Circle {
        /// Its size.
        size: CircleSize,
        /// Which way it bulges.
        bulges: Bulge,
        /// Where its crown stands along the curved direction, mm: from the centreline, or from the
        /// datum edge for a rolled panel.
        crown: f64,
    },
    /// As it was read, at one place or at two.
    Profile {
        /// The readings.
        one: ProfileSpec,
        /// Readings at another place, where the panel may curve both ways.
        other: Option<ProfileSpec>,
        /// How well each is known, mm.
        error: f64,
    },
}

/// What is known of a circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CircleSize {
    /// Its chord and the rise over it, mm.
    Chord {
        /// From end to end.
        chord: f64,
        /// Height over the chord.
        rise: f64,
    },
    /// Its radius, mm.
    Radius(f64),
}

/// Readings of a cross-section.
#[derive(Debug, Clone)]
pub struct ProfileSpec {
    /// Place along the curved direction, and how far the panel falls away from the reader there,
    /// mm. Places across the panel are to the right as one faces it with the datum edge at the
    /// foot.
    pub readings: Placed<Vec<(f64, f64)>>,
    /// Where it was taken, square to the curved direction, mm: from the datum edge, or to the right
    /// of the centreline for a rolled panel.
    pub at: f64,
}

/// How a shape was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measured {
    /// As seen along the way that the part passes through, or else along the reader's look.
    SquareOn,
    /// With a tape laid on the panel.
    OnPanel,
}

impl Measured {
    /// Both.
    pub const ALL: [Self; 2] = [Self::SquareOn, Self::OnPanel];

    /// The words for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::SquareOn => "square-on",
            Self::OnPanel => "on the panel",
        }
    }
}
