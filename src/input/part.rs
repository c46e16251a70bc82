//! `[[part]]` as written: a thing that must pass through the panel.

use super::clearance::TERM;
use super::field::{choice, choices, keys};
use super::got::{Field, Got, Taken};
use super::keys::{Keys, Kind, Known, Way, Ways};
use super::opening::{CORNER, SquareTo};
use super::problem::Placed;
use super::reading::Reading;
use super::surface::{LEAN, Measured};
use super::value::{ANY_LENGTH, Value};
use crate::base::fixed;
use crate::base::length::{LONGEST, Offset, Told};
use crate::base::words::shown;
use crate::model::hardware::{self, BOLTS, Bolt, Fit, MEASURE_OUTSIDE, nominal_tube};
use std::collections::BTreeMap;

/// Outside sizes of parts.
const OUTSIDE: Kind = Kind::Length(1.0, 500.0);

static BOLT: Known = Known {
    names: || BOLTS.iter().map(|bolt| bolt.name).collect(),
    find: |name| match hardware::bolt(name) {
        Ok(_) => Ok(()),
        Err(unknown) => Err((unknown.to_string(), unknown.hint())),
    },
};

static BODIES: Ways = Ways {
    each: &[
        body("shape", &["with"]),
        body("bolt", &["drilled_together", "fit"]),
        body(RoundKind::Head.word(), &[]),
        body(RoundKind::Washer.word(), &[]),
        body(RoundKind::Socket.word(), &[]),
        body("tube", &["outside", "corner_radius"]),
    ],
    none: Some("`[[part]]` does not say what the part is"),
    two: "a part is one thing, not",
    hint: "give one of `shape`, `bolt`, `head`, `washer`, `socket` and `tube`",
};

const fn body(key: &'static str, may: &'static [&'static str]) -> Way {
    Way {
        key,
        needs: &[],
        may,
    }
}

keys! {
/// `[[part]]`: a thing that must pass through the panel, as you measured it.
const PART, &BODIES;
/// Its name.
name = Kind::FilledText, required;
/// Name of the shape family that it is, seen along its way through the panel.
shape = Kind::FilledWord;
/// Values of the shape's parameters.
with = Kind::Values;
/// Size of the bolt that it is, round and of its nominal diameter.
bolt = Kind::Known(&BOLT);
/// Whether panel and bracket are drilled together, in place: the bolt then has its hole and no
/// clearance besides.
drilled_together = Kind::YesOrNo;
/// How loosely a hole that is drilled together fits its bolt (ISO 273).
fit = choice!(Fit), or(Fit::Medium);
/// Measured diameter of the bolt's head that it is, mm.
head = OUTSIDE;
/// Measured diameter of the washer that it is, mm.
washer = OUTSIDE;
/// Measured diameter of the socket that must reach the bolt, mm.
socket = OUTSIDE;
/// Trade size of the receiver that it is, which is its inside.
tube = Kind::TradeSize(1.0, 500.0);
/// Measured outside of the receiver over its collar, mm; a tube must have it.
outside = OUTSIDE;
/// Radius of the receiver's outer corners, mm; 0 unless given.
corner_radius = CORNER;
/// How body and place were measured.
measured = choice!(Measured), or(Measured::SquareOn);
/// How much it rises to the head of the page as it goes away from you.
slope = LEAN, or(0.0);
/// How much it turns to the right of the page as it goes away from you.
yaw = LEAN, or(0.0);
/// Offset from the centreline, to a side of the vehicle.
centre_offset = Kind::Offset;
/// From the datum edge to its middle, mm.
from_datum = ANY_LENGTH;
/// Instead of offset and distance: what a tape reads to it from two known features or more, laid flat
/// along the panel's face.
ties = Kind::Tables(&TieSpec::KEYS, 2, 20);
/// What shall remain round this part alone, mm; that of `[clearance]` unless given.
gap = TERM;
/// Of what stands behind the panel and comes through no opening: how far behind the hidden face it
/// begins, mm.
behind = Kind::Length(0.1, 2000.0);
/// What its axis stands square to, where the centreline leans.
square_to = choice!(SquareTo), or(SquareTo::DatumEdge);
}

choices!(Fit);

impl PartSpec {
    /// Its keys.
    pub const KEYS: Keys = PART;
}

impl Field for PartSpec {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        let table = got.value.table()?;
        let measured = table.get("measured", reading).unwrap_or(Measured::SquareOn);
        for key in ["slope", "yaw"] {
            if let (Measured::OnPanel, Some(key)) = (measured, table.written(key)) {
                let message = format!(
                    "`{}` needs a part that was measured square to its way, not on the panel",
                    key.value
                );
                let hint = "write `measured = \"square-on\"`";
                reading.report(key.problem(message).hint(hint));
            }
        }
        let lean = |key| table.get(key, reading).unwrap_or(Placed::unwritten(0.0));
        let body = body_of(table, reading);
        let gap: Option<Placed<f64>> = table.get("gap", reading)?;
        if let (
            Some(gap),
            Some(PartBody::Bolt {
                drilled: Some(_), ..
            }),
        ) = (&gap, &body)
        {
            let hint = "leave `gap` out: the hole's fit is all the clearance that such a bolt has";
            let message = "`gap` does not go with `drilled_together = true`";
            reading.report(gap.problem(message).hint(hint));
        }
        Some(Self {
            name: table.get("name", reading)?,
            body: body?,
            place: place_of(table, reading)?,
            gap: gap.map(|gap| gap.value),
            behind: table.get("behind", reading)?,
            square_to: table.get("square_to", reading).unwrap_or_default(),
            measured,
            way: WaySpec {
                slope: lean("slope"),
                yaw: lean("yaw"),
            },
        })
    }
}

fn place_of(table: &Taken, reading: &Reading<'_>) -> Option<PartPlace> {
    let given = ["centre_offset", "from_datum"].map(|key| table.written(key));
    if let Some(ties) = table.written("ties") {
        for key in given.into_iter().flatten() {
            let message = format!(
                "a part is placed in one way, not by `ties` and `{}`",
                key.value
            );
            let hint = "leave `ties` out, or `centre_offset` and `from_datum`";
            reading.report(key.problem(message).hint(hint));
        }
        return Some(PartPlace::Ties(TiesSpec {
            key: ties.map(|_| ()),
            each: table.get("ties", reading)?,
        }));
    }
    let hint = "or give `ties`, what a tape reads to it from two known features or more";
    for key in ["centre_offset", "from_datum"] {
        if table.written(key).is_none() {
            return table.missing(key, Some(hint), reading);
        }
    }
    Some(PartPlace::Offset {
        centre_offset: table.get("centre_offset", reading)?,
        from_datum: table.get("from_datum", reading)?,
    })
}

fn body_of(table: &Taken, reading: &Reading<'_>) -> Option<PartBody> {
    let round = |kind: &RoundKind| Some((*kind, table.get(kind.word(), reading)?));
    if table.written("shape").is_some() {
        Some(PartBody::Shape {
            shape: table.get("shape", reading)?,
            with: table.get("with", reading)?,
        })
    } else if table.written("bolt").is_some() {
        bolt(table, reading)
    } else if table.written("tube").is_some() {
        tube(table, reading)
    } else {
        let (kind, diameter) = RoundKind::ALL.iter().find_map(round)?;
        Some(PartBody::Round { kind, diameter })
    }
}

fn bolt(table: &Taken, reading: &Reading<'_>) -> Option<PartBody> {
    let name: String = table.get("bolt", reading)?;
    let bolt = hardware::bolt(&name).ok()?;
    let drilled: bool = table.get("drilled_together", reading)?;
    if let (Some(fit), false) = (table.written("fit"), drilled) {
        let hint = format!(
            "without it the bolt is round, Ø{} mm, and keeps the full clearance on every side",
            fixed(bolt.diameter, 1)
        );
        let message = "`fit` goes with `drilled_together = true` only";
        reading.report(fit.problem(message).hint(hint));
    }
    let fit = table.get("fit", reading).unwrap_or_default();
    Some(PartBody::Bolt {
        bolt,
        drilled: drilled.then_some(fit),
    })
}

fn tube(table: &Taken, reading: &Reading<'_>) -> Option<PartBody> {
    let tube: Placed<(f64, String)> = table.get("tube", reading)?;
    let (inside, name) = &tube.value;
    let units = reading.units.get();
    if table.written("outside").is_none() {
        let why = match nominal_tube(*inside) {
            Some(nominal) => nominal.told(units),
            None => format!(
                "a receiver is named by its inside, here `{}`; its outside varies with wall and \
                 collar",
                shown(name)
            ),
        };
        reading.report_missing(tube.problem(why).hint(MEASURE_OUTSIDE));
        return None;
    }
    let outside: Placed<f64> = table.get("outside", reading)?;
    if outside.value <= *inside {
        let message = format!(
            "the outside, {}, is not larger than the inside that names the tube, {}",
            units.exact(outside.value),
            units.exact(*inside)
        );
        reading.report(outside.problem(message).hint(MEASURE_OUTSIDE));
    }
    let corner_radius: Option<Placed<f64>> = table.get("corner_radius", reading)?;
    if let Some(radius) = &corner_radius
        && radius.value > outside.value / 2.0
    {
        let message = format!(
            "`corner_radius`, {}, does not fit: at most half the outside, {}, is allowed",
            units.exact(radius.value),
            units.exact(outside.value / 2.0)
        );
        reading.report(radius.problem(message));
    }
    Some(PartBody::Tube {
        nominal: tube.map(|(_, name)| name),
        outside: outside.value,
        corner_radius: corner_radius.map_or(0.0, |radius| radius.value),
    })
}

/// `[[part]]`.
#[derive(Debug, Clone)]
pub struct PartSpec {
    /// Its name.
    pub name: Placed<String>,
    /// What it is, seen along its way through the panel.
    pub body: PartBody,
    /// Where its origin stands.
    pub place: PartPlace,
    /// What shall remain round it, mm; that of `[clearance]` unless given.
    pub gap: Option<f64>,
    /// How far behind the panel's hidden face it begins, mm; none where it comes through.
    pub behind: Option<f64>,
    /// What its axis stands square to.
    pub square_to: SquareTo,
    /// How body and place were measured; square-on unless given.
    pub measured: Measured,
    /// The way it passes through, from the reader's look.
    pub way: WaySpec,
}

/// Where a part's origin stands.
#[derive(Debug, Clone)]
pub enum PartPlace {
    /// By the centreline and the datum edge.
    Offset {
        /// Offset from the centreline.
        centre_offset: Placed<Offset>,
        /// From the datum edge, mm.
        from_datum: Placed<f64>,
    },
    /// By tape distances from known features.
    Ties(TiesSpec),
}

/// `ties` of a part.
#[derive(Debug, Clone)]
pub struct TiesSpec {
    /// Where the key stands.
    pub key: Placed<()>,
    /// The distances.
    pub each: Vec<TieSpec>,
}

keys! {
/// One of `ties`: what a tape reads from a known feature to the part.
#[derive(Debug, Clone)]
pub struct TieSpec {
    /// Name of a locator, of a hole, or of a pair with its side, as `outer clip holes, left`.
    from: Placed<String> = Kind::FilledText, required;
    /// What the tape reads, mm.
    distance: Placed<f64> = Kind::Length(1.0, LONGEST), required;
    /// The corner of the part that the tape is held to, by its two sides as `rear left`; its middle
    /// unless given.
    to: Option<Placed<String>> = Kind::FilledText;
}
}

/// The way a part passes through, degrees from the reader's look, as it goes away from the reader.
#[derive(Debug, Clone)]
pub struct WaySpec {
    /// How much it rises to the head of the page.
    pub slope: Placed<f64>,
    /// How much it turns to the right of the page.
    pub yaw: Placed<f64>,
}

/// What a part is.
#[derive(Debug, Clone)]
pub enum PartBody {
    /// `shape` and `with`: any shape family.
    Shape {
        /// Name of the family.
        shape: Placed<String>,
        /// Values of its parameters.
        with: BTreeMap<String, Placed<Value>>,
    },
    /// `bolt = "M10"`: round, of its nominal diameter.
    Bolt {
        /// Its size.
        bolt: &'static Bolt,
        /// With `drilled_together = true`, how loosely the hole that is drilled through panel and
        /// bracket at once fits it; medium unless given.
        drilled: Option<Fit>,
    },
    /// `head`, `washer` or `socket`: a round thing of this measured diameter.
    Round {
        /// Which of them.
        kind: RoundKind,
        /// Its measured outside diameter, mm.
        diameter: f64,
    },
    /// `tube`, a receiver, with its measured `outside`.
    Tube {
        /// Its trade size as written, which is its inside.
        nominal: Placed<String>,
        /// Its measured outside over the collar, mm; square.
        outside: f64,
        /// Radius of its outer corners, mm; 0 unless given.
        corner_radius: f64,
    },
}

/// A round thing known by its measured diameter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoundKind {
    /// A bolt's head.
    Head,
    /// A washer.
    Washer,
    /// The socket that must reach the bolt.
    Socket,
}

impl RoundKind {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Head, Self::Washer, Self::Socket];

    /// Its key in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Head => "head",
            Self::Washer => "washer",
            Self::Socket => "socket",
        }
    }
}
