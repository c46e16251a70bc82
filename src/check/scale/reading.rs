//! One reading of a printed length.

use super::Way;
use super::error::ScaleError;
use crate::base::fixed;
use crate::model::clearance::{
    INCH_DECIMALS, MM_DECIMALS, accepted_readings, accepted_readings_in_words,
};
use kurbo::Size;

const MM_PER_INCH: f64 = 25.4;

/// What rounding may take from a reading, mm or in.
const ROUNDING: f64 = 1e-9;

/// Sides of a bank card, mm (ISO/IEC 7810 ID-1, read second-hand).
const CARD: Size = Size::new(85.60, 53.98);

/// Farthest from its nominal length that a printed length is believed, as a ratio: beyond the
/// largest fault of a print dialog that still leaves a ruler worth reading, four pages on one.
const BELIEVED: std::ops::RangeInclusive<f64> = 0.3..=3.0;

/// Coarsest graduation that is worth reading, mm: half an inch.
const COARSEST: f64 = 12.7;

/// What was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Gauge {
    /// The 100 mm check ruler.
    Metric,
    /// The 4 in check ruler.
    Inches,
    /// The outline of the bank card: its long side across, its short side down.
    Card,
    /// Another printed length of this many mm.
    Length(f64),
}

impl Gauge {
    /// What it must measure in this direction, mm.
    pub fn nominal(self, way: Way) -> f64 {
        match (self, way) {
            (Self::Metric, _) => 100.0,
            (Self::Inches, _) => 101.6,
            (Self::Card, Way::Across) => CARD.width,
            (Self::Card, Way::Down) => CARD.height,
            (Self::Length(length), _) => length,
        }
    }
}

impl Gauge {
    /// What it is, in words.
    pub(super) fn words(self) -> String {
        match self {
            Self::Metric => "100 mm ruler".into(),
            Self::Inches => "4 in ruler".into(),
            Self::Card => "bank card".into(),
            Self::Length(length) => format!("length of {} mm", fixed(length, 2)),
        }
    }

    /// The unit that its sheet tells it in, mm.
    fn unit(self) -> (f64, &'static str, i32) {
        match self {
            Self::Inches => (MM_PER_INCH, "in", INCH_DECIMALS),
            Self::Metric | Self::Card | Self::Length(_) => (1.0, "mm", MM_DECIMALS),
        }
    }
}

/// What a gauge of a sheet reads, however it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Read {
    /// Direction on the sheet.
    pub way: Way,
    /// What was read.
    pub gauge: Gauge,
    /// The reading, mm.
    pub mm: f64,
    /// Expanded uncertainty of the scale that it gives, k = 2.
    pub uncertainty: f64,
}

impl Read {
    /// Whether it lies in the range that sheets print, where the scale may be off by `scale_error`,
    /// a part of 1.
    pub fn is_accepted(&self, scale_error: f64) -> bool {
        let (unit, _, decimals) = self.gauge.unit();
        let nominal = self.gauge.nominal(self.way) / unit;
        let (least, greatest) = accepted_readings(nominal, scale_error, decimals);
        // Sheets print decimals, which have no exact binary numbers.
        (least - ROUNDING..=greatest + ROUNDING).contains(&(self.mm / unit))
    }

    /// In the unit of its sheet: `99.7 mm`.
    pub(super) fn words(&self) -> String {
        let (unit, name, decimals) = self.gauge.unit();
        format!("{} {name}", fixed(self.mm / unit, decimals as usize + 1))
    }

    /// What it must read, as its sheet has it.
    pub(super) fn accepted_in_words(&self, scale_error: f64) -> String {
        let (unit, name, _) = self.gauge.unit();
        accepted_readings_in_words(self.gauge.nominal(self.way) / unit, scale_error, name)
    }
}

/// The rule that was laid on the print.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// Its smallest division, or the part of it that the eye can tell, mm: each end is read to
    /// half of this.
    pub graduation: f64,
    /// Its own permissible error over the length read, mm; 0 where it is taken as true. Readings
    /// with one rule share it, so that more of them do not average it away.
    pub permissible: f64,
}

impl Rule {
    /// A rule taken as true.
    pub const fn new(graduation: f64) -> Self {
        Self {
            graduation,
            permissible: 0.0,
        }
    }
}

/// A printed length as it was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Direction on the sheet.
    pub way: Way,
    /// What was read.
    pub gauge: Gauge,
    /// The reading, mm.
    pub read: f64,
    /// The rule.
    pub rule: Rule,
}

impl Reading {
    /// A reading, held to be possible.
    ///
    /// # Errors
    /// [`ScaleError`] for a length or a graduation that is no number above 0, a graduation over
    /// half an inch, a permissible error below 0 or over a tenth of the length, and a reading
    /// that no print dialog would give.
    pub fn new(way: Way, gauge: Gauge, read: f64, rule: Rule) -> Result<Self, ScaleError> {
        let nominal = gauge.nominal(way);
        let positive = |value: f64| value.is_finite() && value > 0.0;
        if !positive(nominal) {
            return Err(ScaleError::Nominal(nominal));
        }
        if !positive(rule.graduation) || rule.graduation > COARSEST.min(nominal / 4.0) {
            return Err(ScaleError::Graduation {
                given: rule.graduation,
                at_most: COARSEST.min(nominal / 4.0),
            });
        }
        if !(0.0..=nominal / 10.0).contains(&rule.permissible) {
            return Err(ScaleError::Permissible {
                given: rule.permissible,
                at_most: nominal / 10.0,
            });
        }
        if !positive(read) || !BELIEVED.contains(&(read / nominal)) {
            return Err(ScaleError::Absurd {
                way,
                read,
                nominal,
                least: nominal * BELIEVED.start(),
                most: nominal * BELIEVED.end(),
            });
        }
        Ok(Self {
            way,
            gauge,
            read,
            rule,
        })
    }

    /// What it must measure, mm.
    pub fn nominal(&self) -> f64 {
        self.gauge.nominal(self.way)
    }

    /// The scale that this reading alone gives.
    pub fn scale(&self) -> f64 {
        self.read / self.nominal()
    }

    /// The reading alone, with all that it is known to.
    pub fn alone(&self) -> Read {
        Read {
            way: self.way,
            gauge: self.gauge,
            mm: self.read,
            uncertainty: 2.0 * self.own_doubt().hypot(self.shared_doubt()),
        }
    }

    /// Standard uncertainty of the scale from reading both ends, each rectangular over half a
    /// graduation either way.
    pub(crate) fn own_doubt(&self) -> f64 {
        let end = self.rule.graduation / 2.0 / 3.0_f64.sqrt();
        end * 2.0_f64.sqrt() / self.nominal()
    }

    /// Standard uncertainty of the scale from the rule itself, rectangular.
    pub(crate) fn shared_doubt(&self) -> f64 {
        self.rule.permissible / 3.0_f64.sqrt() / self.nominal()
    }

    /// Greatest error of the scale: both ends half a graduation wrong, and the rule with them.
    pub(crate) fn greatest_error(&self) -> f64 {
        (self.rule.graduation + self.rule.permissible) / self.nominal()
    }
}
