//! `[clearance]` as written, and openings worked out from parts.

use super::field::{choice, choices, keys};
use super::got::{Field, Got, Taken};
use super::keys::{Keys, Kind, SHARE, TEMPERATURE};
use super::problem::Placed;
use super::reading::Reading;
use crate::base::Direction;
use crate::base::fixed;
use crate::model::clearance::{Combine, PRINTER_ERROR, Temperatures};

/// Terms of a clearance.
pub(super) const TERM: Kind = Kind::Length(0.0, 100.0);

/// Errors of a printed scale, percent: beyond what a printer is ever off by it is the print dialog.
const SCALE_ERROR: Kind = Kind::Number(&SHARE, 0.0, 100.0 * PRINTER_ERROR);

/// Temperatures of panels, from a winter night to a heat shield's, degrees Celsius.
const DEGREES: Kind = Kind::Number(&TEMPERATURE, -60.0, 500.0);

keys! {
/// `[clearance]`: how far part and edge may be off, each term half of what it spans.
const CLEARANCE;
/// What shall remain when all has moved as far as it may, mm; by the material unless given.
gap = TERM;
/// How far the part may stand from where it was measured, mm either way.
position = TERM;
/// How well the centreline is known, mm either way; from the readings unless given.
centre = TERM;
/// How far the marked line may lie from the pattern's, mm either way.
marking = TERM;
/// How far the cut may lie from the marked line, mm either way.
cutting = TERM;
/// How far the print may be off at the opening, mm either way; worked out unless given.
print = TERM;
/// Error of the printed scale, with its sign: 0.3 %.
scale_error = SCALE_ERROR;
/// Growth of the panel, mm; worked out from material and temperatures unless given.
thermal = TERM;
/// Temperature at which the panel is fitted, degrees Celsius.
fitted = DEGREES, or(Temperatures::default().fitted);
/// The coldest that the panel gets, degrees Celsius.
coldest = DEGREES, or(Temperatures::default().lowest);
/// The hottest that the panel gets, degrees Celsius.
hottest = DEGREES, or(Temperatures::default().highest);
/// How terms that arise by chance are put together.
combine = choice!(Combine), or(Combine::RootSumSquare);
}

choices!(Combine);

/// `[clearance]`: what is not given has its stated default.
#[derive(Debug, Clone, Default)]
pub struct ClearanceSpec {
    /// What shall remain, mm.
    pub gap: Option<f64>,
    /// How far the part may stand from where it was measured, mm either way.
    pub position: Option<f64>,
    /// How well the centreline is known, mm either way; from the readings unless given.
    pub centre: Option<f64>,
    /// How far the marked line may lie from the pattern's, mm either way.
    pub marking: Option<f64>,
    /// How far the cut may lie from the marked line, mm either way.
    pub cutting: Option<f64>,
    /// How far the print may be off at the opening, mm either way; worked out unless given.
    pub print: Option<f64>,
    /// Error of the printed scale, as a share: 0.003, written `"0.3 %"`. Files give it with its
    /// `%` only: a bare 0.3 could be meant either way.
    pub scale_error: Option<f64>,
    /// Growth of the panel, mm; worked out unless given.
    pub thermal: Option<f64>,
    /// Temperatures for it: `fitted`, `coldest` and `hottest` in files.
    pub temperatures: Temperatures,
    /// How chance terms are put together.
    pub combine: Combine,
}

impl ClearanceSpec {
    /// Its keys.
    pub const KEYS: Keys = CLEARANCE;
}

impl Field for ClearanceSpec {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        let table = got.value.table()?;
        Some(Self {
            gap: table.get("gap", reading)?,
            position: table.get("position", reading)?,
            centre: table.get("centre", reading)?,
            marking: table.get("marking", reading)?,
            cutting: table.get("cutting", reading)?,
            print: table.get("print", reading)?,
            scale_error: table.get("scale_error", reading)?,
            thermal: table.get("thermal", reading)?,
            temperatures: temperatures(table, reading),
            combine: table.get("combine", reading).unwrap_or_default(),
        })
    }
}

/// The panel is fitted at a temperature that it sees.
fn temperatures(table: &Taken, reading: &Reading<'_>) -> Temperatures {
    let usual = Temperatures::default();
    let read = |key, usual| table.get(key, reading).unwrap_or(Placed::unwritten(usual));
    let fitted = read("fitted", usual.fitted);
    let coldest = read("coldest", usual.lowest);
    let hottest = read("hottest", usual.highest);
    for (low, high, words) in [
        (&coldest, &fitted, ("coldest", "fitted")),
        (&fitted, &hottest, ("fitted", "hottest")),
    ] {
        if low.value <= high.value {
            continue;
        }
        let message = format!(
            "`{}`, {} degC, lies above `{}`, {} degC",
            words.0,
            fixed(low.value, 1),
            words.1,
            fixed(high.value, 1)
        );
        let written = if low.span.is_some() { low } else { high };
        let hint = format!(
            "not given, they are fitted {}, coldest {} and hottest {} degC",
            fixed(usual.fitted, 0),
            fixed(usual.lowest, 0),
            fixed(usual.highest, 0)
        );
        reading.report(written.problem(message).hint(hint));
    }
    Temperatures {
        fitted: fitted.value,
        lowest: coldest.value,
        highest: hottest.value,
    }
}

/// How a worked-out opening follows its parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Follow {
    /// One rectangle round all of them.
    #[default]
    Box,
    /// Their own outlines, grown.
    Contour,
}

impl Follow {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Box, Self::Contour];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Box => "box",
            Self::Contour => "contour",
        }
    }
}

/// An opening worked out from parts: `around = [...]`.
#[derive(Debug, Clone)]
pub struct AroundSpec {
    /// Names of the parts.
    pub parts: Vec<Placed<String>>,
    /// How it follows them.
    pub follow: Follow,
    /// Whether it is open at the datum edge.
    pub open_at_edge: bool,
    /// Radius of a box's corners, mm; the largest of the shop's tools that clears unless given.
    pub corner_radius: Option<Placed<f64>>,
    /// Gaps of a box's single sides.
    pub gap_to: Option<GapToSpec>,
}

keys! {
/// `gap_to` of an opening: the gap on single sides of a box, instead of that of `[clearance]`.
#[derive(Debug, Clone)]
pub struct GapToSpec {
    /// To the vehicle's front, mm.
    front: Option<Placed<f64>> = TERM;
    /// To its rear, mm.
    rear: Option<Placed<f64>> = TERM;
    /// To its left, mm.
    left: Option<Placed<f64>> = TERM;
    /// To its right, mm.
    right: Option<Placed<f64>> = TERM;
    /// Upwards, mm.
    up: Option<Placed<f64>> = TERM;
    /// Downwards, mm.
    down: Option<Placed<f64>> = TERM;
}
}

impl GapToSpec {
    /// The sides that are given, each with its gap.
    pub fn each(&self) -> impl Iterator<Item = (Direction, &Placed<f64>)> {
        let all = [
            (Direction::Front, &self.front),
            (Direction::Rear, &self.rear),
            (Direction::Left, &self.left),
            (Direction::Right, &self.right),
            (Direction::Up, &self.up),
            (Direction::Down, &self.down),
        ];
        all.into_iter()
            .filter_map(|(side, gap)| Some((side, gap.as_ref()?)))
    }
}
